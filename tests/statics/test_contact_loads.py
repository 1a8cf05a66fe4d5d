"""Loads on push-only springs, against printed values, a quadratic programme in the loads, and the balance itself."""

from dataclasses import replace

import numpy as np
import pytest
import quadprog
from hypothesis import given
from hypothesis import strategies as st

from loadplan.model.job import Job
from loadplan.statics import contact_loads as contact
from loadplan.statics.contact_loads import NoEquilibriumError, Settled, Springs, settle, springs
from loadplan.statics.equilibrium import Frame
from loadplan.statics.mass import Array
from loadplan.statics.tipping_modes import rays, stands
from tests.examples import examples
from tests.statics import builders as make

RECTANGLE = ((0.0, 0.0), (0.6, 0.0), (0.6, 0.5), (0.0, 0.5))
SIX = (*RECTANGLE, (0.3, 0.0), (0.3, 0.5))
UNIT = 3400.0 / 9.80665
"""Mass [kg] that weighs 3400 N."""


def table(places: tuple[tuple[float, float], ...], at: tuple[float, float], stiffness: tuple[float, ...] = ()) -> Job:
    """One body of 3400 N on stands of 1000 N/mm, or of these stiffnesses [N/mm]."""
    supports = make.stands(places)
    soft = stiffness or (1000.0,) * len(places)
    return make.job(
        [make.part(at, UNIT)],
        [
            replace(each, equipment=replace(make.STAND, stiffness=1e3 * k))
            for each, k in zip(supports, soft, strict=True)
        ],
    )


def loads(job: Job, gaps: tuple[float, ...] = ()) -> list[float]:
    """Loads [N] with saddles that are lower by some gaps [m]."""
    frame = make.frame(job)
    low = np.array([gaps or (0.0,) * len(frame.supports)]) / frame.span
    found: Array = settle(springs(frame, {}), frame.load[None], low).loads[0] * frame.weight
    return [float(each) for each in found]


@pytest.mark.parametrize(
    ("job", "gaps", "wanted"),
    [
        (table(RECTANGLE, (0.42, 0.29)), (), (374, 1054, 1326, 646)),
        (table(SIX, (0.42, 0.29)), (0, 0, 0, 0, 0.004, 0), (374, 1054, 2992 / 3, 952 / 3, 0, 1972 / 3)),
        (
            table(SIX, (0.42, 0.29), (100, 120, 90, 100, 110, 80)),
            (0, 0, 0, 0, 0.004, 0),
            (223.3196, 1043.5575, 958.9454, 419.1833, 161.1229, 593.8713),
        ),
        (table(RECTANGLE, (0.12, 0.04)), (), (2448, 680, 0, 272)),
    ],
    ids=["A1", "A2a", "A2b", "A3"],
)
def test_four_and_six_stands(job: Job, gaps: tuple[float, ...], wanted: tuple[float, ...]) -> None:
    """Derived here: the three equations of balance and equal springs solved as fractions, A2b to four decimals."""
    assert loads(job, gaps) == pytest.approx(wanted, abs=6e-5)


CORNERS = ((1.0, 1.0), (1.0, -1.0), (-1.0, -1.0), (-1.0, 1.0))


@pytest.mark.parametrize(
    ("short", "wanted"), [(0.5, (0.875, 1.125, 0.875, 1.125)), (4.0, (0, 2, 0, 2)), (7.0, (0, 2, 0, 2))]
)
def test_a_short_leg(short: float, wanted: tuple[float, ...]) -> None:
    """By hand, k s / 4 a leg: k = 1, W = 4, centred. Short by 4 or more the two that carry leave the rank short."""
    job = make.job([make.part(mass=4 / 9.80665)], make.stands(CORNERS, use=replace(make.STAND, stiffness=1.0)))
    assert loads(job, (short, 0, 0, 0)) == pytest.approx(wanted, abs=1e-9)


@pytest.mark.parametrize(
    ("x", "y", "wanted"),
    [
        (0.10, 0.06, (870, 630, 330, 570)),
        (0.20, 0.15, (1200, 600, 0, 600)),
        (0.30, 0.15, (1500, 600, 0, 300)),
    ],
)
def test_inside_on_and_outside_the_kern(x: float, y: float, wanted: tuple[float, ...]) -> None:
    """By hand, W / 4 · (1 ± x / a ± y / b): the kern of four equal legs ends at |x|/a + |y|/b = 1."""
    corners = ((0.4, 0.3), (0.4, -0.3), (-0.4, -0.3), (-0.4, 0.3))
    job = make.job([make.part((x, y), 2400 / 9.80665)], make.stands(corners))
    assert loads(job) == pytest.approx(wanted, abs=1e-9)


SKEW = ((0.0, 0.4), (0.2, 0.0), (0.2, 0.8), (1.1, 0.1), (1.1, 0.7))


@pytest.mark.parametrize(
    ("stiffness", "wanted"),
    [
        ((1, 1, 1, 1, 1), (559.233, 526.913, 622.913, 609.470, 681.470)),
        ((1, 2, 1, 1, 2), (455.125, 768.583, 508.486, 360.505, 907.301)),
    ],
)
def test_five_stands_askew(stiffness: tuple[float, ...], wanted: tuple[float, ...]) -> None:
    """Derived here from a rigid plate on springs, k (a + b x + c y), three equations; to three decimals."""
    job = make.job(
        [make.part((0.55, 0.42), 3000 / 9.80665)],
        [
            replace(each, equipment=replace(make.STAND, stiffness=1e6 * k))
            for each, k in zip(make.stands(SKEW), stiffness, strict=True)
        ],
    )
    assert loads(job) == pytest.approx(wanted, abs=6e-4)


def test_piers_under_an_eccentric_load_lift_off() -> None:
    """By hand, moments about the three that carry: 100 at (2, 1), piers at (3, 2); no tension: 58.33, 25, 0, 16.67."""
    piers = ((3.0, 2.0), (3.0, -2.0), (-3.0, -2.0), (-3.0, 2.0))
    job = make.job([make.part((2.0, 1.0), 100 / 9.80665)], make.stands(piers))
    assert loads(job) == pytest.approx((175 / 3, 25, 0, 50 / 3), abs=1e-9)


def test_a_mount_in_the_files_attitude_carries_its_preload() -> None:
    """Unit of 1000 N midway between a stiff stand and a mount that carries 500 N already: nothing moves at the mount.

    The stand is pressed by 500 N / 1e6 N/m; the cradle's stands carry the other half.
    """
    parts = [make.part((0.0, 0.0), 1000 / 9.80665), make.part((0.5, 0.0), 1000 / 9.80665, name="c", body="cradle")]
    supports = [
        make.support("E", (-0.5, 0.1)),
        make.support("F", (-0.5, -0.1)),
        *make.stands(((0.0, 0.5), (1.0, 0.5), (1.0, -0.5), (0.0, -0.5)), body="cradle"),
    ]
    frame = make.frame(make.job(parts, supports, joints=[make.mount("m", (0.5, 0.0), stiffness=1e3)]))
    for preload in (0.0, 500.0):
        held = springs(frame, {"m": preload})
        found = settle(held, frame.load[None], np.zeros((1, 6)))
        assert (found.loads[0] * frame.weight).tolist() == pytest.approx([250, 250, 375, 375, 375, 375])
        assert found.forces[0] * frame.weight == pytest.approx(500)
        stretch = float(found.motions[0] @ frame.stretch[0]) * frame.span
        assert stretch == pytest.approx((preload - 500) / 1e3)


def random_springs(seed: int) -> tuple[Frame, Springs, Array]:
    """A group that stands, with soft arms beside stiff stands, and saddles up to 20 mm off."""
    rng = np.random.default_rng(seed)
    while True:
        two = bool(rng.integers(2))
        bodies = ["unit", "cradle"] if two else ["unit"]
        supports = [
            make.support(
                f"s{number}",
                tuple(rng.uniform(-0.5, 0.5, 2)),
                body=str(rng.choice(bodies)),
                use=replace(make.STAND, stiffness=float(10 ** rng.uniform(4, 7.5))),
            )
            for number in range(int(rng.integers(4, 9)))
        ]
        joints = [
            make.mount(f"m{number}", tuple(rng.uniform(-0.3, 0.3, 2)), stiffness=float(10 ** rng.uniform(4, 6)))
            for number in range(int(rng.integers(1, 4)) if two else 0)
        ]
        parts = [
            make.part(tuple(rng.uniform(-0.2, 0.2, 2)), float(10 ** rng.uniform(1, 3)), name=body, body=body)
            for body in bodies
        ]
        frame = make.frame(make.job(parts, supports, joints=joints))
        if stands(frame):
            preload = {mount.name: float(rng.uniform(-300, 300)) for mount in frame.mounts}
            return frame, springs(frame, preload), rng.uniform(0, 0.02, len(supports)) / frame.span


def by_quadprog(held: Springs, load: Array, gaps: Array) -> Array:
    """Least of Sum r²/2k + gap r + Sum (f − f0)²/2k over all balanced loads r >= 0 and mount forces f."""
    count = len(gaps)
    weights = np.diag(1 / np.concatenate([held.stiffness, held.mount_stiffness]))
    pull = np.concatenate([-gaps, held.preload / held.mount_stiffness])
    balance = np.vstack([held.up, held.stretch])
    push_only = np.eye(len(balance))[:, :count]
    found: Array = quadprog.solve_qp(
        weights, pull, np.hstack([balance, push_only]), np.concatenate([load, np.zeros(count)]), len(load)
    )[0]
    return found


@examples(60)
@given(st.integers(0, 99_999))
def test_soft_arms_beside_stiff_stands_carry_what_the_least_energy_says(seed: int) -> None:
    """Against Goldfarb and Idnani's dual method (quadprog) in the loads: both end within 1e-9 of the least energy."""
    frame, held, gaps = random_springs(seed)
    found = settle(held, frame.load[None], gaps[None])
    wanted = by_quadprog(held, frame.load, gaps)
    assert np.concatenate([found.loads[0], found.forces[0]]).tolist() == pytest.approx(wanted.tolist(), abs=2e-9)


def left_over(held: Springs, load: Array, found: Settled) -> float:
    balance = found.loads @ held.up + found.forces @ held.stretch
    return float(np.abs(balance - load).max())


def test_two_thousand_random_cases_settle() -> None:
    """Balanced to the 1e-9 of the weight that proofs promise; a load just where the saddle is reached."""
    rng = np.random.default_rng(1)
    for seed in range(40):
        frame, held, gaps = random_springs(seed)
        off = rng.uniform(0, 2, (50, len(gaps))) * gaps
        load = np.tile(frame.load, (50, 1))
        found = settle(held, load, off)
        assert left_over(held, load, found) < 1e-9
        pressed = -found.motions @ held.up.T - off
        assert (found.loads >= 0).all()
        assert np.array_equal(found.loads > 0, pressed > 0)


def test_measured_steps_alone_come_to_the_same_loads() -> None:
    """The leaps are only quicker: from rest, step by step, the energy falls to the same least."""
    for seed in range(20):
        frame, held, gaps = random_springs(seed)
        slow = contact._descend(held, np.zeros((1, frame.load.size)), frame.load[None], gaps[None])
        found = settle(held, frame.load[None], gaps[None])
        assert contact._loads(held, slow, gaps[None])[0] == pytest.approx(found.loads[0], abs=1e-9)


@pytest.mark.parametrize("gaps", [(0.0,) * 6, (0.0, 0.0, 0.0, 0.0, 0.004, 0.0)])
def test_on_like_stands_a_few_full_steps_are_enough(gaps: tuple[float, ...]) -> None:
    """Where the low stand lifts off, too."""
    frame = make.frame(table(SIX, (0.42, 0.29)))
    held, low = springs(frame, {}), np.array([gaps]) / frame.span
    leap = contact._leap(held, frame.load[None], low)
    assert contact._done(held, leap, frame.load[None], low)[0]


def test_full_steps_that_go_in_circles_are_measured() -> None:
    """There are such cases among the random ones; without measured steps they would be wrong."""
    circling = 0
    for seed in range(60):
        frame, held, gaps = random_springs(seed)
        leap = contact._leap(held, frame.load[None], gaps[None])
        circling += not contact._done(held, leap, frame.load[None], gaps[None])[0]
    assert circling > 0


def test_what_rests_under_many_stands_is_not_measured_besides() -> None:
    """Twenty stands under two linked assemblies, each a little off: full steps that kept their touch are the answer."""
    parts = [make.part((float(end), 0.0), name=body, body=body) for end, body in enumerate(("unit", "cradle"))]
    places = [(number % 2 + 0.3 * (number % 5) - 0.6, number // 10 - 0.5) for number in range(20)]
    stiff = replace(make.STAND, stiffness=2e7)
    stood = [make.support(f"s{n}", at, body=("unit", "cradle")[n % 2], use=stiff) for n, at in enumerate(places)]
    frame = make.frame(make.job(parts, stood, joints=[make.mount("m", (0.5, 0.0))]))
    held, load = springs(frame, {}), np.tile(frame.load, (200, 1))
    gaps = np.random.default_rng(1).choice([-0.002, 0.002], (200, 20)) / frame.span
    assert contact._done(held, contact._leap(held, load, gaps), load, gaps).mean() > 0.8


def test_more_than_sixty_four_supports_are_told_apart() -> None:
    """Seventy stands, half of them too low to touch: each carries what it carries in a job of its own."""
    around = [(float(np.cos(angle)), float(np.sin(angle))) for angle in np.linspace(0, 6, 70)]
    frame = make.frame(make.job([make.part((0.1, 0.05))], make.stands(around)))
    held = springs(frame, {})
    gaps = np.tile([0.0, 0.1], 35)
    half = gaps == 0
    found = settle(held, np.tile(frame.load, (2, 1)), np.array([gaps, gaps[::-1]]))
    alone = settle(held.only(half), frame.load[None], np.zeros((1, 35)))
    assert found.loads[0][half] == pytest.approx(alone.loads[0], abs=1e-12)
    assert not found.loads[0][~half].any()


def test_what_tips_does_not_settle() -> None:
    frame = make.frame(make.job([make.part((0.7, 0.0))], make.stands(make.SQUARE)))
    with pytest.raises(NoEquilibriumError):
        settle(springs(frame, {}), frame.load[None], np.zeros((1, 4)))


def test_what_tips_is_told_without_going_all_the_way(monkeypatch: pytest.MonkeyPatch) -> None:
    """Beside a square of stands, on three in a row, and linked by a mount to what stands: a few steps tell each."""
    steps: list[int] = []
    newton = contact._newton

    def counted(hessians: Array, gradient: Array, softest: float) -> Array:
        steps.append(1)
        return newton(hessians, gradient, softest)

    monkeypatch.setattr(contact, "_newton", counted)
    row = make.stands([(-0.5, 0.0), (0.0, 0.0), (0.5, 0.0)])
    linked = make.job(
        [make.part((0.0, 0.0)), make.part((1.9, 0.1), name="far lump", body="cradle")],
        [*make.stands(make.SQUARE), make.support("far", (0.9, 0.0), body="cradle")],
        joints=[make.mount("mount", (0.7, 0.0))],
        bodies=("unit", "cradle"),
    )
    beside = make.job([make.part((0.7, 0.0))], make.stands(make.SQUARE))
    for job in (beside, make.job([make.part((0.1, 0.2))], row), linked):
        frame = make.frame(job)
        with pytest.raises(NoEquilibriumError):
            settle(springs(frame, {}), frame.load[None], np.zeros((1, len(frame.supports))))
    assert 3 <= len(steps) < 60


def test_stiffnesses_so_far_apart_that_rounding_drowns_the_loads_are_refused() -> None:
    """Three springs of 1 N/m hold up what a rod of 1e12 N/m stops: its load would be rounding."""
    soft, hard = (replace(make.STAND, stiffness=each) for each in (1.0, 1e12))
    supports = [*make.stands(make.SQUARE, use=soft), make.support("rod", (0.3, 0.1), use=hard)]
    frame = make.frame(make.job([make.part((0.2, 0.1))], supports))
    with pytest.raises(NoEquilibriumError):
        settle(springs(frame, {}), frame.load[None], np.zeros((1, 5)))


def test_a_mount_that_is_not_named_carries_nothing_in_the_files_attitude() -> None:
    frame, _, _ = random_springs(3)
    assert not springs(frame, {}).preload.any()


def test_the_rows_of_a_group_that_stands_leave_a_way_up() -> None:
    """Every group that stands on the floor can be lifted off it: the loads are bounded."""
    frame, _, _ = random_springs(0)
    assert len(rays(frame)) > 0


def test_what_leans_off_a_line_of_stands_is_followed_until_the_next_one_takes_it() -> None:
    """Made up: six stands in a line, one 0.17 mm beside it and far down, the weight between: once a zigzag."""
    hair = 1 / 12000
    across = [-1.0, 1 / 3, 0.0, -1.0, 1.0, 0.0, 1.0]
    up = np.array([[1.0, y, -hair if number == 1 else hair] for number, y in enumerate(across)])
    held = Springs(up, np.zeros((0, 3)), np.full(7, 1705.0), np.zeros(0), np.zeros(0))
    load = np.array([[1.0, -0.4, 0.92 * hair]])
    gaps = np.array([[0.0, 0.1, 0.0, 0.0, 0.0, 0.0, 0.0]])
    settled = settle(held, load, gaps)
    assert settled.loads @ up == pytest.approx(load, abs=1e-9)
    assert settled.loads[0, 1] == pytest.approx(0.04, abs=1e-9), "moments about the line: 0.08 hair over 2 hairs"

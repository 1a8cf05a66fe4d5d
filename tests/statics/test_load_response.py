"""How loads follow the unknowns: springs by hand, side by side, one under the other, and with their spreads."""

from collections.abc import Mapping
from dataclasses import replace
from math import log, sqrt
from types import SimpleNamespace
from typing import cast

import numpy as np
import pytest

from loadplan.model.answer import Statics
from loadplan.model.job import Job, Stage
from loadplan.statics.contact_loads import NoEquilibriumError
from loadplan.statics.load_response import STIFFNESS_SPREAD, LoadResponse, UncertainMass, load_response
from tests.statics import builders as make
from tests.statics.lifted import lifted

ARM, STAND, MOUNT = 4e5, 1e6, 3e5
"""Stiffness of what is in the builders [N/m]."""

CROSS = ((0.2, 0.3), (0.2, -0.3), (-0.2, -0.3), (-0.2, 0.3))

TRIANGLE = ((3.5, 0.2), (2.5, 0.7), (2.5, -0.3))


class AsFound:
    """What the response reads of a stage: which groups stand, and how low its saddles are."""

    def __init__(self, gaps: Mapping[str, float], falls: str = "") -> None:
        self.gaps = gaps
        self._falls = falls

    def group_of(self, body: str) -> SimpleNamespace:
        return SimpleNamespace(balanced=body != self._falls)


def response(job: Job, *, falls: str = "", open_: bool = False, **gaps: float) -> LoadResponse:
    """The response of the last stage, its saddles at gap 0 unless told."""
    state = make.state(job)
    found = AsFound(dict.fromkeys((each.name for each in state.supports), 0.0) | gaps, falls)
    return load_response(job, state, cast(Statics, found), stiffness_open=open_)


def told(of: LoadResponse, lower: float = 0.0, touching: tuple[str, ...] = (), **unknowns: float) -> dict[str, float]:
    """Loads with some unknowns changed by a number ("u3") from what is given."""
    case = of.given.copy()
    for name, change in unknowns.items():
        case[int(name[1:])] += change
    (loads,) = of.loads(case[None, :], lower, frozenset(touching))
    return dict(zip(of.supports, map(float, loads), strict=True))


def on_four(mass: float, x: float, y: float) -> list[float]:
    """Loads of A to D at the corners of a square of 1 m: Navier's, with four like springs."""
    return [make.newton(mass) / 4 * (1 + 4 * a * x + 4 * b * y) for a, b in make.SQUARE]


def on_three(mass: float, x: float, y: float) -> list[float]:
    """Loads on the triangle, by moments."""
    front = make.newton(mass) * (x - 2.5)
    side = make.newton(mass) * (y - 0.2)
    return [front, (make.newton(mass) - front) / 2 + side, (make.newton(mass) - front) / 2 - side]


LIMITS = replace(make.NO_LIMITS, uneven=0.003, uneven_touch=0.001)


def two_groups() -> Job:
    """One body on three stands that were brought up, another of two parts on four that were set."""
    parts = [
        make.part((3.0, 0.1), 60.0, name="o", body="other", mass_pm=6.0, at_pm=(0.05, 0.01, 0.0)),
        make.part((0.1, 0.05), 100.0, mass_pm=8.0, at_pm=(0.02, 0.03, 0.01)),
        make.part((-0.2, 0.1), 40.0, name="lid", mass_pm=2.0),
    ]
    far = [make.support(f"f{number}", at, body="other") for number, at in enumerate(TRIANGLE)]
    near = [replace(each, height=0.35) for each in make.stands(make.SQUARE)]
    return make.job(parts, [*near, *far], limits=LIMITS)


def test_the_unknowns_are_the_weights_the_saddles_and_the_stiffness_each_with_its_spread() -> None:
    of = response(two_groups())
    assert of.weights == (
        UncertainMass("other", "o", 60.0, 6.0, (3.0, 0.1, 0.5), (0.05, 0.01, 0.0)),
        UncertainMass("unit", "lump", 100.0, 8.0, (0.1, 0.05, 0.5), (0.02, 0.03, 0.01)),
        UncertainMass("unit", "lid", 40.0, 2.0, (-0.2, 0.1, 0.5), (0.0, 0.0, 0.0)),
    )
    assert of.supports == ("A", "B", "C", "D", "f0", "f1", "f2")
    assert of.known == set(of.supports)
    assert of.stiffness_from == 16
    assert of.given == pytest.approx([60.0, 3.0, 0.1, 100.0, 0.1, 0.05, 40.0, -0.2, 0.1, *[0.0] * 8])
    set_, touched = 0.003 / sqrt(3), 0.001 / sqrt(3)
    halves = [3.0, 0.025, 0.005, 4.0, 0.01, 0.015, 1.0, 0.0, 0.0]
    assert of.spread == pytest.approx([*halves, *[set_] * 4, *[touched] * 3, 0.0])


def test_loads_of_every_group_are_told_at_its_own_supports() -> None:
    of = response(two_groups())
    lump, lid = on_four(100.0, 0.1, 0.05), on_four(40.0, -0.2, 0.1)
    both = [a + b for a, b in zip(lump, lid, strict=True)]
    assert list(told(of).values()) == pytest.approx([*both, *on_three(60.0, 3.0, 0.1)])
    moved = told(of, u0=10.0, u1=0.1, u2=-0.05)
    assert list(moved.values()) == pytest.approx([*both, *on_three(70.0, 3.1, 0.05)])
    moved = told(of, u3=20.0, u4=-0.05, u5=0.1)
    assert list(moved.values())[:4] == pytest.approx(np.array(on_four(120.0, 0.05, 0.15)) + on_four(40.0, -0.2, 0.1))
    lower = told(of, u9=1e-4)
    share = STAND * 1e-4 / 4
    changed = [lower[name] - told(of)[name] for name in "ABCD"]
    assert changed == pytest.approx([-share, share, -share, share])


def test_a_saddle_that_was_set_lower_carries_less() -> None:
    loads = told(response(two_groups(), C=1e-4))
    assert loads["C"] - told(response(two_groups()))["C"] == pytest.approx(-STAND * 1e-4 / 4)


def test_of_what_does_not_stand_nothing_is_known() -> None:
    of = response(two_groups(), falls="other")
    assert of.known == {"A", "B", "C", "D"}
    assert [told(of)[name] for name in ("f0", "f1", "f2")] == [0.0, 0.0, 0.0]
    assert told(of)["A"] > 0


def test_weights_with_which_it_tips_are_refused() -> None:
    with pytest.raises(NoEquilibriumError):
        told(response(two_groups()), u1=-0.6)


def test_each_change_is_that_of_one_spread() -> None:
    of = response(two_groups())
    changes = of.changes(of.given, 0.0)
    assert changes.shape == (7, 17)
    assert changes[:4, 3] == pytest.approx(on_four(4.0, 0.1, 0.05))
    assert changes[:4, 4] == pytest.approx([make.newton(100.0) * a * 0.01 for a, _ in make.SQUARE])
    assert changes[:4, 5] == pytest.approx([make.newton(100.0) * b * 0.015 for _, b in make.SQUARE])
    assert changes[4:, 0] == pytest.approx(on_three(3.0, 3.0, 0.1))
    assert changes[4:, 3:] == pytest.approx(0.0, abs=1e-6)
    assert changes[:, -1] == pytest.approx(0.0)


def test_a_change_sees_what_comes_into_touch_on_the_way_and_a_small_share_of_it_does_not() -> None:
    """A fifth stand a hair below the middle, and 40 kg of spread: by hand the fifth takes (W - 4 k g) / 5."""
    gap = make.newton(100.1) / (4 * STAND)
    parts = [make.part(mass=100.0, mass_pm=80.0)]
    job = make.job(parts, [*make.stands(make.SQUARE), make.support("M", (0.0, 0.0))])
    of = response(job, M=gap)
    assert told(of)["M"] == 0.0
    assert told(of, u0=40.0)["M"] == pytest.approx((make.newton(140.0) - 4 * STAND * gap) / 5)
    assert of.changes(of.given, 0.0)[4, 0] == pytest.approx((make.newton(140.0) - 4 * STAND * gap) / 10)
    assert of.changes(of.given, 0.0, share=1e-3)[4, 0] == 0.0
    assert of.changes(of.given, 0.0, share=1e-3)[0, 0] == pytest.approx(make.newton(40.0) / 4)
    # Where it is known to touch, it is drawn down as far as it is set below.
    drawn = (make.newton(100.0) - 4 * STAND * gap) / 5
    assert told(of, touching=("M",))["M"] == pytest.approx(drawn, abs=1e-4) != 0
    assert of.changes(of.given, 0.0, 1e-3, frozenset({"M"}))[4, 0] == pytest.approx(make.newton(40.0) / 5)


def test_a_part_that_is_off_counts_no_more_and_one_taken_from_a_whole_counts_against_it() -> None:
    parts = [make.part((-0.2, 0.1), 40.0, name="lid", mass_pm=4.0), make.part(mass=100.0)]
    stages = [Stage("all", tuple("ABCD")), Stage("off", off=("lid",))]
    of = response(make.job(parts, make.stands(make.SQUARE), stages=stages))
    assert [(each.part, each.mass) for each in of.weights] == [("lid", 40.0), ("lump", 100.0)]
    assert list(told(of, u0=5.0).values()) == pytest.approx(on_four(100.0, 0.0, 0.0))
    whole = {"unit": make.weighed(150.0, (0.05, 0.0, 0.4), mass_pm=3.0, cg_pm=(0.01, 0.02, 0.0))}
    of = response(make.job(parts, make.stands(make.SQUARE), stages=stages, whole=whole))
    assert [(each.part, each.mass, each.mass_pm) for each in of.weights] == [("", 150.0, 3.0), ("lid", 40.0, 4.0)]
    less = np.array(on_four(150.0, 0.05, 0.0)) - on_four(45.0, -0.2, 0.1)
    assert list(told(of, u3=5.0).values()) == pytest.approx(less)


def on_arms_and_stands() -> Job:
    """A body on two arms across one diagonal of a square and two stands across the other."""
    arms = make.lift_use((make.SQUARE[0], make.SQUARE[2]), body="unit")
    others = [make.support(name, at) for name, at in zip("BD", make.SQUARE[1::2], strict=True)]
    return make.job([make.part(mass=1000.0)], others, lift=arms)


@pytest.mark.parametrize(("lower", "softer"), [(0.0, 1.0), (0.002, 1.0), (0.001, 0.5), (0.001, 2.0)])
def test_arms_go_down_together_and_are_as_stiff_as_they_are(lower: float, softer: float) -> None:
    """By hand, w down: W = 2 f k (w - d) + 2 K w."""
    of = response(on_arms_and_stands(), open_=True)
    assert of.spread[-1] == STIFFNESS_SPREAD == pytest.approx(log(2.0) / 2)
    assert list(of.is_arm) == [False, False, True, True]
    down = (make.newton(1000.0) / 2 + softer * ARM * lower) / (softer * ARM + STAND)
    wanted = [STAND * down] * 2 + [softer * ARM * (down - lower)] * 2
    assert list(told(of, lower, u7=log(softer)).values()) == pytest.approx(wanted)


def test_several_cases_with_different_stiffness_are_told_in_their_order() -> None:
    of = response(on_arms_and_stands(), open_=True)
    cases = np.tile(of.given, (3, 1))
    cases[:, 7] = log(2.0), 0.0, log(2.0)
    cases[:, 0] = 1000.0, 1000.0, 500.0
    loads = of.loads(cases, 0.0)[:, 2]
    share = {2.0: 2 * ARM / (2 * ARM + STAND), 1.0: ARM / (ARM + STAND)}
    half = make.newton(500.0)
    assert loads == pytest.approx([half * share[2.0], half * share[1.0], half / 2 * share[2.0]])


def test_what_is_known_to_touch_is_drawn_on_where_it_would_be_let_go() -> None:
    """20 mm down the arms let go; known to touch, they draw by k (d - w)."""
    of = response(on_arms_and_stands())
    half = make.newton(500.0)
    assert list(told(of, 0.02).values()) == pytest.approx([half, half, 0.0, 0.0])
    down = (half + ARM * 0.02) / (ARM + STAND)
    drawn = told(of, 0.02, ("pad 1", "pad 2"))
    assert list(drawn.values()) == pytest.approx([STAND * down] * 2 + [ARM * (down - 0.02)] * 2)
    assert drawn["pad 1"] < 0


def hung(*, soft: float = MOUNT) -> Job:
    """A unit on four mounts under a shell on four arms, all in one line, and four stands under the unit."""
    mounts = [make.mount(f"m{number}", at, ("unit", "shell"), stiffness=soft) for number, at in enumerate(CROSS)]
    parts = [make.part(mass=300.0, mass_pm=20.0), make.part(mass=900.0, name="s", body="shell")]
    return make.job(parts, make.stands(CROSS), joints=mounts, lift=make.lift_use(make.SQUARE))


def sinking(unit: float, lower: float = 0.0, arms: float = ARM, mount: float = MOUNT) -> tuple[float, float]:
    """What a stand and an arm carry: the mounts bear the unit in the file's attitude, then arms sink onto all springs.

    By hand: u = km s / (km + ks), and (m + M) g = ka (s - d) + km ks / (km + ks) s.
    """
    kept = 4 * mount * 4 * STAND / (4 * mount + 4 * STAND)
    down = (make.newton(900.0 + unit) + 4 * arms * lower) / (4 * arms + kept)
    return kept * down / 4, arms * (down - lower)


def test_mounts_carry_in_the_files_attitude_what_hangs_from_them_however_heavy_it_is() -> None:
    of = response(hung(), open_=True)
    assert [each.name for each in of.joints] == ["m0", "m1", "m2", "m3"]
    assert of.spread[of.stiffness_from :] == pytest.approx([log(2.0) / 2] * 5)
    assert list(told(of).values()) == pytest.approx(np.repeat(sinking(300.0), 4))
    assert list(told(of, 0.001).values()) == pytest.approx(np.repeat(sinking(300.0, 0.001), 4))
    assert list(told(of, u0=50.0).values()) == pytest.approx(np.repeat(sinking(350.0), 4))
    assert list(told(of, u14=log(2.0)).values()) == pytest.approx(np.repeat(sinking(300.0, arms=2 * ARM), 4))
    twice = told(of, u15=log(2.0), u16=log(2.0), u17=log(2.0), u18=log(2.0))
    assert list(twice.values()) == pytest.approx(np.repeat(sinking(300.0, mount=2 * MOUNT), 4))
    heavier, lighter = sinking(310.0)[0], sinking(290.0)[0]
    assert of.changes(of.given, 0.0)[:4, 0] == pytest.approx([(heavier - lighter) / 2] * 4)


def test_a_mount_made_stiffer_by_itself_is_that_mount() -> None:
    """The shell sinks onto it most: the stand under it carries most, that across least."""
    for number, (most, least) in enumerate(["AC", "BD", "CA", "DB"]):
        loads = told(response(hung(), open_=True), **{f"u{15 + number}": log(4.0)})
        under = {name: loads[name] for name in "ABCD"}
        assert max(under, key=under.__getitem__) == most
        assert min(under, key=under.__getitem__) == least


def test_with_the_lift_away_or_no_mounts_nothing_is_preloaded() -> None:
    assert response(two_groups()).preload is None
    assert response(on_arms_and_stands()).preload is None
    rule = response(hung()).preload
    assert rule is not None
    assert [each.name for each in rule.frame.mounts] == ["m0", "m1", "m2", "m3"]


def test_a_mount_between_assemblies_on_stands_carries_what_balance_gives_it() -> None:
    """The unit's 100 kg between its two stands 0.3 m in front and the mount 0.2 m behind: 60 kg on the mount."""
    loads = told(response(make.rider((0.3, 0.2), (0.3, -0.2))))
    cradle = np.array(on_four(50.0, 0.0, 0.0)) + on_four(60.0, -0.2, 0.0)
    assert list(loads.values()) == pytest.approx([*cradle, make.newton(20.0), make.newton(20.0)])


def test_loads_as_given_are_those_of_the_stage() -> None:
    job = lifted([Stage("down", tuple("ABCD"), lowered=0.009)])
    (statics,) = make.solved(job)
    of = load_response(job, make.state(job), statics)
    wanted = {each.name: each.load.expected for each in statics.supports if each.load}
    assert told(of) == pytest.approx(wanted)

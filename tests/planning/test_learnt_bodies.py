"""Bodies learnt as wholes: tighter than part by part, and never milder than the truth."""

from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

import loadplan
from loadplan.assess import assess
from loadplan.limits import GRAVITY
from loadplan.model.job import Job, StageReading
from loadplan.model.readings import Estimate
from loadplan.model.vehicle import Basis
from loadplan.model.verdict import Verdict
from loadplan.model.weight_basis import body_basis
from loadplan.planning import learnt_bodies, weight_learning
from loadplan.planning.learnt_bodies import Spanned, with_learnt_bodies
from loadplan.planning.weight_learning import WeightLearning, learn_weights
from tests.checks.small_jobs import Raw, unit_job
from tests.planning.test_learnt_margin import PLACES, at_the_end, truly_read
from tests.reference.random_jobs import write_job
from tests.statics import builders as make
from tests.statics.learning import two_bodies

ROUNDING = 1e-6
"""Margins are found to a thousandth of a millimetre [m]."""


def three_parts(off: float = 30) -> Raw:
    """Three parts of one unit on three stands, each known to a tenth; one of them comes off in the second step."""
    parts = [
        {"name": name, "body": "unit", "mass": mass, "mass_pm": "10 %", "at": at, "at_pm": off}
        for name, mass, at in (
            ("block", 200, [60, 20, 500]),
            ("head", 60, [90, -30, 700]),
            ("gearbox", 90, [-200, 0, 450]),
        )
    ]
    stages = [{"name": "set down", "in_place": ["A", "B", "C"]}, {"name": "head off", "off": ["head"]}]
    return unit_job(PLACES, part=parts, stage=stages, limits={"uneven": 1, "uneven_touch": 1})  # type: ignore[arg-type]


def margins(job: Job) -> list[float]:
    stages = assess(job).stages
    return [each.worst_margin for stage in stages for each in stage.statics.bodies if each.worst_margin is not None]


def learnt(job: Job, readings: tuple[StageReading, ...]) -> WeightLearning:
    stages = (replace(job.stages[0], readings=readings), *job.stages[1:])
    return learn_weights(replace(job, stages=stages), 0)


@pytest.fixture
def wholes(monkeypatch: pytest.MonkeyPatch) -> list[Job | None]:
    """What was learnt of whole bodies, each time, whether or not the verdict is the milder for it."""
    made: list[Job | None] = []

    def kept(job: Job, *of: object) -> Job | None:
        made.append(with_learnt_bodies(job, *of))  # type: ignore[arg-type]
        return made[-1]

    monkeypatch.setattr(weight_learning, "with_learnt_bodies", kept)
    return made


@pytest.mark.slow
@pytest.mark.parametrize(
    ("raw", "scales", "tighter_at_least"),
    [(three_parts(), ("ABC", "AB", "C"), 3), (two_bodies(), ("ABCDEF", "EF", "ABCD"), 0)],
)
def test_a_margin_of_a_whole_is_never_milder_than_the_truth(
    raw: Raw, scales: tuple[str, ...], tighter_at_least: int, tmp_path: Path, wholes: list[Job | None]
) -> None:
    """Draws with every figure at an end of its tolerance, and scales nearly as far off as they may be.

    What mounts carry is not weighed: two bodies that hang together are told by the scales as one, and no tighter.
    """
    job = loadplan.read_job(write_job(raw, tmp_path))
    job = replace(job, limits=replace(job.limits, margin=0.4))  # so that none holds, and both ways are judged
    luck, used, tighter = np.random.default_rng(61), 0, 0
    for number in range(24):
        truth = at_the_end(job, luck)
        found = learnt(job, truly_read(truth, scales[number % 3], luck))
        if not (found.update.consistent and wholes and wholes[-1]):
            continue
        used += 1
        now, true, by_parts = margins(wholes[-1]), margins(truth), margins(found.assessment.job)
        wholes.clear()
        assert len(now) == len(true) == len(by_parts)
        assert all(margin <= most + ROUNDING for margin, most in zip(now, true, strict=True)), number
        tighter += any(mine > theirs + 2e-3 for mine, theirs in zip(now, by_parts, strict=True))
    assert used >= 8
    assert tighter >= tighter_at_least


def test_scales_under_all_stands_turn_a_stop_into_none(tmp_path: Path) -> None:
    """Part by part it may tip: each may be 200 mm off. Together they cannot: three scales tell where the whole is."""
    job = loadplan.read_job(write_job(three_parts(off=200), tmp_path))
    assert assess(job).verdict is Verdict.STOP
    loads = {each.name: each.load for each in assess(job).stages[0].statics.supports}
    readings = tuple(StageReading(name, load.expected, 2 * GRAVITY) for name, load in loads.items() if load)
    found = learnt(job, readings)
    first = found.assessment.stages[0].statics.bodies[0].worst_margin
    assert first is not None
    assert first > 0.05
    assert found.assessment.basis is Basis.GUESS


FITTED = (
    (210.0, 0.06, 0.02),
    (50.0, 0.09, -0.03),
    (90.0, -0.2, 0.0),
    (30.0, 0.5, 0.1),
    (10.0, 0.1, 0.3),
    (200.0, 0.0, 0.0),
)
"""Mass, x and y that fit best of three parts of the unit, of two of a frame, and of a shell in one."""

SPREAD = (10.0, 0.02, 0.01) * 6
FREE = (0.25, 0.16, 0.09) * 6
"""What each figure's plus or minus is by its file (k = 1), and the share of its square that the readings leave."""

SURE = ((340.0, 360.0), (0.02, 0.04), (-0.01, 0.03), (36.0, 44.0), (0.3, 0.5), (0.1, 0.2))
"""Between which limits mass, x and y of the unit lie for certain, then those of the frame."""


@pytest.fixture
def two_wholes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Job:
    """A unit of three parts and a frame of two, of which the readings leave what is written above."""
    job = loadplan.read_job(write_job(three_parts(), tmp_path))
    vehicle, (first, *_) = job.vehicle, job.vehicle.parts
    parts = [replace(first, name=name, body="frame", mass=20.0, mass_pm=2.0) for name in ("rail", "beam")]
    parts.append(replace(first, name="hull", body="shell"))
    bodies = (*vehicle.bodies, *(replace(vehicle.bodies[0], name=name) for name in ("frame", "shell")))
    low, high = (np.array(each) for each in zip(*SURE, strict=True))
    monkeypatch.setattr(learnt_bodies, "limits_together", lambda *_: SimpleNamespace(low=low, high=high))
    whole = replace(vehicle, bodies=bodies, parts=(*vehicle.parts, *parts))
    return replace(job, vehicle=whole, bodies=("unit", "frame", "shell"))


def put_wholes(job: Job, spanned: Spanned) -> Job | None:
    weights = [SimpleNamespace(body=each.body, part=each.name) for each in job.vehicle.parts]
    response = SimpleNamespace(weights=weights, spread=np.array(SPREAD))
    found = SimpleNamespace(unknowns=np.array(FITTED).ravel(), covariance=np.diag(FREE))
    return with_learnt_bodies(job, response, (), found, spanned)  # type: ignore[arg-type]


def test_a_whole_is_told_by_what_fits_best_of_its_parts_and_by_its_own_limits(two_wholes: Job) -> None:
    """By hand, k = 2: the frame's 40 kg known to 2 (10 x 0.5) 2^0.5 = 14.1 kg; its x by (30 x 0.5 + 10 x 0.1) / 40."""
    asked: list[tuple[Estimate, Estimate, Estimate]] = []

    def sure_one(file: Estimate, likely: Estimate, sure: Estimate) -> Estimate:
        asked.append((file, likely, sure))
        return sure

    told = put_wholes(two_wholes, sure_one)
    assert told is not None
    mass, x, y = asked[3:]
    by_mass = (0.1 / 40 * 5, -0.3 / 40 * 5, 30 / 40 * 0.008, 10 / 40 * 0.008)
    y_by_mass = (-0.05 / 40 * 5, 0.15 / 40 * 5, 30 / 40 * 0.003, 10 / 40 * 0.003)
    assert (mass[1].value, mass[1].pm) == pytest.approx((40.0, 2 * 5 * 2**0.5))
    assert (x[1].value, x[1].pm) == pytest.approx((0.4, 2 * np.hypot.reduce(by_mass)))
    assert (y[1].value, y[1].pm) == pytest.approx((0.15, 2 * np.hypot.reduce(y_by_mass)))
    assert [each[1].value for each in asked[:2]] == pytest.approx([350.0, (210 * 0.06 + 50 * 0.09 - 90 * 0.2) / 350])
    assert mass[0] == Estimate(40.0, pytest.approx(4.0))
    limits = [(each[2].value - each[2].pm, each[2].value + each[2].pm) for each in asked]
    assert limits == [pytest.approx(each) for each in SURE]
    unit, frame, shell = told.vehicle.bodies
    assert shell == two_wholes.vehicle.bodies[2]
    assert (unit.weighed.mass, unit.weighed.mass_pm) == pytest.approx((350.0, 10.0))  # type: ignore[union-attr]
    assert frame.weighed is not None
    assert (*frame.weighed.cg, *frame.weighed.cg_pm) == pytest.approx((0.4, 0.15, 0.5, 0.1, 0.05, 0.03))
    assert frame.weighed.date is None


def test_a_whole_that_is_known_no_better_is_left_to_its_parts(two_wholes: Job) -> None:
    assert put_wholes(two_wholes, lambda file, _likely, _sure: file) is None
    told = put_wholes(two_wholes, lambda file, _likely, sure: sure if file.value > 300.0 else file)
    assert told is not None
    assert [each.weighed is not None for each in told.vehicle.bodies] == [True, False, False]
    assert told.vehicle.bodies[1:] == two_wholes.vehicle.bodies[1:]


@pytest.mark.parametrize(("pm", "count"), [(9.9, 2), (10.0, 0), (11.0, 0)])
def test_a_whole_that_may_weigh_nothing_is_left_to_its_parts(two_wholes: Job, pm: float, count: int) -> None:
    def spanned(file: Estimate, *_: Estimate) -> Estimate:
        # A place, other than a mass, may well be less than its plus or minus.
        return Estimate(10.0, pm) if file.value > 1.0 else Estimate(0.1, 20.0)

    told = put_wholes(two_wholes, spanned)
    assert sum(each.weighed is not None for each in told.vehicle.bodies if told) == count if told else count == 0


def test_the_basis_of_a_whole_stays_that_of_its_parts(two_wholes: Job) -> None:
    """A job that guesses its parts is not told as weighed because its scales agree."""
    bodies = tuple(replace(each, basis=Basis.DATA_SHEET) for each in two_wholes.vehicle.bodies)
    job = replace(two_wholes, vehicle=replace(two_wholes.vehicle, bodies=bodies))
    told = put_wholes(job, lambda _file, _likely, sure: sure)
    assert told is not None
    assert [each.basis for each in told.vehicle.bodies[:2]] == [body_basis(job.vehicle, each) for each in bodies[:2]]
    assert told.vehicle.bodies[0].basis is Basis.GUESS


def test_only_bodies_of_several_parts_that_were_not_weighed_are_looked_at(
    two_wholes: Job, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of one part nothing is learnt by adding up, and of a body weighed whole its parts are told by its file."""
    asked: list[list[tuple[int, ...]]] = []

    def none(_response: object, _read: object, sets: list[tuple[int, ...]]) -> None:
        asked.append(sets)

    monkeypatch.setattr(learnt_bodies, "limits_together", none)
    unit, frame, shell = two_wholes.vehicle.bodies
    weighed = (unit, replace(frame, weighed=make.weighed(40.0, (0.4, 0.15, 0.5))), shell)
    others = (
        two_wholes,
        replace(two_wholes, vehicle=replace(two_wholes.vehicle, bodies=weighed)),
        replace(two_wholes, bodies=("frame", "shell")),
        replace(two_wholes, bodies=("shell",)),
    )
    assert [put_wholes(each, lambda _file, _likely, sure: sure) for each in others] == [None] * 4
    assert asked == [[(0, 1, 2), (3, 4)], [(0, 1, 2)], [(3, 4)]]

"""What is made of readings once they are fitted: which figures are told, written, and judged by. Figures by hand."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from math import exp
from types import SimpleNamespace

import numpy as np
import pytest

from loadplan.errors import InputError
from loadplan.model.job import Job, StageReading, State
from loadplan.model.learnt_weights import PartUpdate, StiffnessUpdate, WeightUpdate
from loadplan.model.readings import Estimate
from loadplan.model.verdict import CheckName, Finding, Measure, Verdict
from loadplan.planning import weight_learning
from loadplan.planning.learnt_bodies import Spanned
from loadplan.planning.weight_learning import (
    WeightLearning,
    learn_weights,
    learnt_wholes,
    with_weights,
    with_wholes,
)
from loadplan.statics.unsolved import UnsolvedError
from loadplan.statics.weight_update import WeighedLoad
from tests.planning.test_written_weights import BLOCK, CRADLE, SCALE, UNIT, on_stands, update
from tests.statics import builders as make


class Scene:
    """Readings fitted as written here, and each job judged as written here.

    Attributes:
        verdicts: What jobs come to, in the order in which they are judged; the last for all after it.
        judged: The jobs that were judged.
    """

    def __init__(self, job: Job) -> None:
        """Fit what is likely of the block and the pump; nothing contradicts."""
        self.job = job
        self.verdicts = [Verdict.HOLDS]
        self.judged: list[Job] = []
        self.consistent = True
        self.sure = True
        self.limits: SimpleNamespace | None = SimpleNamespace(
            low=np.array([105.0, 0.08, 0.18, 36.0, 0.29, -0.02]), high=np.array([115.0, 0.14, 0.22, 44.0, 0.31, 0.02])
        )
        self.fit = True
        self.stops: tuple[Finding, ...] = ()
        self.wholes: Job | None = None
        self.wholes_made = 0
        self.opened: list[bool] = []
        self.error: Exception | None = None
        self.counted: object = np.ones(4)
        self.lower: float | None = 0.0
        self.response = SimpleNamespace(
            weights=[
                SimpleNamespace(
                    body=each.body, part=each.name, mass=each.mass, mass_pm=each.mass_pm, at=each.at, at_pm=each.at_pm
                )
                for each in UNIT
            ],
            given=np.array([100.0, 0.1, 0.2, 40.0, 0.3, 0.0, 0.0]),
            spread=np.array([10.0, 0.025, 0.03, 2.0, 0.005, 0.01, 0.0]),
            is_arm=np.zeros(4, dtype=bool),
            joints=(),
            stiffness_from=6,
        )
        self.found = SimpleNamespace(
            consistent=True,
            unknowns=np.array([110.0, 0.11, 0.2, 40.0, 0.3, 0.0, 0.0]),
            covariance=np.diag([0.01, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0]),
        )

    def assess(self, job: Job) -> SimpleNamespace:
        """Judge a job."""
        self.judged.append(job)
        verdict = self.verdicts[min(len(self.judged), len(self.verdicts)) - 1]
        return SimpleNamespace(verdict=verdict, job=job)

    def learnt(self) -> WeightLearning:
        """Learn."""
        return learn_weights(self.job, 0, SimpleNamespace())  # type: ignore[arg-type]


@pytest.fixture
def scene(monkeypatch: pytest.MonkeyPatch) -> Callable[..., Scene]:
    """Put a scene in the place of the statics."""

    def made(*readings: StageReading) -> Scene:
        it = Scene(on_stands(*readings or (SCALE,)))

        def response(*_: object, stiffness_open: bool) -> SimpleNamespace:
            it.opened.append(stiffness_open)
            return it.response

        def fit(*_: object) -> SimpleNamespace:
            if it.error is not None:
                raise it.error
            it.found.consistent = it.consistent
            return it.found

        def down(state: State, solved: object, reading: StageReading) -> float | None:
            assert (state.name, solved) == ("all", SimpleNamespace())
            return it.lower if reading.lowered is None else reading.lowered

        def wholes(
            by_parts: Job, response: object, read: tuple[WeighedLoad, ...], found: object, _: Spanned
        ) -> Job | None:
            assert (by_parts, response, found) == (it.judged[0], it.response, it.found)
            assert [each.reading for each in read] == [each for each in it.job.stages[0].readings if each.load]
            it.wholes_made += 1
            return it.wholes

        doubted = [SimpleNamespace(reading=each) for each in it.job.stages[0].readings[::-1] * 2]
        stubs = {
            "load_response": response, "fit_weights": fit, "suspects": lambda *_: [] if it.consistent else doubted,
            "touch_for_certain": lambda *_: it.sure, "further_scale": lambda *_: "further",
            "weight_limits": lambda *_: it.limits, "with_learnt_bodies": wholes, "assess": it.assess,
            "loads_read": lambda *_: it.counted, "fit_together": lambda *_: it.fit, "_stops": lambda _: it.stops,
            "further_down": down,
        }  # fmt: skip
        for name, stub in stubs.items():
            monkeypatch.setattr(weight_learning, name, stub)
        return it

    return made


def test_parts_are_told_as_likely_and_judged_as_sure(scene: Callable[..., Scene]) -> None:
    """The block: 110 +- 10 x 0.1 x 2; its x is sure from 80 to 140, which is better than the file's 50 to 150."""
    it = scene(SCALE, StageReading("B", None, turns=True), StageReading("B", None, turns=True))
    found = it.learnt()
    block, pump = found.update.parts
    assert block == update("block", (110.0, 2.0), (0.11, 0.05), (0.2, 0.06), (0.5, 0.07))
    assert pump == update("pump", (40.0, 4.0), (0.3, 0.01), (0.0, 0.02), (0.5, 0.03))
    assert (found.update.consistent, found.update.suspects, found.update.by_hand) == (True, (), ("B",))
    assert str(found.update.further) == "further"
    (careful,) = found.careful
    assert (careful.body, careful.part, careful.cg[2]) == ("unit", "block", Estimate(0.5, 0.07))
    assert (careful.mass.value, careful.mass.pm) == pytest.approx((110.0, 5.0))
    assert (careful.cg[0].value, careful.cg[0].pm) == pytest.approx((0.105, 0.045))
    assert careful.cg[1] == Estimate(0.2, 0.06)
    assert (found.stage, found.before, found.beyond, found.verdict) == ("all", it.job, False, Verdict.HOLDS)
    assert it.judged == [with_weights(it.job, (careful,))]
    assert (it.opened, it.wholes_made) == ([False], 0)


def test_a_body_that_the_job_does_not_use_hides_none_behind_it(scene: Callable[..., Scene]) -> None:
    it = scene()
    it.job = replace(it.job, bodies=("unit",))
    whole = it.learnt()
    unused = SimpleNamespace(body="cradle", part="", mass=60.0, mass_pm=3.0, at=(0.0, 0.1, 0.4), at_pm=(0.02,) * 3)
    figures = [60.0, 0.0, 0.1]
    it.response.weights.insert(0, unused)
    it.response.spread = np.array([*figures, *it.response.spread])
    it.found.unknowns = np.array([*figures, *it.found.unknowns])
    it.found.covariance = np.diag([1.0] * 3 + [*it.found.covariance.diagonal()])
    assert it.limits is not None
    it.limits = SimpleNamespace(**{end: np.array([*figures, *of]) for end, of in vars(it.limits).items()})
    found = it.learnt()
    assert found.careful == whole.careful != ()
    assert [each.part for each in found.update.parts] == ["block", "pump"]


def test_readings_at_more_than_one_height_of_the_lift_leave_stiffness_open(scene: Callable[..., Scene]) -> None:
    it = scene(SCALE, replace(SCALE, lowered=0.01))
    it.learnt()
    same = scene(SCALE, replace(SCALE, support="B"))
    same.learnt()
    assert (it.opened, same.opened) == ([True], [False])


def test_readings_that_contradict_teach_nothing_and_are_a_stop(scene: Callable[..., Scene]) -> None:
    it = scene(SCALE, replace(SCALE, support="B"))
    it.consistent = False
    found = it.learnt()
    assert found.verdict is Verdict.STOP
    assert found.update.suspects == ("B", "A")
    assert (found.careful, found.update.further, found.update.stiffness, found.beyond) == ((), None, (), False)
    assert found.update.parts[0] == update("block", (100.0, 20.0), (0.1, 0.05), (0.2, 0.06), (0.5, 0.07))
    assert (it.judged, found.wholes()) == ([it.job], None)
    assert it.wholes_made == 0


def test_where_a_hand_felt_what_fits_no_weights_scales_bound_them_no_more(scene: Callable[..., Scene]) -> None:
    """Bodies weighed whole are made of the limits that scales leave open, so there are none either."""
    it = scene()
    it.fit, it.verdicts = False, [Verdict.CAUTION]
    found = it.learnt()
    assert (found.beyond, found.careful, found.verdict) == (True, (), Verdict.CAUTION)
    assert (found.wholes(), it.wholes_made) == (None, 0)


def test_what_check_stops_of_the_readings_is_a_stop(scene: Callable[..., Scene]) -> None:
    it = scene()
    it.stops = (Finding(CheckName.READING, Verdict.STOP, "A", None, None, Measure.LOAD, ("A turns by hand.",)),)
    found = it.learnt()
    assert (found.stops, found.verdict) == (it.stops, Verdict.STOP)
    it.consistent = False
    assert it.learnt().stops == it.stops


def test_where_no_figures_fit_for_certain_all_of_the_file_is_left_open_and_it_is_a_caution(
    scene: Callable[..., Scene],
) -> None:
    it = scene()
    it.limits = None
    found = it.learnt()
    assert (found.beyond, found.careful, found.verdict) == (True, (), Verdict.CAUTION)
    assert replace(found, assessment=SimpleNamespace(verdict=Verdict.STOP)).verdict is Verdict.STOP  # type: ignore[arg-type]
    # What is likely lies beyond the file's limits, so these reach out to it.
    it.found.unknowns[0] = 130.0
    (careful,) = it.learnt().careful
    assert (careful.mass.value, careful.mass.pm) == pytest.approx((106.0, 26.0))
    assert careful.cg[0] == Estimate(0.1, 0.05)


@pytest.mark.parametrize(
    ("verdicts", "made", "verdict"),
    [
        ([Verdict.NOTE], 0, Verdict.NOTE),
        ([Verdict.CAUTION, Verdict.NOTE], 1, Verdict.NOTE),
        ([Verdict.CAUTION, Verdict.CAUTION], 1, Verdict.CAUTION),
        ([Verdict.CAUTION, Verdict.STOP], 1, Verdict.CAUTION),
        ([Verdict.STOP, Verdict.CAUTION], 1, Verdict.CAUTION),
    ],
)
def test_bodies_weighed_whole_are_judged_by_where_that_is_milder(
    scene: Callable[..., Scene], verdicts: Sequence[Verdict], made: int, verdict: Verdict
) -> None:
    it = scene()
    it.verdicts, it.wholes = list(verdicts), on_stands()
    found = it.learnt()
    assert (it.wholes_made, found.verdict) == (made, verdict)
    assert found.assessment.job == (it.wholes if verdict < verdicts[0] else it.judged[0])
    assert (found.wholes(), found.wholes(), it.wholes_made) == (it.wholes, it.wholes, 1), "made once"


def test_what_cannot_be_computed_as_a_whole_leaves_the_parts(scene: Callable[..., Scene]) -> None:
    it = scene()
    it.verdicts = [Verdict.CAUTION]
    assert it.learnt().assessment.job == it.judged[0]
    it.wholes = on_stands()
    whole = it.assess

    def refused(job: Job) -> SimpleNamespace:
        if job is it.wholes:
            raise InputError
        return whole(job)

    vars(weight_learning)["assess"] = refused
    assert it.learnt().verdict is Verdict.CAUTION


def test_what_cannot_be_learnt_from_says_why_and_where(scene: Callable[..., Scene]) -> None:
    def says(it: Scene) -> str:
        with pytest.raises(InputError) as told:
            it.learnt()
        (fault,) = told.value.faults
        assert (fault.file, fault.table, fault.key) == ("job.toml", 'stage 1 "all"', "readings")
        return fault.message

    hand = says(scene(StageReading("B", None, turns=True)))
    assert hand == (
        "has no reading of a scale to learn from: write what it read into the step, such as "
        'readings = [ { support = "A", load = 113 } ]'
    )
    it = scene()
    it.counted = None
    assert says(it) == "reads A, of which the load cannot be told: what it bears is not in balance"
    it = scene()
    it.lower = None
    assert says(it) == "reads A with the lift lowered, but how far this step lowers it is not known"
    for error in (UnsolvedError("too many"), np.linalg.LinAlgError()):
        it = scene()
        it.error = error
        tips = "may tip, or cannot be computed, with its weights a little off: nothing can be learnt from its loads"
        assert says(it) == tips


def stiff(it: Scene, names: Sequence[tuple[str, float | None]], spread: Sequence[float], left: Sequence[float]) -> None:
    """Let stiffnesses of joints, behind that of the arms, be known so well; each twice as stiff as given."""
    it.response.joints = tuple(SimpleNamespace(name=name, stiffness=given) for name, given in names)
    it.response.spread = np.array([*it.response.spread[:6], *spread])
    it.found.covariance = np.diag([*it.found.covariance.diagonal()[:6], *(each**2 for each in left)])
    it.found.unknowns = np.array([*it.found.unknowns[:6], *([np.log(2.0)] * len(spread))])


def test_of_stiffness_only_what_readings_tell_is_told(scene: Callable[..., Scene]) -> None:
    """A joint of 300 N/mm: twice as stiff, known to 0.5 x 0.1 of itself, twice that at k = 2: 600 +- 60."""
    it = scene()
    names = [("untold", 3e5), ("told", 3e5), ("none", None), ("given", 3e5), ("just", 3e5), ("last", 1e5)]
    stiff(it, names, [0.1] * 4 + [0.0, 0.1, 0.2], [0.5, 0.81, 0.5, 0.5, 0.5, 0.8, 0.25])
    found = it.learnt().update.stiffness
    assert [each.name for each in found] == ["told", "just", "last"]
    assert (found[0].stiffness.value, found[0].stiffness.pm) == pytest.approx((6e5, 6e4))
    assert (found[2].stiffness.value, found[2].stiffness.pm) == pytest.approx((2e5, 2e5 * 2 * 0.25 * 0.2))
    it.sure = False
    assert it.learnt().update.stiffness == ()


def test_the_stiffness_of_a_lift_is_told_where_its_arms_are_there(scene: Callable[..., Scene]) -> None:
    for lift, arms, names in ((True, True, ["bay"]), (True, False, []), (False, True, [])):
        it = scene()
        it.job = on_stands(SCALE, lift=lift)
        it.response.is_arm = np.array([False, arms])
        stiff(it, [], [0.1], [0.5])
        found = it.learnt().update.stiffness
        assert [each.name for each in found] == names
        for each in found:
            assert each == StiffnessUpdate("bay", each.stiffness)
            assert each.stiffness.value == pytest.approx(4e5 * exp(np.log(2.0)))


def learnt(
    wholes: Job | None, verdict: Verdict = Verdict.CAUTION, careful: tuple[PartUpdate, ...] = ()
) -> WeightLearning:
    update_ = WeightUpdate((), consistent=True, suspects=(), stiffness=(), further=None, by_hand=())
    assessment = SimpleNamespace(verdict=verdict)
    return WeightLearning("all", update_, on_stands(), careful, assessment, wholes=lambda: wholes)  # type: ignore[arg-type]


def weighed_whole(pm: float) -> Job:
    job = on_stands()
    unit, cradle = job.vehicle.bodies
    whole = replace(unit, weighed=make.weighed(140.0, (0.15, 0.14, 0.5), mass_pm=pm, cg_pm=(0.01, 0.02, 0.07)))
    other = replace(cradle, weighed=replace(CRADLE, mass=59.0, mass_pm=0.5))
    return replace(job, vehicle=replace(job.vehicle, bodies=(whole, other)))


@pytest.mark.parametrize(
    ("pm", "verdict", "written"),
    [
        (4.2, Verdict.CAUTION, True),
        (4.3, Verdict.CAUTION, False),
        (4.2, Verdict.HOLDS, True),
        (4.2, Verdict.STOP, False),
        (4.2, None, False),
    ],
)
def test_a_body_is_written_as_weighed_whole_where_it_is_known_well_and_nothing_is_told_stricter(
    monkeypatch: pytest.MonkeyPatch,
    pm: float,
    verdict: Verdict | None,
    written: bool,  # noqa: FBT001 - a row
) -> None:
    judged: list[Job] = []

    def assess(job: Job) -> SimpleNamespace:
        judged.append(job)
        if verdict is None:
            raise InputError
        return SimpleNamespace(verdict=verdict)

    monkeypatch.setattr(weight_learning, "assess", assess)
    found = learnt(weighed_whole(pm), careful=(BLOCK,))
    unit = update("", (140.0, pm), (0.15, 0.01), (0.14, 0.02), (0.5, 0.07))
    assert learnt_wholes(found) == ((unit,) if written else ())
    assert learnt_wholes(learnt(None)) == ()
    # Of the bodies the unit alone: the cradle was weighed before, and its figures are not changed.
    by_parts = with_weights(on_stands(), (BLOCK,))
    whole = replace(by_parts.vehicle, bodies=(weighed_whole(pm).vehicle.bodies[0], by_parts.vehicle.bodies[1]))
    assert judged == ([replace(by_parts, vehicle=whole)] if pm < 4.25 else [])
    assert with_wholes(found, ()) == by_parts
    assert with_wholes(learnt(None), (unit,)) == on_stands()

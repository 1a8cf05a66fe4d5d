"""What readings of a step teach of a job's weights, and what becomes of the verdict."""

from dataclasses import replace
from pathlib import Path

import pytest

import loadplan
from loadplan.errors import InputError
from loadplan.limits import GRAVITY
from loadplan.model.job import Job, StageReading
from loadplan.model.vehicle import Basis
from loadplan.model.verdict import Verdict
from loadplan.planning.weight_learning import WeightLearning, learn_weights, narrowed
from tests.checks.small_jobs import Raw, lifted_job, part, unit_job
from tests.reference.random_jobs import write_job

THREE = {"A": [400, 300, 200], "B": [400, -300, 200], "C": [-400, 0, 200]}


def on_three(folder: Path, **part: object) -> Job:
    """400 kg, known to a fifth and 60 mm, on three stands; the nearest edges are some 200 mm off."""
    block: Raw = {"name": "block", "body": "unit", "mass": 400, "mass_pm": 80, "at": [0, 0, 500], "at_pm": 60}
    return loadplan.read_job(write_job(unit_job(THREE, part=[block | part]), folder))  # type: ignore[arg-type]


def read(job: Job, *readings: StageReading) -> WeightLearning:
    (stage,) = job.stages
    return learn_weights(replace(job, stages=(replace(stage, readings=readings),)), 0)


def scale(support: str, load: float, pm: float = 1.0) -> StageReading:
    return StageReading(support, load * GRAVITY, pm * GRAVITY)


def test_three_scales_weigh_it(tmp_path: Path) -> None:
    """By hand: 110 + 90 + 220 kg are 420 kg; x = 0.4 (200 − 220) / 420 = −19 mm, y = 0.3 · 20 / 420 = 14 mm."""
    found = read(on_three(tmp_path), scale("A", 110), scale("B", 90), scale("C", 220))
    (block,) = found.update.parts
    assert found.update.consistent
    assert block.mass.value == pytest.approx(420, abs=0.05)
    assert [each.value for each in block.cg] == pytest.approx([-0.01905, 0.01429, 0.5], abs=1e-4)
    assert block.mass.pm == pytest.approx(3**0.5, rel=0.01)
    assert block.cg[2].pm == pytest.approx(0.06)
    after = found.assessment.job.vehicle.parts[0]
    assert (after.basis, found.before.vehicle.parts[0].basis) == (Basis.WEIGHED, Basis.GUESS)
    # What is judged is as far off as all three scales together may be, not as is likely.
    assert after.mass_pm == pytest.approx(3, rel=0.01)


def test_the_verdict_is_the_one_with_them(tmp_path: Path) -> None:
    """What may tip inside its tolerance is a stop; known to a few millimetres it is none."""
    job = on_three(tmp_path, at_pm=230)
    assert loadplan.check(job).verdict == "stop"
    found = read(job, scale("A", 100), scale("B", 100), scale("C", 200))
    assert found.assessment.verdict < Verdict.STOP


def test_what_contradicts_teaches_nothing(tmp_path: Path) -> None:
    job = on_three(tmp_path, mass_pm=4, at_pm=5)
    found = read(job, scale("A", 100), scale("B", 150), scale("C", 200))
    assert not found.update.consistent
    assert found.update.suspects[0] == "B"
    assert found.assessment.job.vehicle == job.vehicle
    assert found.update.further is None
    (block,) = found.update.parts
    assert (block.mass.value, block.mass.pm) == pytest.approx((400, 4))


def test_what_to_read_next_narrows_the_margin(tmp_path: Path) -> None:
    found = read(on_three(tmp_path), scale("A", 100))
    assert found.update.further is not None
    assert found.update.further.support in {"B", "C"}
    assert found.update.further.then < 0.8 * found.update.further.now
    weighed = read(on_three(tmp_path), scale("A", 100), scale("B", 100), scale("C", 200))
    assert weighed.update.further is None


def test_the_advice_keeps_what_it_promises(tmp_path: Path) -> None:
    """Read next what is advised: what was then is now."""
    job = on_three(tmp_path)
    further = read(job, scale("A", 100)).update.further
    assert further is not None
    load = {"B": 100.0, "C": 200.0}[further.support]
    again = read(job, scale("A", 100), scale(further.support, load)).update.further
    assert again is not None
    assert again.now == pytest.approx(further.then, rel=0.05)


def test_what_was_read_is_not_advised_again(tmp_path: Path) -> None:
    """Coarse as they are, a second look at the same scales would narrow it: but they were read."""
    job = on_three(tmp_path)
    coarse = [scale(name, load, 30) for name, load in (("A", 100), ("B", 100), ("C", 200))]
    left = read(job, *coarse[:2]).update.further
    assert left is not None
    assert left.support == "C"
    assert read(job, *coarse).update.further is None


def test_what_nobody_can_read_is_not_advised(tmp_path: Path) -> None:
    """The shell hangs near its rear pads: what each carries would tell most, but only the lift's gauge is read."""
    block = part("block", "unit", 400, [-1250, 0, 450])
    shell = part("shell", "shell", 800, [-1860, 0, 600]) | {"mass_pm": 80, "at_pm": 60}
    job = loadplan.read_job(write_job(lifted_job(part=[shell, block]), tmp_path))
    stages = (job.stages[0], replace(job.stages[1], readings=(scale("A", 100),)))
    found = learn_weights(replace(job, stages=stages), 1).update
    assert found.consistent
    assert found.further is None or found.further.support == "bay"


def test_a_hand_is_not_weighed_by(tmp_path: Path) -> None:
    hand = StageReading("C", None, turns=False)
    found = read(on_three(tmp_path), scale("A", 100), hand)
    assert found.update.by_hand == ("C",)
    alone = read(on_three(tmp_path), scale("A", 100))
    assert found.update.parts == alone.update.parts


def test_only_what_is_known_better_is_told(tmp_path: Path) -> None:
    job = on_three(tmp_path, at_pm=0)
    found = read(job, scale("A", 100), scale("B", 100), scale("C", 200))
    (told,) = narrowed(found.update.parts, job.vehicle)
    assert told.mass.pm < 2
    assert [each.pm for each in told.cg] == [0, 0, 0]
    exact = on_three(tmp_path, mass_pm=0, at_pm=0)
    assert narrowed(read(exact, scale("A", 100)).update.parts, exact.vehicle) == ()


@pytest.mark.parametrize(
    ("readings", "says"),
    [((), "has no reading of a scale"), ((StageReading("A", None, turns=True),), "has no reading of a scale")],
)
def test_without_a_scale_there_is_nothing_to_learn(
    tmp_path: Path, readings: tuple[StageReading, ...], says: str
) -> None:
    with pytest.raises(InputError, match=says):
        read(on_three(tmp_path), *readings)


def test_what_tips_teaches_nothing(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="not in balance"):
        read(on_three(tmp_path, at=[900, 0, 500]), scale("A", 100))


def beyond(folder: Path) -> tuple[Job, tuple[StageReading, ...]]:
    """410.4 kg of 408 kg at the most, and 1.5 kg that three scales may be off: chance may do that, no weights do."""
    loads = {"A": 102.8, "B": 102.8, "C": 204.8}
    return on_three(folder, mass_pm=8), tuple(scale(name, load, 0.5) for name, load in loads.items())


def test_what_check_stops_is_a_stop_though_chance_may_have_done_it(tmp_path: Path) -> None:
    job, scales = beyond(tmp_path)
    found = read(job, *scales)
    assert (found.update.consistent, found.beyond) == (True, True)
    assert [each.subject for each in found.stops] == ["A, B, C"]
    assert found.assessment.verdict < Verdict.STOP
    assert found.verdict is Verdict.STOP


def test_what_a_hand_feels_is_held_against_what_scales_read(tmp_path: Path) -> None:
    """By hand: 200 kg on C leave A and B 200 kg ± 8 kg; either may turn, which 30.6 kg do, but not both."""
    job = on_three(tmp_path, mass_pm=8, at_pm=[10, 280, 25])
    one, other = (StageReading(name, None, turns=True) for name in "AB")
    alone = read(job, scale("C", 200), one)
    assert (alone.stops, alone.beyond) == ((), False)
    both = read(job, scale("C", 200), one, other)
    assert both.update.consistent
    assert [each.subject for each in both.stops] == ["C, A, B"]
    assert (both.verdict, both.beyond, both.careful) == (Verdict.STOP, True, ())

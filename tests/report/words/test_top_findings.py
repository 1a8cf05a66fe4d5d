"""What a sheet tells first: each caution once over the whole job, in the words of its worst step."""

from dataclasses import replace

import pytest

from loadplan.assess import assess
from loadplan.files import read_job, shipped_folder
from loadplan.model.answer import Loose
from loadplan.model.verdict import Assessment, CheckName, Finding, Measure, Verdict
from loadplan.report.words.findings import told
from loadplan.report.words.top_findings import Foremost, foremost, steps_words
from loadplan.report.words.vocabulary import reader_of
from loadplan.units import System
from tests.report.builders import ROCKS, assessment


def demo(name: str) -> Assessment:
    return assess(read_job(shipped_folder("demo") / f"{name}.toml"))


def lines_of(told: Assessment) -> tuple[Foremost, ...]:
    return foremost(told, reader_of(told.job, System.METRIC))


def margin(value: float, subject: str = "unit", verdict: Verdict = Verdict.CAUTION) -> Finding:
    return Finding(CheckName.MARGIN, verdict, subject, value, 0.05, Measure.LENGTH, (f"{subject} at {value} m.",))


def with_findings(*by_stage: tuple[Finding, ...]) -> Assessment:
    plain = assessment()
    stages = zip(plain.stages, by_stage, strict=False)
    return replace(plain, stages=tuple(replace(stage, findings=findings) for stage, findings in stages))


def test_a_jack_is_told_once_with_all_its_steps_and_where_the_unit_would_go_over() -> None:
    line, *_ = lines_of(demo("drive-unit-on-oil"))
    assert line.steps == "steps 1 to 7, as in step 2"
    assert "go over" in line.text
    assert "Before unbolting" in line.text


def test_a_moving_load_is_told_where_it_has_moved_furthest() -> None:
    (line,) = lines_of(demo("shell-nose-off"))
    assert line.worst == 3
    assert "336 mm" in line.text


def test_the_same_words_in_steps_apart_are_told_once() -> None:
    (line,) = lines_of(with_findings((margin(0.04),), (), (margin(0.04),)))
    assert line.steps == "steps 1 and 3"


@pytest.mark.parametrize(("values", "worst"), [((0.04, 0.01, 0.03), 1), ((0.04, -0.01, 0.01), 1), ((0.02, 0.04), 0)])
def test_the_worst_step_is_furthest_past_its_limit(values: tuple[float, ...], worst: int) -> None:
    (line,) = lines_of(with_findings(*((margin(value),) for value in values)))
    assert line.worst == worst
    assert not line.same


def test_stops_come_first_then_what_is_furthest_past_its_limit() -> None:
    found = lines_of(
        with_findings((margin(0.04, "near"), margin(0.01, "far"), margin(0.045, "over", Verdict.STOP)), (), ())
    )
    assert [line.text.split()[0] for line in found] == ["over", "far", "near"]


def test_of_two_cautions_the_one_that_hurts_first_is_told_first() -> None:
    """The posture of the unit is ten times past its limit, the drop hardly past: the drop comes all at once."""
    drop = Finding(CheckName.DROP, Verdict.CAUTION, "A", 0.006, 0.005, Measure.LENGTH, ("drop at A.",))
    level = Finding(CheckName.LEVEL, Verdict.CAUTION, "unit", 0.17, 0.017, Measure.ANGLE, ("level of the unit.",))
    found = with_findings((level,), (drop,), ())
    assert [line.text.split()[0] for line in lines_of(found)] == ["drop", "level"]
    reader = reader_of(found.job, System.METRIC)
    assert [line.check for line in told(found, reader) if line.verdict is Verdict.CAUTION] == ["drop", "level"]


def test_what_goes_over_as_given_is_told_before_and_beside_what_only_may() -> None:
    """A stand that goes with a part leaves the rest free: another fault than weights that may be off, another cure."""
    plain = assessment()
    subject = next(
        ", ".join(group.bodies) for group in plain.stages[ROCKS].statics.groups if isinstance(group.proof, Loose)
    )
    may, rocks = (
        Finding(CheckName.BALANCE, Verdict.STOP, subject, None, None, Measure.LENGTH, (words,))
        for words in ("It may tip.", "It is free to rock.")
    )
    lines = lines_of(with_findings((), (may,), (may,), (rocks,)))
    assert [(line.text, line.steps) for line in lines] == [
        ("It is free to rock.", "step 4"),
        ("It may tip.", "steps 2 to 3"),
    ]


def test_within_a_check_the_worst_is_told_first() -> None:
    found = with_findings((margin(0.04, "near"),), (margin(0.01, "far"),), ())
    assert [line.text.split()[0] for line in told(found, reader_of(found.job, System.METRIC))] == ["far", "near"]


def test_a_single_step_is_one_step() -> None:
    assert steps_words([0]) == "step 1"
    assert steps_words([0, 1, 3, 5, 6]) == "steps 1 to 2, 4 and 6 to 7"

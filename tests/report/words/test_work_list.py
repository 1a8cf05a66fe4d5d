"""What is to be done in a step, in the order of the work, and in words that stand alone in a record."""

from dataclasses import replace

import pytest

import loadplan
from loadplan.assess import assess
from loadplan.model.verdict import Assessment
from loadplan.report.words.vocabulary import reader_of
from loadplan.report.words.work_list import WorkPart, work_list
from loadplan.units import System
from tests.tracked import shipped


@pytest.fixture(scope="module")
def front_unit() -> Assessment:
    (job,) = shipped("demo", "front-unit.toml")
    return assess(loadplan.read_job(job))


def parts(assessment: Assessment, step: int) -> tuple[WorkPart, ...]:
    return work_list(assessment.job, assessment.stages[step], reader_of(assessment.job, System.METRIC))


def test_the_vehicle_comes_down_before_a_bolt_is_tightened_and_the_stands_wait_till_it_is(
    front_unit: Assessment,
) -> None:
    """The order of common practice, no source."""
    lines = [line for part in parts(front_unit, 7) for line in part.lines]
    down, bolts = lines.index("Back in: vehicle down slowly, bolts by hand first"), lines.index("Tighten: cradle bolts")
    away = lines.index("Back in: stands away only when torqued, then the prop")
    assert down < bolts < away


def test_what_is_ticked_says_in_a_record_what_was_done(front_unit: Assessment) -> None:
    lines = [line for step in range(len(front_unit.stages)) for part in parts(front_unit, step) for line in part.lines]
    assert {"Undo, in this order: cradle bolts", "Tighten: cradle bolts", "Take away: A"} <= set(lines)
    assert not {"cradle bolts", "A", "gearbox with oil"} & set(lines)


def test_a_prop_that_the_plan_sets_later_is_looked_for_at_hand_and_not_as_set(front_unit: Assessment) -> None:
    """Its stand under the tail is set in the second step: the lift has not let go of the tail before."""
    (before,) = [part for part in parts(front_unit, 0) if part.heading == "Before"]
    assert before.lines[-1] == "Before: prop for under the heavy end at hand"
    job = front_unit.job
    none = replace(job, supports=tuple(each for each in job.supports if each.body != "shell"))
    (before,) = [part for part in parts(replace(front_unit, job=none), 0) if part.heading == "Before"]
    assert before.lines[-1] == "Before: prop under the heavy end set"

"""What stands beside a window of heights where none of the lift's locks may lie there: on page, sheet and list."""

from collections.abc import Mapping
from dataclasses import replace
from functools import cache

import pytest

from loadplan.assess import assess
from loadplan.files import read_job
from loadplan.model.verdict import Assessment
from loadplan.planning.settings.set_heights import plan_heights
from loadplan.report.sheet.front_page import lowering
from loadplan.report.text.heights_page import heights_page
from loadplan.report.text.key_figures import figure_lines
from loadplan.report.text.step_in_full import step_figures
from loadplan.report.text.terminal_colour import Colours
from loadplan.report.words.lock_words import lock_words
from loadplan.report.words.vocabulary import Reader, reader_of
from loadplan.report.words.work_list import work_list
from loadplan.units import System
from tests.tracked import shipped

APART = "The lift's locks are 90 mm apart: hardly one lies there."
UNKNOWN = "Whether a lock of the lift lies there is not known."


@cache
def with_locks(step: float | None) -> Assessment:
    """The demo's front unit on a lift whose locks are so far apart."""
    (path,) = shipped("demo", "front-unit.toml")
    job = read_job(path)
    assert job.lift is not None
    return assess(replace(job, lift=replace(job.lift, lift=replace(job.lift.lift, lock_step=step))))


def reader(whole: Assessment) -> Reader:
    return reader_of(whole.job, System.METRIC)


@pytest.mark.parametrize(("step", "words"), [(0.0, ""), (0.09, f" {APART}"), (None, f" {UNKNOWN}")])
def test_the_locks_are_told_where_none_may_lie_there(step: float | None, words: str) -> None:
    whole = with_locks(step)
    assert lock_words(whole.job, whole.stages[0], reader(whole)) == words
    assert lock_words(whole.job, whole.stages[1], reader(whole)) == ""
    assert lock_words(replace(whole.job, lift=None), whole.stages[0], reader(whole)) == ""


@pytest.mark.parametrize(("step", "words"), [(0.09, APART), (None, UNKNOWN)])
def test_they_stand_wherever_the_window_does(step: float | None, words: str) -> None:
    whole = with_locks(step)
    page = " ".join(" ".join(figure_lines(whole, reader(whole))).split())
    assert f"step 1. {words}" in page
    assert f"at most 16 mm. {words} Unbolt." in lowering(whole, reader(whole))[0]
    full = " ".join(" ".join(step_figures(whole, whole.stages[0], reader(whole), Colours.PLAIN)).split())
    assert full.count(words) == 1
    (lower,) = [each for each in work_list(whole.job, whole.stages[0], reader(whole)) if each.heading == "Lower"]
    assert lower.lines[0].endswith(f"at most 16 mm. {words}")


@pytest.mark.parametrize("step", [0.0, 0.09, None])
def test_a_level_at_which_a_unit_comes_free_is_told_as_one_that_no_lock_may_hold(step: float | None) -> None:
    job = with_locks(step).job

    def told(stage: Mapping[str, object]) -> bool:
        first = replace(job.stages[0], **stage)
        page = heights_page(plan_heights(replace(job, stages=(first, *job.stages[1:]))), System.METRIC)
        assert "past first touch" in page
        return "past first touch (none of its locks may lie there)" in " ".join(page.split())

    assert told({}) is (step != 0.0)
    assert not told({"lift_locked": False}), "it is not to stand on them"
    assert not told({"raised": 0.01, "lowered": None}), "the stands come up"


def test_nobody_is_told_to_lower_where_the_stands_come_up() -> None:
    """The lift stays on its lock: lowered as well it would hang on oil, and the unit go down by both."""
    (path,) = shipped("demo", "front-unit.toml")
    job = read_job(path)
    first = replace(job.stages[0], lowered=None, raised=0.012)
    whole = assess(replace(job, stages=(first, *job.stages[1:])))
    (line,) = lowering(whole, reader(whole))
    assert line.startswith("The lift stays on its lock, bring the stands up past first touch: at least 7 mm, at most ")
    page = " ".join(figure_lines(whole, reader(whole)))
    assert "Stands to come up" in page
    full = " ".join(step_figures(whole, whole.stages[0], reader(whole), Colours.PLAIN))
    assert "Bring the stands up past first touch: at least 7 mm" in full
    (up,) = [each for each in work_list(whole.job, whole.stages[0], reader(whole)) if each.heading == "Bring up"]
    assert up.lines[0].startswith("bring the stands up past first touch: at least 7 mm")
    for text in (line, page, full, *up.lines):
        assert "lower" not in text.casefold().replace("lower the", "")

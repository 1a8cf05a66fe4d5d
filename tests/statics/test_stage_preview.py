"""A stage looked at again and again while a hand moves a stand."""

from dataclasses import replace

import pytest

from loadplan.model.job import Support
from loadplan.stages import states
from loadplan.statics import stage_preview as preview
from loadplan.statics import stage_sequence as sequence
from loadplan.statics.equilibrium import frames
from loadplan.statics.mass import lumps
from loadplan.statics.stage_preview import StagePreview
from loadplan.statics.tipping_modes import work
from tests.statics import builders as make

PLACES = 40


def moved(supports: tuple[Support, ...], number: int) -> tuple[Support, ...]:
    """The first stand at another place."""
    x, y, z = supports[0].at
    return (replace(supports[0], at=(x + 0.005 * number, y, z)), *supports[1:])


def test_a_long_drag_is_not_refused_as_a_large_job_would_be(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each place is work that a job may take; only in one job all of them together would be too much."""
    job = make.job([make.part()], make.stands(make.SQUARE))
    followed = states(job)
    (group,) = frames(followed[0], lumps(job, followed[0]))
    monkeypatch.setattr(sequence, "MOST_WORK", 2 * work(group))
    passing = StagePreview(job, followed, 0)
    for number in range(PLACES):
        _, seen = passing.look(moved(followed[0].supports, number))
        assert seen.groups[0].balanced


def test_of_a_long_drag_only_the_last_places_are_remembered(monkeypatch: pytest.MonkeyPatch) -> None:
    """And a place that was forgotten is told as it was."""
    monkeypatch.setattr(preview, "MOST_REMEMBERED", 3)
    job = make.job([make.part()], make.stands(make.SQUARE))
    followed = states(job)
    passing = StagePreview(job, followed, 0)
    first = passing.look(followed[0].supports)
    remembered = []
    for number in range(PLACES):
        passing.look(moved(followed[0].supports, number))
        remembered.append(len(passing._solver.solved))
    assert max(remembered) <= 4
    assert passing.look(followed[0].supports) == first

"""The words beside an edge: how far from tipping in the worst case, and as given beside it."""

from dataclasses import replace

import pytest

from loadplan.model.answer import Mode
from loadplan.model.verdict import Assessment
from loadplan.report.pictures.plan_content import unit_scene
from loadplan.report.pictures.plan_labels import distance_words, given_words
from loadplan.report.pictures.tipping_edge import RigidShown
from loadplan.report.words.vocabulary import reader_of
from loadplan.units import System
from tests.report.builders import TIPS, assessment


def shown(*worse_by: float) -> tuple[Assessment, RigidShown]:
    """Show the powertrain of the second step, its ways to go so much nearer in the worst case [m]."""
    whole = assessment()
    stage = whole.stages[1]

    def worse(place: int, mode: Mode) -> Mode:
        by = worse_by[min(place, len(worse_by) - 1)]
        return replace(mode, worst_margins=tuple((body, margin - by) for body, margin in mode.margins))

    groups = tuple(
        replace(group, modes=tuple(worse(place, mode) for place, mode in enumerate(group.modes)))
        for group in stage.statics.groups
    )
    stage = replace(stage, statics=replace(stage.statics, groups=groups))
    (powertrain,) = (each for each in unit_scene(whole, stage).wholes if each.name == "powertrain")
    return whole, powertrain


@pytest.mark.parametrize(
    ("worse_by", "far"),
    [
        (0.035, "115 mm to tipping, worst case"),
        (0.149, "1 mm to tipping, worst case"),
        (0.160, "10 mm past the edge, worst case"),
    ],
)
def test_the_worst_case_is_told_and_as_given_beside_it(worse_by: float, far: str) -> None:
    whole, powertrain = shown(worse_by)
    reader = reader_of(whole.job, System.METRIC)
    assert distance_words(powertrain, reader) == (far, "about E and rear roll link")
    assert given_words(powertrain, reader) == "as given 150 mm"


def test_the_edge_that_is_nearest_in_the_worst_case_is_the_bold_one() -> None:
    _, alike = shown(0.0)
    _, turned = shown(0.0, 5.0)
    assert alike.nearest is not None
    assert turned.nearest is not None
    assert turned.nearest.about != alike.nearest.about
    assert turned.nearest.margin > alike.nearest.margin
    assert turned.nearest.left < 0


def test_out_of_balance_nothing_stands_beside_what_is_past_the_edge() -> None:
    whole = assessment()
    tips = next(each for each in unit_scene(whole, whole.stages[TIPS]).wholes if each.nearest)
    reader = reader_of(whole.job, System.METRIC)
    assert distance_words(tips, reader)[0].endswith(" past the edge")
    assert given_words(tips, reader) == ""

"""The signs at what comes and goes in a step stand where it is, and none lies under another."""

from itertools import combinations

import pytest

from loadplan.assess import assess
from loadplan.files import read_job, shipped_folder
from loadplan.model.job import Support
from loadplan.report.drawing.paper import Paper
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.view import Box, view_of
from loadplan.report.pictures.plan_changes import PlanChanges, changes_of, draw_changes
from loadplan.report.words.vocabulary import reader_of
from loadplan.units import System

PAGE = Box(0.0, 0.0, 600.0, 600.0)


def signs(job: str, step: int) -> tuple[PlanChanges, list[Box], list[tuple[float, float]]]:
    """Return what changes about stands in a step of a demo, its signs, and where on the page these stands are."""
    told = assess(read_job(shipped_folder("demo") / f"{job}.toml"))
    changes = changes_of(told, told.stages[step]).only_stands
    stands: list[Support] = [*changes.goes, *changes.comes]
    view = view_of(PAGE, [each.at[:2] for each in told.job.supports], rim=80)
    pen = Pen(Paper((PAGE.right, PAGE.top)), Layer.PAGE, None)
    _, taken = draw_changes(pen, view, changes, reader_of(told.job, System.METRIC))
    discs = [each for each in taken if each.width == pytest.approx(16.0)]
    return changes, discs, [view.page(*each.at[:2]) for each in stands]


def test_where_one_stand_takes_anothers_place_plus_and_minus_are_both_seen() -> None:
    changes, discs, (gone, come) = signs("front-unit", 2)
    assert [each.name for each in (*changes.goes, *changes.comes)] == ["tail stand", "tail prop"]
    assert gone == pytest.approx(come)
    assert len(discs) == 2
    assert not any(one.overlap(other) for one, other in combinations(discs, 2))


def test_the_sign_of_a_saddle_on_a_table_stands_at_the_saddle() -> None:
    """The table is one piece: four times its outline, each about another saddle, is nowhere on the floor."""
    changes, discs, places = signs("battery-pack-table", 0)
    assert len(discs) == len(changes.comes) == 4
    for disc, (x, y) in zip(discs, places, strict=True):
        assert max(abs(disc.middle[0] - x), abs(disc.middle[1] - y)) < 30


def test_parts_whose_signs_would_lie_over_each_other_share_one_sign_that_names_them_all() -> None:
    """Seen from above a valve cover is where the cylinder head is: two labels at one place cannot be told apart."""
    told = assess(read_job(shipped_folder("demo") / "weighed-unit.toml"))
    changes = changes_of(told, told.stages[1])
    view = view_of(PAGE, [each.at[:2] for each in told.job.supports], rim=160)
    tags, taken = draw_changes(
        Pen(Paper((PAGE.right, PAGE.top)), Layer.PAGE, None), view, changes, reader_of(told.job, System.METRIC)
    )
    assert not any(one.overlap(other) and one.middle == other.middle for one, other in combinations(taken, 2))
    words = [" ".join(word for row in tag.rows for word, _ in row) for tag in tags]
    assert sum("valve cover and coils off" in each and "cylinder head with cams off" in each for each in words) == 1
    assert all(sum(f"{part.name} off" in each for each in words) == 1 for part in changes.off)
    assert all(tag.rivals for tag in tags), "each is told apart from the others"

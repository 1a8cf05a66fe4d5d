"""Where one more stand finds floor, and what is asked about it, by small records: statics say yes everywhere."""

from collections.abc import Callable
from dataclasses import replace
from math import hypot

import numpy as np
import pytest

from loadplan.checks import one_more as judged_file
from loadplan.checks.case import Case
from loadplan.checks.one_more import CELL, NAME, ONLY, STIFFNESS, OneMore, one_more
from loadplan.model.answer import Loose, Motion
from loadplan.model.job import Stage, Support
from loadplan.model.shop import Circle, Equipment, Footprint, Square
from loadplan.model.vehicle import PlanPoint
from loadplan.statics.mass import Array
from loadplan.statics.one_more_support import OneMoreQuestion
from loadplan.statics.worst_margin import Flags
from tests.checks import builders
from tests.checks.builders import HOIST, STAND, body_answer, case, in_stage, support, with_body, with_group

LACKING = replace(body_answer("unit"), worst_margin=0.01)

ROUND = replace(STAND, name="round", base=Circle(0.2))
BARE = replace(STAND, name="bare", base=None)


def lacking(*supports: Support, outline: tuple[PlanPoint, ...] = builders.UNIT.outline) -> Case:
    """A unit whose worst margin is 10 mm, with an outline of its own; the shop has stands 200 mm square."""
    made = with_body(case(*supports), LACKING)
    vehicle = replace(made.job.vehicle, bodies=(replace(builders.UNIT, outline=outline), builders.SHELL))
    return replace(made, job=replace(made.job, vehicle=vehicle))


def in_shop(made: Case, *equipment: Equipment) -> Case:
    return replace(made, job=replace(made.job, shop=replace(made.job.shop, equipment=equipment)))


def box(left: float, low: float, right: float, high: float) -> tuple[PlanPoint, ...]:
    return (left, low), (right, low), (right, high), (left, high)


Asked = list[tuple[OneMoreQuestion, list[PlanPoint]]]


@pytest.fixture
def questions(monkeypatch: pytest.MonkeyPatch) -> Asked:
    """What statics were asked, which say that a stand helps at every place."""
    asked: Asked = []

    def helps(question: OneMoreQuestion, places: Array) -> Flags:
        asked.append((question, [(round(x, 9), round(y, 9)) for x, y in places.tolist()]))
        return np.ones(len(places), dtype=bool)

    monkeypatch.setattr(judged_file, "helping", helps)
    return asked


def told(made: Case) -> tuple[OneMore, ...]:
    return one_more(made.job, made.state, made.statics)


def free(made: Case) -> set[tuple[int, int]]:
    """The cells that are told, by their corner that is furthest back and furthest right."""
    (only,) = told(made)
    return {(round(x / CELL - 0.5), round(y / CELL - 0.5)) for x, y in only.cells}


def by_hand(least: int, most: int, is_clear: Callable[[float, float], bool]) -> set[tuple[int, int]]:
    """The cells of a square part of the floor, all of whose corners are clear [numbers of cells, m]."""
    cells = ((along, across) for along in range(least, most) for across in range(least, most))
    return {
        (along, across)
        for along, across in cells
        if all(is_clear((along + i) * CELL, (across + j) * CELL) for i in (0, 1) for j in (0, 1))
    }


@pytest.mark.parametrize(
    ("worst", "margin", "sway", "helped"),
    [
        (0.0499, 0.2, 0.01, ["unit"]),
        (0.05, 0.2, 0.01, []),
        (0.0501, 0.2, 0.01, []),
        (None, 0.2, None, ["unit"]),
        (None, None, None, []),
        (None, 0.2, 0.01, []),
    ],
    ids=["less", "as asked", "more", "goes over by its lean", "cannot tip", "not all was looked at"],
)
def test_help_is_looked_for_where_the_worst_margin_is_less_than_asked_or_its_lean_has_no_end(
    worst: float | None, margin: float | None, sway: float | None, helped: list[str], questions: Asked
) -> None:
    made = lacking(support("A", at=(2.0, 0.0)), outline=box(0.0, 0.0, 0.1, 0.05))
    made = with_body(made, replace(LACKING, worst_margin=worst, margin=margin))
    made = with_group(made, replace(made.statics.groups[0], sway=sway))
    assert [each.body for each in told(made)] == helped
    assert len(questions) == len(helped)


def test_what_is_rolled_gets_no_stand_and_what_is_loose_does(questions: Asked) -> None:
    made = lacking(support("A", at=(2.0, 0.0)), outline=box(0.0, 0.0, 0.1, 0.05))
    assert told(in_stage(made, Stage("away", moved=True))) == ()
    assert not questions
    well = with_body(made, body_answer("unit"))
    assert told(well) == ()
    loose = replace(well.statics.groups[0], proof=Loose((("unit", Motion(0.0, 1.0, 0.0)),)))
    assert [each.body for each in told(with_group(well, loose))] == ["unit"]


def test_cells_are_told_by_their_middles_from_the_back_on_and_from_right_to_left(questions: Asked) -> None:
    """An outline of 2 by 3 cells and a bit: what is asked are its 12 corners, once each."""
    made = lacking(support("A", at=(2.0, 0.0)), outline=box(-0.001, 0.024, 0.051, 0.101))
    expected = [(0.0125, 0.0375), (0.0125, 0.0625), (0.0125, 0.0875)]
    expected += [(0.0375, 0.0375), (0.0375, 0.0625), (0.0375, 0.0875)]
    ((body, cells),) = [(each.body, each.cells) for each in told(made)]
    assert (body, [(round(x, 9), round(y, 9)) for x, y in cells]) == ("unit", expected)
    assert questions[0][1] == [(x, y) for x in (0.0, 0.025, 0.05) for y in (0.025, 0.05, 0.075, 0.1)]


def test_a_corner_that_does_not_help_takes_its_four_cells(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of 3 by 3 cells the corner (25 mm, 25 mm) belongs to four: five are left."""
    made = lacking(support("A", at=(2.0, 0.0)), outline=box(-0.001, -0.001, 0.076, 0.076))
    monkeypatch.setattr(judged_file, "helping", lambda _, places: np.abs(places - 0.025).max(axis=1) > 0.001)
    assert free(made) == {(0, 2), (1, 2), (2, 0), (2, 1), (2, 2)}


def test_a_stand_is_asked_about_that_is_brought_up_under_the_body(questions: Asked) -> None:
    made = lacking(support("A", at=(2.0, 0.0)), outline=box(0.0, 0.0, 0.1, 0.05))
    made = with_body(made, replace(LACKING, motion=Motion(0.001, 0.0, 0.0)))
    lifted = replace(body_answer("shell"), motion=None)
    groups = (*made.statics.groups, builders.group(("shell",), ()))
    made = replace(made, statics=replace(made.statics, groups=groups, bodies=(*made.statics.bodies, lifted)))
    told(made)
    ((asked, _),) = questions
    assert asked.motions == {"unit": Motion(0.001, 0.0, 0.0)}
    assert asked.gaps == {"A": 0.0}
    assert (asked.job, asked.state, asked.margin) == (made.job, made.state, made.job.limits.margin)
    assert (asked.support.body, asked.support.on, asked.support.height) == ("unit", "", None)
    assert asked.support.equipment.stiffness == STIFFNESS == 2.5e6
    assert asked.support.equipment.base == Square(0.2, 0.2)
    assert asked.support.name == NAME


def saddle_height(questions: Asked, made: Case) -> float:
    told(made)
    return questions.pop()[0].support.at[2]


def test_its_saddle_is_as_low_as_the_lowest_under_the_whole(questions: Asked) -> None:
    """Saddles at 0.3 and 0.25 m under the unit, at 0.15 m under what is bolted to it, at 0.1 m under another."""
    outline = box(0.0, 0.0, 0.1, 0.05)
    heights = {"A": ("unit", 0.3), "B": ("unit", 0.25), "C": ("shell", 0.15), "D": ("axle", 0.1)}
    stands = [replace(support(name), body=body, at=(2.0, 0.0, z), outline=()) for name, (body, z) in heights.items()]
    made = lacking(*stands, outline=outline)
    assert saddle_height(questions, made) == 0.25
    tied = with_body(made, replace(LACKING, rigid_with=("shell",)))
    assert saddle_height(questions, tied) == 0.15
    # A stand that is not under its body bears nothing.
    aside = tuple(replace(each, outline=box(3.0, 3.0, 4.0, 4.0)) for each in stands)
    assert saddle_height(questions, lacking(*aside, outline=outline)) == builders.UNIT.bottom


def test_without_saddles_it_is_as_low_as_the_bottom_else_as_the_lowest_mount_else_as_the_floor(
    questions: Asked,
) -> None:
    made = lacking(outline=box(0.0, 0.0, 0.1, 0.05))
    assert builders.SHELL.bottom == builders.UNIT.bottom == 0.2
    own, other = made.job.vehicle.bodies

    def of_bottoms(bottom: float | None, *mounts: float) -> float:
        vehicle = replace(made.job.vehicle, bodies=(replace(own, bottom=bottom), replace(other, bottom=0.1)))
        bolts = replace(builders.BOLTS, at=tuple((0.0, 0.0, z) for z in mounts))
        away = replace(builders.BOLTS, between=("shell", "axle"), at=((0.0, 0.0, 0.05),))
        state = replace(made.state, done_up=(bolts, away) if mounts else ())
        return saddle_height(questions, replace(made, job=replace(made.job, vehicle=vehicle), state=state))

    assert of_bottoms(0.3, 0.4) == 0.3
    assert of_bottoms(None, 0.45, 0.4) == 0.4
    assert of_bottoms(None) == 0.0


def test_the_outline_is_the_bodys_and_that_of_its_parts_that_are_sure_to_be_on(questions: Asked) -> None:
    """A body of 2 by 2 cells, and parts of 2 by 2 cells each, in a row."""

    def of_parts(**more: object) -> set[tuple[int, int]]:
        made = lacking(support("A", at=(2.0, 0.0)), outline=box(-0.001, -0.001, 0.051, 0.051))
        places = {"lump": ("unit", 0.05), "loose": ("unit", 0.1), "gone": ("unit", 0.15), "roof": ("shell", 0.2)}
        parts = tuple(
            replace(builders.part(name, body), outline=box(x - 0.001, -0.001, x + 0.051, 0.051))
            for name, (body, x) in places.items()
        )
        vehicle = replace(made.job.vehicle, parts=parts)
        state = replace(made.state, on=frozenset({"lump", "loose", "roof"}), may_be_on=("loose",))
        return free(replace(made, job=replace(made.job, vehicle=vehicle), state=replace(state, **more)))

    assert of_parts() == {(along, across) for along in range(4) for across in range(2)}
    assert of_parts(may_be_on=()) == {(along, across) for along in range(6) for across in range(2)}
    assert questions


@pytest.mark.parametrize(
    "outline",
    [(), ((0.0, 0.0), (1.0, 0.0)), ((0.0, 0.0), (1.0, 1.0), (1.0, 0.0), (0.0, 1.0))],
    ids=["none", "two corners", "crossing itself"],
)
def test_an_outline_that_is_none_tells_nothing(outline: tuple[PlanPoint, ...], questions: Asked) -> None:
    assert told(lacking(support("A", at=(2.0, 0.0)), outline=outline)) == ()
    assert not questions


def test_three_corners_are_an_outline(questions: Asked) -> None:
    """The cell at the right angle of a triangle with legs of 60 mm lies in it, and those beside it."""
    made = lacking(support("A", at=(2.0, 0.0)), outline=((-0.001, -0.001), (0.06, -0.001), (-0.001, 0.06)))
    assert free(made) == {(0, 0)}
    assert len(questions) == 1


OUT = box(-0.301, -0.301, 0.301, 0.301)
"""24 by 24 cells about the stand at the origin."""


def beside_square(half_x: float, half_y: float) -> Callable[[float, float], bool]:
    return lambda x, y: abs(x) > half_x - 1e-6 or abs(y) > half_y - 1e-6


def beyond(radius: float) -> Callable[[float, float], bool]:
    return lambda x, y: hypot(x, y) > radius - 1e-6


def square_from_round(x: float, y: float) -> bool:
    """The middle of a base 100 mm to each side, and a round of 100 mm: apart by the side, or by the corner."""
    return hypot(max(abs(x) - 0.1, 0.0), max(abs(y) - 0.1, 0.0)) > 0.1 - 1e-6


@pytest.mark.parametrize(
    ("tried", "taken", "is_clear"),
    [
        (Square(0.2, 0.2), Square(0.2, 0.2), beside_square(0.2, 0.2)),
        (Square(0.1, 0.3), Square(0.2, 0.1), beside_square(0.15, 0.2)),
        (Square(0.2, 0.2), Circle(0.2), square_from_round),
        (Circle(0.2), Square(0.2, 0.2), square_from_round),
        (Circle(0.2), Circle(0.3), beyond(0.25)),
        (Square(0.2, 0.1), None, lambda x, y: abs(x) > 0.1 + 1e-6 or abs(y) > 0.05 + 1e-6),
        (Circle(0.2), None, lambda x, y: hypot(x, y) > 0.1 + 1e-6),
    ],
    ids=["squares", "oblongs", "by a round", "a round by", "rounds", "by a middle", "a round by a middle"],
)
def test_bases_may_touch_and_share_no_floor_and_a_bare_middle_is_not_covered_at_all(
    tried: Footprint, taken: Footprint | None, is_clear: Callable[[float, float], bool], questions: Asked
) -> None:
    made = lacking(support("A", replace(STAND, base=taken)), outline=OUT)
    assert free(in_shop(made, replace(STAND, base=tried, count=None))) == by_hand(-12, 12, is_clear)
    assert len(questions) == 1


def test_every_base_and_post_takes_its_floor_but_no_hoist_and_nothing_that_stands_on_a_body(questions: Asked) -> None:
    """Bases of 200 mm at x = -0.3 and 0.3 m leave 0.2 m between their shadows; posts of 300 mm take y from 0.15 on."""
    ends = support("A", at=(-0.3, 0.0)), support("B", at=(0.3, 0.0))
    over = support("H", HOIST)
    stacked = replace(support("S"), on="shell")
    made = lacking(*ends, over, stacked, outline=OUT)
    between = by_hand(-12, 12, lambda x, y: abs(x) < 0.1 + 1e-6 or abs(y) > 0.2 - 1e-6)
    assert free(made) == between
    use = replace(builders.LIFT_USE, columns=0.0, lift=replace(builders.LIFT, posts=builders.Posts((0.4, -0.4), 0.3)))
    posts = replace(made, job=replace(made.job, lift=use))
    # A post reaches 150 mm, the base 100: apart where y is 0.15 or less, or x 0.25 or more.
    beside = by_hand(-12, 12, lambda x, y: abs(y) < 0.15 + 1e-6 or abs(x) > 0.25 - 1e-6)
    assert free(posts) == between & beside
    assert free(replace(made, job=replace(made.job, lift=replace(use, columns=None)))) == between
    unknown = replace(use, lift=replace(builders.LIFT, posts=None))
    assert free(replace(made, job=replace(made.job, lift=unknown))) == between
    assert questions


def test_the_base_is_the_smallest_by_floor_of_the_stands_that_are_left(questions: Asked) -> None:
    """Besides one of 200 mm at the origin; an arm of the lift by the same name takes no stand."""
    thin = replace(STAND, name="thin", base=Square(0.3, 0.1), count=1, out_of_use=())
    disc = replace(ROUND, count=2, out_of_use=("R1",))
    other = replace(STAND, name="jack", kind=builders.JACK.kind, base=Square(0.02, 0.02))

    def beside(*supports: Support, shop: tuple[Equipment, ...]) -> set[tuple[int, int]]:
        return free(in_shop(lacking(support("A"), *supports, outline=OUT), *shop))

    by_thin, by_round = by_hand(-12, 12, beside_square(0.25, 0.15)), by_hand(-12, 12, square_from_round)
    usual = by_hand(-12, 12, beside_square(0.2, 0.2))
    # 0.03 m² are less than a round's 0.0314.
    assert beside(shop=(STAND, disc, thin, other, BARE)) == by_thin
    assert beside(support("T", thin, (2.0, 0.0)), shop=(STAND, disc, thin, other)) == by_round
    far = support("T", thin, (2.0, 0.0)), support("R", disc, (2.0, 1.0))
    assert beside(*far, shop=(disc, thin, other, BARE)) == usual
    named_alike = replace(builders.arm("pad", (2.0, 0.0)), equipment=replace(builders.ARM, name="thin"))
    assert beside(named_alike, shop=(STAND, thin)) == by_thin
    assert questions


def test_only_the_maker_knows_whether_the_metal_bears() -> None:
    assert ONLY == "only where the maker gives a bearing place"

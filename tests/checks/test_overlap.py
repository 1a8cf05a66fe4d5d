"""Overlap: bases, lift pads, posts and saddles."""

from dataclasses import replace

import pytest

from loadplan.checks import overlap
from loadplan.checks.case import Case
from loadplan.checks.footprint import area, covers, inside, room
from loadplan.checks.footprint import overlap as share_floor
from loadplan.checks.piece import pieces
from loadplan.model.shop import Circle, Square
from loadplan.model.verdict import CheckName, Finding, Measure, NotChecked, Verdict
from tests.checks.builders import (
    HOIST,
    LIFT_USE,
    STAND,
    UNIT,
    case,
    findings,
    lifted,
    not_checked,
    support,
    words,
)

ROUND = replace(STAND, base=Circle(0.2), saddle=Circle(0.09))


def bases(told: list[Finding | NotChecked]) -> list[tuple[str, Verdict]]:
    return [(each.subject, each.verdict) for each in findings(told) if "saddle" not in words(each.says)]


def beside(distance: float, *, diagonal: bool = False) -> Case:
    return case(support("A"), support("B", STAND, (distance, distance if diagonal else 0.0)))


@pytest.mark.parametrize(
    ("distance", "verdict"),
    [(0.1999, Verdict.STOP), (0.2001, Verdict.CAUTION), (0.2499, Verdict.CAUTION)],
)
def test_squares_that_overlap_stop_and_those_too_near_are_a_caution(distance: float, verdict: Verdict) -> None:
    assert bases(overlap.check(beside(distance))) == [("A", verdict)]


def test_squares_that_only_touch_are_a_caution() -> None:
    quarter = replace(STAND, base=Square(0.25, 0.25))
    assert bases(overlap.check(case(support("A", quarter), support("B", quarter, (0.25, 0.0))))) == [
        ("A", Verdict.CAUTION)
    ]


def test_with_room_between_each_holds_and_says_how_much() -> None:
    told = overlap.check(beside(0.2501))
    assert bases(told) == [("A", Verdict.HOLDS), ("B", Verdict.HOLDS)]
    assert findings(told)[0].value == pytest.approx(0.0501)
    corners = findings(overlap.check(beside(0.3, diagonal=True)))[0]
    assert corners.value == pytest.approx(0.1 * 2**0.5)


def test_fifty_millimetres_are_enough() -> None:
    narrow = replace(STAND, base=Square(0.25, 0.25))
    told = overlap.check(case(support("A", narrow), support("B", narrow, (0.3, 0.0))))
    assert bases(told) == [("A", Verdict.HOLDS), ("B", Verdict.HOLDS)]


def test_one_that_stands_alone_holds() -> None:
    told = overlap.check(case(support("A")))
    assert bases(told) == [("A", Verdict.HOLDS)]
    assert words(findings(told)[0].says) == "The base of A stands alone."


@pytest.mark.parametrize(
    ("distance", "verdict"),
    [(0.1999, Verdict.STOP), (0.2001, Verdict.CAUTION), (0.2499, Verdict.CAUTION), (0.2501, Verdict.HOLDS)],
)
def test_round_bases_are_round_in_every_direction(distance: float, verdict: Verdict) -> None:
    for x, y in ((0.6, 0.8), (0.28, 0.96), (1.0, 0.0)):
        judged = case(support("A", ROUND), support("B", ROUND, (distance * x, distance * y)))
        assert bases(overlap.check(judged))[0] == ("A", verdict)


def test_a_round_base_inside_a_square_one_overlaps() -> None:
    table = replace(STAND, base=Square(1.2, 0.8))
    assert bases(overlap.check(case(support("A", table), support("B", ROUND, (0.1, 0.1))))) == [("A", Verdict.STOP)]


def test_a_base_on_another_body_and_a_hoist_take_no_floor() -> None:
    above = replace(support("B"), on="shell")
    assert bases(overlap.check(case(support("A"), above, support("H", HOIST)))) == [
        ("A", Verdict.HOLDS),
        ("B", Verdict.HOLDS),
    ]


def test_one_piece_has_one_base_in_the_middle_of_its_places() -> None:
    table = replace(STAND, base=Square(1.0, 0.6))
    places = ((0.4, 0.2), (0.4, -0.2), (-0.4, 0.2), (-0.4, -0.2))
    tops = [replace(support(f"t{n}", table, place), piece="table") for n, place in enumerate(places)]
    assert pieces(tops)[0].centre == pytest.approx((0.0, 0.0))
    assert pieces(tops[:2])[0].centre == pytest.approx((0.4, 0.0))
    assert pieces(tops[::2])[0].centre == pytest.approx((0.0, 0.2))
    told = overlap.check(case(*tops, support("A", STAND, (0.64, 0.0)), support("B", STAND, (0.0, -0.399))))
    assert bases(told) == [("table", Verdict.CAUTION), ("table", Verdict.STOP)]


@pytest.mark.parametrize(("x", "stops"), [(-0.399, False), (-0.401, True), (-0.599, True), (-0.601, False)])
def test_a_base_over_a_lift_pad_stops_while_the_lift_holds(x: float, stops: bool) -> None:  # noqa: FBT001
    judged = lifted(support("A", STAND, (x, 0.8)))
    assert (("A", Verdict.STOP) in bases(overlap.check(judged))) is stops
    away = replace(judged, state=replace(judged.state, supports=judged.stands))
    assert ("A", Verdict.STOP) not in bases(overlap.check(away))


@pytest.mark.parametrize(
    ("y", "verdict"),
    [(1.151, Verdict.STOP), (1.149, Verdict.CAUTION), (1.101, Verdict.CAUTION), (1.099, Verdict.HOLDS)],
)
def test_a_post_takes_its_floor(y: float, verdict: Verdict) -> None:
    for side in (1, -1):
        assert bases(overlap.check(lifted(support("A", STAND, (-1.25, side * y))))) == [("A", verdict)]


def test_a_base_that_stands_on_an_assembly_is_in_no_posts_way() -> None:
    """The post stands on the floor, and the base on the unit over it."""
    above = replace(support("A", STAND, (-1.25, 1.151)), on="unit", body="shell")
    assert [each.subject for each in findings(overlap.check(lifted(above))) if "post" in words(each.says)] == []
    below = overlap.check(lifted(replace(above, on="")))
    assert [each.subject for each in findings(below) if "post" in words(each.says)] == ["A"]


def test_posts_not_said_are_not_checked_but_no_lift_has_none() -> None:
    judged = lifted(support("A"))
    for use in (replace(LIFT_USE, columns=None), replace(LIFT_USE, lift=replace(LIFT_USE.lift, posts=None))):
        told = overlap.check(replace(judged, job=replace(judged.job, lift=use)))
        assert not_checked(told)[0].startswith("Room beside the lift's posts: not checked")
    assert not_checked(overlap.check(judged)) == not_checked(overlap.check(case(support("A")))) == []


def test_a_base_not_given_is_not_checked() -> None:
    told = overlap.check(
        case(*(support(name, replace(STAND, base=None), (x, 0.0)) for name, x in (("A", 0), ("B", 1))))
    )
    assert not_checked(told) == ["Room on the floor for stand: not checked, the shop file gives no base."]
    assert bases(told) == []


@pytest.mark.parametrize("equipment", [STAND, ROUND])
@pytest.mark.parametrize(("x", "verdict"), [(0.4549, Verdict.HOLDS), (0.4551, Verdict.CAUTION), (0.7, Verdict.CAUTION)])
def test_a_saddle_has_to_be_wholly_under_its_body(equipment: object, x: float, verdict: Verdict) -> None:
    stand = replace(STAND, saddle=ROUND.saddle if equipment is ROUND else STAND.saddle)
    for place in ((x, 0.0), (0.0, -x)):
        found = findings(overlap.check(case(support("A", stand, place))))[-1]
        assert (found.subject, found.verdict) == ("A", verdict)
        assert ("sticks out from under the unit" in words(found.says)) is (verdict is Verdict.CAUTION)


def test_three_corners_are_an_outline() -> None:
    judged = case(support("A"))
    vehicle = replace(judged.job.vehicle, bodies=(replace(UNIT, outline=((1.0, 0.0), (-1.0, 1.0), (-1.0, -1.0))),))
    told = overlap.check(replace(judged, job=replace(judged.job, vehicle=vehicle)))
    assert not_checked(told) == []


def test_a_saddle_in_the_notch_of_an_outline_is_not_under_it() -> None:
    notched = replace(UNIT, outline=((0.5, 0.5), (0.5, -0.5), (-0.5, -0.5), (-0.5, 0.5), (0.0, 0.0)))
    judged = case(support("A", STAND, (0.0, 0.2)))
    vehicle = replace(judged.job.vehicle, bodies=(notched,))
    judged = replace(judged, job=replace(judged.job, vehicle=vehicle))
    assert findings(overlap.check(judged))[-1].verdict is Verdict.CAUTION


@pytest.mark.parametrize("outline", [(), ((0.0, 0.0), (1.0, 1.0)), ((0.0, 0.0), (1.0, 1.0), (1.0, 0.0), (0.0, 1.0))])
def test_an_outline_missing_or_crossing_itself_is_not_checked(outline: tuple[tuple[float, float], ...]) -> None:
    judged = case(support("A"))
    vehicle = replace(judged.job.vehicle, bodies=(replace(UNIT, outline=outline),))
    told = overlap.check(replace(judged, job=replace(judged.job, vehicle=vehicle)))
    assert not_checked(told)[0].startswith("Whether saddles lie wholly under the unit: not checked")


def test_a_saddle_not_given_is_not_checked() -> None:
    told = overlap.check(case(support("A", replace(STAND, saddle=None))))
    assert not_checked(told)[0].startswith("Whether the saddle of stand lies wholly under: not checked")


def test_footprints_measure_as_by_hand() -> None:
    square, ring = area(Square(0.2, 0.4), (0.0, 0.0)), area(Circle(0.2), (0.4, 0.4))
    assert room(square, ring) == pytest.approx((0.3**2 + 0.2**2) ** 0.5 - 0.1)
    assert not share_floor(square, ring)
    assert covers(square, (0.1, 0.2))
    assert not covers(square, (0.11, 0.2))
    assert covers(ring, (0.4, 0.31))
    assert not covers(ring, (0.32, 0.33))


def test_a_saddle_may_touch_the_outline_from_inside() -> None:
    # In metres 0.455 + 0.09 / 2 and 0.1 + 0.4 are not quite what they are in millimetres.
    assert inside(area(Square(0.09, 0.09), (0.455, -0.455)), area(Square(1.0, 1.0), (0.0, 0.0)).core)  # type: ignore[arg-type]
    from_outside = area(Circle(0.25), (0.25, 0.25))
    outline = area(Square(0.75, 0.75), (0.0, 0.0)).core
    assert inside(from_outside, outline)  # type: ignore[arg-type]
    assert not inside(area(Circle(0.25), (0.2501, 0.25)), outline)  # type: ignore[arg-type]


def on_shell(*places: tuple[float, float]) -> list[tuple[str, Verdict]]:
    """Stands with a base of 0.2 m on the shell, whose outline ends 1 m in front; one on the floor under A."""
    stacked = [replace(support(name, STAND, at), on="shell") for name, at in zip("ABC", places, strict=False)]
    judged = lifted(*stacked, support("floor", STAND, places[0]))
    return [each for each in bases(overlap.check(judged)) if each[0] != "floor"]


def test_bases_on_an_assembly_keep_clear_of_each_other_there() -> None:
    """What stands on the floor under them is no neighbour."""
    assert on_shell((0.0, 0.0), (0.15, 0.0)) == [("A", Verdict.STOP)]
    assert on_shell((0.0, 0.0), (0.24, 0.0)) == [("A", Verdict.CAUTION)]
    assert on_shell((0.0, 0.0), (0.3, 0.0)) == [("A", Verdict.HOLDS), ("B", Verdict.HOLDS)]


def test_a_base_has_to_lie_wholly_on_the_assembly_under_it() -> None:
    assert ("A", Verdict.CAUTION) not in on_shell((0.9, 0.0))
    assert ("A", Verdict.CAUTION) in on_shell((0.91, 0.0))


def test_what_stands_on_an_assembly_without_a_base_in_the_file_is_not_checked_there() -> None:
    told = overlap.check(lifted(replace(support("A", replace(STAND, base=None)), on="shell")))
    assert "Room on the shell for stand: not checked, the shop file gives no base." in not_checked(told)


def test_the_cure_waits_until_the_weight_is_taken_and_is_not_told_where_it_is_not_needed() -> None:
    judged = beside(0.1)
    told = words(findings(overlap.check(judged))[0].says)
    assert told == ("The base of A and B would stand in the same place. Do not touch A. Take the weight back first.")
    early = words(findings(overlap.check(replace(judged, before=None)))[0].says)
    assert early.endswith("move A, or plan a smaller base there.")


FREE = " Do not touch A. Take the weight back first."


def of_base(judged: Case) -> Finding:
    """The first that is found of a base."""
    return next(each for each in findings(overlap.check(judged)) if "saddle" not in words(each.says))


@pytest.mark.parametrize(
    ("judged", "verdict", "value", "says"),
    [
        (case(support("A")), Verdict.HOLDS, None, "The base of A stands alone."),
        (beside(0.3), Verdict.HOLDS, 0.1, "The base of A has 0.1 m of room."),
        (
            *(beside(0.24), Verdict.CAUTION, 0.04),
            f"Between the base of A and B there is only 0.04 m.{FREE}",
        ),
        (beside(0.1), Verdict.STOP, 0.0, f"The base of A and B would stand in the same place.{FREE}"),
        (
            *(lifted(support("A", STAND, (-1.25, 1.11)), hung=False), Verdict.CAUTION, 0.04),
            f"Between the base of A and a post of the lift there is only 0.04 m.{FREE}",
        ),
        (
            *(lifted(support("A", STAND, (-1.25, 1.11))), Verdict.CAUTION, 0.04),
            "Between the base of A and a post of the lift there is only 0.04 m. "
            "Before unbolting: move A, or plan a smaller base there.",
        ),
        (
            *(lifted(support("A", STAND, (-1.25, 1.2))), Verdict.STOP, 0.0),
            "The base of A and a post of the lift would stand in the same place. "
            "Before unbolting: move A, or plan a smaller base there.",
        ),
    ],
)
def test_the_room_of_a_base_is_told(judged: Case, verdict: Verdict, value: float | None, says: str) -> None:
    told = of_base(judged)
    assert (told.check, told.verdict, told.subject, told.measure) == (CheckName.OVERLAP, verdict, "A", Measure.LENGTH)
    assert (told.value, told.limit) == (None if value is None else pytest.approx(value), 0.05)
    assert words(told.says) == says


def test_a_base_under_a_pad_is_told_with_the_pad() -> None:
    told = of_base(lifted(support("A", STAND, (-0.5, 0.8)), hung=False))
    assert (told.check, told.verdict, told.subject, told.value, told.limit, told.measure) == (
        *(CheckName.OVERLAP, Verdict.HOLDS, "A"),
        *(pytest.approx((0.5**2 + 0.35**2) ** 0.5), 0.05, Measure.LENGTH),
    )
    pad = findings(overlap.check(lifted(support("A", STAND, (-0.5, 0.8)), hung=False)))[-2]
    assert (pad.check, pad.verdict, pad.subject, pad.value, pad.limit, pad.measure) == (
        *(CheckName.OVERLAP, Verdict.STOP, "A"),
        *(None, None, Measure.LENGTH),
    )
    assert words(pad.says) == f"The base of A stands where the lift pad pad 1 comes down.{FREE}"


@pytest.mark.parametrize(
    ("judged", "verdict", "says"),
    [
        (case(support("A")), Verdict.HOLDS, "The saddle of A is wholly under the unit."),
        (
            *(case(support("A", STAND, (0.5, 0.0))), Verdict.CAUTION),
            f"The saddle of A sticks out from under the unit.{FREE}",
        ),
        (
            *(lifted(support("A", STAND, (0.5, 0.0))), Verdict.CAUTION),
            "The saddle of A sticks out from under the unit. Before unbolting: move A further in.",
        ),
    ],
)
def test_where_a_saddle_is_is_told(judged: Case, verdict: Verdict, says: str) -> None:
    told = findings(overlap.check(judged))[-1]
    assert told == Finding(CheckName.OVERLAP, verdict, "A", None, None, Measure.LENGTH, told.says)
    assert words(told.says) == says


@pytest.mark.parametrize(
    ("bases_", "apart", "verdict"),
    [
        ((None, None), 0.0, Verdict.STOP),
        ((None, None), 0.0002, None),
        ((None, Square(0.2, 0.2)), 0.1, Verdict.STOP),
        ((None, Square(0.2, 0.2)), 0.101, Verdict.HOLDS),
        ((Square(0.2, 0.2), None), 0.1, Verdict.STOP),
        ((Square(0.2, 0.2), None), 0.101, Verdict.HOLDS),
    ],
)
def test_a_base_that_is_not_given_takes_its_middle(
    bases_: tuple[Square | None, Square | None], apart: float, verdict: Verdict | None
) -> None:
    one, other = (replace(STAND, base=each) for each in bases_)
    told = findings(overlap.check(case(support("A", one), support("B", other, (apart, 0.0)))))
    found = [each for each in told if "saddle" not in words(each.says)]
    worst = max((each.verdict for each in found), default=None)
    assert worst == verdict
    if verdict is Verdict.STOP:
        stop = max(found, key=lambda each: each.verdict)
        assert (stop.subject, stop.value, stop.limit) == ("A", 0.0, 0.05)
        assert words(stop.says) == f"The base of A and B would stand in the same place.{FREE}"


def test_the_floor_is_told_first_whichever_stand_comes_first() -> None:
    bare = replace(STAND, base=None)
    told = overlap.check(lifted(replace(support("B", bare), on="shell"), support("A", bare)))
    assert [each.split(":")[0] for each in not_checked(told) if "gives no base" in each] == [
        "Room on the floor for stand",
        "Room on the shell for stand",
    ]


def test_a_base_not_given_is_told_of_the_floor_and_of_what_stands_on_an_assembly() -> None:
    bare = replace(STAND, base=None)
    told = overlap.check(lifted(support("A", bare), replace(support("B", replace(bare, name="block")), on="shell")))
    assert [each for each in not_checked(told) if "gives no base" in each] == [
        f"Room on the {where} for {kind}: not checked, the shop file gives no base."
        for where, kind in (("floor", "stand"), ("shell", "block"))
    ]


def test_a_base_that_sticks_out_beyond_the_assembly_under_it_is_a_caution() -> None:
    """The shell's outline ends at x = 1 m; the base reaches 100 mm either way."""
    for x, out in ((0.8999, False), (0.9001, True)):
        told = findings(overlap.check(lifted(replace(support("A", STAND, (x, 0.0)), on="shell"))))
        found = [each for each in told if "sticks out beyond the shell that it stands on." in words(each.says)]
        assert [(each.check, each.verdict, each.subject, each.measure) for each in found] == (
            [(CheckName.OVERLAP, Verdict.CAUTION, "A", Measure.LENGTH)] if out else []
        )

"""Where a value begins to be odd: on either side of each bound of what is usual; common practice, no source."""

from collections.abc import Callable, Mapping
from functools import cache
from types import MappingProxyType

import pytest

from loadplan.planning.interview.odd_answers import (
    AT_EDGE,
    BESIDE,
    FAR_BELOW,
    NEAR,
    NEAR_PAD,
    apart,
    box_of,
    lump_over,
    near_pad,
    outside,
    seat_on,
)
from loadplan.planning.interview.question import (
    Ask,
    Edges,
    Foot,
    HeightRange,
    Mark,
    Owned,
    Question,
    Seat,
    Value,
    Weight,
)
from loadplan.planning.interview.question_flow import questions
from loadplan.planning.interview.unit_kinds import ENGINE, UNIT_KINDS
from loadplan.units import System
from tests.planning.typed import METRIC, all_typed


@cache
def asked() -> Mapping[str, Question]:
    """Every question of a unit that is measured, by its key."""
    return {each.key: each for each in questions(all_typed(METRIC)[1])}


HAIR = 1e-6

USUAL: Mapping[str, tuple[float, float]] = MappingProxyType({
    "pads.height": (0.12, 0.6),
    "weight": (700.0, 4000.0),
    "wheelbase": (2.0, 4.5),
    "pads.out": (0.45, 0.95),
    "lift.rating": (19_600.0, 79_000.0),
    "lift.rise": (1.2, 2.3),
})
"""What is usual, in SI: lift pads over the floor, vehicles, lifts for such."""


@pytest.mark.parametrize("key", USUAL)
def test_a_value_is_odd_only_beyond_what_is_usual(key: str) -> None:
    least, most = USUAL[key]
    odd = asked()[key].odd
    assert [bool(odd(each, System.METRIC)) for each in (least * (1 - HAIR), least, most, most * (1 + HAIR))] == [
        True, False, False, True,
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("key", "make", "usual"),
    [
        ("engine.weight", lambda mass: Weight(mass, 1.0), (60.0, 450.0)),
        ("gearbox.weight", lambda mass: Weight(mass, 1.0), (25.0, 160.0)),
        ("subframe.weight", lambda mass: Weight(mass, 1.0), (15.0, 130.0)),
        ("gear1.mark", lambda rating: Mark(rating, "pair"), (4_900.0, 118_000.0)),
        ("prop.mark", lambda rating: Mark(rating, ""), (4_900.0, 118_000.0)),
    ],
)
def test_so_is_a_weight_and_a_rating(key: str, make: Callable[[float], Value], usual: tuple[float, float]) -> None:
    least, most = usual
    odd = asked()[key].odd
    told = [odd(make(each), System.METRIC) for each in (least * (1 - HAIR), least, most, most * (1 + HAIR))]
    assert [bool(each) for each in told] == [True, False, False, True]


def test_so_is_how_many_there_are() -> None:
    owned, stands = asked()["gear1.owned"].odd, asked()["stands"].odd
    assert [bool(owned(Owned(count, ()), System.METRIC)) for count in (1, 40, 41)] == [False, False, True]
    assert [bool(stands(count, System.METRIC)) for count in (3, 8, 9)] == [False, False, True]


@pytest.mark.parametrize(
    ("key", "low", "high"),
    [("gear1.heights", 0.1, 0.1), ("prop.heights", 0.9, 0.9)],
)
def test_what_goes_no_higher_than_a_hand_or_a_hip_is_odd(key: str, low: float, high: float) -> None:
    odd = asked()[key].odd
    assert odd(HeightRange(0.05, low - HAIR, None), System.METRIC)
    assert not odd(HeightRange(0.05, high, None), System.METRIC)


def test_a_foot_as_narrow_as_a_saddle_is_odd_either_way() -> None:
    odd = asked()["gear1.base"].odd
    assert odd(Foot(0.3, 0.12 - HAIR), System.METRIC)
    assert odd(Foot(0.12 - HAIR, 0.3), System.METRIC)
    assert not odd(Foot(0.12, 0.12), System.METRIC)


def test_pads_are_odd_by_how_far_they_are_apart() -> None:
    odd = asked()["pads.along"].odd
    assert odd((-1.0, -1.8 + HAIR), System.METRIC)
    assert not odd((-1.0, -1.8), System.METRIC)
    assert not odd((0.0, -2.6), System.METRIC)
    assert (
        odd((0.0, -2.6 - HAIR), System.METRIC)
        == "2600 mm is odd for front and rear pads apart: most are 800 mm to 2600 mm"
    )
    assert not apart(0.8, 2.6, "pads")(("a", "b"), System.METRIC)
    assert not apart(0.8, 2.6, "pads")((1.0, 2.0, 5.0), System.METRIC)


def test_edges_are_odd_where_one_lump_would_be_longer_than_a_man_or_thin_as_a_board() -> None:
    odd = box_of(ENGINE, UNIT_KINDS["front unit"], {})

    def edges(x: float, y: float, z: float) -> Edges:
        return Edges((0.0, 0.0, 0.0), (x, y, z))

    assert not odd(edges(2.2, 2.2, 2.2), System.METRIC)
    assert not odd(edges(0.06, 0.06, 0.06), System.METRIC)
    assert odd(edges(2.3, 1.0, 1.0), System.METRIC) == "2300 mm from front to rear is odd for one engine"
    assert odd(edges(1.0, 0.05, 1.0), System.METRIC) == "50 mm from left to right is odd for the engine: that thin?"
    assert odd(edges(1.0, 1.0, 2.3), System.METRIC) == "2300 mm from top to bottom is odd for one engine"
    assert odd("no edges", System.METRIC) == ""


@pytest.mark.parametrize("word", ["rear unit", "axle"])
def test_what_is_at_the_rear_is_asked_about_where_it_is_measured_from_the_rear_axle(word: str) -> None:
    """The plan's chalk line is the front axle's: by the rear one all stands would be set a wheelbase too far ahead."""
    kind = UNIT_KINDS[word]
    odd = box_of(kind.lumps[0], kind, {})
    told = odd(Edges((-0.18, -0.14, 0.02), (0.15, 0.14, 0.3)), System.METRIC)
    assert told.startswith(f"a rear edge 180 mm behind is odd for a {word}: all is measured from the front axle line")
    assert not odd(Edges((-2.93, -0.14, 0.02), (-2.6, 0.14, 0.3)), System.METRIC)
    front = UNIT_KINDS["front unit"]
    assert not box_of(front.lumps[0], front, {})(Edges((-0.18, -0.14, 0.02), (0.15, 0.14, 0.3)), System.METRIC)


def test_lumps_that_come_out_together_are_asked_about_where_they_lie_far_apart() -> None:
    kind = UNIT_KINDS["rear unit"]
    drive = Edges((-2.93, -0.14, 0.02), (-2.6, 0.14, 0.3))
    odd = box_of(kind.lump("subframe"), kind, {"drive": drive})
    near, far = (Edges((x - 0.65, -0.52, 0.01), (x, 0.52, 0.18)) for x in (-2.43, -1.21))
    assert not odd(near, System.METRIC)
    told = odd(far, System.METRIC)
    assert told == "that is 740 mm away from the drive, which comes out with it"


NOTHING = "so nothing is above it, and it carries nothing"
BOXES = {"engine": Edges((0.0, -0.4, 0.05), (0.4, 0.0, 0.6)), "gearbox": Edges((0.1, 0.1, 0.20), (0.4, 0.5, 0.5))}


@pytest.mark.parametrize(
    ("place", "told"),
    [
        ((0.0, -0.2, 0.05), ""),
        ((-BESIDE, -0.2, 0.05), f"that is 60 mm beside the engine: {NOTHING}"),
        ((-BESIDE - 0.002, -0.2, 0.05), "that is 62 mm beside the engine: front and behind swapped?"),
        ((0.4 + BESIDE + 0.002, -0.2, 0.05), f"that is 62 mm beside the engine: {NOTHING}"),
        ((0.2, 0.2, 0.05), "that is 200 mm beside the engine: left and right swapped, or under the gearbox instead?"),
        ((-0.2, -0.2, 0.05), "that is 200 mm beside the engine: front and behind swapped?"),
        ((0.2, -0.4 - BESIDE - 0.01, 0.05), f"that is 70 mm beside the engine: {NOTHING}"),
        ((0.2, -0.2, 0.049 + FAR_BELOW), ""),
        (
            (0.2, -0.2, 0.051 + FAR_BELOW),
            "the engine's lowest edge is 50 mm above the pads, and this place is 201 mm above",
        ),
        (
            (0.2, -0.2, 0.049 - FAR_BELOW),
            "the engine's lowest edge is 50 mm above the pads, and this place is 101 mm below",
        ),
    ],
)
def test_a_place_is_odd_beside_or_far_over_what_it_is_under(place: tuple[float, float, float], told: str) -> None:
    assert seat_on(BOXES, {}, ())(Seat("engine", place), System.METRIC) == told
    # Where the place was said before, the answer is what is over it.
    assert seat_on(BOXES, {}, (), Seat("", place))("engine", System.METRIC) == told
    assert seat_on(BOXES, {}, ())(None, System.METRIC) == ""


def test_a_place_is_odd_where_another_stand_or_a_pad_is() -> None:
    here = Seat("engine", (0.2, -0.2, 0.05))
    for off, odd in ((NEAR - HAIR, True), (NEAR + HAIR, False)):
        taken = {"C": Seat("engine", (0.2 + off, -0.2, 0.05))}
        told = seat_on(BOXES, taken, ())(here, System.METRIC)
        assert told == ("stand C is there already, within 50 mm" if odd else "")
        assert bool(seat_on(BOXES, {"C": Seat("", (0.2, -0.2 - off, 0.3))}, ())(here, System.METRIC)) is odd
    for off, odd in ((NEAR_PAD - HAIR, True), (NEAR_PAD + HAIR, False)):
        assert bool(near_pad((0.0, 0.0), ((9.0, 9.0), (0.0, off)), System.METRIC)) is odd
    told = seat_on(BOXES, {}, ((0.2, -0.1),))(here, System.METRIC)
    assert told == "that is 100 mm from where a lift pad comes down, and its base stands in the way"
    assert near_pad((0.0, 0.0), (), System.METRIC) == ""


@pytest.mark.parametrize(
    ("place", "lump"),
    [
        ((0.2, -0.2, 0.05), "engine"),
        ((0.2, -0.2, 0.05 + AT_EDGE), "engine"),
        ((0.2, -0.2, 0.051 + AT_EDGE), ""),
        ((0.2, 0.3, 0.2), "gearbox"),
        ((0.2, 0.05, 0.05), "engine"),
        # Under both, and as near to the one's lowest edge as to the other's within half of what is rough.
        ((0.2, 0.05, 0.125), ""),
        ((3.0, 0.0, 0.05), ""),
    ],
)
def test_what_a_stand_is_under_goes_by_the_lowest_edge_that_is_there(
    place: tuple[float, float, float], lump: str
) -> None:
    assert lump_over(Seat("", place), BOXES) == lump
    assert lump_over(Seat("", place), {"engine": BOXES["engine"]}) == "engine"


def test_of_two_lumps_as_low_as_each_other_none_is_taken() -> None:
    low = {"one": Edges((0.0, 0.0, 0.0), (1.0, 1.0, 1.0)), "two": Edges((0.0, 0.0, 0.02), (1.0, 1.0, 1.0))}
    assert lump_over(Seat("", (0.5, 0.5, 0.0)), low) == ""
    assert lump_over(Seat("", (0.5, 0.5, 0.0)), low | {"two": Edges((0.0, 0.0, 0.031), (1.0, 1.0, 1.0))}) == "one"


def test_only_a_number_can_be_more_or_less_than_usual() -> None:
    odd = outside(Ask.WHOLE, 3, 8, "stands")
    assert odd(9, System.METRIC) == "9 is odd for stands: most are 3 to 8"
    assert [odd(each, System.METRIC) for each in (True, "9", None, (9.0,))] == ["", "", "", ""]

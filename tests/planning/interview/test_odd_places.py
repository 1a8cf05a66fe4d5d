"""Odd places: beside what a stand is under, by a lift pad, where another one is. Made-up lumps."""

import pytest

from loadplan.planning.interview.odd_answers import (
    AT_EDGE,
    BESIDE,
    FAR_BELOW,
    NEAR,
    NEAR_PAD,
    first_odd,
    lump_over,
    near_pad,
    seat_on,
    under_floor,
)
from loadplan.planning.interview.question import Edges, Seat, Tie, Value
from loadplan.units import System

METRIC = System.METRIC
ENGINE = Edges((0.2, -0.3, 0.1), (1.0, -0.1, 0.6))
GEARBOX = Edges((-0.9, 0.2, 0.2), (-0.2, 0.5, 0.6))
BOXES = {"engine": ENGINE, "gearbox": GEARBOX}


def odd(x: float, y: float, z: float = 0.1, lump: str = "engine") -> str:
    return seat_on(BOXES, {}, ())(Seat(lump, (x, y, z)), METRIC)


@pytest.mark.parametrize(
    ("x", "y", "off"),
    [(1.1, -0.2, 100), (0.1, -0.2, 100), (0.6, -0.38, 80), (0.6, 0.3, 400), (1.07, -0.5, 200), (1.3, -0.38, 300)],
)
def test_beside_its_lump_it_is_told_how_far(x: float, y: float, off: int) -> None:
    """On the way on which it is furthest out."""
    assert odd(x, y).startswith(f"that is {off} mm beside the engine")


@pytest.mark.parametrize("side", [-1.0, 1.0])
def test_a_place_is_asked_about_as_soon_as_nothing_is_above_it(side: float) -> None:
    """The check stops there, however roughly edges are measured."""
    for off, is_odd in ((-1e-6, False), (1e-3, True)):
        x = 0.6 + side * (0.4 + off)
        y = -0.2 + side * (0.1 + off)
        assert bool(odd(x, -0.2)) is is_odd
        assert bool(odd(0.6, y)) is is_odd
    assert odd(1.03, -0.2) == "that is 30 mm beside the engine: so nothing is above it, and it carries nothing"


def test_sides_are_taken_for_swapped_only_far_beside() -> None:
    even = {"engine": Edges((-0.4, -0.3, 0.1), (0.4, 0.3, 0.6))}
    ask = seat_on(even, {}, ())
    assert "swapped" not in ask(Seat("engine", (0.0, 0.3 + BESIDE * 0.999, 0.1)), METRIC)
    assert "swapped" not in ask(Seat("engine", (0.4 + BESIDE * 0.999, 0.0, 0.1)), METRIC)


@pytest.mark.parametrize(
    ("x", "y", "meant"),
    [
        (0.6, 0.2, ": left and right swapped?"),
        (-0.6, -0.2, ": front and behind swapped?"),
        (-0.5, 0.4, ": under the gearbox instead?"),
        (3.0, 3.0, " beside the engine: so nothing is above it, and it carries nothing"),
    ],
)
def test_what_may_be_meant_is_asked(x: float, y: float, meant: str) -> None:
    assert odd(x, y).endswith(meant)


def test_far_over_or_under_the_lowest_edge_is_odd() -> None:
    for off in (FAR_BELOW * 0.999, -FAR_BELOW * 0.999):
        assert odd(0.6, -0.2, 0.1 + off) == ""
    assert odd(0.6, -0.2, 0.3) == ("the engine's lowest edge is 100 mm above the pads, and this place is 300 mm above")
    assert odd(0.6, -0.2, -0.1).endswith("and this place is 100 mm below")


def test_where_another_stand_is_no_second_one_goes() -> None:
    taken = {"A": Seat("", (0.0, 0.0, 0.0)), "B": Seat("", (0.6, -0.2, 0.0))}
    ask = seat_on(BOXES, taken, ())
    assert ask(Seat("engine", (0.6 + NEAR * 0.99, -0.2 - NEAR * 0.99, 0.1)), METRIC).startswith("stand B is there")
    for beside in ((0.6 + NEAR * 1.01, -0.2), (0.6, -0.2 + NEAR * 1.01)):
        assert ask(Seat("engine", (*beside, 0.1)), METRIC) == ""


def test_only_what_is_over_it_is_asked_where_its_place_is_known() -> None:
    ask = seat_on(BOXES, {}, (), Seat("", (-0.5, 0.4, 0.2)))
    assert ask("gearbox", METRIC) == ""
    assert ask("engine", METRIC).endswith(": under the gearbox instead?")


def test_by_a_lift_pad_is_odd() -> None:
    pads = ((5.0, 5.0), (0.0, 0.0))
    assert near_pad((NEAR_PAD * 0.5, 0.0), pads, METRIC).startswith(f"is {NEAR_PAD * 500:g} mm from where a lift pad")
    assert near_pad((NEAR_PAD, 0.0), pads, METRIC) == ""
    assert near_pad((0.0, 0.0), (), METRIC) == ""
    told = seat_on(BOXES, {}, ((0.6, -0.2),))(Seat("engine", (0.6, -0.2, 0.1)), METRIC)
    assert told.startswith("that is 0 mm from where a lift pad comes down")


def test_what_it_is_under_is_the_only_lump_whose_lowest_edge_is_there() -> None:
    two = {"engine": ENGINE, "pan": Edges((0.2, -0.3, 0.1 + AT_EDGE * 0.4), (1.0, -0.1, 0.3))}
    assert lump_over(Seat("", (0.6, -0.2, 0.1)), BOXES) == "engine"
    assert lump_over(Seat("", (0.6, -0.2, 0.1 + AT_EDGE * 1.01)), BOXES) == ""
    assert lump_over(Seat("", (3.0, 3.0, 0.1)), BOXES) == ""
    assert lump_over(Seat("", (3.0, 3.0, 9.0)), {"engine": ENGINE}) == "engine"
    assert lump_over(Seat("", (0.6, -0.2, 0.1)), two) == ""
    far = {"engine": ENGINE, "pan": Edges((0.2, -0.3, 0.1 + AT_EDGE * 0.6), (1.0, -0.1, 0.3))}
    assert lump_over(Seat("", (0.6, -0.2, 0.1)), far) == "engine"


@pytest.mark.parametrize(
    ("value", "is_odd"),
    [
        (Seat("engine", (0.6, -0.2, -0.18)), False),
        (Seat("engine", (0.6, -0.2, -0.181)), True),
        ((0.6, -0.2, -0.181), True),
        ((0.6, -0.2), False),
        (Edges((0.2, -0.3, -0.181), (1.0, -0.1, 0.6)), True),
        (Edges((0.2, -0.3, -0.18), (1.0, -0.1, 0.6)), False),
        (Tie("mount", (0.6, -0.2, -0.3), None), True),
        (Tie("link", (0.6, -0.2, 0.3), (0.6, -0.2, -0.3)), True),
        (Tie("link", (0.6, -0.2, 0.3), (0.6, -0.2, 0.3)), False),
        (True, False),
    ],
)
def test_under_the_floor_there_is_nothing_of_a_vehicle(value: Value, *, is_odd: bool) -> None:
    """The lift pads touch 180 mm over the floor, and heights are measured from there."""
    assert bool(under_floor(0.18)(value, METRIC)) is is_odd
    assert under_floor(None)(value, METRIC) == ""


def test_how_deep_a_place_would_be_is_told_before_all_else() -> None:
    deep = Seat("engine", (5.0, 5.0, -0.5))
    told = first_odd(under_floor(0.18), seat_on(BOXES, {}, ()))(deep, METRIC)
    assert told == "that is 320 mm under the floor: the lift pads are 180 mm over it with the vehicle on its wheels"
    assert first_odd(under_floor(0.6), seat_on(BOXES, {}, ()))(deep, METRIC).startswith(
        "that is 5100 mm beside the engine"
    )
    assert first_odd()(deep, METRIC) == ""

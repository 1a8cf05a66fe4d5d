"""Other settings: which ways to set a few saddles are listed, what follows their plane, and in which order they come.

All cases are small and made up; a piece stands over places 200 mm high unless told otherwise.
"""

from math import copysign, inf

import pytest

from loadplan.planning.settings import other_settings
from loadplan.planning.settings.other_settings import Places, other_stackings
from loadplan.planning.settings.saddle_settings import SharedSaddles, Shelf, Stacking
from loadplan.planning.settings.shim_stacking import stack

BARE = Shelf((), ())

IN_LINE = ((1.9, 0.9), (2.1, 1.0), (2.3, 1.1))
"""Three places in a line, but for what rounding makes of them."""


def steps(*settings: float, saddles: int = 1) -> SharedSaddles:
    return SharedSaddles(settings, stepless=False, places=(0.2,) * saddles)


def screw(low: float, high: float) -> SharedSaddles:
    return SharedSaddles((low, high), stepless=True, places=(0.2,))


def others(*pieces: SharedSaddles, shelf: Shelf = BARE, places: Places = ()) -> tuple[Stacking, ...]:
    return other_stackings(pieces, shelf, stack(pieces, shelf), places)


def heights(found: tuple[Stacking, ...]) -> list[list[float]]:
    return [[saddle.height for saddle in each.saddles] for each in found]


@pytest.mark.parametrize(
    ("most", "found"),
    [
        (1, []),
        (2, [[0.29, 0.29]]),
        (3, [[0.29, 0.29]]),
        (4, [[0.29, 0.29], [0.29, 0.31], [0.31, 0.29]]),
    ],
)
def test_what_is_more_than_can_be_looked_at_is_narrowed_to_what_lies_least_apart(
    most: int, found: list[list[float]], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two stands have four ways, of which two differ only in how high the unit stands; those two lie not apart."""
    monkeypatch.setattr(other_settings, "MOST", most)
    assert heights(others(steps(0.29, 0.31), steps(0.29, 0.31))) == found


def test_a_single_saddle_has_one_way_for_all_only_raise_the_unit() -> None:
    assert heights(others(steps(0.29, 0.31, 0.33))) == [[0.29]]


def test_of_ways_that_only_raise_the_unit_the_one_with_the_fewest_shims_is_told() -> None:
    """A step is as high as a shim: each way with two shims is one without, 10 mm up."""
    found = others(steps(0.29, 0.30), steps(0.29, 0.30), shelf=Shelf((0.01,), (inf,)))
    apart = [round(each.saddles[0].misfit - each.saddles[1].misfit, 9) for each in found]
    assert sorted(zip(apart, (each.shims for each in found), strict=True)) == [
        (-0.02, 1),
        (-0.01, 0),
        (0.0, 0),
        (0.01, 0),
        (0.02, 1),
    ]


@pytest.mark.parametrize(("most", "uneven"), [(8, [0.0, 0.01]), (7, [0.0])])
def test_the_saddles_of_one_piece_get_shims_alike_where_there_are_too_many_ways(
    most: int, uneven: list[float], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two heights, a shim or none on either saddle: eight ways."""
    monkeypatch.setattr(other_settings, "MOST_OF_ONE", most)
    found = others(steps(0.29, 0.31, saddles=2), shelf=Shelf((0.01,), (inf,)))
    assert sorted({2 * each.largest for each in found}) == pytest.approx(uneven)


def test_what_turns_to_any_height_follows_the_slope_of_the_others() -> None:
    """By hand: a metre on from places that lie 0 and 20 mm up, a metre apart, the plane is 40 mm up."""
    places = (((0.0, 0.0),), ((1.0, 0.0),), ((2.0, 0.0),))
    found = others(steps(0.30), steps(0.32), screw(0.2, 0.5), places=places)
    assert heights(found) == [[0.30, 0.32, pytest.approx(0.34)]]


def test_places_in_a_line_leave_the_plane_level_across_it() -> None:
    """By hand: the middle one is 20 mm up, so the line is level, a third of that up, and so is what stands beside."""
    places = tuple((each,) for each in (*IN_LINE, (2.3, 0.5)))
    found = others(steps(0.30), steps(0.32), steps(0.30), screw(0.2, 0.5), places=places)
    assert heights(found) == [[0.30, 0.32, 0.30, pytest.approx(0.30 + 0.02 / 3)]]


def test_what_is_off_by_nothing_is_not_told_as_below_it() -> None:
    """290 less 200 mm is a little less than 90 in binary numbers."""
    (found,) = others(steps(0.29), steps(0.29))
    assert [copysign(1.0, each.misfit) for each in found.saddles] == [1.0, 1.0]

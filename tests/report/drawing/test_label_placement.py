"""Labels find a place where they cover nothing as long as there is one on the page."""

from itertools import combinations

from loadplan.report.drawing.label_placement import Ground, Wanted, place_labels
from loadplan.report.drawing.view import Box

FRAME = Box(0.0, 0.0, 400.0, 200.0)


def test_a_label_goes_to_the_only_free_place_however_far_from_what_it_names() -> None:
    """The hole lies in none of the directions that are tried first."""
    left, right = Box(0.0, 0.0, 296.0, 200.0), Box(390.0, 0.0, 400.0, 200.0)
    taken = (left, right, Box(296.0, 60.0, 390.0, 200.0))
    wanted = Wanted((80.0, 40.0), Box(100.0, 150.0, 110.0, 160.0), (0.0, 0.0))
    (placed,) = place_labels([wanted], Ground(taken, (), FRAME))
    assert not any(placed.box.overlap(other) for other in taken)
    assert placed.leader is not None


def test_a_small_label_makes_room_for_a_large_one_that_comes_after_it() -> None:
    """The small one is better off over the sign, where alone the large one fits; there is room for it at the right."""
    room, sign = Box(0.0, 0.0, 150.0, 104.0), Box(0.0, 0.0, 100.0, 30.0)
    small, large = Wanted((40.0, 20.0), sign, (-1.0, 0.0)), Wanted((90.0, 66.0), sign, (0.0, 0.0))
    boxes = [each.box for each in place_labels([small, large], Ground((sign,), (), room))]
    assert not any(one.overlap(other) for one, other in combinations((*boxes, sign), 2))

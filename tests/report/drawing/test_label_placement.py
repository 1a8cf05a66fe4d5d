"""Labels find a place where they cover nothing as long as there is one on the page."""

from itertools import combinations

import pytest

from loadplan.report.drawing.label_placement import (
    APART,
    CROSSING,
    OVER_LINE,
    TOUCHING,
    Ground,
    Wanted,
    _beads,
    _crossed,
    _cuts,
    leader_beads,
    place_labels,
)
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


def test_words_keep_off_the_line_of_words_that_came_before() -> None:
    """The first finds room beyond a corridor, through which its line runs; the second would find room in there, too."""
    corridor = Box(0.0, 0.0, 285.0, 84.0), Box(0.0, 106.0, 285.0, 200.0)
    first = Wanted((60.0, 40.0), Box(20.0, 92.0, 26.0, 98.0), (0.0, 0.0))
    second = Wanted((40.0, 16.0), Box(270.0, 92.0, 276.0, 98.0), (0.0, 0.0))
    far, near = place_labels([first, second], Ground((*corridor, first.anchor, second.anchor), (), FRAME))
    assert far.leader is not None
    (x, y), (across, along) = far.leader
    beads = [(x + (across - x) * share / 50, y + (along - y) * share / 50) for share in range(51)]
    assert not any(near.box.holds(bead) for bead in beads)


def test_words_with_a_line_keep_off_the_stands_of_others() -> None:
    """Between two stands is no room for the words: wherever they go, they had better not touch the other."""
    own, other = Box(190.0, 110.0, 210.0, 130.0), Box(190.0, 60.0, 210.0, 80.0)
    walls = Box(0.0, 95.0, 180.0, 200.0), Box(220.0, 95.0, 400.0, 200.0), Box(180.0, 135.0, 220.0, 200.0)
    (placed,) = place_labels([Wanted((60.0, 50.0), own, (0.0, 0.0), (other,))], Ground((*walls, own, other), (), FRAME))
    assert placed.leader is not None
    assert max(placed.box.left - other.right, other.left - placed.box.right) >= APART


def test_a_nudge_is_tried_before_a_place_far_away() -> None:
    """Straight beside it something sticks down by a hair; a tenth further down nothing does."""
    anchor, in_the_way = Box(190.0, 60.0, 210.0, 80.0), Box(190.0, 99.5, 400.0, 140.0)
    ground = Ground((anchor, in_the_way, Box(0.0, 0.0, 186.0, 200.0), Box(0.0, 0.0, 400.0, 30.0)), (), FRAME)
    (placed,) = place_labels([Wanted((120.0, 64.0), anchor, (0.0, 0.0))], ground)
    assert placed.leader is None
    assert not any(placed.box.overlap(each) for each in ground.taken)


def test_a_line_that_cuts_off_the_corner_of_words_between_two_of_its_beads_costs_as_one_that_runs_over_them() -> None:
    """The line at 45 degrees has beads at 8.3 and 16.7 px, and is in the corner from 10 to 14 px."""
    label = Wanted((20.0, 20.0), Box(98.0, 98.0, 102.0, 102.0), (0.0, 0.0))
    place = Box(-20.0, -20.0, 0.0, 0.0)
    corner, beside = Box(10.0, -20.0, 90.0, 14.0), Box(10.0, -20.0, 90.0, 9.0)
    assert not any(corner.holds(bead) for bead in _beads(place, label.anchor))
    assert _crossed(place, label, Ground((corner,), (), FRAME, (corner,))) == pytest.approx(TOUCHING)
    assert _crossed(place, label, Ground((beside,), (), FRAME, (beside,))) == 0


def test_a_line_along_a_side_of_the_page_cuts_what_it_runs_through() -> None:
    upright = (30.0, 0.0), (30.0, 9.0)
    assert _cuts(upright, Box(20.0, 5.0, 40.0, 50.0))
    assert not _cuts(upright, Box(31.0, 5.0, 40.0, 50.0))
    assert not _cuts(upright, Box(20.0, 10.0, 40.0, 50.0))


def test_a_line_over_a_sign_between_two_of_its_beads_costs_as_one_that_has_a_bead_on_it() -> None:
    """Beads are 10 px apart, the sign is 6 px wide and lies between two of them: an eye takes the line to end there."""
    label = Wanted((20.0, 20.0), Box(118.0, -2.0, 122.0, 2.0), (0.0, 0.0))
    place = Box(-20.0, -10.0, 0.0, 10.0)
    sign = Box(62.0, -4.0, 68.0, 4.0)
    assert not any(sign.holds(bead) for bead in _beads(place, label.anchor))
    assert _crossed(place, label, Ground((sign,), (), FRAME)) == pytest.approx(CROSSING)


def test_a_line_that_crosses_that_of_other_words_costs_more_than_one_beside_it() -> None:
    label = Wanted((20.0, 20.0), Box(118.0, -2.0, 122.0, 2.0), (0.0, 0.0))
    place = Box(-20.0, -10.0, 0.0, 10.0)
    across, beside = ((50.0, -40.0), (60.0, 40.0)), ((50.0, 10.0), (60.0, 40.0))
    assert _crossed(place, label, Ground((), (), FRAME, (), (across,))) == pytest.approx(OVER_LINE)
    assert _crossed(place, label, Ground((), (), FRAME, (), (beside,))) == 0


def test_words_keep_off_all_of_a_long_line() -> None:
    """Words of 12 px fit between two places of a line that are 30 px apart."""
    line = (0.0, 0.0), (360.0, 0.0)
    boxes = leader_beads(line)
    for left in range(0, 348, 4):
        assert any(Box(left, -6.0, left + 12.0, 6.0).overlap(each) for each in boxes), left

"""Which motions stands block, and how far the rest leave a unit from tipping: by hand, and line by line."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations, permutations
from math import comb, hypot, inf, tan

import pytest

from loadplan.model.job import Job, Stage
from loadplan.model.vehicle import Part, Point
from loadplan.planning.placement.blocked_modes import Cover, candidate, candidates, cover, motion_count
from loadplan.planning.placement.layout_space import Space, space
from tests.planning.jobs import STAND, with_stand
from tests.statics import builders as make

CORNERS = ((0.5, 0.4), (0.5, -0.4), (-0.5, -0.4), (-0.5, 0.4))
ODD = ((0.5, 0.4), (0.45, -0.35), (-0.4, -0.45), (-0.55, 0.3), (0.1, 0.6))
"""Five places, no three in line, none of whose lines goes through the middle."""

SLOPE = 0.02
DEEP = 0.5
"""Height of the part's centre [m]; the places are at 0.2 where nothing else is said."""


def unit(
    places: Sequence[Sequence[float]],
    parts: Sequence[Part] = (),
    *,
    slope: float = 0.0,
    stages: Sequence[Stage] = (Stage("stands"),),
    kept: Sequence[Sequence[float]] = (),
) -> Job:
    """A unit of one part of 100 kg in its middle, with places under it; kept stands are there already."""
    supports = tuple(replace(each, keep=True) for each in make.stands(kept))
    first = replace(stages[0], in_place=tuple(each.name for each in supports))
    limits = replace(make.NO_LIMITS, floor_slope=slope)
    made = make.job(parts or [make.part()], supports, stages=(first, *stages[1:]), limits=limits)
    points = tuple(
        Point(f"point {number}", "unit", make.place(each, 0.2), None, "") for number, each in enumerate(places)
    )
    return with_stand(replace(made, vehicle=replace(made.vehicle, points=points)), STAND)


def margin(of: Cover, members: Sequence[int]) -> float:
    """The margin of a layout by what its members block together."""
    union = 0
    for each in members:
        union |= of.blocked[each]
    return of.margin(union)


def by_lines(
    places: Sequence[Sequence[float]], members: Sequence[Sequence[float]], at: Sequence[float] = (0.0, 0.0)
) -> float:
    """The least distance of a centre inside a line through two places that has no member beyond it."""
    found = []
    for one, other in permutations(places, 2):
        length = hypot(other[0] - one[0], other[1] - one[1])
        across = (-(other[1] - one[1]) / length, (other[0] - one[0]) / length)
        inside = [(each[0] - one[0]) * across[0] + (each[1] - one[1]) * across[1] for each in (*members, at)]
        if all(each >= -1e-9 for each in inside[:-1]):
            found.append(inside[-1])
    return min(found)


def test_of_four_corners_each_side_and_diagonal_is_a_motion_either_way_up_to_the_first_that_none_blocks() -> None:
    """By hand: over the long sides inward −400, over the short −500, over the diagonals 0, outward 400 at least."""
    found = cover(space(unit(CORNERS)))
    assert found.values == pytest.approx((-0.5, -0.5, -0.4, -0.4, 0.0, 0.0, 0.0, 0.0, 0.4), abs=1e-9)
    assert [each.bit_count() for each in found.blocked] == [2 + 1] * 4
    whole = 0
    for each in found.blocked:
        assert not whole & each & 0b11110000, "each diagonal's motion is blocked by one corner alone"
        whole |= each
    assert whole == 0b011111111
    assert found.open(whole) == 8
    assert [margin(found, each) for each in ((0, 1, 2, 3), (0, 1, 2))] == pytest.approx([0.4, 0.0], abs=1e-9)
    assert (found.margin(0b111111111), found.open(0), found.open(0b1011)) == (inf, 0, 2)
    assert found.drops == (0.0,) * 4


@pytest.mark.parametrize("at", [(0.0, 0.0), (0.1, -0.2), (0.7, 0.1)])
def test_the_margin_of_any_layout_is_that_of_the_nearest_line_it_leaves_open(at: tuple[float, float]) -> None:
    found = cover(space(unit(ODD, [make.part(at)])))
    assert list(found.values) == sorted(found.values)
    for members in (each for count in (3, 4, 5) for each in combinations(range(5), count)):
        hand = by_lines(ODD, [ODD[each] for each in members], at)
        assert margin(found, members) == pytest.approx(hand, abs=1e-9), members


def test_a_stand_that_stays_blocks_in_every_layout() -> None:
    here = space(unit(ODD[:4], kept=ODD[4:]))
    found = cover(here)
    assert len(found.blocked) == 4
    for members in combinations(range(4), 3):
        hand = by_lines(ODD, [*(ODD[each] for each in members), ODD[4]])
        assert margin(found, members) == pytest.approx(hand, abs=1e-9), members


def test_each_step_counts_with_what_is_on_in_it_but_none_in_which_it_is_rolled() -> None:
    """Taking off what is ahead moves the centre from the middle to 250 behind it: the front is far, the rear near."""
    parts = [make.part((-0.25, 0.0)), make.part((0.25, 0.0), name="ahead")]
    stages = Stage("stands"), Stage("lighter", off=("ahead",))

    def margins(*of: Stage) -> list[float]:
        found = cover(space(unit(CORNERS, parts, stages=of)))
        return [margin(found, each) for each in ((0, 1, 2, 3), (1, 2, 3))]

    rear = by_lines(CORNERS, CORNERS[1:], (-0.25, 0.0))
    assert margins(*stages) == pytest.approx([0.25, 0.0], abs=1e-9)
    assert margins(replace(stages[0], moved=True), stages[1]) == pytest.approx([0.25, rear], abs=1e-9)
    assert margins(stages[0], replace(stages[1], moved=True)) == pytest.approx([0.4, 0.0], abs=1e-9)
    rolled = cover(space(unit(CORNERS, parts, stages=[replace(each, moved=True) for each in stages])))
    assert (rolled.values, rolled.blocked, rolled.margin(0)) == ((), (), inf)


def test_a_slope_takes_off_what_the_centre_is_above_the_lowest_saddle() -> None:
    """The highest three are at 300: 200 below the centre; each is told what it takes off more, being lower."""
    places = [(*ODD[0], 0.2), (*ODD[1], 0.3), (*ODD[2], 0.25), (*ODD[3], 0.3), (*ODD[4], 0.3)]
    lean, flat = tan(SLOPE), cover(space(unit(places)))
    found = cover(space(unit(places, slope=SLOPE)))
    assert found.drops == pytest.approx([lean * 0.1, 0.0, lean * 0.05, 0.0, 0.0])
    assert flat.drops == (0.0,) * 5
    for members in combinations(range(5), 4):
        level = margin(flat, members)
        if level > 0:
            assert margin(found, members) == pytest.approx(level - lean * (DEEP - 0.3), abs=1e-9)


@pytest.mark.parametrize(("height", "highest"), [(0.25, 0.25), (0.35, 0.3)])
def test_no_layout_stands_higher_than_what_stays(height: float, highest: float) -> None:
    places = [(*ODD[0], 0.2), (*ODD[1], 0.3), (*ODD[2], 0.25), (*ODD[3], 0.3)]
    kept = [(*ODD[4], height)]
    lean = tan(SLOPE)
    found = cover(space(unit(places, slope=SLOPE, kept=kept)))
    assert found.drops == pytest.approx([lean * max(highest - each[2], 0.0) for each in places])
    flat = cover(space(unit(places, kept=kept)))
    members = (0, 1, 2, 3)
    assert margin(found, members) == pytest.approx(margin(flat, members) - lean * (DEEP - highest), abs=1e-9)


def test_what_lean_takes_off_is_worked_out_layout_by_layout_where_it_is_not_alike_for_all_motions() -> None:
    """With saddles that differ in height: a unit of two pieces, one weighed whole, one with a part below a saddle."""
    places = [(*each, 0.2 + 0.05 * (number == 0)) for number, each in enumerate(ODD)]
    job = unit(places, slope=SLOPE)
    assert cover(space(job)).drops is not None
    (body,) = job.vehicle.bodies
    weighed = replace(body, weighed=make.weighed(100.0, (0.0, 0.0, 0.5)))
    assert cover(space(replace(job, vehicle=replace(job.vehicle, bodies=(weighed,))))).drops is None
    low = make.part((0.0, 0.0, 0.26), 1.0, name="low", at_pm=(0.0, 0.0, 0.02))
    for part, told in ((low, False), (replace(low, at_pm=(0.0, 0.0, 0.01)), True)):
        drops = cover(space(unit(places, [make.part(), part], slope=SLOPE))).drops
        assert (drops is not None) is told
    linked = two_pieces(places, slope=SLOPE)
    assert cover(space(linked)).drops is None
    assert cover(space(two_pieces(ODD, slope=SLOPE))).drops == (0.0,) * 5, "all saddles are at one height"


def two_pieces(places: Sequence[Sequence[float]], *, slope: float = 0.0) -> Job:
    """The unit on two mounts to a cradle; the last two places are under that."""
    made = unit(places, [make.part(), make.part(name="frame", body="cradle")], slope=slope)
    mounts = make.mount("left", (0.0, 0.2)), make.mount("right", (0.0, -0.2))
    points = tuple(
        replace(each, body="unit" if number < len(places) - 2 else "cradle")
        for number, each in enumerate(made.vehicle.points)
    )
    return replace(made, vehicle=replace(made.vehicle, joints=mounts, points=points))


def test_as_many_motions_are_judged_as_there_are_ways_to_choose_what_each_turns_about() -> None:
    """A rigid unit turns about two of n places; one of two pieces on two mounts is free in four ways: three of n."""
    assert motion_count(space(unit(ODD))) == comb(5, 2)
    assert motion_count(space(unit(ODD[:4], kept=ODD[4:]))) == comb(5, 2)
    assert motion_count(space(two_pieces(ODD))) == comb(5, 3)
    # Steps on the same stands count once; one in which it is rolled not at all; one on other stands anew.
    same = Stage("stands"), Stage("lighter", off=("more",))
    parts = [make.part(), make.part(name="more")]
    assert motion_count(space(unit(ODD, parts, stages=same))) == comb(5, 2)
    assert motion_count(space(unit(ODD, parts, stages=[replace(each, moved=True) for each in same]))) == 0
    assert motion_count(space(unit(ODD, parts, stages=[replace(same[0], moved=True), same[1]]))) == comb(5, 2)
    away = Stage("stands"), Stage("away", cleared=("A",))
    assert motion_count(space(unit(ODD[:4], stages=away, kept=ODD[4:]))) == comb(5, 2) + comb(4, 2)


def test_what_the_lift_holds_is_not_asked_for_a_margin() -> None:
    """A shell far from its arms' middle beside the unit: its own margins are as small as can be, and do not count."""
    alone = unit(ODD)
    shell = make.part((0.45, 0.0, 0.5), 900.0, name="shell", body="shell")
    both = unit(ODD, [make.part(), shell])
    held = cover(space(replace(both, lift=make.lift_use(CORNERS))))
    plain = cover(space(alone))
    for members in combinations(range(5), 4):
        assert margin(held, members) == pytest.approx(margin(plain, members), abs=1e-9)


def test_a_stand_under_every_point_is_told_by_its_number_from_what_stays() -> None:
    here: Space = space(unit(ODD[:4], kept=ODD[4:]))
    stands = candidates(here)
    assert [candidate(each) for each in stands] == [0, 1, 2, 3]
    assert [(each.at, each.point, each.equipment) for each in stands] == [
        (each.at, each.name, STAND) for each in here.points
    ]
    assert [candidate(each) for each in here.job.supports] == [-1]

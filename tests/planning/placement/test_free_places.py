"""Places that are no points: where a saddle would lie, and what of other assemblies is in its way."""

from dataclasses import replace

import pytest

from loadplan.model.job import Job, Support
from loadplan.model.shop import Square
from loadplan.model.verdict import CheckName, Verdict
from loadplan.planning.placement.free_places import CELL, lower_assemblies, with_free_places
from loadplan.planning.placement.layout import Layout
from loadplan.planning.placement.layout_space import space
from loadplan.planning.placement.proposal import Placement
from loadplan.report.text.placement_page import placement_page
from loadplan.units import System
from tests.planning.jobs import STAND, scattered, with_stand
from tests.planning.placement.test_anywhere import SQUARE, outlined


def test_a_narrow_part_that_comes_off_keeps_cells_away_though_no_corner_of_one_is_under_it() -> None:
    strip = ((0.0, -0.4), (0.004, -0.4), (0.004, 0.4), (0.0, 0.4))
    job = outlined(scattered(3, 4))
    parts = tuple(replace(each, outline=strip) if each.name == "part 0" else each for each in job.vehicle.parts)
    here = with_free_places(space(replace(job, vehicle=replace(job.vehicle, parts=parts)))).space
    middles = [each.at[0] for each in here.points]
    assert all(x < -CELL / 2 or x > 0.004 + CELL / 2 for x in middles)
    assert min(middles) < 0 < max(middles)


def test_a_saddle_at_a_cell_lies_wholly_under_the_assembly() -> None:
    wide = replace(STAND, saddle=Square(0.12, 0.12))
    here = with_free_places(space(with_stand(outlined(scattered(3, 4)), wide))).space
    assert max(abs(each.at[0]) for each in here.points) == pytest.approx(0.5 - 0.06)
    assert max(abs(each.at[1]) for each in here.points) == pytest.approx(0.4 - 0.06)


def with_part(job: Job, bottom: float) -> Job:
    """The outlined job with saddles of 120 x 120, and a part over a field in its middle that stays on."""
    middle = ((-0.2, -0.15), (0.1, -0.15), (0.1, 0.15), (-0.2, 0.15))
    job = with_stand(outlined(job), replace(STAND, saddle=Square(0.12, 0.12)))
    parts = tuple(
        replace(each, outline=middle, bottom=bottom) if each.name == "part 1" else each for each in job.vehicle.parts
    )
    return replace(job, vehicle=replace(job.vehicle, parts=parts))


def test_no_saddle_at_a_cell_reaches_under_a_part_that_comes_off() -> None:
    """Part 0 comes off, over x from 200 and y from 100: with half a saddle of 60 a middle has to stay 60 away."""
    here = with_free_places(space(with_part(scattered(3, 4), 0.3))).space
    assert here.points
    assert not [each for each in here.points if each.at[0] > 0.2 - 0.06 and each.at[1] > 0.1 - 0.06]


def test_a_saddle_at_a_cell_lies_wholly_under_a_part_that_hangs_lower_or_wholly_beside_it() -> None:
    """By hand: over it from -140 to 40 and within 90, beside it from -260, 160 or 210 on; in between it would tilt."""
    here = with_free_places(space(with_part(scattered(3, 4), 0.17))).space
    heights = {each.at[:2]: each.at[2] for each in here.points}
    assert set(heights.values()) == {0.17, 0.2}
    for (x, y), z in heights.items():
        over = -0.14 - 1e-9 <= x <= 0.04 + 1e-9 and abs(y) <= 0.09 + 1e-9
        beside = x < -0.26 or x > 0.16 or abs(y) > 0.21
        assert over if z < 0.2 else beside


def test_a_saddle_at_the_edge_of_an_odd_outline_does_not_stick_out_by_a_rounding() -> None:
    """Inches come out in odd millimetres: 263.46 − 45 rounded to a tenth would be 0.04 too far out."""
    far = 0.26346
    outline = ((-far, -0.4), (far, -0.4), (far, 0.4), (-far, 0.4))
    job = with_stand(outlined(scattered(3, 4)), replace(STAND, saddle=Square(0.09, 0.09)))
    bodies = tuple(replace(each, outline=outline) for each in job.vehicle.bodies)
    here = with_free_places(space(replace(job, vehicle=replace(job.vehicle, bodies=bodies)))).space
    farthest = max(abs(each.at[0]) for each in here.points)
    assert far - 0.045 - 1e-4 < farthest <= far - 0.045


def test_a_stand_that_would_have_to_reach_up_through_another_assembly_is_told() -> None:
    """The frame reaches down to 0.1 over the right half, the unit to 0.2 over all."""
    job = scattered(3, 8, 2)
    right = ((-0.5, -0.4), (0.5, -0.4), (0.5, 0.0), (-0.5, 0.0))
    bodies = tuple(
        replace(each, outline=right if each.name == "frame" else SQUARE, bottom=0.1 if each.name == "frame" else 0.2)
        for each in job.vehicle.bodies
    )
    job = with_stand(replace(job, vehicle=replace(job.vehicle, bodies=bodies)), replace(STAND, saddle=Square(0.1, 0.1)))
    under_unit = [Support("A", job.shop.equipment[0], "", "unit", (0.0, y, 0.2)) for y in (-0.2, 0.04, 0.06)]
    assert [lower_assemblies(job, each) for each in under_unit] == [("frame",), ("frame",), ()]
    assert lower_assemblies(job, replace(under_unit[0], body="frame", at=(0.0, -0.2, 0.1))) == ()
    assert lower_assemblies(replace(job, bodies=("unit",)), under_unit[0]) == ()
    none: frozenset[CheckName] = frozenset()
    layout = Layout((0,), replace(job, supports=(under_unit[0],)), 0.1, 0.1, Verdict.CAUTION, none, none)
    found = Placement(layout, (), None, 1, proven=False, against=(), points=1)
    told = "At A the frame reaches lower, by its outline: only where it is open there."
    assert told in " ".join(placement_page(job, found, System.METRIC).split())
    at_point = replace(job, supports=(replace(under_unit[0], point="point 0"),))
    found = replace(found, answer=replace(layout, job=at_point))
    assert told not in " ".join(placement_page(job, found, System.METRIC).split())

"""A unit weighed as it stands, shared among its assemblies: by hand, by laws, and by chance. Made-up units."""

from dataclasses import replace
from random import Random
from typing import Any

import pytest

from loadplan.model.readings import Estimate, Weighing
from loadplan.model.vehicle import Basis, Body, Part, Place, Vehicle, Weighed
from loadplan.statics.weighed_shares import UnfitShareError, weighed_shares

TRIALS = 2000


def unit(*bodies: tuple[float, float, Place, float]) -> Vehicle:
    """A vehicle of bodies of one part: mass, its plus or minus, place, the same for each coordinate."""
    parts = tuple(
        Part(f"part {number}", f"body {number}", mass, mass_pm, at, (pm, pm, pm), (), Basis.GUESS)
        for number, (mass, mass_pm, at, pm) in enumerate(bodies)
    )
    nouns = tuple(Body(part.body, (), None, None, Basis.GUESS, None) for part in parts)
    return Vehicle("made up", False, nouns, parts, (), ())  # noqa: FBT003


def weighing(mass: float, cg: Place, pm: float = 0.2, cg_pm: float = 0.001, *, high: bool = True) -> Weighing:
    x, y, z = (Estimate(each, cg_pm) for each in cg)
    return Weighing(Estimate(mass, pm), (x, y, z if high else None), None, (), (), (), None)


def shared(vehicle: Vehicle, found: Weighing) -> list[Weighed]:
    return [each for _, each in weighed_shares(vehicle, [body.name for body in vehicle.bodies], found)]


def test_what_is_missing_goes_where_least_was_known() -> None:
    """By hand: 20 kg more than the file says; uncertainties 5 and 10 kg, so shares 25 : 100 of it; JCGM 100, F.1.2."""
    first, second = shared(unit((100, 10, (0, 0, 0), 0), (200, 20, (0, 0, 0), 0)), weighing(320, (0, 0, 0), 1e-6))
    assert (first.mass, second.mass) == pytest.approx((104, 216), abs=1e-3)
    # What is left of either: 25 - 25²/125 = 20 kg², the same of the other, since one is the rest of the other.
    assert (first.mass_pm, second.mass_pm) == pytest.approx((2 * 20**0.5, 2 * 20**0.5), rel=1e-3)


def test_the_shares_add_up_to_the_unit() -> None:
    vehicle = unit(
        (41, 5, (0.1, 0.02, 0.25), 0.03), (290, 20, (-0.1, -0.03, 0.5), 0.02), (30, 9, (0.3, 0.2, 0.6), 0.05)
    )
    found = weighing(352, (-0.04, -0.01, 0.48))
    shares = shared(vehicle, found)
    assert sum(each.mass for each in shares) == pytest.approx(352)
    for axis, at in enumerate((-0.04, -0.01, 0.48)):
        assert sum(each.mass * each.cg[axis] for each in shares) == pytest.approx(352 * at)


def test_one_assembly_is_what_was_weighed() -> None:
    (alone,) = shared(unit((100, 10, (0, 0, 0.4), 0.03)), weighing(120, (0.1, -0.2, 0.5)))
    assert (alone.mass, *alone.cg) == pytest.approx((120, 0.1, -0.2, 0.5))
    assert (alone.mass_pm, *alone.cg_pm) == pytest.approx((0.2, 0.001, 0.001, 0.001), rel=1e-6)


def test_a_height_that_was_not_weighed_stays() -> None:
    vehicle = unit((100, 10, (0, 0, 0.4), 0.03), (200, 20, (0.5, 0, 0.6), 0.02))
    first, second = shared(vehicle, weighing(320, (0.3, 0, 9.9), high=False))
    assert (first.cg[2], first.cg_pm[2]) == pytest.approx((0.4, 0.03))
    assert (second.cg[2], second.cg_pm[2]) == pytest.approx((0.6, 0.02))
    assert first.mass * first.cg[0] + second.mass * second.cg[0] == pytest.approx(320 * 0.3)


def test_nothing_is_known_worse_than_before_and_never_better_than_exactly() -> None:
    vehicle = unit((100, 10, (0, 0, 0.4), 0.03), (200, 0, (0.5, 0, 0.6), 0))
    first, second = shared(vehicle, weighing(300, (1 / 3, 0, 16 / 30)))
    assert 0 < first.mass_pm < 10
    assert 0 < second.mass_pm < 0.01


def test_a_unit_too_light_for_what_is_in_it_is_not_shared() -> None:
    vehicle = unit((100, 10, (0, 0, 0.4), 0.03), (200, 60, (0, 0, 0.4), 0.02))
    assert shared(vehicle, weighing(120, (0, 0, 0.4)))[1].mass > 0
    with pytest.raises(UnfitShareError, match="body 1") as told:
        shared(vehicle, weighing(90, (0, 0, 0.4)))
    assert told.value.body == "body 1"


@pytest.mark.parametrize("lost", [{"mass": None}, {"cg": (None, Estimate(0.0, 0.1), None)}])
def test_without_mass_or_place_in_plan_nothing_is_shared(lost: dict[str, Any]) -> None:
    found = replace(weighing(100, (0, 0, 0.4)), **lost)
    with pytest.raises(ValueError, match=r"^a weighing without mass, or without place in plan$"):
        shared(unit((100, 10, (0, 0, 0.4), 0.03)), found)


def test_what_is_stated_covers_the_truth_in_95_of_100_units() -> None:
    """Units of which the file knows each assembly within its plus or minus, weighed by scales that may be off."""
    random, covered = Random(20261129), [0] * 8
    truth = ((60.0, (0.30, 0.05, 0.25)), (250.0, (-0.10, -0.04, 0.50)))
    spreads = ((8.0, 0.030), (25.0, 0.020))
    mass = sum(each for each, _ in truth)
    cg = [sum(each * at[axis] for each, at in truth) / mass for axis in range(3)]
    for _ in range(TRIALS):
        told = [
            (random.gauss(each, pm / 2), pm, tuple(random.gauss(x, off / 2) for x in at), off)
            for (each, at), (pm, off) in zip(truth, spreads, strict=True)
        ]
        x, y, z = (random.gauss(each, 0.002) for each in cg)
        shares = shared(unit(*told), weighing(random.gauss(mass, 0.25), (x, y, z), 0.5, 0.004))  # type: ignore[arg-type]
        pairs = [
            (abs(value - true), pm)
            for share, (each, at) in zip(shares, truth, strict=True)
            for value, true, pm in zip((share.mass, *share.cg), (each, *at), (share.mass_pm, *share.cg_pm), strict=True)
        ]
        covered = [count + (off <= pm) for count, (off, pm) in zip(covered, pairs, strict=True)]
    # k = 2 of a normal distribution; the moment of an uncertain mass at an uncertain place is not quite one.
    assert [count / TRIALS for count in covered] == pytest.approx([0.9545] * 8, abs=0.02)

"""Masses and centres of gravity, as given and inside tolerance."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadplan.model.job import Job, Stage
from loadplan.statics.mass import Lump, cg_box, lumps, mass_and_cg, off_before, upper_mass
from tests.examples import examples
from tests.statics import builders as make

LB, FT = 0.45359237, 0.3048


def made_of(job: Job) -> tuple[Lump, ...]:
    return lumps(job, make.state(job))


def test_a_block_with_a_hole_and_a_wedge() -> None:
    """Baker and Haynes, Engineering Statics, ch. 7, 3d-center-of-mass: (-3.22, 2.59, 3.37) ft, 26 633 lb.

    Tolerance: the printed two decimals of a foot. The hole is a part taken from a block weighed whole.
    """
    hole = make.part((-3 * FT, 2 * FT, 6 * FT), 6283 * LB, name="hole", body="block")
    wedge = make.part((-4 * FT, 4.67 * FT, 1 * FT), 5916 * LB, name="wedge", body="wedge")
    whole = {"block": make.weighed(27000 * LB, (-3 * FT, 2 * FT, 4.5 * FT))}
    job = make.job([hole, wedge], whole=whole, stages=[Stage("hole out", off=("hole",))])
    mass, cg = mass_and_cg(made_of(job))
    assert mass / LB == pytest.approx(26633)
    assert [each / FT for each in cg] == pytest.approx([-3.22, 2.59, 3.37], abs=0.006)  # printed to 0.01 ft


def test_a_weighed_body_counts_its_parts_only_when_they_are_off() -> None:
    parts = [make.part((1, 0), 10.0, name="lid"), make.part((0, 1), 20.0, name="pan")]
    whole = {"unit": make.weighed(100.0, (0.0, 0.0, 0.5), mass_pm=2.0)}
    job = make.job(parts, whole=whole, stages=[Stage("all on"), Stage("lid off", off=("lid",))])
    before, after = (lumps(job, make.state(job, number)) for number in (0, 1))
    (whole_unit,) = before
    assert (whole_unit.part, whole_unit.sign) == ("", 1)
    assert (whole_unit.low, whole_unit.high) == pytest.approx((98.0, 102.0))
    assert [(each.part, each.sign) for each in after] == [("", 1), ("lid", -1)]
    assert mass_and_cg(after) == (pytest.approx(90.0), pytest.approx((-1 / 9, 0.0, 0.5)))


def test_in_any_order_a_part_may_still_be_on_but_does_not_count() -> None:
    parts = [make.part((0, 0), 50.0, name="block"), make.part((1, 0), 10.0, name="lid", mass_pm=1.0)]
    job = make.job(parts, stages=[Stage("lid off", off=("lid",), any_order=True)])
    block, lid = made_of(job)
    assert (block.counts, block.optional, lid.counts, lid.optional) == (True, False, False, True)
    assert mass_and_cg((block, lid)) == (pytest.approx(50.0), pytest.approx((0.0, 0.0, 0.5)))
    assert upper_mass((block, lid)) == pytest.approx(61.0)


def test_a_weighed_body_may_still_have_the_part_that_any_order_takes_off() -> None:
    parts = [make.part((1, 0), 10.0, name="lid", mass_pm=1.0), make.part((1, 0), 5.0, name="cap", mass_pm=1.0)]
    whole = {"unit": make.weighed(100.0, (0.0, 0.0, 0.5), mass_pm=2.0)}
    stages = [Stage("cap off", off=("cap",)), Stage("lid off", off=("lid",), any_order=True)]
    job = make.job(parts, whole=whole, stages=stages)
    assert mass_and_cg(made_of(job))[0] == pytest.approx(85.0)
    assert upper_mass(made_of(job)) == pytest.approx(102.0 - 4.0)


def test_parts_that_come_off_in_any_order_are_paired_with_what_must_be_off_before() -> None:
    """Only where that too may be either way: what was off before needs no pair."""
    parts = [
        make.part(name="block"),
        make.part(name="pan", after=("cover", "cap")),
        make.part(name="cover", after=("cap",)),
        make.part(name="cap"),
    ]
    stages = [Stage("cap off", off=("cap",)), Stage("rest off", off=("pan", "cover"), any_order=True)]
    job = make.job(parts, stages=stages)
    own = made_of(job)
    assert [(own[part].part, own[other].part) for part, other in off_before(job, own)] == [("pan", "cover")]


def test_nothing_left_has_no_centre() -> None:
    with pytest.raises(ZeroDivisionError):
        mass_and_cg(())


masses = st.floats(10, 100)
places = st.tuples(*[st.floats(-1, 1)] * 3)
spreads = st.tuples(*[st.floats(0, 0.05)] * 3)


@examples(20)
@given(st.lists(st.tuples(masses, st.floats(0, 0.4), places, spreads), min_size=1, max_size=3), st.booleans())
def test_the_box_of_a_centre_is_that_over_every_corner_of_the_tolerances(
    given: list[tuple[float, float, tuple[float, float, float], tuple[float, float, float]]],
    weighed: bool,  # noqa: FBT001
) -> None:
    """Sum m x / Sum m is linear fractional in masses and moments, so its ends are at corners."""
    parts = [
        make.part(at, mass, name=f"part {number}", mass_pm=share * mass, at_pm=at_pm)
        for number, (mass, share, at, at_pm) in enumerate(given)
    ]
    whole = {"unit": make.weighed(1000.0, (0.1, 0.2, 0.3), mass_pm=5.0, cg_pm=(0.01, 0.0, 0.02))}
    off = tuple(each.name for each in parts) if weighed else ()
    own = made_of(make.job(parts, whole=whole if weighed else None, stages=[Stage("off", off=off)]))
    _, cg = mass_and_cg(own)
    for axis in range(3):
        furthest = 0.0
        for signs in product((-1, 1), repeat=2 * len(own)):
            each = [
                (lump.sign * (lump.low if sign < 0 else lump.high), lump.at[axis] + side * lump.at_pm[axis])
                for lump, sign, side in zip(own, signs[::2], signs[1::2], strict=True)
            ]
            centre = sum(mass * at for mass, at in each) / sum(mass for mass, _ in each)
            furthest = max(furthest, abs(centre - cg[axis]))
        assert cg_box(own)[axis] == pytest.approx(furthest, abs=1e-12)

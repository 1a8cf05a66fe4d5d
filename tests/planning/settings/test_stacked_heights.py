"""Stands on an assembly are set over that."""

from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

from loadplan.files import read_job
from loadplan.model.job import Stack, Support
from loadplan.model.shop import Heights
from loadplan.planning.settings.set_heights import HeightPlan, plan_heights
from loadplan.planning.settings.stacked_heights import set_over
from tests.checks.small_jobs import Raw, judged, stands
from tests.files.test_feet import FEET, stacked
from tests.reference.random_jobs import write_job
from tests.statics import builders as make


def planned(raw: Raw, folder: Path) -> HeightPlan:
    return plan_heights(read_job(write_job(raw, folder)))


def heights(plan: HeightPlan, names: str) -> list[float]:
    found = {each.support.name: each.support.height for each in plan.settings}
    return [found[name] or 0.0 for name in names]


def in_steps(*heights: float) -> Raw:
    """The stacked unit with stands that can be set to some heights only [mm]."""
    raw = stacked({})
    raw["equipment"] = [*raw["equipment"], raw["equipment"][0] | {"name": "low stand", "heights": list(heights)}]
    for each in raw["support"][4:]:
        each["use"] = "low stand"
    return raw


def test_they_are_set_over_the_top_of_the_assembly(tmp_path: Path) -> None:
    """By hand: 700 less the cradle's top at 500, whatever the cradle is set to; so set, all gaps are nothing."""
    plan = planned(stacked(dict.fromkeys("EFG", 290.0)), tmp_path)
    assert heights(plan, "EFG") == pytest.approx([0.2] * 3)
    assert [each.support.name for each in plan.settings] == list("ABCDEFG")
    gaps = judged(stacked(dict.fromkeys("EFG", 200.0)), tmp_path).stages[0].statics.gaps
    assert [gaps[name] for name in "EFG"] == pytest.approx([0.0] * 3)


def test_all_a_little_higher_is_more_even_than_each_as_near_as_can_be(tmp_path: Path) -> None:
    """By hand: places at 200, 200 and 204 over the top, steps of 20 from 190.

    All 10 lower, one is off by 4; 8 lower, each by 2.
    """
    raw = in_steps(190, 210, 230)
    raw["support"][6]["at"] = [*FEET["G"][:2], 704]
    plan = planned(raw, tmp_path)
    misfits = {each.support.name: each.misfit for each in plan.settings}
    assert [abs(misfits[name]) for name in "EFG"] == pytest.approx([0.002] * 3)
    assert len(set(heights(plan, "EFG"))) == 1


def test_what_stands_on_the_floor_too_stays_where_the_file_has_it(tmp_path: Path) -> None:
    """By hand: of 190 and 240 the nearer to 200, 10 low; alone on the cradle it would simply stand 10 lower."""
    raw = in_steps(190, 240)
    alone = {each.support.name: each.misfit for each in planned(raw, tmp_path).settings}
    assert alone["E"] == pytest.approx(0.0)
    raw["support"] += stands({"H": [-450, 0, 600]}, "unit")
    raw["stage"][0]["in_place"].append("H")
    mixed = {each.support.name: each.misfit for each in planned(raw, tmp_path).settings}
    assert [mixed[name] for name in "EFG"] == pytest.approx([-0.010] * 3)


def over(need: float, name: str = "A", *, shim: float = 0.0, levels: tuple[float, ...] = ()) -> Support:
    """A stand on the cradle, under a place so high over its foot; stepless from 200 to 400 mm, or with levels."""
    heights = Heights(levels[0], levels[-1], levels) if levels else Heights(0.2, 0.4, ())
    use = replace(make.STAND, heights=heights)
    seat = make.support(name, (0.0, 0.0, 0.5 + need + shim), use=use, on="cradle")
    return replace(seat, foot=0.5, shim=Stack(shim, "", crib=False) if shim else None)


def set_at(*seats: Support, others: tuple[Support, ...] = ()) -> list[tuple[float, float]]:
    job = make.job([make.part()], (*seats, *others))
    return [(each.height or 0.0, misfit) for each, misfit in set_over(job, seats)]


def test_a_stepless_stand_is_set_to_its_place_less_what_lies_on_it() -> None:
    """The lowest setting, 200 mm, is within reach of a level 50 mm lower: nobody asks for that."""
    assert set_at(over(0.25), over(0.26, "B", shim=0.012)) == [pytest.approx((0.25, 0.0)), pytest.approx((0.26, 0.0))]


def test_where_one_does_not_go_down_so_far_all_stand_higher() -> None:
    """By hand: places at 170 and 220 mm, from 200 mm on: 30 mm higher both fit."""
    assert set_at(over(0.17), over(0.22, "B")) == [pytest.approx((0.2, 0.0)), pytest.approx((0.25, 0.0))]


@pytest.mark.parametrize(("need", "fits"), [(0.1401, True), (0.1399, False)])
def test_no_further_than_three_steps(need: float, fits: bool) -> None:  # noqa: FBT001
    """60 mm higher at most."""
    ((height, misfit),) = set_at(over(need))
    assert height == pytest.approx(0.2)
    assert misfit == pytest.approx(0.0 if fits else 0.2 - need)


@pytest.mark.parametrize("foot", [0.5, 1.0])
def test_three_steps_to_the_tenth_of_a_millimetre_are_no_further_wherever_it_stands(foot: float) -> None:
    """In binary numbers 1140 less 1000 mm is a little less than 640 less 500."""
    seat = replace(over(0.14), at=(0.0, 0.0, round(foot + 0.14, 3)), foot=foot)
    assert set_at(seat) == [(0.2, 0.0)]


@pytest.mark.parametrize("seed", range(10))
def test_in_steps_no_level_is_more_even_and_none_as_even_is_nearer(seed: int) -> None:
    """Against every tenth of a millimetre from 60 mm lower to 60 mm higher."""
    luck = Random(seed)
    levels = tuple(0.2 + 0.02 * step for step in range(8))
    needs = [round(luck.uniform(0.2, 0.34), 4) for _ in range(3)]
    told = set_at(*(over(need, name, levels=levels) for need, name in zip(needs, "ABC", strict=True)))

    def uneven(level: float) -> float:
        return max(min(abs(each - need - level) for each in levels) for need in needs)

    tried = [step / 1e4 for step in range(-600, 601)]
    assert max(abs(misfit) for _, misfit in told) <= min(map(uneven, tried)) + 1e-9
    shift = [height - need - misfit for (height, misfit), need in zip(told, needs, strict=True)]
    assert shift == pytest.approx([shift[0]] * 3)
    nearer = [level for level in tried if abs(level) < abs(shift[0]) - 2e-4]
    assert all(uneven(level) > max(abs(misfit) for _, misfit in told) - 1e-9 for level in nearer)


def test_beside_a_stand_on_the_floor_they_are_set_as_near_as_can_be() -> None:
    floor = make.support("F", (1.0, 0.0))
    assert set_at(over(0.17), over(0.22, "B"), others=(floor,)) == [
        pytest.approx((0.2, 0.03)),
        pytest.approx((0.22, 0.0)),
    ]
    elsewhere = make.support("F", (1.0, 0.0), body="cradle")
    assert set_at(over(0.17), others=(elsewhere,)) == [pytest.approx((0.2, 0.0))]


def test_nothing_is_never_told_as_less_than_nothing() -> None:
    """A place that is a hundredth of a nanometre higher than a setting."""
    ((_, misfit),) = set_at(over(0.2 + 1e-11, levels=(0.2, 0.3)))
    assert str(misfit) == "0.0"

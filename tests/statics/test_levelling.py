"""Levelling: the one stand that is set anew, by hand, on three stands that give next to nothing."""

from dataclasses import replace

import pytest

from loadplan.model.job import Job, Support
from loadplan.model.shop import EquipmentKind, Heights
from loadplan.statics.levelling import REACH, Reset, reset_for_level
from tests.statics import builders as make

STIFF = replace(make.STAND, stiffness=1e10)
PLACES = {"A": (0.5, 0.4), "B": (0.5, -0.4), "C": (-0.5, 0.0)}


def three(**of_c: object) -> tuple[Support, ...]:
    """Two stands in front, one a metre behind them."""
    seats = [make.support(name, at, use=STIFF) for name, at in PLACES.items()]
    return (*seats[:2], replace(seats[2], **of_c))  # type: ignore[arg-type]


def reset(low: float, stands: tuple[Support, ...] | None = None, body: str = "unit") -> Reset | None:
    """What levels the unit with C so much too low [m]."""
    job: Job = make.job([make.part()], stands or three())
    return reset_for_level(job, make.state(job), {"A": 0.0, "B": 0.0, "C": low}, body)


@pytest.mark.parametrize("millimetres", [1, 7, 18, -5, -29])
def test_the_low_stand_is_raised_by_what_it_is_low_and_the_high_one_lowered(millimetres: int) -> None:
    found = reset(millimetres / 1e3)
    assert found is not None
    assert (found.support.name, found.change) == ("C", pytest.approx(millimetres / 1e3))
    assert found.left == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("side", [1, -1])
def test_no_stand_is_set_by_more_than_so_many_millimetres(side: int) -> None:
    """A metre behind the others each millimetre that is left is a thousandth."""
    found = reset(side * 0.040)
    assert found is not None
    assert (found.support.name, found.change) == ("C", pytest.approx(side * REACH / 1e3))
    assert found.left == pytest.approx(0.010, abs=1e-6)
    assert REACH == 30


def test_the_nearest_whole_millimetre_is_told_with_what_it_leaves() -> None:
    found = reset(0.0073)
    assert found is not None
    assert found.change == pytest.approx(0.007)
    assert found.left == pytest.approx(0.0003, abs=1e-6)


def test_a_level_unit_needs_none() -> None:
    level = reset(0.0)
    assert level is None or level.left < 1e-6


@pytest.mark.parametrize(
    ("heights", "height", "change"),
    [
        (Heights(0.1, 0.9, ()), 0.300, 0.007),
        (Heights(0.1, 0.304, ()), 0.300, 0.007),
        (Heights(0.1, 0.270, ()), 0.300, None),
        (Heights(0.1, 0.276, ()), 0.300, 0.006),
        (Heights(0.1, 0.300, (0.1, 0.2, 0.3)), 0.300, 0.007),
        (None, 0.300, 0.007),
        (Heights(0.1, 0.2, ()), None, 0.007),
    ],
)
def test_a_stand_goes_as_high_as_it_turns_with_shims_some_way_over_that(
    heights: Heights | None, height: float | None, change: float | None
) -> None:
    """Shims lie up to 30 mm over its highest setting."""
    found = reset(0.007, three(equipment=replace(STIFF, heights=heights), height=height))
    if change is None:
        assert found is None or found.support.name != "C"
    else:
        assert found is not None
        assert (found.support.name, found.change) == ("C", pytest.approx(change))


@pytest.mark.parametrize(
    ("heights", "change"),
    [(Heights(0.1, 0.9, ()), -0.007), (Heights(0.295, 0.9, ()), -0.005), (Heights(0.295, 0.9, (0.295, 0.9)), -0.005)],
)
def test_below_its_lowest_setting_no_stand_goes(heights: Heights, change: float) -> None:
    found = reset(-0.007, three(equipment=replace(STIFF, heights=heights), height=0.300))
    assert found is not None
    assert (found.support.name, found.change) == ("C", pytest.approx(change))


@pytest.mark.parametrize(("low", "told"), [(0.140, True), (0.160, False)])
def test_what_takes_away_less_than_a_fifth_is_not_worth_telling(low: float, told: bool) -> None:  # noqa: FBT001
    """The reach of 30 mm is more than a fifth of 140 mm, and less than one of 160 mm."""
    assert (reset(low) is not None) is told


def test_a_hoist_is_not_set() -> None:
    hung = reset(0.007, three(equipment=replace(STIFF, kind=EquipmentKind.HOIST)))
    assert hung is None or hung.support.name != "C"


@pytest.mark.parametrize("bolted", [True, False])
def test_only_a_stand_under_what_is_bolted_to_it_is_set_to_level_it(bolted: bool) -> None:  # noqa: FBT001
    """C stands under another body, which is bolted to the unit, or hangs on it by two mounts."""
    parts = [make.part(), make.part((-0.4, 0.0), 10.0, name="other", body="other")]
    under = tuple(replace(each, body="other") if each.name == "C" else each for each in three())
    mounts = [make.mount(f"mount {y}", (-0.2, y), ("unit", "other"), stiffness=1e9) for y in (0.2, -0.2)]
    joints = (
        [make.bolts("bolts", ("unit", "other"))]
        if bolted
        else [*mounts, make.mount("rear", (-0.4, 0.0), ("unit", "other"), stiffness=1e9)]
    )
    job = make.job(parts, under, joints=joints)
    found = reset_for_level(job, make.state(job), {"A": 0.0, "B": 0.0, "C": 0.007}, "unit")
    assert (found is not None and found.support.name == "C") is bolted

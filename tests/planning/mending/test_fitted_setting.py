"""How a piece is set as near as it goes to a height: by steps or by turning, with a plate or without."""

from dataclasses import replace

import pytest

from loadplan.limits import TAPE
from loadplan.model.job import Stack
from loadplan.planning.mending.fitted_setting import (
    FINEST_US,
    NEAR,
    FittedSetting,
    finest,
    fitted,
    level_of_others,
    other_settings,
    settings_near,
)
from tests.planning.mending.plans import RATCHET, SCREW, but, plan, stand, steel

METRIC = plan()
US = replace(METRIC, us_units=True)
BARE = replace(RATCHET, name="bare stand", heights=None)
THICK, THIN = steel(0.012), steel(0.006)


def test_in_millimetres_and_in_eighths_of_an_inch() -> None:
    assert (finest(METRIC), finest(US)) == (0.001, 0.003175)


def test_a_piece_of_which_no_heights_are_known_goes_to_any_that_can_be_set() -> None:
    assert settings_near(METRIC, BARE, 0.3337) == [FittedSetting(0.334, None)]
    assert settings_near(US, BARE, 0.3337) == [FittedSetting(pytest.approx(105 * FINEST_US), None)]  # type: ignore[arg-type]
    assert fitted(METRIC, BARE, 0.3337).total == pytest.approx(0.334)


def test_a_piece_in_steps_has_each_setting_without_and_with_each_plate() -> None:
    assert RATCHET.heights is not None
    found = settings_near(METRIC, RATCHET, 0.9)
    assert [(each.height, each.shim) for each in found] == [
        (height, plate) for plate in (None, THICK, THIN) for height in RATCHET.heights.settings
    ]


def test_a_piece_that_turns_is_set_as_near_as_it_goes_less_each_plate() -> None:
    """It goes from 300 mm to 600 mm."""
    rows = {0.4: (0.4, 0.388, 0.394), 0.305: (0.305, 0.3, 0.3), 0.7: (0.6, 0.6, 0.6), 0.2: (0.3, 0.3, 0.3)}
    for total, heights in rows.items():
        found = settings_near(METRIC, SCREW, total)
        assert [each.height for each in found] == pytest.approx(heights)
        assert [each.shim for each in found] == [None, THICK, THIN]
    assert FittedSetting(0.388, THICK).total == pytest.approx(0.4)
    assert FittedSetting(0.388, None).total == pytest.approx(0.388)


@pytest.mark.parametrize(
    ("total", "height", "plate"),
    [
        (0.331, 0.33, None),
        (0.3365, 0.33, THIN),
        (0.3415, 0.33, THICK),
        (0.35, 0.35, None),
        (0.333, 0.33, None),
        (0.46, 0.43, THICK),
    ],
)
def test_what_comes_nearest_is_taken_and_of_those_alike_the_one_without_a_plate(
    total: float, height: float, plate: Stack | None
) -> None:
    """3 mm too low without a plate are as good as 3 mm too high with one of 6 mm."""
    assert fitted(METRIC, RATCHET, total) == FittedSetting(pytest.approx(height), plate)  # type: ignore[arg-type]


def test_other_settings_are_those_near_the_heights_asked_about_each_height_once() -> None:
    now = stand("A", "front left", height=0.33)
    found = other_settings(METRIC, now, [0.33])
    assert [round(1000 * each.total) for each in found] == [310, 350, 322, 342, 316, 336]
    assert all(abs(each.total - 0.33) <= NEAR for each in found)
    # Those that it has within what a tape tells are no others.
    assert all(abs(each.total - 0.33) > TAPE for each in found)
    both = other_settings(METRIC, now, [0.33, 0.37])
    assert [round(1000 * each.total) for each in both] == [310, 350, 322, 342, 316, 336, 370, 390, 362, 382, 356, 376]


def test_a_piece_that_turns_is_tried_a_few_steps_up_and_down() -> None:
    now = stand("A", "front left", SCREW, 0.4)
    steps = [round(1000 * each.total) for each in other_settings(METRIC, now, [0.4]) if each.shim is None]
    assert steps == [399, 401, 398, 402, 397, 403, 395, 405, 390, 410]
    eighths = [each.total / FINEST_US for each in other_settings(US, now, [0.4]) if each.shim is None]
    assert [round(each) for each in eighths] == [125, 127, 124, 128, 123, 129, 121, 131]
    assert eighths == pytest.approx([round(each) for each in eighths])


def test_the_height_that_it_has_is_told_as_another_where_its_piece_cannot_be_set_to_it() -> None:
    """It goes to 430 mm: 442 mm takes a plate of 12 mm, whatever the plan says."""
    beyond = stand("A", "front left", height=0.442)
    found = [(round(each.height, 6), each.shim) for each in other_settings(METRIC, beyond, [0.442])]
    assert found == [(0.43, None), (0.41, THICK), (0.43, THICK), (0.43, THIN)]
    there = replace(stand("A", "front left", height=0.43), shim=THICK)
    assert FittedSetting(pytest.approx(0.43), THICK) not in other_settings(METRIC, there, [0.442])  # type: ignore[arg-type]
    turning = stand("A", "front left", SCREW, 0.25)
    assert any(each.total == pytest.approx(0.3) for each in other_settings(METRIC, turning, [0.3]))
    unknown = stand("A", "front left", BARE, 0.33)
    assert all(abs(each.total - 0.33) > TAPE for each in other_settings(METRIC, unknown, [0.33]))


def test_the_level_of_the_others_is_their_median_under_the_same_body() -> None:
    """The places are 200 mm high."""
    heights = (0.33, 0.35, 0.39)
    a, b, c, d = but()
    set_up = [replace(each, height=height) for each, height in zip((b, c, d), heights, strict=True)]
    job = plan(a, *set_up)
    assert level_of_others(job, a) == pytest.approx(0.15)
    assert level_of_others(job, set_up[2]) == pytest.approx(0.13)  # 0.13, 0.13, 0.15
    elsewhere = plan(replace(a, body="frame"), *set_up)
    assert level_of_others(elsewhere, elsewhere.supports[0]) == pytest.approx(0.15)
    mixed = plan(a, replace(set_up[0], body="frame"), replace(set_up[1], on="frame"), set_up[2])
    assert level_of_others(mixed, a) == pytest.approx(0.19)
    assert level_of_others(plan(a, *(replace(each, height=None) for each in set_up)), a) is None

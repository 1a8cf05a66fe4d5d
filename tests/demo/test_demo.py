"""Each demo job gets the verdict it was made for, and for that reason. The scenarios are invented."""

import pytest
from shapely import MultiPoint

from loadplan.model.job import Job, Support
from tests.demo.jobs import answer, body, job, loads_kg, names, reasons, stage

MADE_FOR = {
    "front-unit": ("holds", set()),
    "rocking-on-two-stands": ("stop", {"balance", "undoing"}),
    "drive-unit-on-oil": ("caution", {"jack holding"}),
    "us-units": ("holds", set()),
    "weighed-unit": ("holds", set()),
    "heights-open": ("holds", set()),
    "battery-pack-table": ("holds", set()),
    "battery-pack-stands": ("holds", set()),
    "shell-nose-off-prop": ("holds", set()),
    "shell-nose-off": ("caution", {"lift"}),
}
FREE = ("Tail stand set", "Van raised", "Gearbox, flywheel", "Overnight", "Oil pump, flywheel", "Van down")
BARE = ("Gearbox, flywheel", "Overnight")
"""The steps in which the gearbox is off, and with it the stand under its tail."""


@pytest.mark.parametrize("name", MADE_FOR)
def test_each_job_gets_the_verdict_it_was_made_for_and_for_that_reason(name: str) -> None:
    verdict, checks = MADE_FOR[name]
    told = answer(name)["verdict"]
    assert (told, reasons(name, "stop") | reasons(name, "caution")) == (verdict, checks)


def test_every_job_that_ships_was_made_for_something() -> None:
    assert names() == sorted(MADE_FOR)


@pytest.mark.parametrize("name", names())
def test_every_job_says_that_it_is_invented(name: str) -> None:
    assert answer(name)["basis"] == "example"
    assert job(name).vehicle.example


@pytest.mark.parametrize("name", names())
def test_all_set_saddles_touch_evenly(name: str) -> None:
    gaps = [_gap(each) for each in job(name).supports if each.set_height is not None]
    assert gaps == pytest.approx([gaps[0]] * len(gaps), abs=1e-9) if gaps else _touches(job(name))


def _gap(support: Support) -> float:
    return support.at[2] - (support.set_height or 0.0)


def _touches(judged: Job) -> bool:
    return all(each.height is None for each in judged.supports)


# ---- the front unit on six stands ----------------------------------------------------------------


def test_the_front_unit_holds_in_every_one_of_its_nine_steps() -> None:
    stages = answer("front-unit")["stages"]
    assert len(stages) == 9
    assert {each["verdict"] for each in stages} == {"holds"}


def test_the_front_unit_weighs_what_a_diesel_with_its_gearbox_and_cradle_weighs() -> None:
    free = stage("front-unit", "Tail stand set")
    assert body(free, "powertrain")["mass_kg"] == pytest.approx(276, abs=2)
    assert body(free, "cradle")["mass_kg"] == pytest.approx(63, abs=1)


def test_the_front_unit_loads_its_six_stands_as_it_should() -> None:
    told = loads_kg(stage("front-unit", "Tail stand set"))
    wanted = {"A": 77.0, "B": 76.0, "C": 45.0, "D": 43.0, "E": 33.0, "F": 65.0}
    assert {name: told[name] for name in wanted} == pytest.approx(wanted, abs=3)


def test_all_six_stands_take_some_of_it_before_it_is_unbolted() -> None:
    told = loads_kg(stage("front-unit", "Set down"))
    assert min(told[name] for name in "ABCDEF") > 5


@pytest.mark.parametrize("starts", FREE)
def test_cradle_and_powertrain_are_each_held_at_three_places_or_more_not_in_one_line(starts: str) -> None:
    told = stage("front-unit", starts)
    for name in ("cradle", "powertrain"):
        stands = [each["at_mm"][:2] for each in told["supports"] if each["body"] == name]
        mounts = [each["at_mm"][:2] for each in told["joints"] if set(each["between"]) == {"cradle", "powertrain"}]
        places = MultiPoint([*stands, *mounts])
        assert len(places.geoms) >= 3
        assert places.convex_hull.area > 300 * 300  # mm²: far from a line


@pytest.mark.parametrize("starts", FREE)
def test_the_powertrain_stays_more_than_100_mm_from_tipping_in_the_worst_case(starts: str) -> None:
    powertrain = body(stage("front-unit", starts), "powertrain")
    assert 100 < powertrain["worst_margin_mm"] < powertrain["margin_mm"]
    assert powertrain["tip_angle_deg"] > 30


@pytest.mark.parametrize("starts", FREE)
def test_the_tail_stays_propped_while_the_nose_is_light(starts: str) -> None:
    assert {"tail stand", "tail prop"} & set(loads_kg(stage("front-unit", starts)))


def test_the_prop_carries_next_to_nothing_as_long_as_nothing_moves() -> None:
    told = [loads_kg(stage("front-unit", starts)) for starts in FREE]
    assert max(each.get("tail stand", 0.0) + each.get("tail prop", 0.0) for each in told) < 10


def test_the_lift_is_lowered_well_inside_the_window() -> None:
    window = stage("front-unit", "Set down")["set_down"]
    assert window["from_mm"] + 1 < window["lowered_mm"] < window["to_mm"] - 1


def test_the_stand_under_the_gearboxs_tail_is_gone_as_long_as_the_gearbox_is() -> None:
    gone = {starts for starts in FREE if "F" not in loads_kg(stage("front-unit", starts))}
    assert gone == set(BARE)


@pytest.mark.parametrize("starts", BARE)
def test_with_its_gearbox_off_the_engine_goes_over_its_mounts_without_the_stand_at_the_sump_rail(starts: str) -> None:
    gone = next(each for each in stage("front-unit", starts)["lost"] if each["support"] == "E")
    assert not gone["balanced"]
    assert gone["turns_about"] == ["left engine mount", "right engine mount"]


# ---- the others ----------------------------------------------------------------------------------


def test_engine_and_gearbox_on_two_stands_and_one_level_link_rock() -> None:
    free = stage("rocking-on-two-stands", "Tail stand set")
    assert free["verdict"] == "stop"
    assert not body(free, "powertrain")["balanced"]
    (proof,) = (each for each in free["proof"] if "free" in each)
    turn = proof["free"]["powertrain"]
    assert abs(turn["rx"]) + abs(turn["ry"]) > 0
    for each in free["supports"]:
        if each["body"] == "powertrain":
            x, y, _ = (each / 1000 for each in each["at_mm"])
            assert turn["w"] + turn["rx"] * y - turn["ry"] * x == pytest.approx(0, abs=1e-9)


def test_still_bolted_the_rocking_unit_holds() -> None:
    assert stage("rocking-on-two-stands", "Set down")["verdict"] == "holds"


def test_the_bottle_jack_is_the_only_thing_wrong_with_three_stands_and_a_jack() -> None:
    for told in answer("drive-unit-on-oil")["stages"]:
        subjects = {each["subject"] for each in told["findings"] if each["verdict"] in {"caution", "stop"}}
        assert subjects == ({"D"} if "D" in loads_kg(told) else set())


def test_without_the_oil_the_drive_unit_goes_over() -> None:
    free = stage("drive-unit-on-oil", "Tail stand set")
    gone = next(each for each in free["lost"] if each["support"] == "D")
    assert (gone["balanced"], gone["turns_about"]) == (False, ["B", "C"])


def test_the_us_job_is_written_in_us_units_and_its_stands_carry_all_of_459_lb() -> None:
    assert job("us-units").us_units
    pound = 0.45359237  # international avoirdupois pound [kg], exact
    assert sum(loads_kg(stage("us-units", "On four stands")).values()) == pytest.approx(459 * pound, rel=1e-9)


def test_what_comes_off_a_weighed_unit_is_taken_from_its_weighing() -> None:
    whole, less = (stage("weighed-unit", starts) for starts in ("Set down", "Head off"))
    assert body(whole, "engine with gearbox")["mass_kg"] == pytest.approx(312)
    assert body(less, "engine with gearbox")["mass_kg"] == pytest.approx(312 - (9 + 13 + 11 + 7 + 31))


@pytest.mark.parametrize("name", ["battery-pack-table", "battery-pack-stands"])
def test_the_pack_stands_on_four_places_that_carry_all_of_it(name: str) -> None:
    free = stage(name, "Pack bolts out")
    places = [each["name"] for each in free["supports"] if each["body"] == "battery pack"]
    assert len(places) == 4
    assert sum(loads_kg(free)[each] for each in places) == pytest.approx(455, rel=1e-9)


def test_the_table_is_one_piece() -> None:
    assert {each.piece for each in job("battery-pack-table").supports} == {"table"}


@pytest.mark.parametrize("name", ["shell-nose-off", "shell-nose-off-prop"])
def test_with_its_nose_off_the_pickup_is_tail_heavy(name: str) -> None:
    lift = stage(name, "Nose off")["lift"]
    assert lift["shift_mm"] > 100


def test_the_same_nose_comes_off_with_and_without_the_prop() -> None:
    bare, propped = (stage(name, "Nose off") for name in ("shell-nose-off", "shell-nose-off-prop"))
    assert bare["lift"]["cg_mm"] == pytest.approx(propped["lift"]["cg_mm"])
    assert set(loads_kg(propped)) - set(loads_kg(bare)) == {"tail prop"}

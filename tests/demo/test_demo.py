"""Each demo job gets the verdict it was made for, and for that reason.

The scenario is invented. That a transverse front unit whose upper mounts stayed with the vehicle is set
down on six places (four under the subframe, one under the engine, one under the gearbox), and that five
stands and a bottle jack are used too, is common practice, no source.
"""

import pytest

from loadplan.model.job import Job, Support
from tests.demo.jobs import answer, body, job, loads_kg, names, reasons, stage

MADE_FOR = {
    "front-unit": ("holds", set()),
    "front-unit-rocking": ("stop", {"balance", "undoing"}),
    "five-stands-and-jack": ("caution", {"jack holding"}),
    "us-units": ("holds", set()),
    "weighed-unit": ("holds", set()),
    "heights-open": ("holds", set()),
    "battery-pack-table": ("holds", set()),
    "battery-pack-stands": ("holds", set()),
    "shell-nose-off-prop": ("holds", set()),
    "shell-nose-off": ("caution", {"lift"}),
}
FREE = ("Tail stand set", "Shell raised", "Rear head off", "Overnight", "Rear head on", "Shell down")


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


# ---- the front unit on six supports --------------------------------------------------------------


def test_the_front_unit_holds_in_every_one_of_seven_or_more_steps() -> None:
    stages = answer("front-unit")["stages"]
    assert len(stages) >= 7
    assert {each["verdict"] for each in stages} == {"holds"}


def test_the_front_unit_weighs_what_a_six_cylinder_unit_weighs() -> None:
    free = stage("front-unit", "Tail stand set")
    assert body(free, "powertrain")["mass_kg"] == pytest.approx(330, abs=5)
    assert body(free, "subframe")["mass_kg"] == pytest.approx(100, abs=2)


def test_the_front_unit_loads_its_six_stands_as_it_should() -> None:
    told = loads_kg(stage("front-unit", "Tail stand set"))
    wanted = {"A": 20.0, "B": 20.0, "C": 48.0, "D": 47.0, "E": 173.0, "F": 124.0}
    assert {name: told[name] for name in wanted} == pytest.approx(wanted, abs=5)


def test_all_six_stands_take_some_of_it_before_it_is_unbolted() -> None:
    told = loads_kg(stage("front-unit", "Set down"))
    assert min(told[name] for name in "ABCDEF") > 5


@pytest.mark.parametrize("starts", FREE)
def test_the_powertrain_stays_some_100_mm_from_tipping_and_60_in_the_worst_case(starts: str) -> None:
    powertrain = body(stage("front-unit", starts), "powertrain")
    assert powertrain["margin_mm"] == pytest.approx(100, abs=10)
    assert 60 <= powertrain["worst_margin_mm"] < powertrain["margin_mm"]
    assert powertrain["tip_angle_deg"] > 10


@pytest.mark.parametrize("starts", FREE)
def test_the_tail_stays_propped_while_the_nose_is_light(starts: str) -> None:
    assert {"tail stand", "tail prop"} & set(loads_kg(stage("front-unit", starts)))


def test_the_prop_carries_next_to_nothing_as_long_as_nothing_moves() -> None:
    told = [loads_kg(stage("front-unit", starts)) for starts in FREE]
    assert max(each.get("tail stand", 0.0) + each.get("tail prop", 0.0) for each in told) < 10


def test_the_lift_is_lowered_well_inside_the_window() -> None:
    window = stage("front-unit", "Set down")["set_down"]
    assert window["from_mm"] + 1 < window["lowered_mm"] < window["to_mm"] - 1


@pytest.mark.parametrize("lost", ["E", "F"])
def test_the_powertrain_goes_over_without_the_stand_under_engine_or_gearbox(lost: str) -> None:
    free = stage("front-unit", "Tail stand set")
    gone = next(each for each in free["lost"] if each["support"] == lost)
    assert not gone["balanced"]
    assert "rear roll link" in gone["turns_about"]


# ---- the others ----------------------------------------------------------------------------------


def test_without_the_last_two_stands_the_powertrain_rocks_on_its_one_link() -> None:
    free = stage("front-unit-rocking", "Tail stand set")
    assert free["verdict"] == "stop"
    assert not body(free, "powertrain")["balanced"]
    (proof,) = (each for each in free["proof"] if "free" in each)
    turn = proof["free"]["powertrain"]
    assert abs(turn["rx"]) + abs(turn["ry"]) > 0
    x, y, _ = (each / 1000 for each in next(j for j in free["joints"] if j["name"] == "rear roll link")["at_mm"])
    assert turn["w"] + turn["rx"] * y - turn["ry"] * x == pytest.approx(0, abs=1e-9)


def test_still_bolted_the_rocking_unit_holds() -> None:
    assert stage("front-unit-rocking", "Set down")["verdict"] == "holds"


def test_the_bottle_jack_is_the_only_thing_wrong_with_five_stands_and_a_jack() -> None:
    for told in answer("five-stands-and-jack")["stages"]:
        subjects = {each["subject"] for each in told["findings"] if each["verdict"] in {"caution", "stop"}}
        assert subjects == ({"F"} if "F" in loads_kg(told) else set())


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

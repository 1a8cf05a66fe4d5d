"""What a shop or a vehicle lacks for a job to be asked about, and what answers say of a job."""

from dataclasses import replace
from datetime import date

import pytest

from loadplan.errors import InputError
from loadplan.files import read_job, read_shop, shipped_folder
from loadplan.model.shop import EquipmentKind, Heights, Shop
from loadplan.planning.interview.answered_job import AnsweredJob
from loadplan.planning.interview.character_plan import WIDTH, Sheet
from loadplan.planning.interview.first_job import refuse_unfit, shop_faults, vehicle_faults
from loadplan.planning.interview.known_vehicle import KnownVehicle, gear_of
from loadplan.planning.interview.question import Days, NamedWeight, Value

DEMO = shipped_folder("demo")
SHOP, _ = read_shop(DEMO / "shop.toml")
VEHICLE = read_job(DEMO / "front-unit.toml").vehicle


def _told(shop: Shop) -> list[str]:
    return [str(each) for each in shop_faults(shop)]


def test_a_shop_without_a_lift_with_too_many_arms_or_with_nothing_to_stand_on_is_refused() -> None:
    assert _told(SHOP) == []
    assert _told(replace(SHOP, lifts=())) == [
        "the shop's file, lift: is missing: `new` asks about a job on a lift, so add [[lift]]"
    ]
    six = replace(SHOP.lifts[0], arms=6)
    assert _told(replace(SHOP, lifts=(*SHOP.lifts, six))) == [
        "the shop's file, lift, arms: has 6: `new` asks about at most 4 pads, so write this job by hand"
    ]
    assert _told(replace(SHOP, equipment=())) == [
        "the shop's file, equipment: has nothing to stand a unit on: add [[equipment]]"
    ]


def test_a_vehicle_without_places_for_pads_or_stands_is_refused() -> None:
    assert vehicle_faults(VEHICLE, SHOP) == ()
    seen = KnownVehicle(VEHICLE)
    pads, places = ({each.name for each in those} for those in (seen.pad_like, seen.places))
    few = replace(
        VEHICLE, points=tuple(each for each in VEHICLE.points if each.name not in {min(pads), *sorted(places)[2:]})
    )
    assert [str(each) for each in vehicle_faults(few, None)] == [
        f"{VEHICLE.name}, point, name: needs 4 places of {seen.held} whose names begin with pad or sill, "
        "one for each arm of the lift",
        f"{VEHICLE.name}, point: needs 3 places or more under what comes out",
    ]
    three_arms = replace(SHOP, lifts=tuple(replace(each, arms=3) for each in SHOP.lifts))
    assert [each.key for each in vehicle_faults(few, three_arms)] == [""]
    with pytest.raises(InputError) as refused:
        refuse_unfit(few, replace(SHOP, lifts=(), equipment=()))
    assert len(refused.value.faults) == 4
    refuse_unfit(None, None)


def _said(**known: Value) -> AnsweredJob:
    return AnsweredJob({key.replace("_", "."): value for key, value in known.items()}, KnownVehicle(VEHICLE), SHOP)


def test_stands_go_only_with_something_that_comes_off() -> None:
    gearbox = (NamedWeight("gearbox", None),)
    assert _said(off=gearbox, off_stands=("A", "B")).off_stands == ("A", "B")
    assert _said(off_stands=("A",)).off_stands == ()
    assert _said(off=gearbox).off_stands == ()
    assert _said(off=()).off == ()
    assert _said(off=("gearbox with oil",)).off == ("gearbox with oil",)
    assert _said(what="front unit", off=(*gearbox, NamedWeight("engine", None), NamedWeight("pump", 5.0))).off == (
        "gearbox",
        "dressed engine",
        "pump",
    )


def test_of_places_those_that_were_chosen_get_letters_in_the_files_order() -> None:
    every = [each.name for each in KnownVehicle(VEHICLE).places]
    assert [each.name for each in _said().places.values()] == every
    some = _said(places=(every[3], every[1])).places
    assert {letter: each.name for letter, each in some.items()} == {"A": every[1], "B": every[3]}
    kinds = [each.name for each in SHOP.equipment]
    assert _said().gear("A").name == kinds[0]
    uses = _said(uses=(kinds[1], f"B={kinds[2]}", f"B={kinds[0]}"))
    assert [uses.gear(letter).name for letter in "AB"] == [kinds[1], kinds[0]]


def test_tall_stands_hold_a_unit_where_there_is_nothing_else() -> None:
    """One from 300 to 900 mm is called a prop by its height: alone in a shop it is what a unit stands on."""
    kind = replace(SHOP.equipment[0], heights=Heights(0.3, 0.9, ()))
    low, tall = replace(kind, name="low", heights=Heights(0.3, 0.89, ())), replace(kind, name="tall")
    assert gear_of(replace(SHOP, equipment=(tall, low))) == ("low",)
    alone = replace(SHOP, equipment=(tall,))
    assert (gear_of(alone), _told(alone)) == (("tall",), [])
    assert AnsweredJob({}, KnownVehicle(VEHICLE), alone).gear("A") == tall


def test_what_hangs_from_the_vehicle_goes_with_it_and_not_once_more_with_what_comes_off() -> None:
    beam = replace(SHOP.equipment[0], name="beam", kind=EquipmentKind.HOIST, locks=True)
    known = {"uses": (beam.name, f"B={SHOP.equipment[0].name}"), "off": ("gearbox",), "off.stands": ("A", "B")}
    set_down = replace(VEHICLE, bodies=tuple(each for each in VEHICLE.bodies if each.name == "shell"))
    for vehicle, locks, hung, goes in (
        (VEHICLE, True, tuple("ACDEFGH"), ("B",)),
        # A crane stays where it is, and of a vehicle that is set down itself nothing hangs from it.
        (VEHICLE, False, (), ("A", "B")),
        (set_down, True, (), ("A", "B")),
    ):
        shop = replace(SHOP, equipment=(*SHOP.equipment, replace(beam, locks=locks)))
        said = AnsweredJob(known, KnownVehicle(vehicle), shop)
        assert (said.hung, said.off_stands) == (hung, goes)


def test_a_sign_is_drawn_from_edge_to_edge_of_the_plan_and_none_beside_it() -> None:
    sheet = Sheet(front=1.0, left=0.44, step=0.02, rows=[[" "] * WIDTH for _ in range(3)])
    for sign, x, y in (("a", 1.0, 0.44), ("b", 1.0, -0.44), ("c", 0.92, 0.44), ("x", 1.04, 0.0), ("x", 0.88, 0.0)):
        sheet.put(sign, x, y)
    for y in (0.46, -0.46):
        sheet.put("x", 1.0, y)
    assert ["".join(row) for row in sheet.rows] == ["a" + " " * 43 + "b", " " * 45, "c" + " " * 44]


def test_what_came_off_goes_on_again_so_that_nothing_is_in_the_way() -> None:
    """The front cover comes off after the belt drive, the clutch after the gearbox: each goes on before these."""
    belt, cover, clutch, gearbox = (
        "belt drive and crankshaft pulley",
        "front cover with oil pump",
        "clutch and flywheel",
        "gearbox with oil",
    )
    assert _said(off=(belt, cover, gearbox, clutch)).on_again == (clutch, gearbox, cover, belt)
    assert _said(off=(cover, belt, clutch, gearbox)).on_again == (clutch, gearbox, cover, belt)
    assert _said(off=(cover, gearbox)).on_again == (gearbox, cover)
    assert _said().on_again == ()


def test_work_of_one_day_is_left_alone_and_not_overnight() -> None:
    first = date(2026, 12, 1)
    assert _said(days=Days(first, None)).is_one_day
    assert _said(days=Days(first, first)).is_one_day
    assert not _said(days=Days(first, date(2026, 12, 2))).is_one_day
    assert not _said().is_one_day

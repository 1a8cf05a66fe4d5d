"""Which stand of the shop a prop is, at which setting and with which shim: on the demo whose nose comes off."""

from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.assess import assess
from loadplan.checks.case import Case
from loadplan.checks.prop_height import prop_height
from loadplan.files import read_job
from loadplan.model.shop import Equipment, EquipmentKind, Heights, Shim, Shop
from loadplan.model.vehicle import Point
from tests.checks import builders
from tests.checks.small_jobs import said
from tests.statics.builders import STAND

DEMO = Path(__file__).parents[2] / "demo" / "shell-nose-off.toml"
STEPS = Heights(0.29, 0.49, (0.29, 0.39, 0.49))


def told(heights: Heights | None, *shims: float) -> str:
    """What is said of a prop that has to be 510 mm high, with one kind of stand, and shims, in the shop."""
    return told_in((replace(STAND, name="prop", heights=heights),), *(Shim(each, "steel", 9) for each in shims))


def told_in(stands: tuple[Equipment, ...], *shims: Shim) -> str:
    """The same in a shop with such stands."""
    job = read_job(DEMO)
    shop = Shop(stands, (), shims)
    stages = assess(replace(job, shop=shop)).stages
    every = [said(each).partition("the prop carries up to ")[2] for stage in stages for each in stage.findings]
    return max((each.partition(". ")[2] for each in every), key=len)


@pytest.mark.parametrize(
    ("heights", "shims", "says"),
    [
        (Heights(0.3, 0.6, ()), (), "It has to be 510 mm high: prop set to 510 mm."),
        (STEPS, (0.02,), "It has to be 510 mm high: prop set to 490 mm, shim 20 mm."),
        (STEPS, (0.025,), "It has to be 510 mm high: prop set to 490 mm, which is 20 mm short."),
        (STEPS, (0.1, 0.115), "It has to be 510 mm high: prop set to 390 mm, shim 115 mm, which is 5 mm short."),
        (Heights(0.3, 0.4, ()), (), "It has to be 510 mm high, and no stand of the shop is: prop goes up to 400 mm."),
        (Heights(0.6, 0.9, ()), (), "It has to be 510 mm high, and no stand of the shop is: prop begins at 600 mm."),
        (None, (), ""),
    ],
)
def test_the_next_setting_that_there_is_is_told(heights: Heights | None, shims: tuple[float, ...], says: str) -> None:
    assert told(heights, *shims) == says


def test_no_stand_is_told_that_does_not_take_what_the_prop_may_come_to_carry() -> None:
    """The prop may come to carry some 10 kN."""
    fits, reaches = Heights(0.3, 0.6, ()), Heights(0.3, 0.5, ())
    weak = replace(STAND, name="prop", heights=fits, rating=2000.0)
    strong = replace(STAND, name="heavy stand", heights=reaches, rating=60000.0)
    assert told_in((weak, strong)) == "It has to be 510 mm high: heavy stand set to 500 mm, which is 10 mm short."
    assert told_in((weak,)) == "It has to be 510 mm high, and no stand of the shop that is free takes that."


def test_no_stand_and_no_shim_is_told_of_which_none_is_left() -> None:
    none = replace(STAND, name="prop", heights=Heights(0.3, 0.6, ()), count=2, out_of_use=("1", "2"), tags=("1", "2"))
    assert told_in((none,)) == "It has to be 510 mm high, and no stand of the shop that is free takes that."
    steps = (replace(STAND, name="prop", heights=STEPS),)
    assert told_in(steps, Shim(0.02, "steel", 0)).endswith("set to 490 mm, which is 20 mm short.")


# ---- the same by small records: a place so high over the floor, under a vehicle that its stands hold too ----------

PROP = replace(builders.STAND, name="prop", heights=Heights(0.4, 0.6, (0.4, 0.5, 0.6)), count=2, tags=(), out_of_use=())


def words_on(
    needed: float,
    *kinds: Equipment,
    most: float = 0.0,
    shims: tuple[Shim, ...] = (),
    made: Case | None = None,
    floor: float | None = -0.1,
) -> str:
    judged = made or builders.lifted(builders.support("A"))
    shop = replace(judged.job.shop, equipment=kinds or (PROP,), shims=shims)
    judged = replace(judged, job=replace(judged.job, shop=shop), statics=replace(judged.statics, floor=floor))
    return builders.words(prop_height(judged, Point("tail", "shell", (0.0, 0.0, needed - 0.1), None, ""), most))


@pytest.mark.parametrize(
    ("needed", "says"),
    [
        (0.5, ": prop set to 0.5 m."),
        (0.503, ": prop set to 0.5 m."),
        (0.5031, ": prop set to 0.5 m, which is 0.0031 m short."),
        (0.55, ": prop set to 0.5 m, which is 0.05 m short."),
        (0.5501, ", and no stand of the shop is: prop stops at 0.5 m and 0.6 m."),
        (0.4501, ", and no stand of the shop is: prop stops at 0.4 m and 0.5 m."),
        (0.39, ", and no stand of the shop is: prop begins at 0.4 m."),
        (0.39995, ": prop set to 0.4 m."),
        (0.49995, ": prop set to 0.5 m."),
        (0.66, ", and no stand of the shop is: prop goes up to 0.6 m."),
    ],
)
def test_a_prop_may_stay_fifty_millimetres_short_and_three_are_not_told(needed: float, says: str) -> None:
    assert words_on(needed) == f" It has to be {needed:.4g} m high{says}"


def test_of_several_stands_that_are_not_as_high_the_one_that_stops_nearest_is_told() -> None:
    low = replace(PROP, name="low", heights=Heights(0.1, 0.3, ()))
    high = replace(PROP, name="high", heights=Heights(0.8, 0.9, ()))
    far = replace(PROP, name="far", heights=Heights(0.2, 1.2, (0.2, 1.2)))
    none = ", and no stand of the shop is: "
    assert words_on(0.5, low, high).endswith(f"{none}low goes up to 0.3 m.")
    assert words_on(0.6, low, high, far).endswith(f"{none}high begins at 0.8 m.")
    assert words_on(1.0, low, high, far).endswith(f"{none}high goes up to 0.9 m.")
    assert words_on(1.1, low, high, far).endswith(f"{none}far stops at 0.2 m and 1.2 m.")


def test_a_stand_that_just_takes_the_load_and_of_which_one_is_left_is_told() -> None:
    assert words_on(0.5, most=1000.0).endswith(": prop set to 0.5 m.")
    assert words_on(0.5, most=1000.1).endswith(", and no stand of the shop that is free takes that.")
    for count, used, free in ((2, "prop", True), (1, "prop", False), (1, "stand", True)):
        kind = replace(PROP, count=count)
        made = builders.lifted(builders.support("A", replace(kind, name=used)))
        assert words_on(0.5, kind, made=made).endswith("set to 0.5 m.") is free


def test_a_shim_that_is_too_high_does_not_keep_the_next_from_being_tried() -> None:
    high, low = Shim(0.2, "steel", 9), Shim(0.01, "steel", 9)
    assert words_on(0.51, shims=(high, low)).endswith(": prop set to 0.5 m, shim 0.01 m.")


def test_what_a_hair_is_short_needs_no_shim() -> None:
    assert words_on(0.500004, shims=(Shim(0.100004, "steel", 9),)).endswith(": prop set to 0.5 m.")


def test_only_while_set_stands_hold_the_vehicle_it_is_known_how_high_it_is() -> None:
    free = builders.lifted(builders.support("A"), hung=False)
    touching = builders.lifted(replace(builders.support("A"), height=None))
    assert words_on(0.5, made=free) == words_on(0.5, made=touching) == words_on(0.5, floor=None) == ""
    bare = replace(PROP, heights=None)
    assert words_on(0.5, bare) == words_on(0.5, replace(PROP, kind=EquipmentKind.JACK)) == ""

"""Which stand of the shop a prop is, at which setting and with which shim: on the demo whose nose comes off."""

from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.assess import assess
from loadplan.files import read_job
from loadplan.model.shop import Equipment, Heights, Shim, Shop
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

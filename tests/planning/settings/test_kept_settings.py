"""Heights as they are planned and parts in the order in which they come off, held against kept texts."""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from random import Random

import numpy as np
import pytest

from loadplan.files import read_job, shipped_folder
from loadplan.model.job import Job, Stack
from loadplan.model.shop import Shim
from loadplan.planning.settings.idle_forecast import troubles_expected
from loadplan.planning.settings.other_settings import other_stackings
from loadplan.planning.settings.removal_order import plan_order
from loadplan.planning.settings.removal_states import course
from loadplan.planning.settings.saddle_settings import SharedSaddles, Shelf
from loadplan.planning.settings.set_heights import plan_heights
from loadplan.planning.settings.shim_stacking import stack
from tests.kept_text import assert_kept
from tests.planning.settings.test_removal_order import made_up
from tests.planning.settings.test_set_heights import FIR, SCREW, STEEL, STEPPED, four, unit
from tests.planning.written import record
from tests.statics.builders import support

KEPT = Path(__file__).parent / "kept"


def _demo(name: str) -> Job:
    return read_job(shipped_folder("demo") / f"{name}.toml")


def _shelf_in_use() -> Job:
    """A prop that is not set anew has one of two plates; one stand lies on a crib of its own."""
    prop = replace(support("prop", (0, 0, 1.0), use=STEPPED, standby=True), shim=Stack(0.006, "steel", crib=False))
    stands = four((0.20, 0.206, 0.206, 0.212))
    crib = replace(stands[3], shim=Stack(0.012, "fir", crib=True))
    return unit(*stands[:3], crib, prop, shims=(STEEL, FIR, Shim(0.006, "oak", None)))


HEIGHTS: Mapping[str, Job] = {
    "heights-open": _demo("heights-open"),
    "front-unit": _demo("front-unit"),
    "on-a-shelf-in-use": _shelf_in_use(),
    "one-that-turns": unit(
        *four((0.20, 0.21, 0.217, 0.231))[:3], replace(four((0.0, 0.0, 0.0, 0.231))[3], equipment=SCREW)
    ),
    "a-table": unit(*four((0.20, 0.20, 0.21, 0.217), equipment=SCREW, piece="table"), shims=(STEEL,)),
}
SLOW = ("one-that-turns",)


@pytest.mark.parametrize("name", [pytest.param(each, marks=[pytest.mark.slow] * (each in SLOW)) for each in HEIGHTS])
def test_heights_are_planned_as_they_are_kept(name: str) -> None:
    assert_kept(KEPT / f"heights-{name}.txt", record(plan_heights(HEIGHTS[name])))


BENCHES: Mapping[str, tuple[tuple[SharedSaddles, ...], Shelf]] = {
    "steps": (
        tuple(
            SharedSaddles((0.30, 0.32, 0.34), stepless=False, places=(place,)) for place in (0.20, 0.203, 0.211, 0.219)
        ),
        Shelf((0.006, 0.012), (2, 1)),
    ),
    "a-pair": (
        (
            SharedSaddles((0.30, 0.32), stepless=False, places=(0.20, 0.207)),
            SharedSaddles((0.30, 0.32, 0.34), stepless=False, places=(0.212,)),
        ),
        Shelf((0.006,), (1,)),
    ),
    "one-that-turns": (
        (
            SharedSaddles((0.30, 0.32), stepless=False, places=(0.20,)),
            SharedSaddles((0.30, 0.32), stepless=False, places=(0.211,)),
            SharedSaddles((0.25, 0.31), stepless=True, places=(0.205,)),
            SharedSaddles((0.25, 0.50), stepless=True, places=(0.25, 0.26)),
        ),
        Shelf((0.012,), (float("inf"),)),
    ),
}
PLACES = (((0.4, 0.3),), ((0.4, -0.3),), ((-0.4, 0.3),), ((-0.4, -0.3), (-0.5, -0.3)))


@pytest.mark.parametrize("name", BENCHES)
def test_saddles_are_set_and_set_otherwise_as_they_are_kept(name: str) -> None:
    bench, shelf = BENCHES[name]
    found = stack(bench, shelf)
    places = tuple(PLACES[number][: len(each.places)] or PLACES[3] for number, each in enumerate(bench))
    places = tuple(PLACES[3] if len(each.places) > 1 else at for each, at in zip(bench, places, strict=True))
    others = other_stackings(bench, shelf, found, places)
    rows = [
        (round(each.level, 6), each.shims, *((s.height, s.shim, s.misfit) for s in each.saddles)) for each in others
    ]
    told = [record(("planned", found, found.largest, found.total, found.shims, "others", len(others)))]
    assert_kept(KEPT / f"saddles-{name}.txt", "\n".join([*told, *(str(row) for row in rows[:40]), ""]))


@pytest.mark.parametrize("seed", [3, 8, 21, 34])
def test_parts_come_off_in_the_order_that_is_kept(seed: int) -> None:
    job = made_up(Random(seed))
    index = len(job.stages) - 1
    parts = course(job, index)
    told = record((plan_order(job, index), parts.parts, parts.needs, parts.emptied))
    gone = record(tuple((each.gone, each.steady, len(each.groups)) for each in parts.standings))
    assert_kept(KEPT / f"order-{seed}.txt", f"{told}\n{gone}")


def test_which_settings_would_leave_something_idle_is_as_it_is_kept() -> None:
    job = _demo("front-unit")
    names = tuple(each.name for each in job.supports if not each.standby)
    planned = [(each.set_height or 0.0) - each.at[2] for each in job.supports if not each.standby]
    rises = [[rise + off * (number == lifted) for number, rise in enumerate(planned)] for lifted in range(len(names))
             for off in (-0.02, -0.005, 0.0, 0.005, 0.02)]  # fmt: skip
    found = troubles_expected(job, names, np.array(rises))
    assert_kept(KEPT / "idle-forecast.txt", record((names, found)))

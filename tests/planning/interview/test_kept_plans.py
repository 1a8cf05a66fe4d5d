"""The plan of characters after each group of questions, and of made-up things, held against kept texts."""

from collections.abc import Mapping
from dataclasses import replace
from itertools import groupby
from pathlib import Path

import pytest

from loadplan.files import read_job, shipped_folder
from loadplan.model.vehicle import Vehicle
from loadplan.planning.interview.character_plan import known_things, plan_of
from loadplan.planning.interview.question import Edges, Seat, Tie, Value
from loadplan.planning.interview.question_flow import Answers, questions, values
from loadplan.planning.interview.questions_on_job import Beginning
from loadplan.units import System
from tests.kept_text import assert_kept
from tests.planning.typed import METRIC, ON_STANDS, all_typed

KEPT = Path(__file__).parent / "kept"
FRONT_UNIT = read_job(shipped_folder("demo") / "front-unit.toml").vehicle
BEGIN = Beginning(vehicle=FRONT_UNIT, system=System.METRIC)


def _by_group(kept: Answers, vehicle: Vehicle | None) -> str:
    """Draw the plan with the answers up to the end of each group."""
    drawn, known = [], values(kept)
    for group, asked in groupby(questions(kept), key=lambda each: each.group):
        drawn.append((group, [each.key for each in asked]))
    so_far: dict[str, Value] = {}
    lines = []
    for group, keys in drawn:
        so_far |= {key: known[key] for key in keys}
        lines.append(f"[{group}]\n{plan_of(so_far, vehicle)}")
    return "\n".join(lines)


def test_the_plan_of_a_unit_that_is_measured_grows_as_it_is_kept() -> None:
    link = {"inner2": "link, 100 behind, 30 left, 90 above to 240 behind, 30 left, 90 above"}
    assert_kept(KEPT / "plan-of-own-measures.txt", _by_group(all_typed({**METRIC, **link})[1], None))


def test_the_plan_of_a_vehicle_on_stands_shows_its_pads() -> None:
    assert_kept(KEPT / "plan-of-vehicle.txt", _by_group(all_typed(ON_STANDS)[1], None))


def test_the_plan_of_a_known_vehicle_shows_the_places_that_are_chosen() -> None:
    chosen = ("all", "2, 4, 5")
    drawn = (plan_of(values(Answers({"title": "x", "places": each}, BEGIN)), FRONT_UNIT) for each in chosen)
    assert_kept(KEPT / "plan-of-front-unit.txt", "\n".join(drawn))


def _edges(x: tuple[float, float], y: tuple[float, float]) -> Edges:
    return Edges((x[0], y[0], 0.0), (x[1], y[1], 1.0))


THINGS: Mapping[str, Mapping[str, Value]] = {
    "nothing": {},
    "two marks": {"inner1": Tie("mount", (0.0, 0.2, 0.0), None), "hung1": (0.1, -0.2, 0.0)},
    "three marks": {
        "hung1": (0.1, -0.2, 0.0),
        "inner1": Tie("mount", (0.0, 0.2, 0.0), None),
        "standA": Seat("", (0.4, 0.3, 0.0)),
    },
    "a stand over a mount": {
        "standA": Seat("", (0.0, 0.2, 0.0)),
        "inner1": Tie("mount", (0.0, 0.2, 0.0), None),
        "hung1": (0.1, -0.2, 0.0),
        "off1": Seat("", (0.3, 0.0, 0.0)),
    },
    "pads": {"pads.along": (-0.6, -2.0), "pads.out": 0.7},
    "a long lump": {"pack.box": _edges((-2.4, 0.1), (-0.5, 0.5)), "pads.along": (-0.6, -2.0), "pads.out": 0.7},
    "a short lump over a long one": {
        "head.box": _edges((0.1, 0.3), (-0.1, 0.1)),
        "engine.box": _edges((-0.2, 0.5), (-0.3, 0.3)),
    },
    "a wide lump": {"axle.box": _edges((-0.05, 0.1), (-0.8, 0.7))},
    "a thin lump": {"a long name.box": _edges((0.0, 0.6), (0.02, 0.06)), "standA": Seat("", (0.0, -0.5, 0.0))},
}


def test_made_up_things_are_drawn_as_they_are_kept() -> None:
    drawn = (
        f"[{name}] {known_things(known, None).is_drawable}\n{plan_of(known, None)}" for name, known in THINGS.items()
    )
    assert_kept(KEPT / "plans-of-made-up-things.txt", "\n".join(drawn))


@pytest.mark.parametrize("name", ["a long lump", "a wide lump"])
def test_a_plan_is_drawn_to_scale_and_no_larger_than_a_screen(name: str) -> None:
    """A character is twice as high as it is wide."""
    lines = plan_of(THINGS[name], None).splitlines()[1:]
    edges = [line for line in lines if "+" in line]
    wide, high = edges[0].rindex("+") - edges[0].index("+"), 2 * (lines.index(edges[-1]) - lines.index(edges[0]))
    box = next(each for each in THINGS[name].values() if isinstance(each, Edges))
    length, width = box.high[0] - box.low[0], box.high[1] - box.low[1]
    assert wide / high == pytest.approx(width / length, rel=0.35)
    assert len(lines) <= 21
    assert max(map(len, lines)) <= 47


def test_only_the_assemblies_that_come_out_are_drawn() -> None:
    unit = known_things({}, FRONT_UNIT).boxes
    assert set(unit) == {each.name for each in FRONT_UNIT.bodies if each.outline and each.name != "shell"}
    bare = replace(FRONT_UNIT, bodies=tuple(replace(each, outline=()) for each in FRONT_UNIT.bodies), points=())
    assert known_things({}, bare).boxes == {}
    assert plan_of({}, bare) == ""

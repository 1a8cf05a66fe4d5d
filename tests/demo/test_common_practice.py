"""What shops do with a transverse front unit, and what happens to it: common practice, no source.

It is set down on six places: four under the subframe, one at the engine, one at the gearbox. Five stands
and a jack are used too. With its front and rear mounts missing it rocks. The unit is made up.
"""

from pathlib import Path
from typing import Any

import pytest

import loadplan

UNIT = """
schema = "loadplan-job-1"
title  = "Front unit on six places"
units  = "metric"
date   = 2026-11-20
name   = "A made-up front unit"
known  = "weighed"
body   = [
    { name = "subframe", outline = [[480, 500], [480, -500], [-380, -480], [-380, 480]] },
    { name = "powertrain", outline = [[330, 420], [330, -460], [-230, -460], [-230, 420]] },
]
part   = [
    { name = "subframe, dressed", body = "subframe", mass = 98, mass_pm = 3, at = [20, 0, 290], at_pm = 25 },
    { name = "engine, dressed", body = "powertrain", mass = 218, mass_pm = 5, at = [70, -200, 520], at_pm = 20 },
    { name = "gearbox", body = "powertrain", mass = 96, mass_pm = 3, at = [60, 190, 430], at_pm = 20 },
]
joint  = [
    { name = "front mount", kind = "mount", between = ["powertrain", "subframe"], at = [300, 0, 330], limit = 6000 },
    { name = "rear mount", kind = "mount", between = ["powertrain", "subframe"], at = [-200, 0, 330], limit = 6000 },
]
point  = [
    { name = "front left", body = "subframe", at = [420, 400, 205], limit = 6000 },
    { name = "front right", body = "subframe", at = [420, -400, 205], limit = 6000 },
    { name = "rear left", body = "subframe", at = [-310, 420, 205], limit = 6000 },
    { name = "rear right", body = "subframe", at = [-310, -420, 205], limit = 6000 },
    { name = "engine", body = "powertrain", at = [70, -300, 260], limit = 8000 },
    { name = "gearbox", body = "powertrain", at = [60, 250, 260], limit = 5000 },
]
support = [
    { name = "A", use = "stand", under = "front left", height = 350 },
    { name = "B", use = "stand", under = "front right", height = 350 },
    { name = "C", use = "stand", under = "rear left", height = 350 },
    { name = "D", use = "stand", under = "rear right", height = 350 },
    { name = "E", use = "stand", under = "engine", height = 405 },
    { name = "F", use = "stand", under = "gearbox", height = 405 },
]
[[equipment]]
name      = "stand"
kind      = "stand"
rating    = "3 tonne"
rated_for = "each"
heights   = { from = 290, to = 480 }
base      = 240
saddle    = 90
stiffness = 2500
friction  = 0.3
count     = 6

[[equipment]]
name      = "jack"
kind      = "jack"
rating    = "3 tonne"
rated_for = "each"
heights   = { from = 220, to = 480 }
base      = 240
saddle    = 90
stiffness = 2500
friction  = 0.3
count     = 1

[[stage]]
name     = "On its own"
in_place = ["A", "B", "C", "D", "E", "F"]
"""
JACK = UNIT.replace('{ name = "F", use = "stand"', '{ name = "F", use = "jack"')
MISSING = UNIT + 'undone = ["front mount", "rear mount"]\n'


@pytest.fixture
def told(tmp_path: Path, request: pytest.FixtureRequest) -> dict[str, Any]:
    """The one step of a job, judged."""
    path = tmp_path / "unit.toml"
    path.write_text(request.param, "utf-8")
    (stage,) = loadplan.check(loadplan.read_job(path)).to_dict()["stages"]
    return dict(stage)


def reasons(told: dict[str, Any]) -> set[str]:
    return {each["check"] for each in told["findings"] if each["verdict"] in {"caution", "stop"}}


@pytest.mark.parametrize("told", [UNIT], indirect=True)
def test_on_six_places_it_stands_and_each_carries_some(told: dict[str, Any]) -> None:
    assert (told["verdict"], reasons(told)) == ("holds", set())
    assert min(each["load_n"]["expected"] for each in told["supports"]) > 0


@pytest.mark.parametrize("told", [JACK], indirect=True)
def test_with_a_jack_for_the_sixth_only_the_oil_is_wrong(told: dict[str, Any]) -> None:
    assert (told["verdict"], reasons(told)) == ("caution", {"jack holding"})


@pytest.mark.parametrize("told", [MISSING], indirect=True)
def test_with_its_front_and_rear_mounts_missing_it_rocks(told: dict[str, Any]) -> None:
    assert (told["verdict"], "balance" in reasons(told)) == ("stop", True)
    (proof,) = (each for each in told["proof"] if "free" in each)
    assert proof["bodies"] == ["powertrain"]
    assert {each["name"]: each["balanced"] for each in told["bodies"]} == {"subframe": True, "powertrain": False}

"""Stages that can be done in the order written are accepted; tests/faulty holds those that cannot."""

from pathlib import Path
from typing import Any

import pytest

from loadplan.model.presence import remaining
from loadplan.model.vehicle import Basis, Body, Part, Weighed
from tests.files.builders import Raw, faults, small

Stages = list[dict[str, Any]]
CLEAR = {"cleared": ["A"], "off": ["head", "block"]}
"""All parts of the unit go, and the stand under it."""


def told(folder: Path, *stages: Raw, **changes: object) -> list[str]:
    named = [{"name": f"step {number}", **stage} for number, stage in enumerate(stages)]
    return [each.message for each in faults(folder, small(stage=named, **changes))]


@pytest.mark.parametrize(
    "stages",
    [
        [{"in_place": ["A"]}, {"cleared": ["A"]}, {"in_place": ["A"]}],
        [{"cleared": ["bay"]}, {"in_place": ["bay"]}],
        [{"in_place": ["A"], "undone": ["bolts"]}, {"done_up": ["bolts"]}, {"undone": ["bolts"]}],
        [{"off": ["head"]}, {"off": ["block"]}, {"on": ["block"]}, {"on": ["head"]}],
        [{"off": ["head", "block"]}, {"on": ["head", "block"]}],
        [{"in_place": ["A"]}, CLEAR, {"on": ["block", "head"]}, {"in_place": ["A"], "done_up": ["bolts"]}],
        [{"in_place": ["A"]}, CLEAR | {"undone": ["bolts"]}, {"on": ["block", "head"], "done_up": ["bolts"]}],
    ],
)
def test_what_can_be_done_is_accepted(tmp_path: Path, stages: Stages) -> None:
    assert told(tmp_path, *stages) == []


def test_a_body_that_is_gone_has_undone_its_joints(tmp_path: Path) -> None:
    assert told(tmp_path, {"in_place": ["A"]}, CLEAR, {"undone": ["bolts"]}) == [
        'names "bolts", which is undone already'
    ]


def test_a_body_that_comes_back_comes_back_unbolted(tmp_path: Path) -> None:
    back = {"on": ["head", "block"]}
    assert told(tmp_path, {"in_place": ["A"]}, CLEAR, back, {"done_up": ["bolts"]}) == []
    assert told(tmp_path, {"in_place": ["A"]}, CLEAR, back, {"undone": ["bolts"]}) == [
        'names "bolts", which is undone already'
    ]


def test_the_lift_must_let_go_of_a_body_that_goes(tmp_path: Path) -> None:
    assert told(tmp_path, {"off": ["painted shell"]}) == [
        'leaves "bay" at "shell", of which all parts are off: clear it in this stage'
    ]
    assert told(tmp_path, {"off": ["painted shell"], "cleared": ["bay"]}) == []


def test_a_lift_need_not_hold_at_the_start(tmp_path: Path) -> None:
    lift = small()["lift"] | {"in_place": False}
    assert told(tmp_path, {"in_place": ["bay"]}, lift=lift) == []
    assert told(tmp_path, {"cleared": ["bay"]}, lift=lift) == ['names "bay", which is not in place']


def test_parts_of_a_body_left_out_stop_nobody(tmp_path: Path) -> None:
    parts = small()["part"]
    parts[2] |= {"after": ["painted shell"]}
    assert told(tmp_path, {"in_place": ["A"], "off": ["block"]}, part=parts, bodies=["unit"], lift=None) == []
    assert told(tmp_path, {"off": ["block"]}, part=parts) == [
        'names "block", which comes off only after "painted shell"'
    ]


def test_naming_a_part_of_a_body_left_out_changes_nothing(tmp_path: Path) -> None:
    parts = small()["part"]
    parts[2] |= {"after": ["painted shell"]}
    stages = (
        {"in_place": ["A"], "on": ["painted shell"], "done_up": ["bolts"]},
        {"off": ["block"]},
        {"undone": ["bolts"]},
    )
    assert told(tmp_path, *stages, part=parts, bodies=["unit"], lift=None) == []


def test_a_support_under_a_body_left_out_may_stay_in_its_box(tmp_path: Path) -> None:
    supports = [*small()["support"], {"name": "B", "use": "stand", "under": "sill left"}]
    stages = ({"in_place": ["A"]},)
    assert told(tmp_path, *stages, support=supports, bodies=["unit"], lift=None) == []


UNIT = Body("unit", (), None, None, Basis.WEIGHED, None)


def part(name: str, mass: float, mass_pm: float = 1.0) -> Part:
    return Part(name, "unit", mass, mass_pm, (0, 0, 0), (0, 0, 0), (), Basis.WEIGHED)


def weighed(mass: float, mass_pm: float = 2.0) -> Body:
    scales = Weighed(mass, mass_pm, (0, 0, 0), (0, 0, 0), None)
    return Body("unit", (), None, None, Basis.WEIGHED, scales)


@pytest.mark.parametrize(
    ("body", "on", "there"),
    [
        (UNIT, {"head"}, True),
        (UNIT, set(), False),
        (weighed(100), {"head"}, True),
        (weighed(100), set(), False),
        (weighed(104), set(), False),
        (weighed(104.1), set(), True),
        (weighed(90), set(), False),
    ],
)
def test_a_body_is_gone_when_nothing_is_left_of_it(body: Body, on: set[str], there: bool) -> None:  # noqa: FBT001
    """Listed parts 20 +- 1 and 80 +- 1 kg; weighed within 2 kg, so that up to 4 kg more may be nothing."""
    assert remaining(body, (part("head", 20), part("block", 80)), on) is there


def test_a_weighed_body_with_no_parts_left_still_stands_while_the_scales_say_so(tmp_path: Path) -> None:
    bodies = [{"name": "shell"}, {"name": "unit", "weighed": {"mass": 300, "mass_pm": 3, "cg": [0, 0, 500]}}]
    assert told(tmp_path, {"in_place": ["A"], "off": ["head", "block"]}, body=bodies) == []


def test_nothing_is_said_of_stages_while_one_cannot_be_read(tmp_path: Path) -> None:
    assert told(tmp_path, {"in_place": ["A"], "off": "head"}, {"in_place": ["A"]}) == [
        'must be a list of 0 to 1000 names in square brackets, is "head"'
    ]

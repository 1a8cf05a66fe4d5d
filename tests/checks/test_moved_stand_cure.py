"""How far out stands have to go for a push, a pull, a tilt or a sway: what is told holds when it is done.

Each job is made up, judged, and judged again with its stands where they are told to go, and a step less far.
"""

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from loadplan.model.verdict import Verdict
from tests.checks.small_jobs import STAND, Raw, judged, part, said, the, unit_job

PLACES = {"A": [250, 250, 200], "B": [250, -250, 200], "C": [-250, 250, 200], "D": [-250, -250, 200]}
WIDE = [{"name": "unit", "outline": [[900, 900], [900, -900], [-900, -900], [-900, 900]]}]
GENTLE = {"tip_angle": 1, "margin": 1, "push": 1, "laid_on": 1, "level": 5}
"""Limits that leave each job the one caution that it is about."""

Moved = Callable[[str, float], dict[str, list[float]]]


def forward(stands: str, out: float) -> dict[str, list[float]]:
    return {name: [at[0] + out * (name in stands), at[1], at[2]] for name, at in PLACES.items()}


def left(stands: str, out: float) -> dict[str, list[float]]:
    return {name: [at[0], at[1] + out * (name in stands), at[2]] for name, at in PLACES.items()}


def all_round(_stands: str, out: float) -> dict[str, list[float]]:
    reach = 250 + out / 2**0.5
    return {name: [reach if x > 0 else -reach, reach if y > 0 else -reach, z] for name, (x, y, z) in PLACES.items()}


def pushed(places: dict[str, list[float]], **more: object) -> Raw:
    """400 kg, 120 mm in front of the middle, pushed 1.5 m over the saddles: about 130 / 1500 of 3.9 kN."""
    parts = [part("block", "unit", 390, [123, 0, 500]), part("mast", "unit", 10, [0, 0, 1700])]
    return unit_job(places, part=parts, body=WIDE, limits=GENTLE | {"push": 225}, **more)


def pulled(places: dict[str, list[float]], **more: object) -> Raw:
    job = pushed(places, **more) | {"limits": GENTLE}
    job["stage"][0]["pull"] = {"body": "unit", "at": [0, 0, 1400], "force": 300, "towards": [1, 0, 0]}
    return job


def tilted(places: dict[str, list[float]], **more: object) -> Raw:
    """150 mm from the left edge, a metre over the saddles: it tilts by 8.5 degrees."""
    block = part("block", "unit", 400, [0, 100, 1200])
    return unit_job(places, part=[block], body=WIDE, limits=GENTLE | {"tip_angle": 12}, **more)


def swaying(places: dict[str, list[float]], **more: object) -> Raw:
    """400 kg 1.5 m over four stands of 200 N/mm, half a metre apart: 5.9 over 50 kNm."""
    stands = [STAND | {"stiffness": 200}]
    block = part("block", "unit", 400, [0, 0, 1700])
    return unit_job(places, part=[block], body=WIDE, limits=GENTLE, equipment=stands, **more)


CASES = [
    pytest.param(pushed, "push", "A and B", forward, "it stands that", id="push"),
    pytest.param(pulled, "pull", "A and B", forward, "it stands that", id="pull"),
    pytest.param(tilted, "margin", "A and C", left, "it tilts as far as is asked for", id="tilt"),
    pytest.param(swaying, "sway", "A, B, C and D", all_round, "a tilt makes itself a tenth worse at most", id="sway"),
]


@pytest.mark.parametrize(("make", "check", "stands", "moved", "then"), CASES)
def test_the_distance_that_is_told_holds_and_a_step_less_does_not(
    make: Callable[..., Raw], check: str, stands: str, moved: Moved, then: str, tmp_path: Path
) -> None:
    finding = the(judged(make(PLACES), tmp_path).stages[0], check)
    assert finding.verdict >= Verdict.CAUTION
    found = re.search(rf" With {stands} each (\d+) mm further out (?:to|from) [\w ]+ {then}\.", said(finding))
    assert found, said(finding)
    out = int(found[1])
    after = judged(make(moved(stands, out)), tmp_path).stages[0]
    assert the(after, check).verdict is Verdict.HOLDS
    assert the(judged(make(moved(stands, out - 10)), tmp_path).stages[0], check).verdict > Verdict.HOLDS


@pytest.mark.parametrize(("make", "check"), [case.values[:2] for case in CASES], ids=[case.id for case in CASES])
def test_where_there_is_no_room_for_it_no_distance_is_told(
    make: Callable[..., Raw], check: str, tmp_path: Path
) -> None:
    job = make(PLACES) | {"body": [{"name": "unit", "outline": [[255, 255], [255, -255], [-255, -255], [-255, 255]]}]}
    finding = the(judged(job, tmp_path).stages[0], check)
    assert finding.verdict >= Verdict.CAUTION
    assert "further out" not in said(finding).replace("set the stands further out", "").replace(
        "set a stand further out", ""
    )


def test_what_slides_is_not_helped_by_moving_stands(tmp_path: Path) -> None:
    job = pushed(PLACES, equipment=[STAND | {"friction": 0.05}])
    finding = the(judged(job, tmp_path).stages[0], "push")
    assert "it slides" in said(finding)
    assert " mm further out" not in said(finding)


def beside_a_crate(x: float) -> Raw:
    """The unit that is pushed, on bases of 400 mm, and in front of it a crate with a stand in line with A."""
    job = pushed(PLACES, equipment=[STAND | {"base": 400}])
    crate = {"P": [x, 250, 200], "Q": [x + 500, 600, 200], "R": [x + 500, -100, 200]}
    job["body"] = [*job["body"], {"name": "crate"}]
    job["part"].append(part("boxes", "crate", 100, [x + 330, 250, 300]))
    job["support"] += [{"name": name, "use": "stand", "body": "crate", "at": at} for name, at in crate.items()]
    job["stage"][0]["in_place"] += list(crate)
    return job


def test_where_a_base_would_stand_where_another_one_does_no_distance_is_told(tmp_path: Path) -> None:
    clear = said(the(judged(beside_a_crate(2000), tmp_path).stages[0], "push", "unit"))
    found = re.search(r" With A and B each (\d+) mm further out", clear)
    assert found, clear
    between = said(the(judged(beside_a_crate(650 + int(found[1]) / 2), tmp_path).stages[0], "push", "unit"))
    assert " mm further out" not in between

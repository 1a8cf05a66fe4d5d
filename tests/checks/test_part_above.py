"""A stand whose place names no part, under a part that comes off: certain, in doubt, or none of its business."""

from pathlib import Path

import pytest

from loadplan.files import read_job
from loadplan.model.part_above import parts_above
from loadplan.model.verdict import Verdict
from loadplan.planning.placement.layout_space import space
from tests.checks.small_jobs import STAND, Raw, found, judged, part, said, the
from tests.reference.random_jobs import write_job

BLOCK = [[300, 300], [300, -300], [-300, -300], [-300, 300]]
PAN = [[-300, 300], [-300, -300], [-900, -300], [-900, 300]]
PLACES = {"A": [250, 0, 200], "B": [-250, 250, 200], "C": [-250, -250, 200], "D": [-700, 0, 195]}


def panned(pan: Raw, unit: Raw, **more: object) -> Raw:
    """A block of 400 kg on three stands, a pan behind it on a fourth that comes off in the second step."""
    body = {"name": "unit", "outline": [[300, 300], [300, -300], [-900, -300], [-900, 300]]} | unit
    return {
        "body": [{key: value for key, value in body.items() if value is not None}],
        "part": [part("block", "unit", 400, [0, 0, 500]), part("pan", "unit", 20, [-600, 0, 300]) | pan],
        "point": [{"name": name, "body": "unit", "at": at, "limit": 20000} for name, at in PLACES.items()],
        "equipment": [STAND],
        "support": [{"name": name, "use": "stand", "under": name} for name in PLACES],
        "stage": [{"name": "down", "in_place": list(PLACES)}, {"name": "pan off", "off": ["pan"]}],
    } | more


LOWEST = {"outline": PAN, "bottom": 195}


def test_a_part_lower_than_its_assembly_is_what_bears_and_nothing_does_once_it_is_off(tmp_path: Path) -> None:
    told = judged(panned(LOWEST, {"bottom": 200}), tmp_path)
    assert the(told.stages[0], "bearing", "D").verdict is Verdict.HOLDS
    stop = the(told.stages[1], "bearing", "D")
    assert (stop.verdict, told.stages[1].statics.load("D")) == (Verdict.STOP, None)
    assert "Nothing is above D: the pan, the lowest over it, is off" in said(stop)
    assert any("D is taken to be on the pan" in each for each in told.job.assumed)
    assert {each.verdict for each in found(told.stages[1], "bearing")} == {Verdict.HOLDS, Verdict.STOP}


@pytest.mark.parametrize("bottom", [195, None])
def test_where_the_assembly_may_bear_too_it_is_in_doubt(tmp_path: Path, bottom: float | None) -> None:
    told = judged(panned(LOWEST, {"bottom": bottom}), tmp_path)
    doubt = the(told.stages[1], "bearing", "D")
    assert doubt.verdict is Verdict.CAUTION
    assert "Perhaps nothing is above D: the pan lay nearest over it and is off; no part is said" in said(doubt)
    assert any("stay while parts come off" in each and "D" in each for each in told.job.assumed)


@pytest.mark.parametrize(
    ("pan", "unit"),
    [
        ({"outline": PAN, "bottom": 250}, {"bottom": 190}),
        ({"outline": PAN, "bottom": 320}, {}),
        ({"outline": BLOCK, "bottom": 195}, {"bottom": 200}),
        ({"bottom": 195}, {"bottom": 200}),
    ],
    ids=["the assembly is nearer", "far over it", "elsewhere", "no outline"],
)
def test_a_part_that_is_not_nearest_over_the_saddle_is_no_trouble(tmp_path: Path, pan: Raw, unit: Raw) -> None:
    told = judged(panned(pan, unit), tmp_path)
    assert the(told.stages[1], "bearing", "D").verdict is Verdict.HOLDS


def test_a_place_that_names_its_part_is_believed(tmp_path: Path) -> None:
    job = panned(LOWEST, {"bottom": 200})
    job["point"][3]["part"] = "block"
    told = judged(job, tmp_path)
    assert the(told.stages[1], "bearing", "D").verdict is Verdict.HOLDS


def test_two_parts_as_near_leave_it_in_doubt(tmp_path: Path) -> None:
    job = panned(LOWEST, {"bottom": 200})
    job["part"].append(part("guard", "unit", 2, [-600, 0, 300]) | LOWEST)
    above = parts_above(read_job(write_job(job, tmp_path)).vehicle, "unit", (-0.7, 0.0, 0.195))
    assert (above.names, above.certain) == (("pan", "guard"), False)


def test_a_stand_that_is_planned_under_a_part_goes_with_it(tmp_path: Path) -> None:
    """Nobody says that D is on the pan, but nothing else can be there."""
    found = space(read_job(write_job(panned(LOWEST, {"bottom": 200}), tmp_path)))
    goes = {each.name: found.goes_with_part(each) for each in found.points}
    assert {name: goes[name] for name in "ABC"} == {"A": None, "B": None, "C": None}
    assert "D" not in goes or goes["D"] is not None

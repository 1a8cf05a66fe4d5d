"""Small jobs for published cases: one body of point masses on stands that are exact, so that only statics is judged."""

from pathlib import Path
from typing import Any

from loadplan import read_job
from loadplan.assess import assess
from loadplan.model.verdict import StageAssessment
from tests.reference.random_jobs import Job, write_job

G = 9.80665
"""Standard acceleration of free fall [m/s²]; sources with 9.8 or 9.81 are compared by share of the weight."""

FOOT = 304.8
INCH = 25.4

EXACT = {"mass_pm": 0, "at_pm": 0}
"""No tolerance."""


def lump(name: str, mass: float | str, at: list[float], body: str = "unit") -> Job:
    """Return a part without tolerance: mass [kg, or a string with its unit], place [mm]."""
    return {"name": name, "body": body, "mass": mass, "at": at} | EXACT


def stand_job(spots: dict[str, list[float]], parts: list[Job]) -> Job:
    """Return a job of one body on equal stands that just touch, each under its own place [mm]."""
    return {
        "body": [{"name": "unit"}],
        "part": parts,
        "equipment": [{"name": "stand", "kind": "stand", "rating": 9000, "rated_for": "each", "stiffness": 1000}],
        "support": [{"name": name, "use": "stand", "body": "unit", "at": at} for name, at in spots.items()],
        "stage": [{"name": "on stands", "in_place": list(spots)}],
    }


def pairs_along_x(ends: dict[str, float]) -> dict[str, list[float]]:
    """Return two places a named end, left and right of the centre line: how a beam's support is made of stands."""
    return {f"{name} {side}": [x, y, 200.0] for name, x in ends.items() for side, y in (("left", 300), ("right", -300))}


def solved(job: Job, folder: Path) -> tuple[StageAssessment, ...]:
    """Write the job, read it and assess it."""
    return assess(read_job(write_job(job, folder))).stages


def expected(stage: StageAssessment) -> dict[str, float]:
    """Return what each support carries [N]."""
    return {each.name: each.load.expected for each in stage.statics.supports if each.load is not None}


def end_loads(stage: StageAssessment) -> dict[str, float]:
    """Return what each pair of `pairs_along_x` carries together [N]."""
    loads: dict[str, Any] = {}
    for name, load in expected(stage).items():
        end = name.rsplit(" ", 1)[0]
        loads[end] = loads.get(end, 0.0) + load
    return loads


def bounds(stage: StageAssessment) -> dict[str, tuple[float | None, float | None]]:
    """Return the least and the most that each support could carry [N]."""
    spans = {each.name: each.load.range for each in stage.statics.supports if each.load is not None}
    return {name: (span.least, span.most) for name, span in spans.items() if span is not None}

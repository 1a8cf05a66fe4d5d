"""A raw job changed as a whole: mirrored, moved, turned, scaled, in other units, with more tolerance.

The changes know which keys of a job hold places, lengths, masses and stiffnesses. All jobs are metric to begin with.
"""

from collections.abc import Callable
from copy import deepcopy
from math import cos, radians, sin
from typing import Any

from tests.reference.random_jobs import Job

MM_PER_INCH = 25.4
KG_PER_POUND = 0.45359237
N_PER_POUND_FORCE = 0.45359237 * 9.80665

Place = list[float]


def _with_places(job: Job, move: Callable[[Place], Place], swap: Callable[[Place], Place]) -> Job:
    """Return the job with every place moved, and every tolerance along x, y, z swapped to fit."""
    new = deepcopy(job)
    for row, key in _places(new):
        at = row[key]
        row[key] = [move(place) for place in at] if isinstance(at[0], list) else move(at)
    for row, key in _place_tolerances(new):
        if isinstance(row[key], list):
            row[key] = swap(row[key])
    if "columns" in new.get("lift", {}):
        del new["lift"]["columns"]
    return new


def _places(job: Job) -> list[tuple[dict[str, Any], str]]:
    rows = [*job["part"], *job.get("joint", []), *job.get("point", []), *job["support"]]
    weighed = [(body["weighed"], "cg") for body in job["body"] if "weighed" in body]
    return [(row, "at") for row in rows if "at" in row] + weighed


def _place_tolerances(job: Job) -> list[tuple[dict[str, Any], str]]:
    weighed = [(body["weighed"], "cg_pm") for body in job["body"] if "weighed" in body]
    return [(part, "at_pm") for part in job["part"] if "at_pm" in part] + weighed


def _masses(job: Job) -> list[dict[str, Any]]:
    return [*job["part"], *(body["weighed"] for body in job["body"] if "weighed" in body)]


def mirrored(job: Job) -> Job:
    """Return the job with left and right changed over."""
    return _with_places(job, lambda at: [at[0], -at[1], at[2]], lambda pm: pm)


def moved(job: Job, x: float, y: float) -> Job:
    """Return the job with the origin elsewhere in plan [mm]."""
    return _with_places(job, lambda at: [at[0] + x, at[1] + y, at[2]], lambda pm: pm)


def quarter_turned(job: Job) -> Job:
    """Return the job turned by 90° about z; boxes of tolerance stay boxes."""
    return _with_places(job, lambda at: [-at[1], at[0], at[2]], lambda pm: [pm[1], pm[0], pm[2]])


def turned(job: Job, degrees: float) -> Job:
    """Return the job turned about z by any angle; boxes of tolerance do not turn with it."""
    c, s = cos(radians(degrees)), sin(radians(degrees))
    return _with_places(job, lambda at: [c * at[0] - s * at[1], s * at[0] + c * at[1], at[2]], lambda pm: pm)


def scaled(job: Job, factor: float) -> Job:
    """Return the job with every mass and every stiffness times a factor; the unstated ones are stated first."""
    new = deepcopy(job)
    for row in _masses(new):
        _times(row, ("mass", "mass_pm"), factor)
    for row, kind in _springs(new):
        row["stiffness"] = factor * row.get("stiffness", ASSUMED[kind])
    return new


ASSUMED = {"stand": 2500.0, "jack": 1500.0, "table": 1500.0, "hoist": 1000.0, "lift": 400.0, "mount": 300.0}


def _springs(job: Job) -> list[tuple[dict[str, Any], str]]:
    shop = job["shop"] if isinstance(job.get("shop"), dict) else job
    rows = [(row, row["kind"]) for row in shop["equipment"]]
    rows += [(row, "lift") for row in shop.get("lift", []) if isinstance(row, dict)]
    return rows + [(row, "mount") for row in job.get("joint", []) if row["kind"] == "mount"]


def in_us_units(job: Job) -> Job:
    """Return the job as written in inches, pounds and pounds-force an inch."""
    us = _with_places(job, lambda at: [value / MM_PER_INCH for value in at], lambda pm: pm)
    for row, key in _place_tolerances(us):
        _times(row, (key,), 1 / MM_PER_INCH)
    for row in _masses(us):
        _times(row, ("mass", "mass_pm"), 1 / KG_PER_POUND)
    for support in us["support"]:
        _times(support, ("height",), 1 / MM_PER_INCH)
        if isinstance(support.get("shim"), dict):
            _times(support["shim"], ("height",), 1 / MM_PER_INCH)
        else:
            _times(support, ("shim",), 1 / MM_PER_INCH)
    for stage in us["stage"]:
        _times(stage, ("lowered", "raised"), 1 / MM_PER_INCH)
    for row, _ in _springs(us):
        _times(row, ("rating",), 1 / KG_PER_POUND)
        _times(row, ("stiffness",), MM_PER_INCH / N_PER_POUND_FORCE)
    if isinstance(us.get("shop"), dict):
        us["shop"] = {"units": "us"} | us["shop"]
    return us | {"units": "us"}


def _times(row: dict[str, Any], keys: tuple[str, ...], factor: float) -> None:
    for key in keys:
        if key in row:
            row[key] = [factor * value for value in row[key]] if isinstance(row[key], list) else factor * row[key]


def with_more_tolerance(job: Job, factor: float) -> Job:
    """Return the job with the tolerance of every stated mass and place times a factor."""
    new = deepcopy(job)
    for row in _masses(new):
        _times(row, ("mass_pm",), factor)
        row |= {"mass_pm": min(row["mass_pm"], 0.9 * row["mass"])} if "mass_pm" in row else {}
    for row, key in _place_tolerances(new):
        _times(row, (key,), factor)
    return new


def with_slope(job: Job, degrees: float) -> Job:
    """Return the job on a floor of another slope."""
    return deepcopy(job) | {"limits": {"floor_slope": degrees}}

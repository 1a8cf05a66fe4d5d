"""A small job in one file, to be changed by tests. Made up; no vehicle is like it."""

from copy import deepcopy
from pathlib import Path
from typing import Any

from loadplan.errors import Fault, InputError
from loadplan.files import read_job
from loadplan.model.job import Job
from tests.files.toml_text import toml

Raw = dict[str, Any]

SMALL: Raw = {
    "schema": "loadplan-job-1",
    "title": "small",
    "units": "metric",
    "date": "2026-11-20",
    "known": "weighed",
    "body": [{"name": "shell"}, {"name": "unit"}],
    "part": [
        {"name": "painted shell", "body": "shell", "mass": 900, "at": [-1000, 0, 700]},
        {"name": "head", "body": "unit", "mass": 20, "at": [0, 0, 700]},
        {"name": "block", "body": "unit", "mass": 150, "at": [0, 0, 500], "after": ["head"]},
    ],
    "joint": [{"name": "bolts", "kind": "bolted", "between": ["unit", "shell"]}],
    "point": [
        {"name": "front", "body": "unit", "at": [300, 0, 200]},
        {"name": "sill left", "body": "shell", "at": [-1000, 700, 200]},
        {"name": "sill right", "body": "shell", "at": [-1000, -700, 200]},
    ],
    "equipment": [{"name": "stand", "kind": "stand", "rating": 1500, "stiffness": 2500}],
    "lift": {
        "name": "bay", "rating": 3000, "arms": 2, "stiffness": 400,
        "body": "shell", "pads": ["sill left", "sill right"],
    },
    "support": [{"name": "A", "use": "stand", "under": "front"}],
    "stage": [{"name": "Set down", "in_place": ["A"]}],
}  # fmt: skip


def small(**changes: Any) -> Raw:  # noqa: ANN401 - whatever TOML holds
    """Return the small job with other values for some of its keys; None takes a key away."""
    raw = deepcopy(SMALL) | changes
    return {key: value for key, value in raw.items() if value is not None}


def write(folder: Path, raw: Raw, name: str = "job.toml") -> Path:
    path = folder / name
    path.write_text(toml(raw), "utf-8")
    return path


def read(folder: Path, raw: Raw) -> Job:
    return read_job(write(folder, raw))


def faults(folder: Path, raw: Raw) -> tuple[Fault, ...]:
    """Return the faults of a job, none where it has none."""
    try:
        read(folder, raw)
    except InputError as error:
        return error.faults
    return ()

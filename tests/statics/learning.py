"""Made-up jobs whose readings are drawn from a truth that the files only know with a plus or minus."""

from pathlib import Path
from typing import Any, NamedTuple

import numpy as np

import loadplan
from loadplan.model.job import Job, StageReading
from loadplan.stages import states
from loadplan.statics.expected_reading import loads_read
from loadplan.statics.load_response import LoadResponse, load_response
from loadplan.statics.mass import Array
from loadplan.statics.stage_sequence import solve_stages
from loadplan.statics.weight_update import WeighedLoad
from tests.checks.small_jobs import STAND
from tests.reference.random_jobs import write_job

Raw = dict[str, Any]

PLACES = {"A": [350, 400, 200], "B": [350, -400, 200], "C": [-350, 400, 200], "D": [-350, -400, 200]}


def loose(name: str, body: str, mass: float, at: list[float]) -> Raw:
    """A part known to 8 % and 20 mm."""
    return {"name": name, "body": body, "mass": mass, "mass_pm": "8 %", "at": at, "at_pm": 20}


def two_bodies() -> Raw:
    """A frame of 300 kg on four stands, and an engine of 250 kg on it by three mounts and on two stands of its own."""
    stands = [{"name": name, "use": "stand", "body": "frame", "at": at} for name, at in PLACES.items()]
    own = {"E": [300, 0, 200], "F": [-450, 0, 260]}
    stands += [{"name": name, "use": "stand", "body": "engine", "at": at} for name, at in own.items()]
    mounts = [
        {"name": name, "kind": "mount", "between": ["engine", "frame"], "at": at, "stiffness": 300}
        for name, at in {"left": [0, 300, 450], "right": [0, -300, 450], "rear": [-300, 50, 400]}.items()
    ]
    return {
        "body": [{"name": "frame"}, {"name": "engine"}],
        "part": [
            loose("front beam", "frame", 120, [300, 10, 250]),
            loose("rear beam", "frame", 180, [-250, -10, 250]),
            loose("block", "engine", 170, [60, -20, 500]),
            loose("gearbox", "engine", 80, [-300, 15, 430]),
        ],
        "joint": mounts,
        "equipment": [STAND | {"stiffness": 2000}],
        "limits": {"uneven": 0.3, "uneven_touch": 0.3},
        "support": stands,
        "stage": [{"name": "on stands", "in_place": [each["name"] for each in stands]}],
    }


class Drawn(NamedTuple):
    """A truth, and what scales read of it."""

    truth: Array
    read: tuple[WeighedLoad, ...]


def response_of(raw: Raw, folder: Path, *, stiffness_open: bool = False) -> LoadResponse:
    return response_in(loadplan.read_job(write_job(raw, folder)), stiffness_open=stiffness_open)


def response_in(job: Job, *, stiffness_open: bool = False) -> LoadResponse:
    followed = states(job)
    return load_response(job, followed[0], solve_stages(job, followed)[0], stiffness_open=stiffness_open)


def scale(response: LoadResponse, name: str, load: float, pm: float, lower: float = 0.0) -> WeighedLoad:
    reading = StageReading(name, load, pm)
    counted = loads_read(response, reading)
    assert counted is not None
    return WeighedLoad(reading, counted, lower)


def drawn(
    response: LoadResponse, names: list[str], pm: float, luck: np.random.Generator, levels: tuple[float, ...] = (0.0,)
) -> Drawn:
    """Draw the unknowns as the files describe them: weights normal, saddles anywhere in their limits; read them."""
    first, last = 3 * len(response.weights), response.stiffness_from
    chance = luck.standard_normal(len(response.given))
    chance[first:last] = luck.uniform(-np.sqrt(3), np.sqrt(3), last - first)
    truth = response.given + chance * response.spread
    read = []
    for lower in levels:
        loads = response.loads(truth[None, :], lower)[0]
        for name in names:
            exact = scale(response, name, 0.0, pm)
            shown = float(exact.counted @ loads + luck.normal() * pm / 2)
            read.append(scale(response, name, max(shown, 0.0), pm, lower))
    return Drawn(truth, tuple(read))

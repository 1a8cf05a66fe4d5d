"""Never held when it goes over as it settles: weights and heights drawn inside tolerance, let down in a simulator.

python -m tests.proofs.held_as_it_settles FROM TO        # seeds of layouts, of each family

What `held` judges by forces in balance is judged here with its lean: soft stands give way, and what is tall leans.
"""

import sys
import tempfile
from collections.abc import Iterator
from dataclasses import replace
from math import atan, pi
from pathlib import Path
from random import Random

import numpy as np

from loadplan import read_job
from loadplan.assess import assess
from loadplan.model.verdict import Verdict
from tests.reference.random_jobs import Job, write_job
from tests.reference.scenes import Plan, Scene, all_scenes, read_plan
from tests.validation.simulated import Simulated, Tilt
from tests.validation.six_families import FAMILIES

DRAWS = 3
"""Draws from the tolerances of each step."""

MASS_PM, PLACE_PM, UNEVEN = 0.08, 40, 2
"""Tolerances of every layout: share of a mass, places and heights of saddles [mm]; the floor slopes by 0.6 degrees."""


def with_tolerance(raw: Job) -> Job:
    """Return a layout with tolerances on all parts and saddles, and a floor that slopes."""
    parts = [part | {"mass_pm": round(MASS_PM * part["mass"], 1), "at_pm": PLACE_PM} for part in raw["part"]]
    return raw | {"part": parts, "limits": {"uneven": UNEVEN, "floor_slope": 0.6}}


def wrongly_held(raw: Job, folder: Path, seed: int) -> Iterator[str]:
    """Yield a line for every step that falls somewhere inside tolerance, though its verdict is no stop."""
    draw, plan = np.random.default_rng(seed), read_plan(raw)
    ends = {joint["name"]: tuple(joint["to"]) for joint in raw.get("joint", []) if "to" in joint}
    stages = assess(read_job(write_job(raw, folder))).stages
    for scene, stage in zip(all_scenes(raw, plan), stages, strict=True):
        if stage.verdict is Verdict.STOP and any(
            each.check in ("balance", "sway") and each.verdict is Verdict.STOP for each in stage.findings
        ):
            continue
        if any(_falls(_drawn(scene, plan, draw), ends, (plan.slope, draw)) for _ in range(DRAWS)):
            yield f"{scene.name}: {stage.verdict.name}"


def _falls(scene: Scene, ends: dict[str, tuple[float, float, float]], floor: tuple[float, np.random.Generator]) -> bool:
    """Tell whether it falls, on a level floor or on one that slopes some way."""
    simulated = Simulated(scene, ends)
    slope, draw = floor
    return simulated.fell or simulated.falls_under(Tilt(atan(slope), draw.uniform(0, 2 * pi)))


def _drawn(scene: Scene, plan: Plan, draw: np.random.Generator) -> Scene:
    """Return a scene with every mass and place at an end of its tolerance, and every saddle off its height."""
    ends = (-1.0, 1.0)
    lumps = tuple(
        replace(
            lump,
            mass=lump.mass + float(draw.choice(ends)) * lump.mass_pm,
            at=tuple(at + float(draw.choice(ends)) * pm for at, pm in zip(lump.at, lump.at_pm, strict=True)),
        )
        for lump in scene.lumps
    )
    off = [draw.uniform(-plan.uneven, plan.uneven) for _ in scene.seats]
    seats = tuple(
        seat if seat.value is None else replace(seat, value=seat.value + by)
        for seat, by in zip(scene.seats, off, strict=True)
    )
    return replace(scene, lumps=lumps, seats=seats)


def main() -> None:
    """Print what was held though it falls, and how many layouts were judged."""
    first, last = (int(each) for each in sys.argv[1:3])
    wrong = 0
    with tempfile.TemporaryDirectory() as folder:
        for family, make in FAMILIES.items():
            for seed in range(first, last):
                lines = list(wrongly_held(with_tolerance(make(Random(seed))), Path(folder), seed))
                wrong += bool(lines)
                for line in lines:
                    print(f"{family} {seed}: {line}", flush=True)  # noqa: T201
    print(f"{(last - first) * len(FAMILIES)} layouts tried: {wrong} held though they fall")  # noqa: T201
    sys.exit(wrong > 0)


if __name__ == "__main__":
    main()

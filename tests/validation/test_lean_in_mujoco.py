"""Tip angles and lean against mujoco (Apache licence), a simulator of rigid bodies: gravity tilts until it falls.

Layouts are those of `test_mujoco`, all saddles and mounts in one level plane, since a body turns about that there. Each
is let down, and gravity is then tilted the way in which the mode with the least tip angle goes, until the unit falls;
the angle is found by halving to 1 %. A simulated unit may land on another stand once it has gone over a line: so the
printed angle may be the smaller one, on the careful side.
"""

from dataclasses import dataclass
from math import atan2, cos, hypot, sin
from pathlib import Path

import mujoco
import numpy as np
import pytest

from loadplan import read_job
from loadplan.assess import assess
from loadplan.limits import GRAVITY
from loadplan.model.answer import Mode
from loadplan.model.job import Job
from loadplan.model.verdict import StageAssessment, Verdict
from tests.reference.random_jobs import write_job
from tests.validation import test_mujoco as layouts
from tests.validation.dropped import CHUNK, FALLEN, drop, has_fallen, let_down

PLANE = 300.0
"""Of all saddles and mounts [mm]."""

LAYOUTS = (0, 2, 4, 5, 8, 12, 13, 22, 28, 46, 52, 58)
"""Seeds of layouts that stand, half of them two linked bodies."""

NEAR = 1.1
"""How many times the simulated angle a printed one may be."""

SWAYS = 0.1
"""From this sway on, which is a caution, tilts grow fast and angles are not compared."""

TILTING, PATIENCE, STILL = 0.5, 40.0, 3e-5
"""How long gravity takes to tilt [s], how long is waited then [s], and the speed at which it rests [m/s, rad/s]."""


@dataclass(frozen=True)
class Compared:
    """One layout: what was printed of it, and at which tilt it falls [rad]."""

    seed: int
    printed: float
    simulated: float


@pytest.fixture
def _one_plane(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("LOWER", "UPPER"):
        monkeypatch.setattr(layouts, name, PLANE)


def stage_of(seed: int, folder: Path) -> tuple[Job, StageAssessment]:
    job = read_job(write_job(layouts.layout(seed), folder))
    return job, assess(job).stages[0]


def way(mode: Mode) -> float:
    """Return the direction in which gravity takes a mode over [rad]: that of the body that turns most."""
    motion = max((each for _, each in mode.motions), key=lambda each: hypot(each.rx, each.ry))
    return atan2(-motion.rx, motion.ry)


def falls(job: Job, tilt: float, direction: float) -> bool:
    """Tilt gravity under a unit that has come to rest; tell whether it falls."""
    model, state = let_down(job)
    model.dof_damping[:] = 3 * model.dof_M0
    began = state.time
    while state.time - began < PATIENCE:
        now = tilt * min(1.0, (state.time - began) / TILTING)
        model.opt.gravity[:] = GRAVITY * np.array([sin(now) * cos(direction), sin(now) * sin(direction), -cos(now)])
        mujoco.mj_step(model, state, CHUNK)
        if has_fallen(state, FALLEN + tilt / 2):
            return True
        if state.time - began > TILTING + 0.1 and max(abs(state.qvel)) < STILL:
            return False
    return True


def compare(seed: int, folder: Path) -> Compared:
    job, stage = stage_of(seed, folder)
    modes = [mode for group in stage.statics.groups for mode in group.modes if mode.tip_angle is not None]
    mode = min(modes, key=lambda each: each.tip_angle or 0.0)
    printed = mode.tip_angle or 0.0
    low, high = 0.0, 1.3 * printed
    while high - low > 0.01 * printed:
        middle = (low + high) / 2
        low, high = (low, middle) if falls(job, middle, way(mode)) else (middle, high)
    return Compared(seed, printed, high)


@pytest.mark.slow
@pytest.mark.usefixtures("_one_plane")
def test_printed_tip_angles_are_those_of_the_simulator(tmp_path: Path) -> None:
    """Within a tenth, or smaller: seen with mujoco 4.0.0 at 0.77 to 1.06 times."""
    found = []
    for seed in LAYOUTS:
        _, stage = stage_of(seed, tmp_path)
        if max(group.sway or 0.0 for group in stage.statics.groups) <= SWAYS:
            found.append(compare(seed, tmp_path))
    assert not [each for each in found if each.printed > NEAR * each.simulated]
    assert sum(each.printed > each.simulated / NEAR for each in found) > len(found) / 2
    assert len(found) > 9


@pytest.mark.parametrize("seed", [32, 62])
def test_what_goes_over_by_its_own_lean_falls_and_is_a_stop(seed: int, tmp_path: Path) -> None:
    """Two that balance as set but have no settled state: down they go."""
    job, stage = stage_of(seed, tmp_path)
    assert any(group.balanced and group.sway is None for group in stage.statics.groups)
    assert stage.verdict is Verdict.STOP
    assert drop(job).fell


@pytest.mark.slow
def test_what_falls_in_the_simulator_is_a_stop(tmp_path: Path) -> None:
    fell = 0
    for seed in range(40):
        job, stage = stage_of(seed, tmp_path)
        if drop(job).fell:
            fell += 1
            assert stage.verdict is Verdict.STOP, seed
    assert fell > 5

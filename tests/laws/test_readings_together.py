"""Readings of a state inside all tolerances are never told not to go together, and those that none gives always are.

The states: masses and centres anywhere in their tolerances, as often at their ends, and of the loads that balance them
those that are least in a direction drawn by chance, so that stands carry nothing where they may. That no state gives
readings is known by virtual work: along a motion that stretches no mount loads do the work of the weights, and that is
no more than the sum of the most that each lump does at a corner of its tolerances.
"""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from typing import NamedTuple

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from loadplan import read_job
from loadplan.limits import GRAVITY
from loadplan.model.answer import Statics
from loadplan.model.job import Job, StageReading, State
from loadplan.stages import states
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.mass import Array, lumps
from loadplan.statics.null_space import null_space
from loadplan.statics.readings_together import fit_together, misfits_together
from loadplan.statics.stage_sequence import solve_stages
from tests.examples import examples
from tests.laws.test_laws import PLAIN
from tests.reference.random_jobs import FAMILIES, write_job

pytestmark = pytest.mark.slow
"""Dozens of random jobs a law: they run where they are asked for."""

CLEAR = 0.01
"""Share of a group's weight that nobody takes for rounding."""


class Standing(NamedTuple):
    """One group that stands in a stage of a job."""

    job: Job
    state: State
    statics: Statics
    frame: Frame


def standing(seed: int, family: str) -> Iterator[Standing]:
    """Go through the groups of a random job that stand and have something to read under them."""
    with TemporaryDirectory() as folder:
        job = read_job(write_job(FAMILIES[family](Random(seed)), Path(folder)))
    followed = states(job)
    for state, statics in zip(followed, solve_stages(job, followed), strict=True):
        for frame in frames(state, lumps(job, state)):
            group = statics.group_of(frame.bodies[0])
            if group.balanced and group.robust and len(frame.supports) > 1:
                yield Standing(job, state, statics, frame)


def drawn_weights(frame: Frame, luck: np.random.Generator) -> Array:
    """Weights inside their tolerances, at the ends of these as often as between (3 q), as shares of the group's."""
    weights = np.zeros(frame.load.size)
    for lump, whole in zip(frame.lumps, frame.whole_of.tolist(), strict=True):
        low, high = (0.0 if lump.optional else lump.low), lump.high
        mass, x, y = np.clip(luck.uniform(-2, 2, 3), -1, 1)
        share = lump.sign * ((low + high) / 2 + mass * (high - low) / 2) * GRAVITY / frame.weight
        at = [
            (lump.at[axis] + off * lump.at_pm[axis] - frame.middle[axis]) / frame.span for axis, off in ((0, x), (1, y))
        ]
        weights[3 * whole : 3 * whole + 3] += share * np.array([1.0, at[1], -at[0]])
    return weights


def drawn_loads(frame: Frame, luck: np.random.Generator) -> Array | None:
    """Loads that balance such weights, at an end in some direction [N]; None where none do."""
    weights = drawn_weights(frame, luck)
    price = np.concatenate([luck.uniform(0.1, 1.0, len(frame.supports)), np.zeros(len(frame.mounts))])
    free = [(0.0, None)] * len(frame.supports) + [(None, None)] * len(frame.mounts)
    found = linprog(price, A_eq=np.hstack([frame.up.T, frame.stretch.T]), b_eq=weights, bounds=free)
    return None if found.x is None else np.maximum(found.x[: len(frame.supports)], 0.0) * frame.weight


def read(of: Standing, readings: list[StageReading]) -> tuple[Job, State, Statics]:
    """The stage with these readings in it."""
    return of.job, replace(of.state, stage=replace(of.state.stage, readings=tuple(readings))), of.statics


@examples(60)
@given(seed=st.integers(0, 10**6), family=st.sampled_from(PLAIN))
def test_what_some_state_inside_the_tolerances_gives_goes_together(seed: int, family: str) -> None:
    luck = np.random.default_rng(seed)
    for of in standing(seed, family):
        loads = drawn_loads(of.frame, luck)
        if loads is None:
            continue
        readings = []
        for support, load in zip(of.frame.supports, loads.tolist(), strict=True):
            pm = float(luck.uniform(0, 0.02)) * of.frame.weight
            scale = StageReading(support.name, max(load + float(luck.uniform(-1, 1)) * pm, 0.0), pm)
            hand = StageReading(support.name, None, turns=load <= (300.0 if luck.random() < 0.5 else 50.0))
            readings += [scale] if luck.random() < 0.6 else [hand]
        kept = [each for each in readings if luck.random() < 0.8]
        assert misfits_together(*read(of, kept)) == ()
        assert fit_together(*read(of, kept))


def most_work(frame: Frame, motion: Array) -> float:
    """The most work that weights inside their tolerances do along a motion (3 q), as a share of the group's weight."""
    total = 0.0
    for lump, whole in zip(frame.lumps, frame.whole_of.tolist(), strict=True):
        heave, rx, ry = motion[3 * whole : 3 * whole + 3]
        (x, y), (off_x, off_y) = lump.at[:2], lump.at_pm[:2]
        total += max(
            lump.sign * mass * (heave + rx * (y + v * off_y - frame.middle[1]) - ry * (x + u * off_x - frame.middle[0]))
            for mass in (0.0 if lump.optional else lump.low, lump.high)
            for u in (-1, 1)
            for v in (-1, 1)
        )
    return total * GRAVITY / frame.weight


@examples(60)
@given(seed=st.integers(0, 10**6), family=st.sampled_from(PLAIN))
def test_what_no_state_gives_by_virtual_work_does_not_go_together(seed: int, family: str) -> None:
    luck = np.random.default_rng(seed)
    for of in standing(seed, family):
        frame, loads = of.frame, drawn_loads(of.frame, luck)
        if loads is None:
            continue
        free = null_space(frame.stretch, frame.load.size)
        motion = luck.standard_normal(len(free)) @ free
        # Lengths are shares of the span in the balance, and metres in what a lump does.
        lengths = motion.reshape(-1, 3) * np.array([1.0, 1 / frame.span, 1 / frame.span])
        rises = frame.up @ motion
        pm = float(luck.uniform(0, 0.01)) * frame.weight
        past = most_work(frame, lengths.reshape(-1)) * frame.weight + pm * np.abs(rises).sum()
        past += CLEAR * frame.weight * np.abs(rises).max() - loads @ rises
        readings = [
            StageReading(support.name, float(load), pm)
            for support, load in zip(frame.supports, loads + past * rises / (rises @ rises), strict=True)
        ]
        told = misfits_together(*read(of, readings))
        assert not fit_together(*read(of, readings))
        assert told or not all(fit_together(*read(of, [each])) for each in readings)

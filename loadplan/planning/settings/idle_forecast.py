"""Idle forecast: which of many settings would leave a stand idle or a unit out of level, all of them solved at once.

A forecast is what rigid wholes on push-only springs expect (`contact_loads`), stage by stage and group by group.
Saddles that are not among those asked about stay where the plan has them. It orders what is worth judging, and judges
nothing.
"""

from dataclasses import dataclass

import numpy as np

from loadplan.model.job import Job, State, Support
from loadplan.stages import joined, states
from loadplan.statics.contact_loads import settle, springs
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.group import glance
from loadplan.statics.levelling import IDLE
from loadplan.statics.mass import Array, lumps
from loadplan.statics.mount_preload import mount_preload
from loadplan.statics.stage_sequence import solve_stages_by
from loadplan.statics.unsolved import UNSOLVED

CHUNK = 2000
"""Settings solved at once, to bound the memory."""


@dataclass(frozen=True, slots=True)
class _SettingsAsked:
    """The settings asked about; c of them, n saddles.

    Attributes:
        job: The job, as planned.
        columns: Column of each support by name.
        rises: Height and shim less place of each saddle (c, n) [m].
    """

    job: Job
    columns: dict[str, int]
    rises: Array


def troubles_expected(job: Job, supports: tuple[str, ...], rises: Array) -> Array:
    """Count the stands that would be idle and the assemblies that would be out of level.

    Args:
        job: The job, as planned.
        supports: Names of the supports asked about.
        rises: Height and shim less place of each (c, n) [m].

    Returns:
        How many over all stages (c): one a stand and stage that carries nothing though it should, one a body and stage
        that leans by more than the job allows.
    """
    asked = _SettingsAsked(job, {name: number for number, name in enumerate(supports)}, rises)
    followed = states(job)
    found = np.zeros(len(rises))
    try:
        solved = solve_stages_by(glance, job, followed, lambda _: None)
    except UNSOLVED:
        return found
    preload = mount_preload(job)
    known: dict[object, Array] = {}
    for state, statics in zip(followed, solved, strict=True):
        for frame in frames(state, lumps(job, state)):
            held = job.lift is not None and job.lift.body in joined(state.done_up, frame.wholes[0][0])
            if state.stage.moved or (held and any(each.is_arm for each in frame.supports)):
                continue
            low = _gaps(asked, state, frame, statics.gaps)
            counted = _counted(job, state, frame)
            # Stages that change nothing for a group are solved once.
            key = (frame.wholes, frame.supports, frame.mounts, frame.lumps, tuple(counted), low[0].tobytes())
            if key not in known:
                known[key] = _in_group(asked, frame, low, (counted, preload))
            found += known[key]
    return found


def _gaps(asked: _SettingsAsked, state: State, frame: Frame, planned: dict[str, float]) -> Array:
    """Return the gaps (c, n) [m] of a group's supports: of those asked about by their rises, of others as planned."""
    over_floor = [_rise(asked, each) for each in state.bearing if not each.on and each.set_height is not None]
    highest = np.max(over_floor, axis=0) if over_floor else np.zeros(len(asked.rises))
    columns = [
        highest - _rise(asked, each)
        if each.set_height is not None and not each.on
        else np.full(len(asked.rises), planned[each.name])
        for each in frame.supports
    ]
    return np.array(columns).reshape(len(columns), len(asked.rises)).T


def _rise(asked: _SettingsAsked, support: Support) -> Array:
    """Return how high a saddle stands against its place (c) [m]."""
    planned = next((each for each in asked.job.supports if each.name == support.name), support)
    # What a stage sets anew is set to what the stage says, whatever it was set to before.
    if support.name in asked.columns and support.height == planned.height:
        return asked.rises[:, asked.columns[support.name]]
    assert support.set_height is not None
    return np.full(len(asked.rises), support.set_height - support.at[2])


def _counted(job: Job, state: State, frame: Frame) -> list[bool]:
    """Return for each support of a group whether it is a fault that it carries nothing."""
    next_cleared = {name for stage in job.stages[state.index + 1 :][:1] for name in stage.cleared}
    return [
        not (each.standby or each.is_arm or each.name in next_cleared)
        and not (each.set_height is None and each.name in state.stage.in_place)
        for each in frame.supports
    ]


def _in_group(asked: _SettingsAsked, frame: Frame, low: Array, how: tuple[list[bool], dict[str, float]]) -> Array:
    """Return the troubles expected in one group (c); none where it does not settle: then heights are not the matter."""
    counted, preload = how
    limit = asked.job.limits.level
    if not frame.supports:
        return np.zeros(len(low))
    held = springs(frame, preload)
    found = []
    for start in range(0, len(low), CHUNK):
        part = low[start : start + CHUNK]
        try:
            settled = settle(held, np.tile(frame.load, (len(part), 1)), part / frame.span)
        except UNSOLVED:
            return np.zeros(len(low))
        idle = (settled.loads <= IDLE)[:, counted].sum(axis=1)
        turned = settled.motions.reshape(len(part), -1, 3)[:, :, 1:]
        found.append(idle + (np.hypot(turned[:, :, 0], turned[:, :, 1]) > limit).sum(axis=1))
    return np.concatenate(found).astype(float)

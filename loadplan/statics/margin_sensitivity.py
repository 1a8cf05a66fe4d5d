"""Unknowns: how much margin would be won back if one part were known exactly."""

from dataclasses import replace
from math import inf

import numpy as np

from loadplan.model.answer import GroupAnswer
from loadplan.model.job import Job, State
from loadplan.model.verdict import Unknown
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.lean import Tilted, told_lean
from loadplan.statics.mass import Array, lumps, off_before
from loadplan.statics.tipping_modes import rays
from loadplan.statics.worst_margin import is_plain, margins_if_known, trials_of, worst, worst_ratios

TOLD = 3
"""How many are told."""

TRIED = 10
"""How many are tried: those that cost most in the nearest way of going over."""

NOTHING = 1e-6
"""Less than this [m] is not won back."""


def unknowns(job: Job, state: State, told: GroupAnswer, body: str) -> tuple[Unknown, ...]:
    """Find what costs a body most of its margin.

    Its worst margin is found again with each part (or body weighed whole) exactly as given, one at a time; supports,
    mounts and modes stay as they are.

    Args:
        job: The job.
        state: The state, in which the body's group is balanced.
        told: What was told of that group: its lean stays as it is, too.
        body: The body.

    Returns:
        At most three, what costs most first.
    """
    group = next(each for each in frames(state, lumps(job, state)) if body in each.bodies)
    motions = rays(group)
    tilted = Tilted(job.limits.floor_slope, told_lean(group, told))
    needs = off_before(job, group.lumps)
    whole = group.whole(body)

    def margin(frame: Frame) -> float:
        return float(worst(frame, motions, tilted, needs).margins[whole])

    # Without the order of the parts, which ties choices to each other: a ranking can do without it.
    ratios = worst_ratios(group, motions, tilted, ())[1][:, whole]
    inexact = _costliest(group, motions, tilted, (whole, ratios))
    # Found again, not read off a slope: with one part known, another way of going over may be the nearest.
    if is_plain(group):
        now = group.span * float(ratios.min(initial=inf))
        found = margins_if_known(group, motions, tilted, (whole, inexact))
    else:
        now, found = margin(group), tuple(margin(_known(group, number)) for number in inexact)
    gains = [each - now for each in found]
    won = [
        Unknown(group.lumps[number].body, group.lumps[number].part, gain)
        for number, gain in zip(inexact, gains, strict=True)
    ]
    return tuple(sorted((each for each in won if each.gain > NOTHING), key=lambda each: -each.gain)[:TOLD])


def _costliest(group: Frame, motions: Array, tilted: Tilted, asked: tuple[int, Array]) -> list[int]:
    """Return the lumps whose tolerances take off most in the way of going over that is nearest.

    Asked is the number of the whole, with its least margin in each way, scaled (k). No lump wins back more than it
    costs in that way, so that those that cost little there need not be tried.
    """
    whole, ratios = asked
    nearest = int(ratios.argmin())
    rows = trials_of(group, motions[nearest : nearest + 1], tilted, ())
    value = rows.mid - float(ratios[nearest]) * rows.turns
    given, low, high = (np.array([getattr(lump, key) for lump in group.lumps]) for key in ("mass", "low", "high"))
    # Each lump at its own worse side, though a whole leans as one: only the ranking hangs on it.
    worse = value - rows.half - np.abs(rows.swing)
    cost = (given * value - np.minimum(low * worse, high * worse))[rows.target == whole].max(axis=0)
    ranked = np.argsort(-cost, kind="stable")[:TRIED]
    return [int(number) for number in ranked if cost[number] > 0]


def _known(group: Frame, number: int) -> Frame:
    """Return the group with one lump exactly as given."""
    lump = group.lumps[number]
    exact = replace(lump, low=lump.mass, high=lump.mass, at_pm=(0.0, 0.0, 0.0))
    return replace(group, lumps=(*group.lumps[:number], exact, *group.lumps[number + 1 :]))

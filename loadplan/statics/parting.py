"""Parting: how far a unit sinks when what ties it to the vehicle on the lift is undone."""

from dataclasses import replace

import numpy as np

from loadplan.model.answer import Motion
from loadplan.model.job import State
from loadplan.statics.contact_loads import settle, springs
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.set_down_window import SetDown
from loadplan.statics.tipping_modes import stands


def drop(state: State, parted: tuple[str, ...], down: SetDown, level: float) -> float | None:
    """Find how far a unit sinks onto its stands when it is parted with the lift at some level.

    All its ties to other bodies are undone at once, and nothing else changes: parts, saddles and weights stay.

    Args:
        state: The state, in which the unit is still tied.
        parted: Bodies of the unit.
        down: The unit coming down onto its stands.
        level: How far past first touch [m].

    Returns:
        How far the place over a stand sinks that sinks most [m], at least 0; None where the unit does not stand on
        its own.
    """
    groups = frames(_apart(state, parted), tuple(lump for lump in down.frame.lumps if lump.body in parted))
    # A unit that falls does not sink by some amount: that it tips is told elsewhere.
    if not all(stands(group) for group in groups):
        return None
    before = down.motions(level)
    return max((fall for group in groups for fall in _falls(group, down, before)), default=0.0)


def _apart(state: State, parted: tuple[str, ...]) -> State:
    inside = set(parted)
    return replace(
        state,
        bodies=parted,
        done_up=tuple(joint for joint in state.done_up if set(joint.between) <= inside),
        supports=tuple(each for each in state.supports if each.body in inside),
    )


def _falls(group: Frame, down: SetDown, before: dict[str, Motion]) -> list[float]:
    """Return how far each place over a stand sinks [m], 0 where it rises."""
    whole = down.frame
    low = dict(zip((each.name for each in whole.supports), down.gaps * whole.span, strict=True))
    preload = dict(zip((each.name for each in whole.mounts), down.held.preload * whole.weight, strict=True))
    gaps = np.array([[low[each.name] / group.span for each in group.supports]])
    after = dict(group.motions(settle(springs(group, preload), group.load[None, :], gaps).motions[0]))
    places = [(each.body, each.at[0], each.at[1]) for each in group.supports]
    return [max(before[body].up_at(x, y) - after[body].up_at(x, y), 0.0) for body, x, y in places]

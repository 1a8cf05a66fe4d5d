"""Parting: what each body of a unit stands on, what still holds it, and how far it sinks when that is undone."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from loadplan.limits import GRAVITY
from loadplan.model.answer import Motion
from loadplan.model.job import State
from loadplan.model.lowering import PartedBody
from loadplan.model.vehicle import Joint, JointKind
from loadplan.statics.contact_loads import settle, springs
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.mass import mass_and_cg
from loadplan.statics.set_down_window import SetDown
from loadplan.statics.settlement import Watched, drops
from loadplan.statics.tipping_modes import stands


def partings(state: State, parted: tuple[str, ...], down: SetDown, level: float) -> tuple[PartedBody, ...]:
    """Tell of each body of a unit that is to be parted with the lift at some level how it stands until then.

    All ties of the unit to other bodies are undone at once, and nothing else changes: parts, saddles and weights stay.

    Args:
        state: The state, in which the unit is still tied.
        parted: Bodies of the unit.
        down: The unit coming down onto its stands.
        level: How far past first touch [m].

    Returns:
        One record a body.
    """
    inside = set(parted)
    ties = tuple(each for each in state.done_up if len(inside & set(each.between)) == 1)
    # All ties at once: in which order they go is looked at elsewhere.
    groups = frames(_apart(state, parted), tuple(lump for lump in down.frame.lumps if lump.body in inside))
    before = down.motions(level)
    names = [each.name for each in down.frame.supports]
    loads = dict(zip(names, down.loads(np.array([level]))[0].tolist(), strict=True))
    told = {}
    for group in groups:
        after = _alone(group, down)
        for whole in group.wholes:
            hold = _held(state, whole, ties, (loads, down.forces(level)), group)
            for name in whole:
                told[name] = PartedBody(
                    name=name,
                    carried=sum(loads.get(each.name, 0.0) for each in state.supports if each.body == name),
                    held=hold[name],
                    joints=tuple(each.name for each in ties if name in each.between),
                    drop=_drop(state, name, ties, (before, after)),
                )
    return tuple(told[name] for name in parted)


def _apart(state: State, parted: tuple[str, ...]) -> State:
    inside = set(parted)
    return replace(
        state,
        bodies=parted,
        done_up=tuple(joint for joint in state.done_up if set(joint.between) <= inside),
        supports=tuple(each for each in state.supports if each.body in inside),
    )


def _alone(group: Frame, down: SetDown) -> dict[str, Motion]:
    """Return how each body of a group stands on its own; empty where it does not."""
    if not stands(group):
        return {}
    whole = down.frame
    low = dict(zip((each.name for each in whole.supports), down.gaps * whole.span, strict=True))
    preload = dict(zip((each.name for each in whole.mounts), down.held.preload * whole.weight, strict=True))
    # As the stands were set, so that what sinks is the parting and not a new height.
    gaps = np.array([[low[each.name] / group.span for each in group.supports]])
    return dict(group.motions(settle(springs(group, preload), group.load[None, :], gaps).motions[0]))


def _drop(
    state: State, name: str, ties: tuple[Joint, ...], moved: tuple[dict[str, Motion], dict[str, Motion]]
) -> float | None:
    """Return how far the place of a stand or tie of a body sinks that sinks furthest [m]."""
    before, after = moved
    if name not in after:
        return None
    places = [Watched(each.name, name, each.at[:2]) for each in state.supports if each.body == name]
    places += [Watched(each.name, name, at[:2]) for each in ties if name in each.between for at in each.at]
    return max((each.fall for each in drops(tuple(places), before, after)), default=0.0)


def _held(
    state: State,
    whole: tuple[str, ...],
    ties: tuple[Joint, ...],
    found: tuple[Mapping[str, float], Mapping[str, float]],
    group: Frame,
) -> dict[str, float | None]:
    """Return what the ties of each body of a rigid whole hold [N].

    The force of a mount is known. What bolts hold is what the balance of the whole leaves to them, and so is known only
    where one body of the whole has any.
    """
    loads, forces = found
    mounts = {
        name: sum(
            _up(each, name, forces) for each in ties if name in each.between and each.kind is not JointKind.BOLTED
        )
        for name in whole
    }
    bolted = [name for name in whole if any(name in each.between and each.kind is JointKind.BOLTED for each in ties)]
    held: dict[str, float | None] = dict(mounts)
    if not bolted:
        return held
    weight = GRAVITY * mass_and_cg(tuple(lump for lump in group.lumps if lump.body in whole))[0]
    borne = sum(loads.get(each.name, 0.0) for each in state.supports if each.body in whole)
    borne -= sum(loads.get(each.name, 0.0) for each in state.supports if each.on in whole)
    inner = sum(_up(each, name, forces) for each in group.mounts for name in whole if name in each.between)
    others = sum(mounts[name] for name in whole if name not in bolted)
    rest = weight - borne - inner - others
    return held | {name: rest if len(bolted) == 1 else None for name in bolted}


def _up(joint: Joint, body: str, forces: Mapping[str, float]) -> float:
    """Return the force [N] with which a mount pulls a body up."""
    force = forces.get(joint.name, 0.0)
    return force if joint.between[0] == body else -force

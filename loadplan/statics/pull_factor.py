"""A known pull: how many times it could be stood, for a torque in the worst direction of the bar."""

from collections.abc import Mapping
from dataclasses import replace
from math import cos, inf, pi, sin

import numpy as np

from loadplan.model.disturbance import PullAnswer
from loadplan.model.job import Pull
from loadplan.model.vehicle import Place
from loadplan.statics.equilibrium import Frame
from loadplan.statics.mass import Array
from loadplan.statics.push_limit import Hold, overloaded, stands_each
from loadplan.statics.resting_state import Solved
from loadplan.statics.sideways_push import leant, stood
from loadplan.statics.sideways_resistance import Grip, Resistance
from loadplan.statics.stance import Stance

BAR_DIRECTIONS = 36
"""Directions of the bar that are tried at first."""

FINER = 9
"""Directions about the worst one that are tried in each round after."""

NARROWED = 2
"""Rounds after the first; in the last one the bar is turned by five eighths of a degree at a time."""


def pulled(
    pull: Pull | None, groups: tuple[Frame, ...], solved: tuple[Solved, ...], holds: Mapping[str, Grip]
) -> PullAnswer | None:
    """Compare the pull of a stage with what its group can stand.

    Args:
        pull: The pull, None where the stage names none.
        groups: The groups of the stage.
        solved: The same, solved.
        holds: How each support holds sideways.

    Returns:
        The factor; None without a pull, or where its group has no settled state.
    """
    for frame, each in zip(groups, solved, strict=True):
        if pull is not None and pull.body in frame.bodies and each.stance is not None:
            grips = tuple(holds[support.name] for support in frame.supports)
            hold = Hold(Resistance.of(frame, grips), frame.whole(pull.body), pull.at, frame.load)
            answer = _answer(pull, hold, each.stance)
            oiled = tuple(grip.oiled for grip in grips)
            if oiled == grips:
                return answer
            slick = replace(hold, resistance=Resistance.of(frame, oiled))
            return replace(answer, oiled=_answer(pull, slick, each.stance).factor)
    return None


def _answer(pull: Pull, hold: Hold, stance: Stance) -> PullAnswer:
    """Return what a pull does to the group that it acts on, in its own direction or in the worst one of a bar."""
    ways = [(hold, pull.towards or (1.0, 0.0, 0.0))]
    if pull.about is not None and not overloaded(hold):
        ways = [_worst_bar(leant(hold, stance, load), pull, pull.about) for load in stance.loads]
    found = [(stood(replace(hold, at=way.at), stance, towards), towards) for way, towards in ways]
    limit, towards = min(found, key=lambda each: each[0].force)
    factor = None if limit.force == inf else limit.force / pull.force
    return PullAnswer(pull.body, factor, pull.force, towards, limit.first, limit.about, factor)


def _worst_bar(hold: Hold, pull: Pull, axis: Place) -> tuple[Hold, Place]:
    """Return the pull in the direction of the bar that the group stands least."""
    along = np.array(axis)
    # With the axis that is least along it, so that the product is never near 0.
    across = np.cross(along, np.eye(3)[int(np.abs(along).argmin())])
    across /= np.linalg.norm(across)
    third = np.cross(along, across)

    def at(angle: float) -> tuple[Place, Place]:
        """Return where the pull acts with the bar in a direction square to the axis, and the force that turns it."""
        bar, towards = cos(angle) * across + sin(angle) * third, cos(angle) * third - sin(angle) * across
        x, y, z = (np.array(pull.at) + pull.bar * bar).tolist()
        right, left, up = towards.tolist()
        return (x, y, z), (right, left, up)

    def worst_of(angles: Array) -> float:
        return float(angles[stands_each(hold, tuple(at(float(angle)) for angle in angles)).argmin()])

    # Tried, not solved: the force that is stood is the least of many pieces, with kinks between them.
    step = 2 * pi / BAR_DIRECTIONS
    worst = worst_of(np.arange(BAR_DIRECTIONS, dtype=np.float64) * step)
    for _ in range(NARROWED):
        worst = worst_of(np.array([worst + step * share for share in np.linspace(-1, 1, FINER)]))
        step *= 2 / (FINER - 1)
    place, towards = at(worst)
    return replace(hold, at=place), towards

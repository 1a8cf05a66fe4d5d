"""The way in which something goes over at the least tilt: not always the one whose edge is nearest."""

from math import atan, hypot, pi

from loadplan.limits import GRAVITY
from loadplan.model.answer import BodyAnswer, Mode
from loadplan.model.vehicle import JointKind
from loadplan.model.verdict import StageAssessment

STILL = 1e-9
"""Turn [rad] below which a body does not rotate; the largest of a mode's motions has size 1."""


def least_tilt(stage: StageAssessment, modes: list[Mode]) -> Mode | None:
    """Choose the way to go over that takes the least tilt.

    Args:
        stage: The stage.
        modes: Ways to go over.

    Returns:
        The mode; None where there is none.
    """
    return min(modes, key=lambda mode: tilt_of(stage, mode), default=None)


def tilt_of(stage: StageAssessment, mode: Mode) -> float:
    """Measure the slope of the floor at which a mode goes.

    Args:
        stage: The stage.
        mode: One of its modes.

    Returns:
        Angle [rad]: the work against the weight over the weight's lever, summed over the bodies that turn.
    """
    turns = {name: hypot(motion.rx, motion.ry) for name, motion in mode.motions}
    lever = sum(GRAVITY * abs(moment) * turns[names[0]] for names, moment in _moments(stage, turns))
    return atan(mode.work / lever) if lever > 0 else pi / 2


def _moments(stage: StageAssessment, turns: dict[str, float]) -> list[tuple[tuple[str, ...], float]]:
    """Return each rigid whole that turns with its mass times its height over its lowest saddle [kg m]."""
    found: dict[tuple[str, ...], list[BodyAnswer]] = {}
    for body in stage.statics.bodies:
        if turns.get(body.name, 0.0) > STILL:
            found.setdefault(tuple(sorted((body.name, *body.rigid_with))), []).append(body)
    return [
        (names, sum(body.mass * (body.cg[2] - _base(stage, names)) for body in bodies))
        for names, bodies in found.items()
    ]


def _base(stage: StageAssessment, names: tuple[str, ...]) -> float:
    """Return how high the lowest saddle under a rigid whole is [m], else its lowest mount."""
    saddles = [each.at[2] for each in stage.state.supports if each.body in names]
    mounts = [
        place[2]
        for joint in stage.state.done_up
        if joint.kind is JointKind.MOUNT and set(names) & set(joint.between)
        for place in joint.at
    ]
    return min(saddles or mounts, default=0.0)

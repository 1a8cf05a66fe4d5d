"""From one stage to the next: what is on, undone, in place and gone. The reader's rules and the solver follow this."""

from collections.abc import Collection
from dataclasses import dataclass
from typing import Protocol

from loadplan.model.presence import remaining
from loadplan.model.vehicle import Vehicle


class StageChange(Protocol):
    """What a stage changes, by name: a stage as the user wrote it, or as the solver has it."""

    @property
    def in_place(self) -> Collection[str]:
        """Supports, or the lift, put in place."""

    @property
    def cleared(self) -> Collection[str]:
        """Supports, or the lift, taken away."""

    @property
    def undone(self) -> Collection[str]:
        """Joints undone."""

    @property
    def done_up(self) -> Collection[str]:
        """Joints done up."""

    @property
    def off(self) -> Collection[str]:
        """Parts taken off."""

    @property
    def on(self) -> Collection[str]:
        """Parts put back on."""


@dataclass(frozen=True, slots=True)
class StageProgress:
    """What is so between two stages, by name.

    Attributes:
        on: Parts that are on, those of bodies left out not among them.
        undone: Joints that are undone: by a stage, or because their part is off, or a body gone or left out.
        standing: Supports in place, and the lift.
        gone: Bodies in use of which nothing is left.
    """

    on: frozenset[str]
    undone: frozenset[str]
    standing: frozenset[str]
    gone: frozenset[str]


def before_first_stage(vehicle: Vehicle, in_use: Collection[str], lift: str | None) -> StageProgress:
    """Say what is so before the first stage: all parts on, all joints done up, nothing in place but the lift.

    Args:
        vehicle: The vehicle.
        in_use: Bodies of it that the job uses.
        lift: Name of the lift if it holds its body then.

    Returns:
        What is so. A body is never gone yet: it has its parts, or what the scales found.
    """
    on = _parts_in_use(vehicle, in_use)
    standing = frozenset(() if lift is None else (lift,))
    return StageProgress(on, _joints_of(vehicle, _left_out(vehicle, in_use)), standing, frozenset())


def after_stage(before: StageProgress, stage: StageChange, vehicle: Vehicle, in_use: Collection[str]) -> StageProgress:
    """Say what is so after a stage.

    A part in both `on` and `off` stays on, as a joint in both its lists stays done up: what holds or weighs counts.
    A support in both stays away. The reader refuses all three.

    Args:
        before: What was so before it.
        stage: The stage.
        vehicle: The vehicle.
        in_use: Bodies of it that the job uses.

    Returns:
        What is so after it. Joints of a body that is gone, or on a part that is off, stay undone when it comes back.
    """
    on = (before.on - frozenset(stage.off)) | (frozenset(stage.on) & _parts_in_use(vehicle, in_use))
    gone = gone_bodies(vehicle, in_use, on)
    undone = (before.undone | frozenset(stage.undone)) - frozenset(stage.done_up)
    return StageProgress(
        on=on,
        undone=undone | _joints_of(vehicle, gone) | _joints_on(vehicle, _parts_in_use(vehicle, in_use) - on),
        standing=(before.standing | frozenset(stage.in_place)) - frozenset(stage.cleared),
        gone=gone,
    )


def gone_bodies(vehicle: Vehicle, in_use: Collection[str], on: Collection[str]) -> frozenset[str]:
    """Name the bodies in use of which nothing is left.

    Args:
        vehicle: The vehicle.
        in_use: Bodies of it that the job uses.
        on: Parts that are on.

    Returns:
        Their names.
    """
    return frozenset(
        body.name for body in vehicle.bodies if body.name in in_use and not remaining(body, vehicle.parts, on)
    )


def _left_out(vehicle: Vehicle, in_use: Collection[str]) -> frozenset[str]:
    return frozenset(body.name for body in vehicle.bodies) - frozenset(in_use)


def _parts_in_use(vehicle: Vehicle, in_use: Collection[str]) -> frozenset[str]:
    """Return parts that a stage can act on; a part whose body could not be read counts as one of them."""
    left_out = _left_out(vehicle, in_use)
    return frozenset(part.name for part in vehicle.parts if part.body not in left_out)


def _joints_of(vehicle: Vehicle, bodies: frozenset[str]) -> frozenset[str]:
    return frozenset(joint.name for joint in vehicle.joints if bodies.intersection(joint.between))


def _joints_on(vehicle: Vehicle, parts: frozenset[str]) -> frozenset[str]:
    """Return the joints whose bracket goes with some parts."""
    return frozenset(joint.name for joint in vehicle.joints if joint.part in parts)

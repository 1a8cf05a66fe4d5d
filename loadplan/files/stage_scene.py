"""What the stages of a job act on."""

from collections.abc import Collection
from dataclasses import dataclass

from loadplan.files.job_file import JobFile
from loadplan.model.vehicle import Part, Vehicle


@dataclass(frozen=True, slots=True)
class StageScene:
    """The names that stages use, and what each stands for.

    Attributes:
        file: The job as far as it could be read.
        vehicle: Its vehicle as far as it could be read.
        left_out: Bodies that are not in use.
        parts: Each part by its name.
        between: Bodies that each joint ties.
        bodies_of: Bodies that each support, or the lift, bears on or stands on.
        part_of: Part that each joint goes with, "" where not said.
        idle_names: Parts and joints of bodies left out: naming them has no effect.
    """

    file: JobFile
    vehicle: Vehicle
    left_out: frozenset[str]
    parts: dict[str, Part]
    between: dict[str, tuple[str, str]]
    bodies_of: dict[str, tuple[str, ...]]
    part_of: dict[str, str]
    idle_names: frozenset[str]

    @property
    def part_names(self) -> frozenset[str]:
        """Names of all parts."""
        return frozenset(self.parts)

    @property
    def joint_names(self) -> frozenset[str]:
        """Names of all joints."""
        return frozenset(self.between)

    @property
    def standing_names(self) -> frozenset[str]:
        """Names of all supports, and of the lift."""
        return frozenset(self.bodies_of)

    @property
    def left_out_in_order(self) -> tuple[str, ...]:
        """Bodies left out, in the vehicle's order."""
        return tuple(body.name for body in self.vehicle.bodies if body.name in self.left_out)

    def waits_for(self, part: str) -> frozenset[str]:
        """Name the parts that must be off before one comes off.

        Args:
            part: The part.

        Returns:
            Their names; none for a part of a body left out.
        """
        found = self.parts.get(part)
        return frozenset() if found is None or found.body in self.left_out else frozenset(found.after)

    def names_at(self, body: str, standing: Collection[str]) -> list[str]:
        """Name what stands under or on a body.

        Args:
            body: The body.
            standing: Supports in place, and the lift.

        Returns:
            Names in order.
        """
        return sorted(name for name in standing if body in self.bodies_of.get(name, ()))


def scene_of(file: JobFile, vehicle: Vehicle) -> StageScene:
    """Gather what the stages of a job act on.

    Args:
        file: The job as far as it could be read.
        vehicle: Its vehicle as far as it could be read.

    Returns:
        The scene before anything is done.
    """
    left_out = frozenset(body.name for body in vehicle.bodies) - frozenset(file.bodies_in_use)
    between = {joint.name: joint.between for joint in vehicle.joints}
    idle_parts = {part.name for part in vehicle.parts if part.body in left_out}
    idle_joints = {name for name, ends in between.items() if left_out.intersection(ends)}
    return StageScene(
        file=file,
        vehicle=vehicle,
        left_out=left_out,
        parts={part.name: part for part in vehicle.parts},
        between=between,
        bodies_of=_bodies_of(file),
        part_of={joint.name: joint.part for joint in vehicle.joints},
        idle_names=frozenset(idle_parts | idle_joints),
    )


def _bodies_of(file: JobFile) -> dict[str, tuple[str, ...]]:
    bodies: dict[str, tuple[str, ...]] = {}
    for row in file.supports.rows:
        ends = (file.body_under(row.table), row.table.on)
        bodies[row.table.name] = tuple(body for body in ends if body is not None)
    if file.lift:
        bodies[file.lift.use] = (file.lift.body,)
    return bodies

"""What the stages of a job act on, and what is so before and after each."""

from collections.abc import Collection
from dataclasses import dataclass

from loadplan.files.job_file import JobFile
from loadplan.files.job_shape import StageTable
from loadplan.model.presence import remaining
from loadplan.model.vehicle import Part, Vehicle


@dataclass(frozen=True, slots=True)
class StageProgress:
    """What is so between two stages.

    Attributes:
        off: Parts that are off, and those of bodies left out.
        undone: Joints that are undone: by a stage, or because a body is gone or left out.
        standing: Supports in place, and the lift.
        gone: Bodies in use of which nothing is left.
    """

    off: frozenset[str]
    undone: frozenset[str]
    standing: frozenset[str]
    gone: frozenset[str]


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
        idle_names: Parts and joints of bodies left out: naming them has no effect.
    """

    file: JobFile
    vehicle: Vehicle
    left_out: frozenset[str]
    parts: dict[str, Part]
    between: dict[str, tuple[str, str]]
    bodies_of: dict[str, tuple[str, ...]]
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
        idle_names=frozenset(idle_parts | idle_joints),
    )


def before_first_stage(scene: StageScene) -> StageProgress:
    """Say what is so before the first stage.

    Args:
        scene: The scene.

    Returns:
        All parts on, all joints done up, nothing in place but the lift.
    """
    lift = scene.file.lift
    off = frozenset(part.name for part in scene.vehicle.parts if part.body in scene.left_out)
    undone = scene.joint_names & scene.idle_names
    return StageProgress(off, undone, frozenset({lift.use} if lift and lift.in_place else ()), frozenset())


def after_stage(scene: StageScene, before: StageProgress, stage: StageTable) -> StageProgress:
    """Say what is so after a stage.

    Args:
        scene: The scene.
        before: What was so before it.
        stage: The stage.

    Returns:
        What is so after it.
    """
    off = (before.off | frozenset(stage.off)) - frozenset(stage.on) | (before.off & scene.idle_names)
    gone = _gone(scene, off)
    parted = frozenset(name for name, ends in scene.between.items() if gone.intersection(ends))
    undone = (before.undone | frozenset(stage.undone)) - frozenset(stage.done_up)
    return StageProgress(
        off=off,
        undone=undone | parted,
        standing=(before.standing | frozenset(stage.in_place)) - frozenset(stage.cleared),
        gone=gone,
    )


def _gone(scene: StageScene, off: frozenset[str]) -> frozenset[str]:
    """Return the bodies of which nothing is left with some parts off."""
    on = scene.part_names - off
    bodies = [body for body in scene.vehicle.bodies if body.name not in scene.left_out]
    return frozenset(body.name for body in bodies if not remaining(body, scene.vehicle.parts, on))


def _bodies_of(file: JobFile) -> dict[str, tuple[str, ...]]:
    bodies: dict[str, tuple[str, ...]] = {}
    for row in file.supports.rows:
        ends = (file.body_under(row.table), row.table.on)
        bodies[row.table.name] = tuple(body for body in ends if body is not None)
    if file.lift:
        bodies[file.lift.use] = (file.lift.body,)
    return bodies

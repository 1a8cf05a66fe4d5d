"""What is told of a stage beside its groups: how bodies stand, what supports carry, what joints take."""

from collections.abc import Mapping

from loadplan.model.answer import JointForce, Load, Motion, SupportAnswer
from loadplan.model.job import State
from loadplan.statics.equilibrium import Frame, rod_forces
from loadplan.statics.resting_state import Settings, Solved


def expected_motions(groups: tuple[Frame, ...], solved: tuple[Solved, ...]) -> dict[str, Motion]:
    """Gather how bodies stand.

    Args:
        groups: Groups of a stage.
        solved: What came of each.

    Returns:
        Expected motion of each body whose group is balanced.
    """
    return {
        name: each.motions[number]
        for frame, each in zip(groups, solved, strict=True)
        if each.motions is not None
        for number, names in enumerate(frame.wholes)
        for name in names
    }


def support_answers(
    state: State, groups: tuple[Frame, ...], solved: tuple[Solved, ...], gaps: Mapping[str, float], idle: Load
) -> tuple[SupportAnswer, ...]:
    """Gather what supports carry.

    Args:
        state: The state of the stage.
        groups: Its groups.
        solved: What came of each.
        gaps: Gap of every support [m].
        idle: What is told of a support that cannot carry.

    Returns:
        One answer a support, in the state's order; without a load where its group is not balanced.
    """
    loads: dict[str, Load] = {}
    for frame, each in zip(groups, solved, strict=True):
        if each.loads is not None:
            loads |= dict(zip((support.name for support in frame.supports), each.loads, strict=True))
            loads |= dict.fromkeys(frame.idle, idle)
    return tuple(SupportAnswer(support.name, gaps[support.name], loads.get(support.name)) for support in state.supports)


def joint_forces(
    state: State, groups: tuple[Frame, ...], solved: tuple[Solved, ...], whole: Mapping[str, float]
) -> tuple[JointForce, ...]:
    """Gather the force in every joint that is done up, beside what it is on the whole vehicle.

    Args:
        state: The state of the stage.
        groups: Its groups.
        solved: What came of each.
        whole: Force [N] by mount on the whole vehicle.

    Returns:
        One answer a joint, in the state's order; without a force where its group is not balanced.
    """
    idle = {link.name for frame in groups for link in frame.links}
    forces, rods = dict[str, float](), dict[str, float]()
    for frame, each in zip(groups, solved, strict=True):
        if each.forces is not None:
            forces |= dict(zip((mount.name for mount in frame.mounts), each.forces, strict=True))
            rods |= rod_forces(frame, each.forces)
    return tuple(
        JointForce(name, forces.get(name), whole.get(name), name not in idle, rods.get(name))
        for name in (joint.name for joint in state.done_up)
    )


def group_key(frame: Frame, settings: Settings) -> object:
    """Tell a group from all others, by what its matrices are made of, and what it is solved with.

    Args:
        frame: Its equations.
        settings: What they are solved with.

    Returns:
        What two groups have in common only where both are solved alike.
    """
    return frame.wholes, frame.supports, frame.idle, frame.mounts, frame.links, frame.lumps, settings

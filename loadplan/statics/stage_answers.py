"""What is told of a stage from its groups as they were solved: motions, loads and forces by their names."""

from collections.abc import Mapping

from loadplan.model.answer import JointForce, Load, Motion, SupportAnswer
from loadplan.model.job import State
from loadplan.statics.equilibrium import Frame, rod_forces
from loadplan.statics.resting_state import Solved


def group_motions(groups: tuple[Frame, ...], solved: tuple[Solved, ...]) -> dict[str, Motion]:
    """Collect the expected motion of each body whose group is balanced.

    Args:
        groups: The groups of a stage.
        solved: Each of them solved.

    Returns:
        The motion of each such body, by its name.
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
    """Collect what is told of each support.

    Args:
        state: The stage.
        groups: Its groups.
        solved: Each of them solved.
        gaps: Gap of each support [m].
        idle: The load of one that stands on what it bears.

    Returns:
        An answer a support, in the order of the stage; without a load where its group does not stand.
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
    """Collect the force in every joint that is done up, beside what it is on the whole vehicle.

    Args:
        state: The stage.
        groups: Its groups.
        solved: Each of them solved.
        whole: Force of each mount on the whole vehicle [N].

    Returns:
        A force a joint, in the order of the stage.
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

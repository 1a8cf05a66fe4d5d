"""What is told of each body, and of the load on the lift."""

from math import hypot

from loadplan.limits import GRAVITY
from loadplan.model.answer import BodyAnswer, SupportAnswer
from loadplan.model.job import Job, State
from loadplan.model.lowering import LiftAnswer
from loadplan.model.vehicle import Place
from loadplan.stages import joined, untouched
from loadplan.statics.equilibrium import Frame
from loadplan.statics.mass import Lump, cg_box, lumps, mass_and_cg, upper_mass
from loadplan.statics.resting_state import Solved


def body_answers(
    state: State, groups: tuple[Frame, ...], solved: tuple[Solved, ...], made_of: tuple[Lump, ...]
) -> tuple[BodyAnswer, ...]:
    """Tell of every body: its own mass and centre of gravity, the margins of its rigid whole.

    Args:
        state: The state.
        groups: Its groups.
        solved: The same, solved.
        made_of: What the bodies are made of.

    Returns:
        One record a body, in the job's order.
    """
    found = {
        name: _body((name, names), tuple(lump for lump in made_of if lump.body == name), (each, number), frame)
        for frame, each in zip(groups, solved, strict=True)
        for number, names in enumerate(frame.wholes)
        for name in names
    }
    return tuple(found[name] for name in state.bodies)


def _body(
    named: tuple[str, tuple[str, ...]], own: tuple[Lump, ...], whole: tuple[Solved, int], frame: Frame
) -> BodyAnswer:
    """Return the figures of one body: `own` are its lumps, `whole` its solved group and its number in there."""
    (name, names), (solved, number) = named, whole
    mass, cg = mass_and_cg(own)
    settled = None if solved.settled is None else solved.settled[number]
    height = cg[2] - float(frame.lowest[number])
    return BodyAnswer(
        name=name,
        rigid_with=tuple(other for other in names if other != name),
        mass=mass,
        cg=cg,
        cg_pm=cg_box(own),
        balanced=solved.answer.balanced,
        margin=solved.margins[number],
        worst_margin=solved.worst_margins[number],
        tip_angle=solved.tip_angles[number],
        motion=None if solved.motions is None else solved.motions[number],
        settled=settled,
        lean=None if settled is None else (height * settled.ry, -height * settled.rx),
    )


def lift_answer(
    job: Job, state: State, made_of: tuple[Lump, ...], carried: tuple[SupportAnswer, ...] = ()
) -> LiftAnswer | None:
    """Add up what is joined to the body on the lift, and what supports on that put into it.

    Args:
        job: The job.
        state: The state.
        made_of: What the bodies are made of.
        carried: What each support carries; one whose load is not known adds nothing.

    Returns:
        The load on the lift; None where the lift holds nothing.
    """
    if job.lift is None or not any(support.is_arm for support in state.supports):
        return None
    # What only stands on the vehicle, or hangs from it, is on the arms as well.
    own = (*_joined_lumps(job.lift.body, state, made_of), *_pressing_lumps(job.lift.body, state, carried))
    mass, cg = mass_and_cg(own)
    _, first = whole_load(job)
    return LiftAnswer(mass, upper_mass(own), cg, hypot(cg[0] - first[0], cg[1] - first[1]))


def whole_load(job: Job) -> tuple[float, Place]:
    """Add up what hung on the lift before anything was touched.

    Args:
        job: A job with a lift.

    Returns:
        Mass [kg] and centre of gravity [m] with all parts on and all joints done up.
    """
    start = untouched(job)
    return mass_and_cg(_joined_lumps(job.lift.body if job.lift else "", start, lumps(job, start)))


def _pressing_lumps(body: str, state: State, carried: tuple[SupportAnswer, ...]) -> tuple[Lump, ...]:
    """Return what stands on, or hangs from, the bodies joined to one and is not joined to it itself.

    A mass where each support is: as much as it is expected to carry, and at most as much as it may on this floor.
    """
    names = joined(state.done_up, body)
    loads = {each.name: each.load for each in carried}
    # Where a stand bears is known far better than what it bears.
    exact: Place = (0.0, 0.0, 0.0)
    return tuple(
        Lump(
            body,
            "",
            1,
            load.expected / GRAVITY,
            0.0,
            load.at_most / GRAVITY,
            each.at,
            exact,
            counts=True,
            optional=False,
        )
        for each in state.supports
        if each.on in names and each.body not in names and (load := loads.get(each.name)) is not None
    )


def _joined_lumps(body: str, state: State, made_of: tuple[Lump, ...]) -> tuple[Lump, ...]:
    names = joined(state.done_up, body)
    return tuple(lump for lump in made_of if lump.body in names)

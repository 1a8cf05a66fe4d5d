"""The numbers of one stage in words: its supports, its assemblies, what ties them, and the lift."""

from typing import assert_never

from loadplan.checks.lock_window import brings_stands_up
from loadplan.checks.phrases import names, some_of
from loadplan.limits import Limits
from loadplan.model.answer import BodyAnswer, Load
from loadplan.model.disturbance import LaidOn, PushAnswer
from loadplan.model.job import Job, State, Support
from loadplan.model.vehicle import Joint, JointKind
from loadplan.model.verdict import Measure, Quantity, StageAssessment
from loadplan.report.words.columns import Align, Column, table
from loadplan.report.words.nearest_to_tipping import worst_mode
from loadplan.report.words.number_format import write, write_window
from loadplan.report.words.vocabulary import Reader

NONE = "-"
"""Stands where there is no number: the group is not balanced, or nothing limits it."""

ON_LINE = 0.0005
"""Distance [m] below which a place is told to be on a chalk line: half of the last millimetre."""

UNDER_AIR = "nothing: nothing above it"
"""What follows "carries" at a support whose part is off, or that stands beside its body."""


def deeds(state: State, reader: Reader) -> list[str]:
    """Tell what a stage does.

    Args:
        state: The stage and what it leaves.
        reader: Who reads it.

    Returns:
        A line each kind of change, none where nothing changes.
    """
    stage = state.stage
    kinds = (
        ("Set in place", stage.in_place),
        ("Taken away", stage.cleared),
        ("Bolts and mounts off", stage.undone),
        ("Bolts and mounts tight", stage.done_up),
        ("Parts off, in any order" if stage.any_order else "Parts off", stage.off),
        ("Parts on", stage.on),
    )
    anew = [f"{reader.words(each.support)} to {reader.length(each.height)}" for each in stage.set_anew]
    told = [f"{heading}: {reader.words(names(items))}." for heading, items in kinds if items]
    return [*told, f"Set anew: {names(anew)}."] if anew else told


def supports(limits: Limits, stage: StageAssessment, reader: Reader, width: int) -> list[str]:
    """Lay out the table of a stage's supports.

    Args:
        limits: What is asked of the plan.
        stage: The stage.
        reader: Who reads it.
        width: Widest line [characters].

    Returns:
        Its lines, in the job's order, then the arms of the lift.
    """
    rows = [(each, stage.statics.load(each.name)) for each in stage.state.supports]
    if not rows:
        return ["Nothing stands under anything."]
    columns = (
        Column("stand", tuple(reader.words(each.name) for each, _ in rows), Align.LEFT),
        Column("equipment, tag", tuple(reader.words(equipment_words(each)) for each, _ in rows), Align.LEFT),
        Column("under", tuple(reader.words(under(each, reader)) for each, _ in rows), Align.LEFT),
        Column("carries", tuple(carries(stage.state, each, load, reader) for each, load in rows), Align.RIGHT),
        Column(
            "most on this floor", tuple(_load(load.at_most if load else None, reader) for _, load in rows), Align.RIGHT
        ),
        Column(
            "most it could ever",
            tuple(_load(load.range.most if load and load.range else None, reader) for _, load in rows),
            Align.RIGHT,
        ),
        Column("% of rating", tuple(_share(limits, each, load, reader) for each, load in rows), Align.RIGHT),
    )
    return table(columns, width)


def assemblies(limits: Limits, stage: StageAssessment, reader: Reader, width: int) -> list[str]:
    """Lay out the table of a stage's assemblies, those bolted into one in one row.

    Args:
        limits: What is asked of the plan.
        stage: The stage.
        reader: Who reads it.
        width: Widest line [characters].

    Returns:
        Its lines, in the job's order.
    """
    rows = wholes(stage)
    columns = (
        Column("assembly", tuple(reader.words(names([each.name for each in whole])) for whole in rows), Align.LEFT),
        Column("weighs", tuple(reader.mass(sum(each.mass for each in whole)) for whole in rows), Align.RIGHT),
        Column(
            "to tipping, worst case",
            tuple(_margin(whole[0].worst_margin, limits, reader) for whole in rows),
            Align.RIGHT,
        ),
        Column("as given", tuple(_margin(whole[0].margin, limits, reader) for whole in rows), Align.RIGHT),
        Column(
            "tilts this far before it goes", tuple(_tip_angle(whole[0], limits, reader) for whole in rows), Align.RIGHT
        ),
        Column("turns about", tuple(reader.words(_turns_about(stage, whole[0])) for whole in rows), Align.LEFT),
    )
    return table(columns, width)


def wholes(stage: StageAssessment) -> list[tuple[BodyAnswer, ...]]:
    """Put the bodies of each rigid whole together.

    Args:
        stage: The stage.

    Returns:
        The bodies of each, in the job's order.
    """
    bodies = {each.name: each for each in stage.statics.bodies}
    tied = dict.fromkeys(
        tuple(name for name in bodies if name == each.name or name in each.rigid_with) for each in bodies.values()
    )
    return [tuple(bodies[name] for name in whole) for whole in tied]


def tied_line(stage: StageAssessment, reader: Reader) -> list[str]:
    """Tell what ties the assemblies, and what each mount carries.

    Args:
        stage: The stage.
        reader: Who reads it.

    Returns:
        A sentence, none where nothing is tied.
    """
    told = [_tie(joint, stage.statics.joint_force(joint.name), reader) for joint in stage.state.done_up]
    return [reader.words(f"Tied: {'; '.join(told)}.")] if told else []


def lift_line(stage: StageAssessment, reader: Reader) -> list[str]:
    """Tell what the lift carries, and where its middle is.

    Args:
        stage: The stage.
        reader: Who reads it.

    Returns:
        A sentence, none where the lift holds nothing.
    """
    lift = stage.statics.lift
    if lift is None:
        return []
    x, y, _ = lift.cg
    moved = f", {reader.length(lift.shift)} from where it was with everything on" if lift.shift else ""
    return [f"On the lift: {reader.mass(lift.mass)}, its middle {from_chalk(x, y, reader)}{moved}."]


def set_down_line(job: Job, stage: StageAssessment, reader: Reader) -> list[str]:
    """Tell how far the unit has to come down onto its stands, or these up to it.

    Args:
        job: The job.
        stage: The stage.
        reader: Who reads it.

    Returns:
        A sentence, none where nothing is being set down.
    """
    window = stage.statics.set_down
    if window is None:
        return []
    how = "as the job says" if window.given else "taken, since the job does not say"
    drop = f" Parted there, the unit drops {reader.length(window.drop)}." if window.drop else ""
    words = window_words(window.start, window.end, reader)
    act = "Bring the stands up" if brings_stands_up(job, stage.state) else "Lower"
    return [f"{act} past first touch: {words}; judged at {reader.length(window.lowered)}, {how}.{drop}"]


def push_lines(stage: StageAssessment, reader: Reader) -> list[str]:
    """Tell the least sideways push on each assembly that cannot be stood, and the least weight laid on that tips it.

    Args:
        stage: The stage.
        reader: Who reads it.

    Returns:
        A sentence each that was computed, least push first, then least weight.
    """
    pushes = [push for group in stage.statics.groups for push in group.pushes]
    laid = [each for group in stage.statics.groups for each in group.laid_on if each.weight is not None]
    return [
        *(_push_line(stage, push, reader) for push in sorted(pushes, key=lambda each: each.force)),
        *(_laid_on_line(each, reader) for each in sorted(laid, key=lambda each: each.weight or 0.0)),
    ]


def equipment_words(support: Support) -> str:
    """Name what stands there, with its tag.

    Args:
        support: The support.

    Returns:
        Words such as "screw stand, S 4".
    """
    return f"{support.equipment.name}, {support.tag}" if support.tag else support.equipment.name


def under(support: Support, reader: Reader) -> str:
    """Name the place that a support bears on.

    Args:
        support: The support.
        reader: Who reads it.

    Returns:
        Name of the point, or the assembly and its distances from the chalk lines; of an arm, whose pad names it,
        the assembly.
    """
    if support.is_arm:
        return f"the {support.body}"
    return support.point or f"{support.body}, {from_chalk(*support.at[:2], reader)}"


def from_chalk(x: float, y: float, reader: Reader) -> str:
    """Tell a place by its distances from the chalk lines.

    Args:
        x: Distance in front of the axle line [m].
        y: Distance left of the centre line [m].
        reader: Who reads it.

    Returns:
        Words such as "330 mm front, 420 mm left".
    """
    along = _from_line(x, ("front", "back"), "on the axle line", reader)
    across = _from_line(y, ("left", "right"), "on the centre line", reader)
    return reader.words(f"{along}, {across}")


def carried(load: Load | None, reader: Reader) -> str:
    """Tell what a support carries.

    Args:
        load: Its load, None where its group is not balanced.
        reader: Who reads it.

    Returns:
        The load, "nothing", or a dash.
    """
    if load is None:
        return NONE
    told = reader.load(load.expected)
    return "nothing" if told.startswith("0 ") else told


def carries(state: State, support: Support, load: Load | None, reader: Reader) -> str:
    """Tell what a support in place carries, and why, where it carries nothing since nothing is above it.

    Args:
        state: The stage that it stands in.
        support: The support.
        load: Its load, None where its group is not balanced, or nothing is above it.
        reader: Who reads it.

    Returns:
        Words to follow "carries".
    """
    return carried(load, reader) if state.bears(support) else UNDER_AIR


def _push_line(stage: StageAssessment, push: PushAnswer, reader: Reader) -> str:
    """Return how hard an assembly can be pushed, how high over the floor, and what goes then."""
    over_floor = stage.statics.height(push.body, push.at)
    high = "at its highest part" if over_floor is None else f"{reader.length(over_floor)} over the floor"
    force = write(Quantity(push.force, Measure.FORCE), reader.units)
    ends = {"slides": "it slides", "tips": "it tips"}.get(push.first, "a stand goes over")
    if push.first == "holds":
        return reader.words(f"Sideways push on the {push.body}, {high}: nothing moves it.")
    still = f", with {some_of(push.still_on, stage.state.may_be_on)} still on" if push.still_on else ""
    return reader.words(f"Sideways push on the {push.body}, {high}{still}: {force} at the most, then {ends}.")


def _laid_on_line(laid: LaidOn, reader: Reader) -> str:
    """Return the line on what may be laid on an assembly, as a force and as a mass."""
    force, load = (write(Quantity(laid.weight or 0.0, each), reader.units) for each in (Measure.FORCE, Measure.LOAD))
    return reader.words(f"Weight laid on the worst corner of the {laid.body}: {force} ({load}) tips it.")


def window_words(start: float | None, end: float | None, reader: Reader) -> str:
    """Tell both ends of a set-down window; an end that is missing is never reached.

    Args:
        start: Least lowering [m].
        end: Most lowering [m].
        reader: Who reads it.

    Returns:
        Words to stand after "lower".
    """
    if start is not None and end is not None and start > end:
        return f"nowhere, since an arm comes free at {reader.length(end)} and the stands bear at {reader.length(start)}"
    nearest = start or 0.0
    low, high = write_window(nearest, nearest + 1.0 if end is None else end, reader.units)
    least = "the stands never take it all" if start is None else f"at least {low}"
    most = "the vehicle never comes off its pads" if end is None else f"at most {high}"
    return f"{least}, {most}"


def _from_line(distance: float, sides: tuple[str, str], on_it: str, reader: Reader) -> str:
    if abs(distance) < ON_LINE:
        return on_it
    return f"{reader.length(abs(distance))} {sides[0] if distance > 0 else sides[1]}"


def _load(newtons: float | None, reader: Reader) -> str:
    return NONE if newtons is None else reader.load(newtons)


def _share(limits: Limits, support: Support, load: Load | None, reader: Reader) -> str:
    if load is None:
        return NONE
    share = Quantity(load.at_most / support.equipment.rating_of_one, Measure.SHARE)
    asked = limits.arm_share if support.is_arm else limits.rating_share
    return reader.above(share, 1.0 if share.value > 1.0 else asked)


def _margin(margin: float | None, limits: Limits, reader: Reader) -> str:
    return NONE if margin is None else reader.below(Quantity(margin, Measure.LENGTH), limits.margin)


def _tip_angle(body: BodyAnswer, limits: Limits, reader: Reader) -> str:
    """Return how far a body tilts before it goes, with what is below the limit never rounded up to it."""
    angle = body.tip_angle
    return NONE if angle is None else reader.below(Quantity(angle, Measure.ANGLE), limits.tip_angle)


def _turns_about(stage: StageAssessment, body: BodyAnswer) -> str:
    """Return what a body would turn about in the way that is nearest in the worst case."""
    mode = worst_mode(stage.statics, body.name)
    return names(mode.about) if mode else NONE


def _tie(joint: Joint, force: float | None, reader: Reader) -> str:
    """Return what a joint ties, and for a mount which of the two it carries with which force [N]."""
    first, second = joint.between
    match joint.kind:
        case JointKind.BOLTED:
            return f"{joint.name} ({first} and {second} are one)"
        case JointKind.MOUNT | JointKind.LINK:
            tied = f"{joint.name} ({first} to {second})"
            if force is None:
                return tied
            held = first if force > 0 else second
            return f"{tied} carries {reader.load(abs(force))} of the {held}"
        case _:
            assert_never(joint.kind)

"""The cautions that are never switched off, and the boxes to tick at each step."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from types import MappingProxyType

from loadplan.model.job import Job
from loadplan.model.tie_due import ties_due
from loadplan.model.vehicle import Basis, TieState, TieUp
from loadplan.model.verdict import StageAssessment
from loadplan.report.words.columns import WIDTH, indented
from loadplan.statics.expected_reading import STICKS_FROM
from loadplan.units import System

ONE_LINE = (
    "Makers' ratings, local rules and a qualified person go before this plan. Nobody, nor a hand, under unit or "
    "vehicle while either moves. When anything moves that the plan did not say, stop."
)
"""The cautions where there is room for one line only."""


class Moment(Enum):
    """When a set of boxes is ticked, in the order of the work."""

    BEFORE = "Before"
    TOUCH = "At touch"
    UP = "50 mm up"
    DURING = "During"
    LEAVING = "Leaving"
    BACK = "Back in"
    OWN = "Asked by this job"


LISTED_ORDER = "parts off in the listed order"
"""What holds while parts come off in one order only, not where any order is judged or parts go on again."""

NO_STAND_TURNS = "no stand turns by hand"
"""What is felt for at touch, at the stands that are to carry."""

LIFT_LOCKED = "lift on its locks"
"""What is looked for at touch, where the vehicle is on a lift."""

PROP_SET = "prop under the heavy end set"
"""What is looked for before, unless the plan sets the prop in a later step."""

PROP_AT_HAND = "prop for under the heavy end at hand"
"""What is looked for before where the plan sets it later, such as when the vehicle is up."""

STANDS_AWAY = "stands away only when torqued"
"""What holds back in; where a prop stands, it goes last."""

USUAL: Mapping[Moment, tuple[str, ...]] = MappingProxyType({
    Moment.BEFORE: (
        "maker's procedure read",
        "automatic gearbox in neutral before the battery is off",
        "battery off, high voltage isolated by a qualified person",
        "fuel pressure, coolant, oil, refrigerant dealt with",
        "nobody in the vehicle, doors and lids shut",
        "tight fasteners broken loose first",
        "steering shaft parted, wheel locked",
        "axle shafts, knuckles, calipers tied up",
        "exhaust, prop shaft, harness, earth straps, hoses, cables off",
        "axle line and centre line chalked",
        "stands by tag, locks in",
        PROP_SET,
    ),
    Moment.TOUCH: ("every saddle fully home", NO_STAND_TURNS, LIFT_LOCKED),
    Moment.UP: ("stop", "one at the controls, one walking round", "every hose, every saddle", "look again"),
    Moment.DURING: (
        LISTED_ORDER,
        "saddles looked at again after impact tools",
        "nothing laid on the unit",
    ),
    Moment.LEAVING: ("nothing on oil", "barrier", "tag"),
    Moment.BACK: ("vehicle down slowly, bolts by hand first", f"{STANDS_AWAY}, then the prop"),
})
"""The boxes that every job has at each moment."""


@dataclass(frozen=True, slots=True)
class Boxes:
    """Boxes to tick at one moment of one stage: a heading, and an item a box."""

    heading: str
    items: tuple[str, ...]


def cautions(basis: Basis, units: System) -> tuple[str, ...]:
    """Return the eight cautions in full.

    Args:
        basis: How good the weights are.
        units: The reader's units.

    Returns:
        A sentence or two each, in their order.
    """
    full = (
        "The makers' ratings and instructions, local rules and a qualified person go before this plan.",
        "Nobody, nor a hand, under unit or vehicle while either moves. Under a raised vehicle only on its locks.",
        "One at the controls, one walking round.",
        "Oil holds nothing: lock or stand.",
        "Hard floor, stands upright, saddles fully home, never moved under load.",
        "Everything that hangs is tied up. Raise 50 mm, stop, look.",
        f"The numbers are only as good as the weights: {basis.words}.",
        "When anything moves that the plan did not say, stop.",
    )
    return tuple(_in_units(each, units) for each in full)


def caution_lines(basis: Basis, units: System) -> list[str]:
    """Return the end of a page: the eight cautions in full, numbered, under their heading.

    Args:
        basis: How good the weights are.
        units: The reader's units.

    Returns:
        Lines of at most 100 characters, an empty one first.
    """
    lines = ["", "Cautions"]
    for number, caution in enumerate(cautions(basis, units), start=1):
        lines += indented(f"  {number} ", caution, WIDTH)
    return lines


def boxes(job: Job, stage: StageAssessment, units: System) -> tuple[Boxes, ...]:
    """Choose the boxes to tick in one stage by what it does.

    Args:
        job: The job.
        stage: The stage, judged: only stands that are to carry are to bear by hand.
        units: The reader's units.

    Returns:
        A set for each moment that the stage has, in the order of the work; what the job itself asks comes last.
    """
    does = stage.state.stage
    during = USUAL[Moment.DURING]
    if does.any_order or not does.off:
        during = tuple(each for each in during if each != LISTED_ORDER)
    items = {
        **USUAL,
        **_prop(job, stage),
        Moment.TOUCH: _at_touch(stage),
        Moment.DURING: during,
        Moment.OWN: does.confirm,
    }
    # What is usual before a job is asked once, what has to be off in the step that would pull at it.
    before = items[Moment.BEFORE] if stage.state.index == 0 else ()
    items[Moment.BEFORE] = (*before, *_ties(job, stage, Moment.BEFORE))
    items[Moment.UP] = (*items[Moment.UP], *_ties(job, stage, Moment.UP))
    return tuple(Boxes(moment_words(moment, units), items[moment]) for moment in _moments(job, stage))


def moment_words(moment: Moment, units: System) -> str:
    """Return what a moment is called.

    Args:
        moment: The moment.
        units: The reader's units.

    Returns:
        The heading of its boxes.
    """
    return _in_units(moment.value, units)


def _at_touch(stage: StageAssessment) -> tuple[str, ...]:
    """Return the boxes at touch: of stands that are to carry, since others may turn, and of the lift if it is there."""
    stands = [each for each in stage.state.supports if not each.is_arm]
    loads = {each.name: stage.statics.load(each.name) for each in stands}
    # A load that is not known counts: what may carry has to bear.
    carrying = [
        each.name
        for each in stands
        if not each.standby and ((load := loads[each.name]) is None or load.expected > STICKS_FROM)
    ]
    turns = NO_STAND_TURNS if len(carrying) == len(stands) else f"{NO_STAND_TURNS}: {', '.join(carrying)}"
    lifted = len(stands) < len(stage.state.supports)
    asked = {NO_STAND_TURNS: turns if carrying else "", LIFT_LOCKED: LIFT_LOCKED if lifted else ""}
    items = (asked.get(each, each) for each in USUAL[Moment.TOUCH])
    return tuple(each for each in items if each)


def _prop(job: Job, stage: StageAssessment) -> dict[Moment, tuple[str, ...]]:
    """Return the boxes that speak of the prop as the plan has it: a box that cannot be true gets ticked unread."""
    before, back = USUAL[Moment.BEFORE], USUAL[Moment.BACK]
    props = {each.name for each in job.supports if job.lift is not None and each.body == job.lift.body}
    if not props or not props.isdisjoint(each.name for each in stage.state.supports):
        return {}
    return {
        Moment.BEFORE: tuple(PROP_AT_HAND if each == PROP_SET else each for each in before),
        Moment.BACK: (*back[:-1], STANDS_AWAY),
    }


def _ties(job: Job, stage: StageAssessment, moment: Moment) -> tuple[str, ...]:
    """Return the boxes of what a stage would pull at, as the vehicle's file lists it, that are ticked at a moment."""
    return tuple(tie_words(each) for each in ties_due(job, stage.state.index) if tie_moment(each) is moment)


def tie_moment(tie: TieUp) -> Moment:
    """Tell when in its step a hose, harness or fastener is seen to.

    Args:
        tie: The tie.

    Returns:
        Before anything is undone where it has to be off, since a brake pipe is not parted on a hanging unit; 50 mm up
        where it has to be tied, since only then it shows whether it is taut.
    """
    return Moment.BEFORE if tie.what is TieState.OFF else Moment.UP


def tie_words(tie: TieUp) -> str:
    """Tell what has to be done with a hose, harness or fastener.

    Args:
        tie: The tie.

    Returns:
        Words such as "earth strap off: nut under the tray".
    """
    return f"{tie.name} {tie.what.value}{f': {tie.say}' if tie.say else ''}"


def _moments(job: Job, judged: StageAssessment) -> tuple[Moment, ...]:
    """Return the moments that a stage has, in the order of the work."""
    stage = judged.state.stage
    supports = {support.name for support in job.supports}
    has = {
        Moment.BEFORE: judged.state.index == 0 or bool(_ties(job, judged, Moment.BEFORE)),
        Moment.TOUCH: not supports.isdisjoint(stage.in_place),
        Moment.UP: _tie_the_vehicle(job, stage.undone) or bool(_ties(job, judged, Moment.UP)),
        Moment.DURING: bool(stage.off or stage.on or stage.bar or stage.pull),
        Moment.LEAVING: stage.unattended,
        Moment.BACK: _tie_the_vehicle(job, stage.done_up),
        Moment.OWN: bool(stage.confirm),
    }
    return tuple(moment for moment in Moment if has[moment])


def _tie_the_vehicle(job: Job, names: tuple[str, ...]) -> bool:
    """Return whether any of these joints ties the vehicle on the lift; without a lift, whether there are any."""
    joints = [joint for joint in job.vehicle.joints if joint.name in names]
    return any(job.lift is None or job.lift.body in joint.between for joint in joints)


def _in_units(text: str, units: System) -> str:
    """Return a text with the usual first lift of 50 mm in the reader's units."""
    match units:
        case System.METRIC:
            return text
        case System.US:
            return text.replace("50 mm", "2 in")

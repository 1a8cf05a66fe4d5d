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
"""What is felt for at the stands that are to carry: at touch, or when the vehicle is up where it was let go of."""

LOOK_AGAIN = "look again"
"""What ends the stop when the vehicle is up."""

LIFT_LOCKED = "lift on its locks"
"""What is looked for at touch, where the vehicle is on a lift."""

PROP_SET = "prop under the heavy end set"
"""What is looked for before, unless the plan sets the prop in a later step."""

PROP_AT_HAND = "prop for under the heavy end at hand"
"""What is looked for before where the plan sets it later, such as when the vehicle is up."""

STEERING = "steering shaft parted, wheel locked"
"""What is looked for before, unless all that comes out lies behind the steering."""

BEHIND_STEERING = 0.4
"""What begins so far behind the front axle line [m] has no rack on it, which lies within 0.2 m of it; no source."""

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
        STEERING,
        "axle shafts, knuckles, calipers tied up",
        "exhaust, prop shaft, harness, earth straps, hoses, cables off",
        "axle line and centre line chalked",
        "stands by tag, locks in",
        PROP_SET,
    ),
    Moment.TOUCH: ("every saddle fully home", NO_STAND_TURNS, LIFT_LOCKED),
    Moment.UP: ("stop", "one at the controls, one walking round", "every hose, every saddle", LOOK_AGAIN),
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
        Moment.TOUCH: _at_touch(job, stage),
        Moment.DURING: during,
        Moment.OWN: does.confirm,
    }
    # What is usual before a job is asked once, what has to be off in the step that would pull at it.
    before = items[Moment.BEFORE] if stage.state.index == 0 else ()
    items[Moment.BEFORE] = (*before, *_ties(job, stage, Moment.BEFORE))
    items[Moment.UP] = (*_when_up(job, stage), *_ties(job, stage, Moment.UP))
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


def _at_touch(job: Job, stage: StageAssessment) -> tuple[str, ...]:
    """Return the boxes at touch; the lift's where it is there, and no stand is felt at that carries only let go of."""
    turns = () if lets_go(job, stage) else _turning(stage)
    lifted = any(each.is_arm for each in stage.state.supports)
    asked = {NO_STAND_TURNS: turns, LIFT_LOCKED: (LIFT_LOCKED,) if lifted else ()}
    return tuple(item for each in USUAL[Moment.TOUCH] for item in asked.get(each, (each,)))


def _when_up(job: Job, stage: StageAssessment) -> tuple[str, ...]:
    """Return the boxes when the vehicle is up: it was let go of, and now every stand carries what it is to."""
    turns = _turning(stage) if lets_go(job, stage) else ()
    usual = USUAL[Moment.UP]
    return tuple(item for each in usual for item in ((*turns, each) if each == LOOK_AGAIN else (each,)))


def _turning(stage: StageAssessment) -> tuple[str, ...]:
    """Return the box that no stand turns, of those that are to carry, since others may; nothing where none is."""
    stands = [each for each in stage.state.supports if not each.is_arm]
    loads = {each.name: stage.statics.load(each.name) for each in stands}
    # A load that is not known counts: what may carry has to bear.
    carrying = [
        each.name
        for each in stands
        if not each.standby and ((load := loads[each.name]) is None or load.expected > STICKS_FROM)
    ]
    if not carrying:
        return ()
    return (NO_STAND_TURNS if len(carrying) == len(stands) else f"{NO_STAND_TURNS}: {', '.join(carrying)}",)


def _prop(job: Job, stage: StageAssessment) -> dict[Moment, tuple[str, ...]]:
    """Return the boxes that speak of the prop as the plan has it: a box that cannot be true gets ticked unread."""
    before, back = _before(job), USUAL[Moment.BACK]
    props = None if job.lift is None else _props(job, job.lift.body)
    # Without a lift nothing tells which end may grow heavy, nor which stand is for that.
    if props is None or not props.isdisjoint(each.name for each in stage.state.supports):
        return {Moment.BEFORE: before}
    later = {PROP_SET: PROP_AT_HAND} if props else {PROP_SET: ""}
    return {
        Moment.BEFORE: tuple(item for each in before if (item := later.get(each, each))),
        Moment.BACK: (*back[:-1], STANDS_AWAY),
    }


def _props(job: Job, held: str) -> set[str]:
    """Return which stands are props under what the lift holds; where that itself is set down, it stands on the rest."""
    is_set_down = all(each.body == held for each in job.supports)
    return {each.name for each in job.supports if each.body == held and (each.standby or not is_set_down)}


def _before(job: Job) -> tuple[str, ...]:
    """Return the boxes before a job, but for the steering's where nothing of it can be on what comes out."""
    usual = USUAL[Moment.BEFORE]
    held = job.lift.body if job.lift else ""
    out = [each for each in job.vehicle.bodies if each.name in job.bodies and each.name != held]
    off = {name for stage in job.stages for name in stage.off}
    from_held = any(each.name in off and each.body == held for each in job.vehicle.parts)
    fronts = [max((x for x, _ in each.outline), default=0.0) for each in out]
    if not held or from_held or max(fronts, default=0.0) > -BEHIND_STEERING:
        return usual
    return tuple(each for each in usual if each != STEERING)


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
        Moment.UP: lets_go(job, judged) or bool(_ties(job, judged, Moment.UP)),
        Moment.DURING: bool(stage.off or stage.on or stage.bar or stage.pull),
        Moment.LEAVING: stage.unattended,
        Moment.BACK: _tie_the_vehicle(job, stage.done_up),
        Moment.OWN: bool(stage.confirm),
    }
    return tuple(moment for moment in Moment if has[moment])


def lets_go(job: Job, stage: StageAssessment) -> bool:
    """Tell whether a step lets the vehicle go, which is then raised a little.

    Args:
        job: The job.
        stage: The step, judged.

    Returns:
        Whether it undoes a joint that ties the vehicle on the lift; without a lift, whether it undoes any.
    """
    return _tie_the_vehicle(job, stage.state.stage.undone)


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

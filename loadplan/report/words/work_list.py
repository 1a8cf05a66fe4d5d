"""What to do in a step, in the order of the work, made from the plan: each thing a line that can be ticked."""

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, replace

from loadplan.checks.lock_window import brings_stands_up
from loadplan.model.job import Job, Support
from loadplan.model.shop import EquipmentKind
from loadplan.model.verdict import StageAssessment
from loadplan.report.words.cautions import NO_STAND_TURNS, Boxes, Moment, boxes, lets_go, moment_words
from loadplan.report.words.lock_words import lock_words
from loadplan.report.words.stage_tables import equipment_words, from_chalk, window_words
from loadplan.report.words.tape_words import height_words, setting
from loadplan.report.words.vocabulary import Reader
from loadplan.stages import goes_first, unhooked

TO_TOUCH = "to touch"
"""What `height_words` says of a stand that is brought up."""


@dataclass(frozen=True, slots=True)
class WorkPart:
    """Some lines that belong together.

    Attributes:
        heading: What they are.
        lines: What is done, each to be ticked; unlike any other line of the step.
        stops: Whether nothing after them is done before all of them are.
        any_time: Whether they are due at some time in the step that only their own words tell.
    """

    heading: str
    lines: tuple[str, ...]
    stops: bool = False
    any_time: bool = False


def work_list(job: Job, stage: StageAssessment, reader: Reader) -> tuple[WorkPart, ...]:
    """Tell what to do in a step.

    Args:
        job: The job.
        stage: The step, judged.
        reader: Who reads it.

    Returns:
        Its parts in the order of the work, those with nothing to do left out. The usual boxes are stop points but
        for those that hold all the while; what the job itself asks comes first, and is due when its words say.
    """
    ticks = {each.heading: each for each in boxes(job, stage, reader.units)}
    does, change = stage.state.stage, stage.statics.change
    first, hung, late = _away_first(job, stage), _unhooked(job, stage), _run_up_late(job, stage)
    last = [each for each in does.cleared if each not in {*first, *hung}]
    undone = change.undoing.order if change.undoing else does.undone
    off = "Take off, in any order" if does.any_order else "Take off, in this order"
    back, touch = (_stop(ticks, each, reader) for each in (Moment.BACK, Moment.TOUCH))
    felt = _felt_later(stage, touch)
    parts = (
        _stop(ticks, Moment.BEFORE, reader),
        _named("Take away", _cleared(stage, first, reader)),
        # When in the step each is due, only the job's writer knows: they are in view from its beginning.
        WorkPart(*_box(ticks, Moment.OWN, reader), any_time=True),
        _part("Set in place", _placed(job, set(does.in_place) - late, reader)),
        _part("Set anew", [f"{each.support}: to {setting(each.height, reader.units)}" for each in does.set_anew]),
        _part("Bring up" if brings_stands_up(job, stage.state) else "Lower", _lowered(job, stage, reader)),
        replace(touch, lines=tuple(each for each in touch.lines if each not in felt)),
        _named("Undo, in this order" if len(undone) > 1 else "Undo", undone),
        _named("Take away", _cleared(stage, hung, reader)),
        _stop(ticks, Moment.UP, reader),
        _part("Set in place", _placed(job, late, reader)),
        _named(off if len(does.off) > 1 else "Take off", does.off),
        _named("Put on", does.on),
        replace(touch, lines=felt),
        WorkPart(*_box(ticks, Moment.DURING, reader), any_time=True),
        # The vehicle comes down before a bolt is tightened; of the stands the box speaks for after.
        replace(back, lines=back.lines[:1]),
        _named("Tighten", does.done_up),
        replace(back, lines=back.lines[1:]),
        _named("Take away", _cleared(stage, last, reader)),
        _stop(ticks, Moment.LEAVING, reader),
    )
    told = tuple(replace(each, lines=tuple(map(reader.words, each.lines))) for each in parts)
    return tuple(each for each in told if each.lines)


def _part(heading: str, lines: Iterable[str]) -> WorkPart:
    return WorkPart(heading, tuple(lines))


def _named(heading: str, lines: Iterable[str]) -> WorkPart:
    """Return lines that say by themselves what is done: in a record "bolts" alone may be undone or tightened."""
    return WorkPart(heading, tuple(f"{heading}: {line}" for line in lines))


def _stop(ticks: dict[str, Boxes], moment: Moment, reader: Reader) -> WorkPart:
    return WorkPart(*_box(ticks, moment, reader), stops=True)


def _box(ticks: dict[str, Boxes], moment: Moment, reader: Reader) -> tuple[str, tuple[str, ...]]:
    """Return the boxes of a moment: its heading, and its items as a record names them."""
    heading = moment_words(moment, reader.units)
    items = ticks[heading].items if heading in ticks else ()
    return heading, tuple(f"{heading}: {item}" for item in items)


def _away_first(job: Job, stage: StageAssessment) -> tuple[str, ...]:
    """Return what goes before anything else is done; a step that only takes away has the order its writer gave it."""
    does = stage.state.stage
    others = (does.in_place, does.undone, does.done_up, does.off, does.on, does.set_anew)
    going = goes_first(job, stage.state) if any(others) else ()
    return tuple(each for each in does.cleared if each in going)


def _unhooked(job: Job, stage: StageAssessment) -> tuple[str, ...]:
    hung = unhooked(job, stage.state)
    return tuple(each for each in stage.state.stage.cleared if each in hung)


def _run_up_late(job: Job, stage: StageAssessment) -> set[str]:
    """Return which stands are brought up only when the vehicle that was let go of is up, and touch it there."""
    if job.lift is None or not lets_go(job, stage):
        return set()
    standing = (each for each in job.supports if each.name in stage.state.stage.in_place)
    return {each.name for each in standing if each.body == job.lift.body and each.standby and not each.on}


def _felt_later(stage: StageAssessment, touch: WorkPart) -> tuple[str, ...]:
    """Return what of the stop at touch is felt only when the step is done: stands that its deeds load turn before."""
    does = stage.state.stage
    return tuple(each for each in touch.lines if NO_STAND_TURNS in each and (does.undone or does.off or does.on))


def _placed(job: Job, names: Collection[str], reader: Reader) -> Iterator[str]:
    """Yield where each stand goes that is set in place, and how high."""
    for support in job.supports:
        if support.name in names:
            yield f"{support.name}: {equipment_words(support)}, at {_place(support, reader)}"
            yield f"{support.name}: {_height(support, reader)}"
    if job.lift and job.lift.lift.name in names:
        yield f"{job.lift.lift.name}: pads under the {job.lift.body}"


def _place(support: Support, reader: Reader) -> str:
    """Return where a stand goes by the tape, on what where not on the floor, and what its point says."""
    place = from_chalk(*support.at[:2], reader)
    side = "over" if support.equipment.kind is EquipmentKind.HOIST else "under"
    under = f", {side} {support.point}" if support.point else f", {side} the {support.body}"
    on = f", on the {support.on}" if support.on else ""
    return f"{place}{under}{on}{f' ({support.say})' if support.say else ''}"


def _height(support: Support, reader: Reader) -> str:
    """Return how high a stand is set, and what lies on its saddle; a hoist has no height to be set."""
    if support.equipment.kind is EquipmentKind.HOIST:
        return "hook it in"
    told = height_words(support, reader)
    shim = f", with {setting(support.shim.height, reader.units)} on it" if support.shim else ""
    return f"bring it up until it just touches{shim}" if told == TO_TOUCH else f"set it to {told}{shim}"


def _lowered(job: Job, stage: StageAssessment, reader: Reader) -> Iterator[str]:
    """Yield how far the lift goes down past first touch, or the stands come up."""
    down = stage.statics.set_down
    if down is not None:
        how = f"{'bring the stands up' if brings_stands_up(job, stage.state) else 'lower'} past first touch"
        locks = lock_words(job, stage, reader)
        yield f"{how}: {window_words(down.start, down.end, reader)}{'.' if locks else ''}{locks}"


def _cleared(stage: StageAssessment, names: Iterable[str], reader: Reader) -> Iterator[str]:
    """Yield what is taken away, and what is raised first where it still carries."""
    unloading = {each.support: each.raising for each in stage.statics.change.unloadings}
    for name in names:
        raising = unloading.get(name)
        if raising is not None:
            yield f"{raising.support}: raise by {reader.length(raising.by)}, so that {name} carries nothing"
        yield name

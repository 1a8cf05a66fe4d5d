"""What can be read in a step: a scale under a stand, a hook's scale, the lift's gauge, a hand that turns a stand."""

from dataclasses import dataclass
from enum import Enum

from loadplan.board.bay_step import BayStep
from loadplan.model.job import Job
from loadplan.model.shop import EquipmentKind
from loadplan.model.verdict import StageAssessment
from loadplan.planning.record_readings import read_before_moved
from loadplan.report.words.record_words import entry_words
from loadplan.report.words.stage_tables import NONE
from loadplan.units import Kind, bare_unit

ALL_OFF = "on this floor, with all saddles and weights off at once"
"""What the most on this floor takes into account."""


class Scale(Enum):
    """What is read at a place, as the page asks for it; {} stands for its name."""

    UNDER = "Scale under {} reads"
    HOOK = "Scale on the hook of {} reads"
    GAUGE = "Gauge of {} reads, all its arms together"


@dataclass(frozen=True, slots=True)
class ReadingPlace:
    """A place at which something can be read.

    Attributes:
        name: The stand, the hoist, or the lift.
        scale: What is read there; a hand is tried only where something stands under the unit.
        expected: What the plan tells that it carries [N]; None where it tells nothing.
        most: The most that the plan tells on this floor [N]; None where it tells nothing.
    """

    name: str
    scale: Scale
    expected: float | None
    most: float | None


def reading_places(job: Job, stage: StageAssessment) -> tuple[ReadingPlace, ...]:
    """List where something can be read in a step.

    Args:
        job: The job.
        stage: The step, judged.

    Returns:
        Stands and hoists in the job's order, then the lift where it holds.
    """
    told = []
    for support in stage.state.supports:
        if not support.is_arm:
            load = stage.statics.load(support.name)
            hangs = support.equipment.kind is EquipmentKind.HOIST
            carried = (load.expected, load.at_most) if load else (None, None)
            told.append(ReadingPlace(support.name, Scale.HOOK if hangs else Scale.UNDER, *carried))
    arms = [stage.statics.load(each.name) for each in stage.state.supports if each.is_arm]
    if arms and job.lift:
        loads = [each for each in arms if each is not None]
        known = len(loads) == len(arms)
        expected = sum(each.expected for each in loads) if known else None
        # What one arm has more another has less, but no more than this can be all of them.
        most = sum(each.at_most for each in loads) if known else None
        told.append(ReadingPlace(job.lift.lift.name, Scale.GAUGE, expected, most))
    return tuple(told)


def place_lines(step: BayStep) -> list[dict[str, str]]:
    """Tell for each place what the plan has there, and what was read last.

    Args:
        step: The step.

    Returns:
        What the page shows of each.
    """
    judged = {each.support: each for each in step.read.places}
    before = read_before_moved(step.record, step.name)
    unit = bare_unit(Kind.LOAD, step.reader.units)
    return [
        {
            "name": each.name,
            "shown": step.reader.words(each.name),
            "asks": f"{each.scale.value.format(step.reader.words(each.name))} ({unit})",
            "hand": "yes" if each.scale is Scale.UNDER else "",
            "planned": _planned(step, each),
            "read": " ".join(_read_words(step, each.name, before)),
            "verdict": judged[each.name].verdict.words if each.name in judged else "",
        }
        for each in reading_places(step.opened.plan.draft.job, step.stage)
    ]


def _planned(step: BayStep, place: ReadingPlace) -> str:
    """Return what a place is planned to carry, and the most that it may on this floor."""
    if place.expected is None or place.most is None:
        return NONE
    told = step.reader.load(place.expected)
    # A reading is held against what is likely, which is far less: without why, the two seem to contradict each other.
    return f"{'nothing' if told.startswith('0 ') else told}, at most {step.reader.load(place.most)} {ALL_OFF}"


def _read_words(step: BayStep, name: str, before: frozenset[str]) -> list[str]:
    """Return what was read last at a place, and what that means for the plan where that is known."""
    entries = [each for each in step.record.entries if each.step == step.name and each.found]
    last = [entry_words(each, step.reader) for each in entries if each.found and each.found.support == name][-1:]
    if name in before:
        # What it meant then says nothing of what stands there now.
        return ["Read before something moved: read again.", *last]
    return [each.words for each in step.read.places if each.support == name] or last

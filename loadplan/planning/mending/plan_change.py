"""One change to the stands of a plan: what it makes of the plan, and what to tell whoever sets it."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import chain, count
from string import ascii_uppercase
from typing import NamedTuple

from loadplan.model.job import Job, Stack, Stage, Support
from loadplan.model.vehicle import Place
from loadplan.model.verdict import Measure, Quantity, Sentence
from loadplan.planning.mending.fitted_setting import FittedSetting


class ChangeKind(StrEnum):
    """What kind of change it is, by the word that the machine output uses."""

    HEIGHT = "height"
    EQUIPMENT = "equipment"
    PLACE = "place"
    ADD = "add"
    CLEAR = "clear"
    RAISE = "raise"


class MadeChange(NamedTuple):
    """A change made.

    Attributes:
        job: The plan with it.
        support: The support that it is about.
        says: What to do, a sentence.
    """

    job: Job
    support: str
    says: Sentence


@dataclass(frozen=True, slots=True)
class PlanChange:
    """A change that can be made.

    Attributes:
        kind: Its kind.
        about: What it is about: two changes of one kind about the same are never made together.
        make: Makes it in a plan; None where it cannot be made in that one.
        at_cell: Whether a stand then stands at a place that is no point of the vehicle's file.
    """

    kind: ChangeKind
    about: str
    make: Callable[[Job], MadeChange | None]
    at_cell: bool = False


def support_of(job: Job, name: str) -> Support:
    """Return the support of that name."""
    return next(each for each in job.supports if each.name == name)


def with_support(job: Job, support: Support) -> Job:
    """Return a plan with one of its supports as it is now."""
    return replace(job, supports=tuple(support if each.name == support.name else each for each in job.supports))


def with_stage(job: Job, number: int, stage: Stage) -> Job:
    """Return a plan with one of its stages as it is now."""
    return replace(job, stages=(*job.stages[:number], stage, *job.stages[number + 1 :]))


def free_letter(job: Job) -> str:
    """Return the first letter, or letter with a number, that nothing in a plan is called."""
    taken = taken_names(job)
    numbered = (f"{letter}{number}" for number in count(2) for letter in ascii_uppercase)
    return next(each for each in chain(ascii_uppercase, numbered) if each not in taken)


def taken_names(job: Job) -> frozenset[str]:
    """Return what in a plan is called something that no stand may be called then."""
    arms = job.lift.arms if job.lift else ()
    named = (*(each.name for each in (*job.supports, *arms)), *(each.name for each in job.vehicle.joints))
    return frozenset((*named, *(each.name for each in job.vehicle.points)))


def set_words(setting: FittedSetting | None) -> Sentence:
    """Return how a saddle is set, to follow a comma; None: it is brought up to touch."""
    if setting is None:
        return ("brought up to just touch",)
    return ("set to ", Quantity(setting.height, Measure.LENGTH), *shim_words(setting.shim))


def shim_words(shim: Stack | None) -> Sentence:
    """Return what lies on a saddle, to follow its height."""
    if shim is None:
        return (" with no shim",)
    return (" with a shim of ", Quantity(shim.height, Measure.LENGTH), f" {shim.wood}".rstrip())


def place_words(at: Place) -> Sentence:
    """Return where a place is in plan, from the axle line and the centre line."""
    x, y = at[:2]
    return (
        Quantity(abs(x), Measure.LENGTH),
        " in front of the axle line and " if x > 0 else " behind the axle line and ",
        Quantity(abs(y), Measure.LENGTH),
        " left of the centre line" if y > 0 else " right of the centre line",
    )


def kind_words(support: Support) -> str:
    """Return what equipment a support is, with its tag where it has one."""
    return f"{support.equipment.name} {support.tag}".rstrip()

"""What is only called otherwise in two states of a job: a stand, a step or a thing of the vehicle under another name.

The idea. A thing that is gone and one that has come are one thing where nothing but the name tells them apart, and no
third is like them. Who bears on it or names it bears the new name then, too: so the state before is rewritten with the
new names, and what differs from then on is a change. Kinds are gone through in the order in which one names the other.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import TypeAlias, TypeVar, cast

from loadplan.model.job import Job, Stage, Support
from loadplan.model.vehicle import Body, Joint, Part, Point, TieUp, Vehicle

Thing: TypeAlias = Body | Part | Joint | Point | TieUp
Named = TypeVar("Named", bound=Support | Stage | Thing)
Value = TypeVar("Value")

KINDS = {"bodies": "Assembly", "parts": "Part", "joints": "Joint", "points": "Point", "ties": "Tie"}
"""Things of a vehicle by their field, and what one of them is called on the page."""

TEXTS = frozenset({"say", "tag", "equipment", "wood", "confirm"})
"""Fields that name nothing of the plan, even where the same word stands there: a stand's tag is painted on it."""


@dataclass(frozen=True, slots=True)
class Renamed:
    """A thing that is only called otherwise.

    Attributes:
        kind: What it is: "Part", "stand", "step".
        was: Its name before.
        now: Its name by now.
    """

    kind: str
    was: str
    now: str


def called_anew(before: Job, after: Job) -> tuple[Job, tuple[Renamed, ...]]:
    """Give what is only called otherwise its new name in the state before.

    Args:
        before: The one state.
        after: The other.

    Returns:
        The state before with the new names, and what has one.
    """
    told: list[Renamed] = []
    for field, kind in KINDS.items():
        names = _renamed(getattr(before.vehicle, field), getattr(after.vehicle, field))
        # A name that two kinds share tells nobody which of them is meant.
        names = {
            was: now for was, now in names.items() if was not in _all_names(after) and now not in _all_names(before)
        }
        before = _translated(before, names)
        told += [Renamed(kind, was, now) for was, now in names.items()]
    stands = _renamed(before.supports, after.supports)
    before = _translated(before, stands)
    steps = _renamed(before.stages, after.stages)
    stages = tuple(replace(each, name=steps.get(each.name, each.name)) for each in before.stages)
    told += [Renamed("stand", was, now) for was, now in stands.items()]
    told += [Renamed("step", was, now) for was, now in steps.items()]
    return replace(before, stages=stages), tuple(told)


def _renamed(before: Sequence[Named], after: Sequence[Named]) -> dict[str, str]:
    """Return the new name of each thing that is only called otherwise, by its old one."""
    old, new = {each.name for each in before}, {each.name for each in after}
    gone = [each for each in before if each.name not in new]
    come = [each for each in after if each.name not in old]
    pairs = [(was.name, now.name) for was in gone for now in come if replace(was, name=now.name) == now]
    olds, news = [was for was, _ in pairs], [now for _, now in pairs]
    return {was: now for was, now in pairs if olds.count(was) == news.count(now) == 1}


def _all_names(job: Job) -> set[str]:
    things = (each for field in KINDS for each in getattr(job.vehicle, field))
    return {each.name for each in (*things, *job.supports)}


def _translated(record: Value, names: Mapping[str, str]) -> Value:
    """Return a record, or what stands in one, with the new names wherever an old one stands."""
    told: object = record
    if isinstance(record, str):
        told = names.get(record, record)
    elif isinstance(record, tuple):
        told = tuple(_translated(each, names) for each in record)
    elif names and is_dataclass(record) and not isinstance(record, type):
        own = TEXTS | ({"name"} if isinstance(record, Stage | Vehicle) else frozenset())
        bears = [each.name for each in fields(record) if each.name not in own]
        told = replace(record, **{each: _translated(getattr(record, each), names) for each in bears})
    return cast(Value, told)

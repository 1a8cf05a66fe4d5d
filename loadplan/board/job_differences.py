"""What two states of a job differ in, in words: a stand, a step or a thing of the vehicle a line."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields, replace

from loadplan.board.renamed_things import KINDS, Named, Renamed, Thing, called_anew
from loadplan.limits import TAPE
from loadplan.model.job import Job, Stage, Support
from loadplan.model.vehicle import Part, Vehicle
from loadplan.report.words.stage_tables import equipment_words, under
from loadplan.report.words.vocabulary import Reader

STAGE_WORDS = {
    "in_place": "set in place",
    "cleared": "cleared away",
    "undone": "undone",
    "done_up": "done up",
    "off": "off",
    "on": "on again",
}
"""What a step lists, by the field that lists it."""

REST = ("title", "date", "until", "limits", "shop", "us_units")
"""Fields of a job that are told by their names alone."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing that two states of a job differ in.

    Attributes:
        subject: What it is about: two people who changed the same touch each other.
        says: What became of it, a sentence without its full stop.
    """

    subject: str
    says: str


def differences(before: Job, after: Job, reader: Reader) -> tuple[Difference, ...]:
    """Tell what becomes of a job.

    Args:
        before: The one state.
        after: The other.
        reader: Who reads it.

    Returns:
        Stands, then steps, what is only called otherwise, vehicle and lift; empty where nothing that counts differs.
    """
    rest = [each for each in REST if getattr(before, each) != getattr(after, each)]
    # What is only called otherwise is told once, and not of everything that names it.
    before, names = called_anew(before, after)
    return (
        *_of_stands(before, after, reader),
        *_of_steps(before.stages, after.stages, reader),
        *map(_of_name, names),
        *_of_vehicle(before.vehicle, after.vehicle, reader),
        *([Difference("lift", "The lift is used otherwise")] if before.lift != after.lift else ()),
        *(Difference(each, f"{each.replace('us_units', 'units').capitalize()} changed") for each in rest),
    )


def _of_name(named: Renamed) -> Difference:
    """Return that a thing is called otherwise; whoever else changed it, under its old name, touches that."""
    kind = {"stand": "Stand", "step": "Step"}.get(named.kind, named.kind)
    return Difference(f"{named.kind} {named.was}", f'{kind} "{named.was}" is called "{named.now}" now')


def _pairs(before: Sequence[Named], after: Sequence[Named]) -> Iterator[tuple[Named | None, Named | None]]:
    """Yield what differs of things that have names: as it was, and as it is; None where there is none."""
    old, new = ({each.name: each for each in side} for side in (before, after))
    for name in dict.fromkeys((*old, *new)):
        if old.get(name) != new.get(name):
            yield old.get(name), new.get(name)


def _of_stands(before: Job, after: Job, reader: Reader) -> Iterator[Difference]:
    """Yield what became of each stand: new, taken out, or what of it is otherwise."""
    for was, now in _pairs(before.supports, after.supports):
        if was is None and now is not None:
            told = f"{equipment_words(now)}, {_where(now, reader)}, {_height(now, reader)}{_shimmed(now, reader)}"
            yield Difference(f"stand {now.name}", f"{now.name} is new: {told}")
        elif now is None and was is not None:
            yield Difference(f"stand {was.name}", f"{was.name} is taken out")
        elif was is not None and now is not None:
            told = "; ".join(_of_stand(was, now, reader)) or "changed: see the lines"
            yield Difference(f"stand {now.name}", f"{now.name}: {told}")


def _of_stand(was: Support, now: Support, reader: Reader) -> Iterator[str]:
    """Yield what became of a stand; the last one tells that there is more than has words."""
    if equipment_words(was) != equipment_words(now):
        yield f"{equipment_words(was)} to {equipment_words(now)}"
    if (was.point, was.body, was.at[:2]) != (now.point, now.body, now.at[:2]):
        yield f"{_where(was, reader)} to {_where(now, reader)}"
    if _height(was, reader) != _height(now, reader):
        yield f"{_height(was, reader)} to {_height(now, reader)}"
    if was.shim != now.shim:
        yield _shimmed(now, reader).removeprefix(", ") or "no shim"
    # What a point says of itself comes with the point.
    told = replace(was, equipment=now.equipment, tag=now.tag, point=now.point, body=now.body, at=now.at)
    told = replace(told, height=now.height, shim=now.shim, limit=now.limit, say=now.say, part=now.part)
    if told != now:
        yield "more about it: see the lines"


def _where(support: Support, reader: Reader) -> str:
    return f"under {under(support, reader)}" if support.point else f"free under {under(support, reader)}"


def _height(support: Support, reader: Reader) -> str:
    return "just touching" if support.height is None else reader.length(support.height)


def _shimmed(support: Support, reader: Reader) -> str:
    """Return what lies on a stand, behind a comma; "" for nothing."""
    if support.shim is None or support.shim.height < TAPE:
        return ""
    kind = "crib" if support.shim.crib else "shim"
    return f", {reader.length(support.shim.height)} {kind}"


def _of_steps(before: tuple[Stage, ...], after: tuple[Stage, ...], reader: Reader) -> Iterator[Difference]:
    """Yield what became of each step, and whether they come in another order."""
    for was, now in _pairs(before, after):
        if was is None and now is not None:
            yield Difference(f"step {now.name}", f'Step "{now.name}" is new')
        elif now is None and was is not None:
            yield Difference(f"step {was.name}", f'Step "{was.name}" is taken out')
        elif was is not None and now is not None:
            told = "; ".join(_of_step(was, now, reader)) or "listed in another order"
            yield Difference(f"step {now.name}", f'Step "{now.name}": {told}')
    there = {each.name for each in before} & {each.name for each in after}
    if [each.name for each in before if each.name in there] != [each.name for each in after if each.name in there]:
        yield Difference("order of steps", "The steps come in another order")


def _of_step(was: Stage, now: Stage, reader: Reader) -> Iterator[str]:
    """Yield what became of a step; the last one tells that there is more than has words."""
    for name, words in STAGE_WORDS.items():
        old, new = getattr(was, name), getattr(now, name)
        yield from (f"{each} {words}" for each in new if each not in old)
        yield from (f"{each} not {words} any more" for each in old if each not in new)
    for name in ("lowered", "raised"):
        old, new = getattr(was, name), getattr(now, name)
        if old != new:
            yield f"{_length(old, reader)} to {_length(new, reader)} {name}"
    for each in fields(Stage):
        old, new = getattr(was, each.name), getattr(now, each.name)
        if each.name not in {*STAGE_WORDS, "lowered", "raised"} and old != new:
            words = each.name.replace("_", " ")
            yield (words if new else f"not {words}") if isinstance(new, bool) else f"{words} changed"


def _length(metres: float | None, reader: Reader) -> str:
    return "not" if metres is None else reader.length(metres)


def _of_vehicle(before: Vehicle, after: Vehicle, reader: Reader) -> Iterator[Difference]:
    """Yield what became of each thing of the vehicle, and of the vehicle as a whole."""
    for field, kind in KINDS.items():
        old: Sequence[Thing] = getattr(before, field)
        new: Sequence[Thing] = getattr(after, field)
        for was, now in _pairs(old, new):
            thing = now or was
            if thing is not None:
                name = f"{kind} {thing.name}"
                yield Difference(name, f"{name}: {_of_thing(was, now, reader)}")
    if before.name != after.name:
        yield Difference("vehicle", f"The vehicle is {after.name} instead of {before.name}")
    if before.example != after.example:
        yield Difference("vehicle's weights", "Whether the vehicle's weights are invented changed")


def _of_thing(was: Thing | None, now: Thing | None, reader: Reader) -> str:
    if was is None:
        return "new"
    if now is None:
        return "taken out"
    if isinstance(was, Part) and isinstance(now, Part) and was.mass != now.mass:
        return f"{reader.mass(was.mass)} to {reader.mass(now.mass)}"
    return "changed"

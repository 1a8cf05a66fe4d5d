"""What somebody changes of the stands and the parts, as the page says it, and what becomes of the file."""

import re
from itertools import chain, count
from math import inf
from string import ascii_uppercase
from typing import Annotated, Literal, TypeVar, assert_never

from pydantic import BaseModel, ConfigDict, Field

from loadplan.board.draft import Draft
from loadplan.board.refusals import RefusedError
from loadplan.board.snap_places import bearing_at, free_points
from loadplan.files import edit_stands
from loadplan.files.edit_stands import Bearing, Free, NewStand, Under
from loadplan.files.toml_edit import Edit
from loadplan.model.job import Stage, State, Support
from loadplan.model.vehicle import PlanPoint
from loadplan.units import Kind, QuantityError, System, to_si

Number = Annotated[int, Field(ge=0, le=10_000)]
Metres = Annotated[float, Field(ge=-100.0, le=100.0, allow_inf_nan=False)]
Reach = Annotated[float, Field(ge=0.0, le=1.0, allow_inf_nan=False)]
Typed = Annotated[str, Field(max_length=60)]

BESIDE = 0.25
"""How far from a stand its copy is set [m]."""

BARE = re.compile(r"[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+-]?[0-9]+)?")
"""A number without a unit, as people write it."""

COMMA = re.compile(r"(?P<sign>[+-]?)(?P<before>[0-9]*),(?P<behind>[0-9]+)(?![0-9.,])")
"""A number that begins with one comma in it."""

THOUSANDS = 3
"""Digits behind a comma that parts thousands."""

Item = TypeVar("Item")


class Said(BaseModel):
    """One thing that the page says; what is not known is refused."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class Move(Said):
    """A stand is moved."""

    kind: Literal["move"]
    stand: Number
    x: Metres
    y: Metres
    snap: Reach = 0.0

    def edits(self, draft: Draft, state: State) -> tuple[list[Edit], str]:
        """Return what changes in the file, and what to say."""
        support = stand_of(draft, self.stand)
        to = bearing_at(draft.job, state, support, (self.x, self.y), self.snap)
        return edit_stands.moved(draft.file, self.stand, to), f"{support.name} is {_where(to)}."


class PutUnder(Said):
    """A stand is put under a point."""

    kind: Literal["under"]
    stand: Number
    point: Number

    def edits(self, draft: Draft, _: State) -> tuple[list[Edit], str]:
        """Return what changes in the file, and what to say."""
        support = stand_of(draft, self.stand)
        point = nth(draft.job.vehicle.points, self.point, "point")
        return edit_stands.moved(draft.file, self.stand, Under(point.name)), f"{support.name} is under {point.name}."


class Add(Said):
    """A stand is added, at a free place where none is said."""

    kind: Literal["add"]
    x: Metres | None = None
    y: Metres | None = None
    snap: Reach = 0.0

    def edits(self, draft: Draft, state: State) -> tuple[list[Edit], str]:
        """Return what changes in the file, and what to say: a stand like the last one that the same step sets."""
        first = next((stage for stage in draft.job.stages if _stood(draft, stage)), None)
        stage = state.index if first is None else min(state.index, draft.job.stages.index(first))
        like = _stood(draft, draft.job.stages[stage])
        at = None if self.x is None or self.y is None else (self.x, self.y)
        stand = _new(draft, state, like[-1] if like else _first_stand(draft, state), (at, self.snap))
        said = f"{stand.name} is {_where(stand.to)}."
        if not like:
            return edit_stands.added(draft.file, stand, stage), said
        return edit_stands.duplicated(draft.file, draft.job.supports.index(like[-1]), stand), said


class Remove(Said):
    """A stand is taken out of the plan."""

    kind: Literal["remove"]
    stand: Number

    def edits(self, draft: Draft, _: State) -> tuple[list[Edit], str]:
        """Return what changes in the file, and what to say."""
        support = stand_of(draft, self.stand)
        return edit_stands.removed(draft.file, self.stand), f"{support.name} is taken out of the plan."


class Duplicate(Said):
    """A stand like another is set beside it."""

    kind: Literal["duplicate"]
    stand: Number

    def edits(self, draft: Draft, state: State) -> tuple[list[Edit], str]:
        """Return what changes in the file, and what to say."""
        support = stand_of(draft, self.stand)
        stand = _new(draft, state, support, ((support.at[0], support.at[1] - BESIDE), 0.0))
        said = f"{stand.name} stands beside {support.name}. Move it to its place."
        return edit_stands.duplicated(draft.file, self.stand, stand), said


class Equip(Said):
    """Other equipment is put under a place."""

    kind: Literal["equip"]
    stand: Number
    equipment: Number

    def edits(self, draft: Draft, _: State) -> tuple[list[Edit], str]:
        """Return what changes in the file, and what to say."""
        support = stand_of(draft, self.stand)
        equipment = nth(draft.job.shop.equipment, self.equipment, "equipment")
        return edit_stands.equipped(self.stand, equipment.name), f"{support.name} is a {equipment.name} now."


class SetHeight(Said):
    """The saddle of a stand is set to a height; an empty text: brought up to just touch."""

    kind: Literal["height"]
    stand: Number
    text: Typed

    def edits(self, draft: Draft, _: State) -> tuple[list[Edit], str]:
        """Return what changes in the file, and what to say.

        Raises:
            RefusedError: If that is no height.
        """
        support = stand_of(draft, self.stand)
        if not self.text.strip():
            return edit_stands.set_to(draft.file, self.stand, None), f"{support.name} is brought up to just touch."
        height = quantity(self.text, Kind.LENGTH, draft)
        if height <= 0:
            raise RefusedError("A height has to be greater than 0.")
        return edit_stands.set_to(draft.file, self.stand, height), f"{support.name} is set to {self.text.strip()}."


class Tick(Said):
    """A part is ticked off from the step in view on, or back on."""

    kind: Literal["part"]
    part: Number
    off: bool

    def edits(self, draft: Draft, state: State) -> tuple[list[Edit], str]:
        """Return what changes in the file, and what to say."""
        part = nth(draft.job.vehicle.parts, self.part, "part")
        done = "off" if self.off else "on"
        if (part.name in state.on) is not self.off:
            return [], f"{part.name} is {done} already."
        edits = edit_stands.ticked(draft.file, part.name, state.index, off=self.off)
        return edits, f"{part.name} is {done} in this step."


def stand_of(draft: Draft, number: int) -> Support:
    """Find a stand by its number.

    Args:
        draft: The plan.
        number: Its number, from 0.

    Returns:
        The stand.
    """
    return nth(draft.job.supports, number, "stand")


def nth(items: tuple[Item, ...], number: int, kind: str) -> Item:
    """Find a thing by its number.

    Args:
        items: The things.
        number: Its number, from 0.
        kind: What it is, for the message.

    Returns:
        The thing.

    Raises:
        RefusedError: If there is none of that number.
    """
    if number >= len(items):
        raise RefusedError(f"There is no {kind} of that number any more.")
    return items[number]


def quantity(text: str, kind: Kind, draft: Draft) -> float:
    """Read a quantity as somebody types it: a bare number is in the job's units.

    Args:
        text: What was typed.
        kind: What it should be.
        draft: The plan.

    Returns:
        The quantity in SI.

    Raises:
        RefusedError: If it cannot be understood.
    """
    plain = _with_point(text.strip())
    # Python reads more as a number than people write: 1_000, and the digits of every script.
    value: object = float(plain) if BARE.fullmatch(plain) else plain
    if value in (inf, -inf):
        raise RefusedError("Not taken: it is too large a number.")
    try:
        return to_si(value, kind, System.US if draft.job.us_units else System.METRIC)
    except QuantityError as error:
        raise RefusedError(f"Not taken: it {error}.") from None


def _with_point(text: str) -> str:
    """Return a number that was typed with one comma with a point instead: the keys of some tablets have nothing else.

    Raises:
        RefusedError: If the comma could as well part thousands.
    """
    found = COMMA.match(text)
    if found is None:
        return text
    before, behind = found["before"], found["behind"]
    if len(behind) == THOUSANDS and before.strip("0"):
        whole, part = f"{before}{behind}", f"{before}.{behind}".rstrip("0").rstrip(".")
        # Some keys have no point: there 1,5 is taken, and behind another nought three digits are no thousands any more.
        keys = "" if behind.endswith("0") else f", on keys without a point {before},{behind}0"
        raise RefusedError(f"Not taken: {before},{behind} could be {whole} or {part}. Type {whole}, or {part}{keys}.")
    return f"{found['sign']}{before or 0}.{behind}{text[found.end() :]}"


def _where(to: Bearing) -> str:
    match to:
        case Under(point):
            return f"under {point}"
        case Free(body, _):
            return f"at a free place, under the {body}"
        case _:
            assert_never(to)


def _stood(draft: Draft, stage: Stage) -> list[Support]:
    """Return the stands that a stage sets to carry."""
    return [each for each in draft.job.supports if each.name in stage.in_place and not each.standby]


def _first_stand(draft: Draft, state: State) -> Support:
    """Return a stand that is nowhere yet: the first equipment of the shop, at the middle of the first assembly."""
    equipment = nth(draft.job.shop.equipment, 0, "equipment in the shop")
    lifted = draft.job.lift.body if draft.job.lift else ""
    body = next((name for name in state.bodies if name != lifted), state.bodies[0])
    at = draft.assessment.stages[state.index].statics.body(body).cg
    return Support("", equipment, "", body, at)


def _new(draft: Draft, state: State, like: Support, where: tuple[PlanPoint | None, float]) -> NewStand:
    """Return a stand like another under the next free letter, at a place or else at the first free point."""
    at, snap = where
    fresh = Support(_letter(draft), like.equipment, "", like.body, like.at, height=like.height)
    lifted = draft.job.lift.body if draft.job.lift else ""
    points = [each for each in free_points(draft.job, state, fresh) if each.body != lifted]
    if at is None and points:
        to: Bearing = Under(points[0].name)
    else:
        to = bearing_at(draft.job, state, fresh, at or like.at[:2], snap)
    return NewStand(fresh.name, like.equipment.name, to, like.height)


def _letter(draft: Draft) -> str:
    """Return the first letter, or letter with a number, that nothing is called."""
    vehicle = draft.job.vehicle
    arms = draft.job.lift.arms if draft.job.lift else ()
    taken = {each.name for each in (*draft.job.supports, *arms)} | {each.name for each in vehicle.joints}
    taken |= {each.name for each in vehicle.points}
    numbered = (f"{letter}{number}" for number in count(2) for letter in ascii_uppercase)
    return next(each for each in chain(ascii_uppercase, numbered) if each not in taken)

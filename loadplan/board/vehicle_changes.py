"""Parts, points, bolts and mounts made and changed on the page: the plan takes the vehicle's tables in for it."""

from typing import Annotated, Literal, NamedTuple

from pydantic import Field

from loadplan.board.draft import Draft
from loadplan.board.refusals import RefusedError
from loadplan.board.stand_changes import Number, Said, nth, quantity
from loadplan.board.step_changes import one_line
from loadplan.files import read_job
from loadplan.files.job_file import open_job
from loadplan.files.own_vehicle import renamed, with_own_vehicle
from loadplan.files.toml_edit import Added, Change, Dropped, Edit, edited_text, number, quoted
from loadplan.model.vehicle import Joint, Part, Place, Point
from loadplan.units import Kind, System, from_si

Field60 = Annotated[str, Field(max_length=400)]
Thing = Literal["part", "point", "joint"]


class FieldRule(NamedTuple):
    """How a field of the form stands in the file.

    Attributes:
        key: Key of the table.
        kind: What it measures; None for words.
    """

    key: str
    kind: Kind | None


FIELDS: dict[str, dict[str, FieldRule]] = {
    "part": {
        "name": FieldRule("name", None),
        "body": FieldRule("body", None),
        "mass": FieldRule("mass", Kind.MASS),
        "mass_pm": FieldRule("mass_pm", Kind.MASS),
        "known": FieldRule("known", None),
    },
    "point": {
        "name": FieldRule("name", None),
        "body": FieldRule("body", None),
        "limit": FieldRule("limit", Kind.FORCE),
        "say": FieldRule("say", None),
        "part": FieldRule("part", None),
    },
    "joint": {
        "name": FieldRule("name", None),
        "kind": FieldRule("kind", None),
        "stiffness": FieldRule("stiffness", Kind.STIFFNESS),
        "limit": FieldRule("limit", Kind.FORCE),
        "part": FieldRule("part", None),
    },
}
"""The fields of each kind of thing besides its places."""

PLACES = {"at": ("x", "y", "z"), "to": ("to_x", "to_y", "to_z")}
"""Fields of the places of a thing: where it is, and the second end of a link."""


class SetThing(Said):
    """A part, point or joint is made, or changed in the fields that are given; an empty field: not said any more."""

    kind: Literal["thing"]
    what: Thing
    item: Number | None = None
    fields: dict[Annotated[str, Field(max_length=20)], Field60] = Field(max_length=20)

    def text(self, draft: Draft) -> tuple[str, str]:
        """Return the file's new text, and what to say.

        Raises:
            RefusedError: If a field is not one of that kind of thing, or cannot be understood.
        """
        own = own_text(draft)
        now = None if self.item is None else things(draft, self.what)[self._row(draft)]
        values = self._values(draft, now)
        name = one_line(self.fields["name"]) if "name" in self.fields else now.name if now else ""
        if now is None:
            edits: list[Edit] = [
                Added(self.what, tuple((key, value) for key, value in values.items() if value is not None))
            ]
        else:
            row = self._row(draft)
            edits = [Change(self.what, row, key, value) for key, value in values.items()]
            if name != now.name:
                edits += renamed(open_job(draft.path, own), self.what, now.name, name)
        return edited_text(own, edits, draft.path), f"{name or 'It'} is written into the plan's own vehicle."

    def _row(self, draft: Draft) -> int:
        """Return the number of the thing that is changed."""
        _ = nth(things(draft, self.what), self.item or 0, self.what)
        return self.item or 0

    def _values(self, draft: Draft, now: Part | Point | Joint | None) -> dict[str, str | None]:
        """Return the keys that change with their values as TOML text, None for one that goes.

        Raises:
            RefusedError: If a field is not one of that kind of thing.
        """
        rules = FIELDS[self.what]
        ends = ("first", "second") if self.what == "joint" else ()
        places = {key: names for key, names in PLACES.items() if key == "at" or self.what == "joint"}
        known = {*rules, *ends, *(name for names in places.values() for name in names)}
        if set(self.fields) - known:
            raise RefusedError("The page said something that is not understood. Load it again.")
        values: dict[str, str | None] = {}
        for field, rule in rules.items():
            if field in self.fields:
                values[rule.key] = _value(self.fields[field], rule, draft)
        if set(ends) & set(self.fields):
            were = now.between if isinstance(now, Joint) else ("", "")
            both = [self.fields.get(end, was) for end, was in zip(ends, were, strict=True)]
            values["between"] = f"[{', '.join(map(quoted, both))}]"
        for key, names in places.items():
            if set(names) & set(self.fields):
                values[key] = self._place(draft, names, _place_of(now, key))
        return values

    def _place(self, draft: Draft, names: tuple[str, ...], now: Place | None) -> str | None:
        """Return a place as it stands in the file; None where all its fields are empty."""
        if all(not self.fields.get(name, "").strip() for name in names) and now is None:
            return None
        system = system_of(draft)
        given = [
            quantity(self.fields[name] or "0", Kind.LENGTH, draft) if name in self.fields else None for name in names
        ]
        old = now or (0.0, 0.0, 0.0)
        place = [was if new is None else new for new, was in zip(given, old, strict=True)]
        return f"[{', '.join(number(from_si(each, Kind.LENGTH, system)) for each in place)}]"


class DropThing(Said):
    """A part, point or joint is taken out of the plan's own vehicle."""

    kind: Literal["drop_thing"]
    what: Thing
    item: Number

    def text(self, draft: Draft) -> tuple[str, str]:
        """Return the file's new text, and what to say."""
        name = nth(things(draft, self.what), self.item, self.what).name
        own = own_text(draft)
        return edited_text(own, [Dropped(self.what, self.item)], draft.path), f"{name} is taken out."


def things(draft: Draft, what: str) -> tuple[Part | Point | Joint, ...]:
    """Return the parts, points or joints of a plan as its files give them.

    Args:
        draft: The plan.
        what: Which.

    Returns:
        They, in the file's order.
    """
    vehicle = draft.given.vehicle
    found: dict[str, tuple[Part | Point | Joint, ...]] = {
        "part": vehicle.parts,
        "point": vehicle.points,
        "joint": vehicle.joints,
    }
    return found[what]


def own_text(draft: Draft) -> str:
    """Return the plan's text with the vehicle's tables in it, which mean the same there.

    Args:
        draft: The plan.

    Returns:
        The text.

    Raises:
        RefusedError: If weights are tried out, which go by the parts' names, or the vehicle's file is written so that
            its tables cannot be moved.
    """
    if draft.what_if:
        raise RefusedError("Weights are being tried out. Take them back, or write them into the plan, then change it.")
    own = with_own_vehicle(draft.file, draft.text)
    if own != draft.text and read_job(draft.path, today=draft.day, text=own).vehicle != draft.given.vehicle:
        raise RefusedError(
            "The vehicle's file is written so that its tables cannot be taken in. Change it in that file."
        )
    return own


def _place_of(now: Part | Point | Joint | None, key: str) -> Place | None:
    """Return a thing's place, or the second end of a link; None where it has none."""
    if isinstance(now, Joint):
        return now.to if key == "to" else now.at[0] if now.at else None
    return now.at if now is not None and key == "at" else None


def _value(text: str, rule: FieldRule, draft: Draft) -> str | None:
    """Return a field as TOML text, None for an empty one."""
    plain = text.strip()
    if not plain:
        return None
    if rule.kind is None:
        return quoted(one_line(plain))
    if rule.key == "mass_pm" and plain.endswith("%"):
        return quoted(plain)
    return number(from_si(quantity(plain, rule.kind, draft), rule.kind, system_of(draft)))


def system_of(draft: Draft) -> System:
    """Return the units of bare numbers in a plan's file.

    Args:
        draft: The plan.
    """
    return System.US if draft.job.us_units else System.METRIC

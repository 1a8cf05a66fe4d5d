"""Assemblies made and changed on the page: outline corner by corner, bottom and top, and what the scales said."""

import re
from datetime import date
from typing import Annotated, Any, Literal

import tomlkit
from pydantic import Field

from loadplan.board.draft import Draft
from loadplan.board.refusals import RefusedError
from loadplan.board.stand_changes import Number, Said, nth, quantity
from loadplan.board.step_changes import one_line
from loadplan.board.vehicle_changes import own_text, system_of
from loadplan.board.verdict_cells import Plain
from loadplan.files.job_file import JobFile, open_job
from loadplan.files.own_vehicle import renamed
from loadplan.files.toml_edit import Added, Change, Dropped, Edit, edited_text, number, quoted
from loadplan.model.vehicle import Body
from loadplan.report.words.vocabulary import Reader
from loadplan.units import Kind, from_si

Written = Annotated[str, Field(max_length=4000)]
Key = Annotated[str, Field(max_length=20)]

PLAIN = {"bottom": Kind.LENGTH, "top": Kind.LENGTH}
"""Fields of an assembly that are one quantity each."""

SCALES = {"mass": Kind.MASS, "mass_pm": Kind.MASS, "cg_x": Kind.LENGTH, "cg_y": Kind.LENGTH, "cg_z": Kind.LENGTH}
"""Fields of what the scales said of it."""

WORDS = ("name", "known")

FEWEST_CORNERS, MOST_CORNERS = 3, 200


class SetAssembly(Said):
    """An assembly is made, or changed in the fields that are given; an empty field: not said any more."""

    kind: Literal["assembly"]
    item: Number | None = None
    fields: dict[Key, Written] = Field(max_length=12)

    def text(self, draft: Draft) -> tuple[str, str]:
        """Return the file's new text, and what to say.

        Raises:
            RefusedError: If a field is none of an assembly's, or cannot be understood.
        """
        if set(self.fields) - {*WORDS, *PLAIN, *SCALES, "outline", "date"}:
            raise RefusedError("The page said something that is not understood. Load it again.")
        own = own_text(draft)
        file = open_job(draft.path, own)
        now = None if self.item is None else nth(draft.given.vehicle.bodies, self.item, "assembly")
        raw: dict[str, Any] = {} if self.item is None else file.source.raw["body"][self.item]
        values = self._values(draft, raw)
        name = one_line(self.fields["name"]) if "name" in self.fields else now.name if now else ""
        if now is None:
            given = tuple((key, value) for key, value in values.items() if value is not None)
            edits: list[Edit] = [Added("body", given), *_in_use(file, name)]
        else:
            edits = [Change("body", self.item or 0, key, value) for key, value in values.items()]
            edits += renamed(file, "body", now.name, name) if name != now.name else []
        return edited_text(own, edits, draft.path), f"{name or 'It'} is written into the plan's own vehicle."

    def _values(self, draft: Draft, raw: dict[str, Any]) -> dict[str, str | None]:
        """Return the keys that change with their values as TOML text, None for one that goes."""
        values: dict[str, str | None] = {
            key: quoted(one_line(self.fields[key])) if self.fields[key].strip() else None
            for key in WORDS
            if key in self.fields
        }
        if "outline" in self.fields:
            values["outline"] = _outline(self.fields["outline"], draft)
        values |= {key: _amount(self.fields[key], kind, draft) for key, kind in PLAIN.items() if key in self.fields}
        if {*SCALES, "date"} & set(self.fields):
            values["weighed"] = self._weighed(draft, raw.get("weighed"))
        return values

    def _weighed(self, draft: Draft, raw: dict[str, Any] | None) -> str | None:
        """Return what the scales said as TOML text, None where it says nothing any more.

        Raises:
            RefusedError: If the mass or a coordinate of the centre of gravity is missing.
        """
        table = dict(raw or {})
        given = {key: _amount(self.fields[key], kind, draft) for key, kind in SCALES.items() if key in self.fields}
        if not self.fields.get("mass", "kept").strip():
            return None
        for key in ("mass", "mass_pm"):
            if key in given:
                table[key] = given[key]
        cg = [str(each) if isinstance(each, int | float) else quoted(each) for each in table.get("cg", ())]
        cg = [given.get(f"cg_{axis}", was) or "" for axis, was in zip("xyz", cg or ["", "", ""], strict=True)]
        if not all(cg) or table.get("mass") is None:
            raise RefusedError("Not taken: a weighing needs its mass and all three of its centre of gravity.")
        if "date" in self.fields:
            table["date"] = _day(self.fields["date"])
        kept = {key: value for key, value in table.items() if value is not None and key != "cg"}
        texts = {key: value if key in given or key == "date" else _as_toml(value) for key, value in kept.items()}
        texts["cg"] = f"[{', '.join(cg)}]"
        return f"{{ {', '.join(f'{key} = {value}' for key, value in texts.items())} }}"


class DropAssembly(Said):
    """An assembly is taken out of the plan's own vehicle."""

    kind: Literal["drop_assembly"]
    item: Number

    def text(self, draft: Draft) -> tuple[str, str]:
        """Return the file's new text, and what to say."""
        name = nth(draft.given.vehicle.bodies, self.item, "assembly").name
        own = own_text(draft)
        edits: list[Edit] = [Dropped("body", self.item)]
        used = open_job(draft.path, own).source.raw.get("bodies")
        if isinstance(used, list) and name in used:
            left = [each for each in used if each != name]
            edits.append(Change("", 0, "bodies", _names(left) if left else None))
        return edited_text(own, edits, draft.path), f"{name} is taken out."


def assembly_form(bodies: tuple[Body, ...], reader: Reader) -> list[Plain]:
    """Tell all that can be changed of the assemblies.

    Args:
        bodies: The assemblies as the files give them.
        reader: Who reads them.

    Returns:
        Texts of fields by name, an assembly each.
    """
    return [_form(each, reader) for each in bodies]


def _form(body: Body, reader: Reader) -> dict[str, Plain]:
    """Return an assembly's fields, quantities in the reader's units."""
    weighed = body.weighed
    scales: dict[str, Plain] = {}
    if weighed:
        scales = {
            "mass": reader.mass(weighed.mass),
            "mass_pm": reader.mass(weighed.mass_pm),
            **{f"cg_{axis}": reader.length(each) for axis, each in zip("xyz", weighed.cg, strict=True)},
            "date": weighed.date.isoformat() if weighed.date else "",
        }
    return {
        "name": body.name,
        "outline": "\n".join(f"{reader.length(x)}, {reader.length(y)}" for x, y in body.outline),
        "bottom": "" if body.bottom is None else reader.length(body.bottom),
        "top": "" if body.top is None else reader.length(body.top),
        **scales,
    }


def _outline(text: str, draft: Draft) -> str | None:
    """Return corners as TOML text, None for none.

    Raises:
        RefusedError: If a line is no corner, or there are too few or too many.
    """
    lines = [line.strip() for line in re.split(r"[\n;]", text) if line.strip()]
    if lines and not FEWEST_CORNERS <= len(lines) <= MOST_CORNERS:
        raise RefusedError(f"Not taken: an outline has at least {FEWEST_CORNERS} corners, at most {MOST_CORNERS}.")
    corners = []
    for place, line in enumerate(lines, 1):
        pair = [each.strip() for each in line.split(",")]
        if len(pair) != 2 or not all(pair):
            raise RefusedError(
                f'Not taken: corner {place} must be two lengths with a comma between, such as "270, -250": in front of '
                f"the axle line, left of the centre line."
            )
        corners.append(f"[{', '.join(_amount(each, Kind.LENGTH, draft) or '0' for each in pair)}]")
    return f"[{', '.join(corners)}]" if corners else None


def _amount(text: str, kind: Kind, draft: Draft) -> str | None:
    """Return a quantity as TOML text in the file's units, None for an empty field."""
    plain = text.strip()
    if not plain:
        return None
    if kind is Kind.MASS and plain.endswith("%"):
        return quoted(plain)
    return number(from_si(quantity(plain, kind, draft), kind, system_of(draft)))


def _day(text: str) -> str | None:
    """Return a day as TOML text, None for an empty field.

    Raises:
        RefusedError: If it is no day.
    """
    if not text.strip():
        return None
    try:
        return date.fromisoformat(text.strip()).isoformat()
    except ValueError:
        raise RefusedError("Not taken: a day is written as 2026-11-20, year, month and day.") from None


def _as_toml(value: object) -> str:
    return tomlkit.item(value).as_string()


def _in_use(file: JobFile, name: str) -> list[Edit]:
    """Return what has a job that lists the assemblies that it is about list a new one, too."""
    used = file.source.raw.get("bodies")
    if not isinstance(used, list) or not name:
        return []
    return [Change("", 0, "bodies", _names([*used, name]))]


def _names(names: list[str]) -> str:
    return f"[{', '.join(map(quoted, names))}]"

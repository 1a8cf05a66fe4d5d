"""What the shape of a table is, and how one table, or all tables of a kind, are read."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Generic, TypeVar, get_args, get_origin

from pydantic import BaseModel, ConfigDict, ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from loadplan.files.fault_wording import listed, nearest, quoted, shown
from loadplan.files.rule import Rule
from loadplan.files.toml_source import Source
from loadplan.files.values import BARE, TABLE
from loadplan.units import System


class Shape(BaseModel):
    """A table as users write it; unknown keys are errors."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    def complaints(self) -> Iterator[tuple[str, str]]:
        """Tell where keys that are right alone do not fit together.

        Yields:
            Key, and what is wrong with it.
        """
        yield from ()


S = TypeVar("S", bound=Shape)


@dataclass(frozen=True, slots=True)
class TableRow(Generic[S]):
    """One table of a file.

    Attributes:
        label: What messages call it: its kind, number and name.
        table: What stands in it.
    """

    label: str
    table: S


@dataclass(frozen=True, slots=True)
class TableRows(Generic[S]):
    """All tables of one kind in a file.

    Attributes:
        rows: Those that could be read, in the file's order.
        names: Name and label of all, also of those that could not be read; None where even these are not known.
        whole: Whether all could be read.
    """

    rows: tuple[TableRow[S], ...] = ()
    names: Mapping[str, str] | None = None
    whole: bool = False

    @property
    def tables(self) -> tuple[S, ...]:
        """What stands in those that could be read."""
        return tuple(row.table for row in self.rows)

    def named(self, name: str) -> S | None:
        """Find a table by its name.

        Args:
            name: Its name.

        Returns:
            The table, None where there is none that could be read.
        """
        return next((table for table in self.tables if getattr(table, "name", None) == name), None)


def read_rows(source: Source, key: str, shape: type[S], most: int) -> TableRows[S]:
    """Read all tables of one kind, and note their faults.

    Args:
        source: The file.
        key: Kind of table: `part` for `[[part]]`.
        shape: Their shape.
        most: How many there may be.

    Returns:
        The tables.
    """
    raws = source.raw.get(key, [])
    if not isinstance(raws, list) or not all(isinstance(raw, dict) for raw in raws):
        source.blame("", key, f"must be written [[{key}]], once for each")
        return TableRows()
    if len(raws) > most:
        source.blame("", key, f"has {len(raws)} tables [[{key}]]: at most {most} are read")
        return TableRows()
    labels = [label_of(key, number, raw) for number, raw in enumerate(raws, 1)]
    read = [read_table(source, label, raw, shape) for label, raw in zip(labels, raws, strict=True)]
    rows = tuple(TableRow(label, table) for label, (table, _) in zip(labels, read, strict=True) if table is not None)
    return TableRows(rows, _names(source, key, labels, raws), all(whole for _, whole in read))


def read_table(source: Source, label: str, raw: dict[str, Any], shape: type[S]) -> tuple[S | None, bool]:
    """Read one table, and note its faults.

    Args:
        source: The file.
        label: What messages call it.
        raw: The table as TOML gives it.
        shape: Its shape.

    Returns:
        The table and whether all of it could be read. Keys that could not are left out of it, and where
        it cannot be without them there is no table.
    """
    try:
        table = shape.model_validate(raw, context=source.system)
    except ValidationError as error:
        faults = error.errors(include_url=False, include_input=True)
        for fault in faults:
            source.blame(label, *_told(fault, shape, source.system))
        bad = {fault["loc"][0] for fault in faults}
        return _read_rest(source, {key: value for key, value in raw.items() if key not in bad}, shape), False
    for key, message in table.complaints():
        source.blame(label, key, message)
    return table, True


def _read_rest(source: Source, raw: dict[str, Any], shape: type[S]) -> S | None:
    """Return what is left of a table without its bad keys, so that what else is wrong can be told too."""
    try:
        return shape.model_validate(raw, context=source.system)
    except ValidationError:
        return None


def not_a_key(found: str, known: Sequence[str]) -> str:
    """Say that there is no such key.

    Args:
        found: What stands in the file.
        known: Keys that there are.

    Returns:
        A message with the nearest key, or all where none is near.
    """
    near = nearest(found, known)
    return f"is not a key here{near}" if near else f"is not a key here: {listed(quoted(known))} are"


def label_of(kind: str, number: int, raw: dict[str, Any]) -> str:
    """Name a table in messages.

    Args:
        kind: Kind of table.
        number: Its number among its kind, from 1.
        raw: The table as TOML gives it.

    Returns:
        Kind and number, with the name where there is one.

    Example:
        >>> label_of("part", 3, {"name": "long block"})
        'part 3 "long block"'
    """
    name = raw.get("name")
    return f"{kind} {number} {shown(name)}" if isinstance(name, str) and name.strip() else f"{kind} {number}"


def _names(source: Source, key: str, labels: list[str], raws: list[dict[str, Any]]) -> dict[str, str]:
    """Return the label of each name, and note names that are used twice."""
    names: dict[str, str] = {}
    for label, raw in zip(labels, raws, strict=True):
        name = raw.get("name")
        if not isinstance(name, str):
            continue
        first = names.setdefault(name.strip(), label)
        if first is not label:
            source.blame(label, "name", f"is used twice, first in {first}: each {key} needs its own")
    return names


def _told(error: ErrorDetails, shape: type[BaseModel], system: System) -> tuple[str, str]:
    """Return key and message of one error of pydantic's in plain words."""
    path = [str(each + 1) if isinstance(each, int) else each for each in error["loc"] if each not in {TABLE, BARE}]
    key = ".".join(path)
    inner = _shape_at(shape, path[:-1])
    match error["type"]:
        case "missing":
            return key, f"is missing: it must be {_wanted(_field(inner, path[-1]), system)}"
        case "extra_forbidden":
            return key, not_a_key(path[-1], [field.alias or name for name, field in inner.model_fields.items()])
        case "rule":
            return key, str(error["ctx"]["says"])
        case _:
            return (
                key,
                f"must be {_wanted(_field(inner, path[-1]) if path else None, system)}, is {shown(error['input'])}",
            )


def _field(shape: type[BaseModel], key: str) -> FieldInfo | None:
    fields = shape.model_fields
    return next((field for name, field in fields.items() if (field.alias or name) == key), None)


def _wanted(field: FieldInfo | None, system: System) -> str:
    rules = [each for each in field.metadata if isinstance(each, Rule)] if field else []
    if rules:
        return rules[0].wants(system)
    tables = field is not None and get_origin(field.annotation) is tuple
    return "a list of tables with their own keys, each in { }" if tables else "a table with its own keys, in { }"


def _shape_at(shape: type[BaseModel], path: list[str]) -> type[BaseModel]:
    """Return the shape of the table that a path leads to."""
    for key in path:
        field = _field(shape, key)
        shape = next(_shapes_in(field.annotation), shape) if field else shape
    return shape


def _shapes_in(annotation: object) -> Iterator[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for inner in get_args(annotation):
        yield from _shapes_in(inner)

"""The same job in metric and in US units gives the same record, however its quantities are written."""

import re
import tomllib
from collections.abc import Callable, Iterator
from dataclasses import fields, is_dataclass
from datetime import date
from enum import Enum
from pathlib import Path
from typing import Any

import pytest

from loadplan.files import read_job
from loadplan.model.job import Job
from loadplan.units import Kind, System, bare_unit, from_si, to_si
from tests.files.toml_text import JOBS, toml

KINDS: dict[str, Kind] = {
    key: kind
    for kind, keys in {
        Kind.MASS: "mass mass_pm",
        Kind.LOAD: "rating arm_rating",
        Kind.FORCE: "limit push bar_force",
        Kind.STIFFNESS: "stiffness",
        Kind.TORQUE: "torque",
        Kind.LENGTH: "at at_pm cg cg_pm outline bottom top height heights from to step base saddle circle rise ceiling "
        "shim lock_step y size columns margin uneven uneven_touch align lowered bar",
    }.items()
    for key in keys.split()
}  # fmt: skip
TOLERANCE = 1e-12
"""Relative: some ten roundings of a double on the way to pounds and back."""

Change = Callable[[float, Kind], object]


def changed(key: str, value: Any, change: Change) -> Any:  # noqa: ANN401 - whatever TOML holds
    """Return a value with every bare quantity in it written another way."""
    match value:
        case dict():
            return {inner: changed(inner, each, change) for inner, each in value.items()}
        case list():
            return [changed(key, each, change) for each in value]
        case bool():
            return value
        case int() | float() if key in KINDS:
            return change(value, KINDS[key])
        case _:
            return value


def in_pounds(value: float, kind: Kind) -> object:
    return from_si(to_si(value, kind, System.METRIC), kind, System.US)


def with_its_unit(value: float, kind: Kind) -> object:
    return f"{value!r} {bare_unit(kind, System.METRIC)}"


def rewritten(folder: Path, change: Change, units: str) -> Job:
    for name in ("front-unit.toml", "cradle-unit.toml", "shop.toml"):
        raw = tomllib.loads((JOBS / name).read_text("utf-8"))
        (folder / name).write_text(toml(changed("", raw, change) | {"units": units}), "utf-8")
    return read_job(folder / "front-unit.toml")


def leaves(record: object, path: str = "") -> Iterator[tuple[str, object]]:
    """Yield every plain value of a record with the way to it."""
    if is_dataclass(record):
        for each in fields(record):
            yield from leaves(getattr(record, each.name), f"{path}.{each.name}")
    elif isinstance(record, tuple):
        yield f"{path}#", len(record)
        for number, each in enumerate(record):
            yield from leaves(each, f"{path}[{number}]")
    else:
        yield path, record


def compared(record: object) -> dict[str, object]:
    apart = re.compile(r"\.(us_units|(vehicle\.)?source|assumed)")
    found = {path: value for path, value in leaves(record) if not apart.match(path)}
    return {
        path: pytest.approx(value, rel=TOLERANCE) if isinstance(value, float) else value
        for path, value in found.items()
    }


@pytest.mark.parametrize(("change", "units"), [(in_pounds, "us"), (with_its_unit, "us"), (with_its_unit, "metric")])
def test_the_units_of_a_file_do_not_change_the_job(tmp_path: Path, change: Change, units: str) -> None:
    here = read_job(JOBS / "front-unit.toml")
    there = rewritten(tmp_path, change, units)
    assert there.us_units is (units == "us")
    expected = compared(here)
    assert len(expected) > 500
    assert dict(item for item in leaves(there) if item[0] in expected) == expected


def test_every_leaf_is_of_a_plain_kind() -> None:
    """So that nothing compares by chance: no record hides in an object that cannot be looked into."""
    plain = (str, float, int, bool, date, Enum, type(None))
    assert all(isinstance(value, plain) for _, value in leaves(read_job(JOBS / "front-unit.toml")))

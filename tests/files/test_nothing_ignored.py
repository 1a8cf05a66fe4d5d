"""Nothing in a file is silently ignored: every key that is changed changes the job, or is told as a fault."""

import tomllib
from collections.abc import Iterator
from copy import deepcopy
from dataclasses import fields
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from loadplan.errors import InputError
from loadplan.files import read_job
from loadplan.files.job_shape import (
    JobHead,
    LiftUseTable,
    LimitsTable,
    PullTable,
    ReadingTable,
    StackTable,
    StageTable,
    SupportTable,
)
from loadplan.files.shop_shape import CircleTable, EquipmentTable, HeightsTable, LiftTable, PostsTable, ShimTable
from loadplan.files.vehicle_shape import (
    BodyTable,
    JointTable,
    PartTable,
    PointTable,
    TieTable,
    VehicleHead,
    WeighedTable,
)
from loadplan.limits import Limits, limit_text
from loadplan.units import System, from_si
from tests.files.toml_text import JOBS, toml

Way = tuple[str | int, ...]
FILES = ("full.toml", "cradle-unit.toml", "shop.toml")
RAW = {name: tomllib.loads((JOBS / name).read_text("utf-8")) for name in FILES}
for each in fields(Limits):
    # A limit that is added is tried too, without a line in the file of all keys.
    kind, half = limit_text(each.name).kind, each.default / 2
    given = half if kind is None else from_si(half, kind, System.METRIC)
    RAW["full.toml"]["limits"].setdefault(each.name, given)
SHAPES = (
    JobHead, LiftUseTable, LimitsTable, PullTable, StackTable, StageTable, SupportTable, CircleTable, EquipmentTable,
    HeightsTable, LiftTable, PostsTable, ShimTable, BodyTable, JointTable, PartTable, PointTable, VehicleHead,
    WeighedTable, ReadingTable, TieTable,
)  # fmt: skip


def ways(value: Any, way: Way = ()) -> Iterator[Way]:  # noqa: ANN401 - whatever TOML holds
    """Yield the way to every plain value, and to every table that holds some."""
    if isinstance(value, dict):
        for key, each in value.items():
            yield from ways(each, (*way, key))
    elif isinstance(value, list):
        for number, each in enumerate(value):
            yield from ways(each, (*way, number))
    else:
        yield way


def other(value: object) -> object:
    """Return another value of the same type."""
    match value:
        case bool():
            return not value
        case int() | float():
            return 2 * value + 1
        case date():
            return value + timedelta(days=1)
        case str() if value[0].isdigit():
            return f"1{value}"
        case _:
            return {"metric": "us", "weighed": "guess", "pair": "each", "stand": "jack"}.get(str(value), f"{value}.")


def tables(value: Any) -> Iterator[dict[str, Any]]:  # noqa: ANN401 - whatever TOML holds
    if isinstance(value, dict):
        yield value
        value = list(value.values())
    if isinstance(value, list):
        for each in value:
            yield from tables(each)


def at(value: Any, way: Way) -> Any:  # noqa: ANN401 - whatever TOML holds
    for step in way:
        value = value[step]
    return value


def outcome(folder: Path, name: str, changed: dict[str, Any]) -> object:
    """Return the job with one file changed, or its faults."""
    for each in FILES:
        (folder / each).write_text(toml(changed if each == name else RAW[each]), "utf-8")
    try:
        return read_job(folder / "full.toml")
    except InputError as error:
        return error.faults


CHANGES = [(name, way) for name in FILES for way in ways(RAW[name])]


@pytest.mark.parametrize(
    ("name", "way"), CHANGES, ids=lambda each: each if isinstance(each, str) else "-".join(map(str, each))
)
def test_a_changed_value_changes_the_job_or_is_a_fault(tmp_path: Path, name: str, way: Way) -> None:
    changed = deepcopy(RAW[name])
    at(changed, way[:-1])[way[-1]] = other(at(changed, way))
    assert outcome(tmp_path, name, changed) != outcome(tmp_path, name, RAW[name])


@pytest.mark.parametrize("name", FILES)
def test_a_key_that_there_is_not_is_a_fault_in_every_table(tmp_path: Path, name: str) -> None:
    for number in range(len(list(tables(RAW[name])))):
        changed = deepcopy(RAW[name])
        list(tables(changed))[number]["kez"] = 1
        found = outcome(tmp_path, name, changed)
        assert isinstance(found, tuple), list(tables(changed))[number]
        assert any(each.key.endswith("kez") or '"kez"' in each.message for each in found) or "inspected" in str(found)


def test_the_full_job_writes_every_key_that_there_is() -> None:
    """Else the tests above would miss some."""
    known = {field.alias or name for shape in SHAPES for name, field in shape.model_fields.items()}
    written = {key for raw in RAW.values() for table in tables(raw) for key in table}
    assert known - written == set(), f"write each of these into one of {', '.join(FILES)} in tests/files/jobs"

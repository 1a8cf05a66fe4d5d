"""Sane upper bounds: what is far too much is one fault, told before any of it is looked at."""

from pathlib import Path
from typing import Any

import pytest

from loadplan.files.shape import Shape, read_rows
from loadplan.files.toml_source import Source
from loadplan.units import System
from tests.files.builders import faults, read, small

MANY = {
    "body": 20,
    "part": 1000,
    "joint": 200,
    "point": 1000,
    "equipment": 500,
    "shim": 200,
    "support": 60,
    "stage": 200,
}


@pytest.mark.parametrize(("key", "most"), MANY.items())
def test_too_many_tables_are_one_fault(tmp_path: Path, key: str, most: int) -> None:
    found = [str(each) for each in faults(tmp_path, small(**{key: [{"wrong": 1}] * (most + 1)}))]
    assert [each for each in found if "wrong" in each] == []
    assert any(each.endswith(f"{key}: has {most + 1} tables [[{key}]]: at most {most} are read") for each in found)


def test_as_many_tables_as_may_be_are_read(tmp_path: Path) -> None:
    def named(key: str, count: int) -> list[dict[str, Any]]:
        first = small()[key][0]
        return [first | {"name": f"{key} {number}"} for number in range(count)]

    changes = {
        key: [*small()[key], *named(key, most - len(small()[key]))] for key, most in MANY.items() if key != "shim"
    }
    changes["stage"] = [{"name": f"step {number}"} for number in range(MANY["stage"])]
    changes["part"] = [each | {"body": "unit"} for each in changes["part"]]
    changes["part"] += [
        {"name": f"of {body['name']}", "body": body["name"], "mass": 1, "at": [0, 0, 0]} for body in changes["body"]
    ]
    changes["part"] = changes["part"][len(changes["body"]) :]
    job = read(tmp_path, small(**changes))
    assert (len(job.vehicle.parts), len(job.supports), len(job.stages)) == (1000, 60, 200)


@pytest.mark.parametrize(
    ("key", "value", "told"),
    [
        ("mass", 1e300, "must be a mass from 0.001 to 100000 kg, is 1e+300"),
        ("mass", 1e-300, "must be a mass from 0.001 to 100000 kg, is 1e-300"),
        ("mass", 10**400, "is too large a number"),
        ("mass", float("nan"), "must be a finite number, is nan"),
        ("mass", float("inf"), "must be a finite number, is inf"),
        ("at", [0, 1e9, 0], "y must be a length from -100000 to 100000 mm, is 1000000000.0"),
        ("at", [0] * 100_000, "must be a list of 3 lengths x, y, z in square brackets; has 100000"),
        ("after", ["head"] * 1001, "must be a list of 0 to 1000 names in square brackets; has 1001"),
        ("name", "x" * 101, "must be a text in quotes of 1 to 100 characters"),
        ("name", "a\nb", 'must be one line without control characters, is "a?b"'),
        ("mass", "1" * 10_000 + " kg", "what stands there has 10003 characters"),
    ],
)  # fmt: skip
def test_what_is_out_of_all_bounds_is_told(tmp_path: Path, key: str, value: object, told: str) -> None:
    parts = small()["part"]
    parts[0] |= {key: value}
    found = [each for each in faults(tmp_path, small(part=parts)) if each.table.startswith("part 1")]
    assert told in found[0].message
    assert all(len(str(each)) < 500 for each in found)


def test_a_key_of_any_length_makes_a_short_message(tmp_path: Path) -> None:
    (found,) = faults(tmp_path, small(**{"x" * 10_000 + "\n": 1}))
    assert found.key == "x" * 60 + "…"


def test_a_kind_of_table_that_the_file_does_not_have_is_none(tmp_path: Path) -> None:
    rows = read_rows(Source(tmp_path, {}, System.METRIC), "part", Shape, 1)
    assert (rows.rows, rows.names, rows.whole) == ((), {}, True)

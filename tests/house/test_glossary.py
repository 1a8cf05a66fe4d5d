"""The table of words in DEVELOPERS.md has every key of machine output, every public name, and where it is defined."""

import ast
import re
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import pytest

import loadplan
from tests.house.tree import ROOT, files, rows

DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text("utf-8")
WORDS = rows(DEVELOPERS[DEVELOPERS.index("## Words") : DEVELOPERS.index("## What it stands on")])
REPORTS = [path for path in files({".py"}) if ROOT / "loadplan" / "report" in path.parents]


def _quoted(text: str) -> set[str]:
    return set(re.findall(r"`([^`]+)`", text))


def _keys(path: Path) -> set[str]:
    """The keys that a module puts into dicts, if it writes machine output (an object that names its schema)."""
    dicts = [node for node in ast.walk(ast.parse(path.read_text("utf-8"))) if isinstance(node, ast.Dict)]
    keys = {key.value for each in dicts for key in each.keys if isinstance(key, ast.Constant)}
    return {str(key) for key in keys} if "schema" in keys else set()


@pytest.mark.parametrize("path", [path for path in REPORTS if _keys(path)], ids=lambda path: path.stem)
def test_every_key_of_the_machine_output_is_explained(path: Path) -> None:
    explained = {word for row in WORDS for word in _quoted(row[2])}
    assert _keys(path) <= explained


def test_machine_output_is_looked_for_where_it_is_written() -> None:
    writers = {path.stem for path in REPORTS if _keys(path)}
    assert writers == {
        "folder_page",
        "json_output",
        "placement_page",
        "heights_page",
        "order_page",
        "mending_page",
        "swap_page",
        "weighing_page",
        "learnt_weights_page",
        "register_export",
        "vehicle_list",
    }


def test_the_words_of_a_whole_report_are_among_them() -> None:
    """What `check --json` really prints, keys that are names of the job aside."""
    explained = {word for row in WORDS for word in _quoted(row[2])}
    report = loadplan.check(loadplan.read_job(ROOT / "demo" / "front-unit.toml")).to_dict()
    names = {
        each["name"] for stage in report["stages"] for kind in ("bodies", "supports", "joints") for each in stage[kind]
    }
    assert set(_all_keys(report)) - names <= explained


def _all_keys(told: object) -> Iterator[str]:
    match told:
        case dict():
            yield from told
            for each in told.values():
                yield from _all_keys(each)
        case list():
            for each in told:
                yield from _all_keys(each)


def test_every_public_name_is_explained() -> None:
    told = {word for row in WORDS for cell in row for word in _quoted(cell)} | {
        row[5].strip("`").split(".")[-1] for row in WORDS
    }
    assert {name for name in loadplan.__all__ if name != "__version__"} <= told
    assert {"verdict", "to_dict", "file", "table", "key", "message", "faults"} <= told


@pytest.mark.parametrize("row", WORDS, ids=lambda row: row[0])
def test_a_word_is_defined_where_the_table_says(row: list[str]) -> None:
    (defined,) = _quoted(row[5])
    found: object = loadplan
    path = "loadplan"
    for name in defined.split("."):
        path += f".{name}"
        found = getattr(found, name) if hasattr(found, name) else import_module(path)
    assert found is not loadplan


def test_no_word_stands_twice() -> None:
    words = [row[0] for row in WORDS]
    assert len(words) == len(set(words))

"""The tables "Where is what" in DEVELOPERS.md: each thing is where it says, and most files tell it by their name."""

import re
from importlib import import_module
from pathlib import Path

import pytest

from tests.house.tree import ROOT, rows, section

DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text("utf-8")
WHERE = [[cell.strip("`") for cell in row] for row in rows(section("Where is what", DEVELOPERS))]

ROOMS = {
    "Statics": {"statics"},
    "Checks": {"checks", "model"},
    "Planning": {"planning"},
    "Pages": {"report"},
    "The live plan": {"board"},
}
"""What the tables are of, by how their headings begin; one of another heading is of all other rooms."""

FOUND_BY_NAME = 0.95
"""Share of the things that a reader finds by the name of the file alone."""

SHORTEST = 4
"""Letters from which on a word and its stem count as one: "request" and "requests"."""


def _is_there(path: str, name: str) -> bool:
    """Whether a file defines a name, a class's method as `Class.method`."""
    if path.endswith(".js"):
        text = (ROOT / "loadplan" / path).read_text("utf-8")
        return re.search(rf"^export (class|const|function) {name}\b", text, re.MULTILINE) is not None
    found: object = import_module("loadplan." + path.removesuffix("/__init__.py").removesuffix(".py").replace("/", "."))
    for each in name.split("."):
        if not hasattr(found, each):
            return False
        found = getattr(found, each)
    return True


def _tells(path: str, thing: str) -> bool:
    """Whether a word of the thing stands in the file's name, folders aside."""
    words = re.findall(r"[a-z]+", thing.lower())
    in_name = re.findall(r"[a-z]+", Path(path).stem)
    return any(
        one == other or (min(len(one), len(other)) >= SHORTEST and (one.startswith(other) or other.startswith(one)))
        for one in words
        for other in in_name
    )


@pytest.mark.parametrize(("thing", "path", "name"), WHERE, ids=[row[0] for row in WHERE])
def test_a_thing_is_where_the_tables_say(thing: str, path: str, name: str) -> None:
    assert (ROOT / "loadplan" / path).is_file(), thing
    assert _is_there(path, name)


def test_a_thing_stands_under_the_room_of_its_file() -> None:
    heading, wrong = "", []
    for line in section("Where is what", DEVELOPERS).splitlines():
        heading = line.strip("*") if line.startswith("**") else heading
        if found := re.match(r"\| (.+?) \| `(\w+)[/.]", line):
            own = next((each for start, each in ROOMS.items() if heading.startswith(start)), None)
            others = set[str]().union(*ROOMS.values())
            if (found[2] not in own) if own else (found[2] in others):
                wrong.append((heading, found[1]))
    assert wrong == []


def test_most_are_found_by_the_name_of_the_file_alone() -> None:
    assert len({row[0] for row in WHERE}) == len(WHERE) > 100
    missed = [row[0] for row in WHERE if not _tells(row[1], row[0])]
    assert len(missed) <= (1 - FOUND_BY_NAME) * len(WHERE), missed


def test_a_name_that_tells_nothing_is_missed() -> None:
    assert not _tells("statics/floor.py", "chi-squared distribution")
    assert not _tells("chi_squared/floor.py", "chi-squared distribution")
    assert _tells("board/request_schema.py", "schema of requests")
    assert not _is_there("units.py", "to_si.away")
    assert not _is_there("board/static/api.js", "Walk")

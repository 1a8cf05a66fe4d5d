"""The table as the repository keeps it."""

from dataclasses import replace

from tests.mutation.packed import packed, unpacked
from tests.mutation.places import Place
from tests.mutation.rows import Row

FILE = "loadplan/checks/level.py"

# In the order in which they are tried, which is not that of the file.
PLACES = [
    Place(name, "checks", file, number, 10 * number, first=True, part=part)
    for name, file, part, number in (
        ("d", "loadplan/checks/push.py", "two", 0),
        ("c", FILE, "two", 7),
        ("b", FILE, "one", 2),
        ("a", FILE, "one", 1),
    )
]

FATES = {"a": "survived", "b": "caught", "c": "timed out"}

ROWS = {name: Row(name, FILE, "1", fate, "by", "0.1") for name, fate in FATES.items()}


def test_what_became_of_each_place_is_read_again() -> None:
    told = packed(ROWS, PLACES)
    assert told == f"{FILE}\n one sc\n two t\nloadplan/checks/push.py\n two -\n"
    found = unpacked(told, PLACES)
    assert {name: row.fate for name, row in found.items()} == FATES
    assert found["c"] == Row("c", FILE, "70", "timed out", "", "0")


def test_what_is_kept_of_a_part_holds_no_more_once_it_is_edited() -> None:
    edited = [replace(place, part="other") if place.part == "one" else place for place in PLACES]
    assert [*unpacked(packed(ROWS, PLACES), edited)] == ["c"]
    fewer = [place for place in PLACES if place.name != "b"]
    assert [*unpacked(packed(ROWS, PLACES), fewer)] == ["c"]
    assert unpacked("", PLACES) == {}

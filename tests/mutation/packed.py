"""The table as the repository keeps it: what became of each place is a letter, so that no later run begins anew.

A file's path stands on a line of its own. Under it each of its parts (a function, a class, a constant) has a line: a
hash of its text, and a letter for each of its places, in their order. Once a part is edited its line holds no more.
"""

from collections.abc import Iterable, Iterator
from itertools import groupby
from pathlib import Path

from tests.mutation.places import Place
from tests.mutation.rows import Row

FILE = Path(__file__).with_name("fates.txt")

LETTERS = {"caught": "c", "timed out": "t", "explained": "e", "survived": "s", "unfinished": "u"}

UNTRIED = "-"


def packed(rows: dict[str, Row], known: Iterable[Place]) -> str:
    """Write what became of each place.

    Args:
        rows: What became of the places that were tried, by name.
        known: Every place.
    """
    return "\n".join([*_lines(rows, known), ""])


def unpacked(text: str, known: Iterable[Place]) -> dict[str, Row]:
    """Read what became of the places of parts that have not been edited since.

    Args:
        text: What `packed` wrote.
        known: Every place there is now.

    Returns:
        What became of them, by name; by which test, and in what time, is not kept.
    """
    letters: dict[tuple[str, str], str] = {}
    file = ""
    for line in text.splitlines():
        if line.startswith(" "):
            part, told = line.split()
            letters[file, part] = told
        else:
            file = line
    fates = {letter: fate for fate, letter in LETTERS.items()}
    found: dict[str, Row] = {}
    for key, places in _parts(known):
        told = letters.get(key, "")
        for place, letter in zip(places, told if len(told) == len(places) else "", strict=False):
            if letter in fates:
                found[place.name] = Row(place.name, place.file, str(place.line), fates[letter], "", "0")
    return found


def _lines(rows: dict[str, Row], known: Iterable[Place]) -> Iterator[str]:
    before = ""
    for (file, part), places in _parts(known):
        if file != before:
            yield file
        before = file
        fates = (rows[place.name].fate if place.name in rows else "" for place in places)
        yield f" {part} {''.join(LETTERS.get(fate, UNTRIED) for fate in fates)}"


def _parts(known: Iterable[Place]) -> Iterator[tuple[tuple[str, str], list[Place]]]:
    def key(place: Place) -> tuple[str, str]:
        return place.file, place.part

    for found, places in groupby(sorted(known, key=lambda place: (*key(place), place.number)), key):
        yield found, list(places)

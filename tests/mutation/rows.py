"""The table: what became of each place, one row each, in a file that grows while places are tried."""

import csv
from collections.abc import Iterable
from pathlib import Path
from typing import NamedTuple

from tests.mutation.places import Place


class Row(NamedTuple):
    """What became of one place.

    Attributes:
        place: Its name.
        file: Path in the repository.
        line: Where it was when it was tried.
        fate: "caught", "timed out", "survived" or "explained"; "unfinished" where some of the tests that run it were
            left out.
        by: The test that ended it, or the last that was run.
        seconds: What it took of a processor's time.
    """

    place: str
    file: str
    line: str
    fate: str
    by: str
    seconds: str


def kept(path: Path) -> dict[str, Row]:
    """Read what became of the places tried so far, by name; nothing where there is no table yet."""
    if not path.exists():
        return {}
    with path.open(encoding="utf-8", newline="") as lines:
        # The last row of a place is what holds: one that was tried again stands twice.
        return {line[0]: Row(*line) for line in csv.reader(lines) if len(line) == len(Row._fields)}


def keep(path: Path, rows: dict[str, Row], known: Iterable[Place]) -> None:
    """Write the table, a row a place that is still there."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("w", encoding="utf-8", newline="") as lines:
        found = (rows[place.name] for place in known if place.name in rows)
        csv.writer(lines, lineterminator="\n").writerows(found)


def add(path: Path, row: Row) -> None:
    """Add a row to the table."""
    with path.open("a", encoding="utf-8", newline="") as lines:
        csv.writer(lines, lineterminator="\n").writerow(row)

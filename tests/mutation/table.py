"""Breaks the places of whole rooms piece by piece, and keeps what became of each in a table.

`python -m tests.mutation.table --minutes 60` goes on where the last run ended, over all rooms mixed, in the order of
their hashes: at any time what stands in the table is a fair draw of all places. A place is known by what changes, not
by its line, so that an edit elsewhere leaves its row true; a row whose place is gone is dropped.
"""

import argparse
import csv
import sys
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from tests.mutation.__main__ import NEAR, digest, numbered
from tests.mutation.covering import Covering
from tests.mutation.judge import Fate, fate
from tests.mutation.mutants import ROOMS, ROOT, Change, broken, files
from tests.mutation.survivors import explained, row

TABLE = Path(__file__).with_name("table.csv")
SIGNS = 16
"""How many signs of a hash name a place: of 50,000 places no two share them (checked when they are listed)."""


class Place(NamedTuple):
    """One change to one file."""

    name: str
    room: str
    file: str
    change: Change


def places() -> list[Place]:
    """List every place of every room, in the order in which they are tried.

    Raises:
        SystemExit: If two places share a name.
    """
    found = [
        Place(digest(file, change, number)[:SIGNS], room, file, change)
        for room in ROOMS
        for file in files(room)
        for number, change in numbered(file)
    ]
    if len({place.name for place in found}) < len(found):
        raise SystemExit(f"two places share the first {SIGNS} signs of their hashes")
    return sorted(found, key=lambda place: place.name)


def kept(path: Path) -> dict[str, str]:
    """Read what became of the places tried so far, by name; nothing where there is no table yet."""
    if not path.exists():
        return {}
    with path.open(encoding="utf-8", newline="") as lines:
        return {line["place"]: line["fate"] for line in csv.DictReader(lines)}


def keep(path: Path, fates: dict[str, str], known: list[Place]) -> None:
    """Write the table, a row a place that is still there."""
    with path.open("w", encoding="utf-8", newline="") as lines:
        out = csv.writer(lines, lineterminator="\n")
        out.writerow(("place", "room", "file", "fate"))
        out.writerows((place.name, place.room, place.file, fates[place.name]) for place in known if place.name in fates)


def summary(fates: dict[str, str], known: list[Place]) -> Iterator[str]:
    """Say for each room how many places it has, how many were tried, and the share that was noticed or explained."""
    for room in ROOMS:
        of_room = [place for place in known if place.room == room]
        told = Counter(fates[place.name] for place in of_room if place.name in fates)
        tried = told.total()
        share = 100 * (tried - told[Fate.SURVIVED.value]) / tried if tried else 0.0
        yield f"{room}: {len(of_room)} places, {tried} tried, {share:.1f} % noticed or explained"


def main() -> None:
    """Go on with the table for the time given, and say how far it is."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutation.table", description=__doc__)
    parser.add_argument("--minutes", type=float, default=60)
    parser.add_argument("--coverage", type=Path, nargs="+", default=[ROOT / ".coverage"])
    parser.add_argument("--table", type=Path, default=TABLE)
    asked = parser.parse_args()
    known, fates, reasons = places(), kept(asked.table), explained()
    covering = Covering(asked.coverage)
    end = time.monotonic() + 60 * asked.minutes
    for place in known:
        if place.name in fates:
            continue
        if time.monotonic() > end:
            break
        mutant = broken(place.file, place.change)
        first, near, _ = covering.rounds(mutant)
        tried = (fate(mutant, tests, NEAR) for tests in (first, near))
        found = next((each for each in tried if each is not Fate.SURVIVED), Fate.SURVIVED).value
        fates[place.name] = "explained" if mutant.key in reasons else found
        if fates[place.name] == Fate.SURVIVED.value:
            sys.stdout.write(row(mutant))
            sys.stdout.flush()
        keep(asked.table, fates, known)
    sys.stdout.write("\n".join(summary(fates, known)) + "\n")


if __name__ == "__main__":
    main()

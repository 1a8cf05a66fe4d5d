"""How far the table is: told a room a line, and kept a file a line."""

import json
import subprocess
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path

from tests.mutation.mutants import ROOMS, ROOT
from tests.mutation.places import Place
from tests.mutation.rows import Row

FILE = Path(__file__).with_name("standing.toml")

FATES = ("caught", "timed out", "explained", "survived", "unfinished")

LIVES = frozenset(("survived", "unfinished"))

HEAD = """\
# What became of the places that `python -m tests.mutation.table` broke, a file a line: how many there are; of how
# many the tests noticed ("caught", "timed out"); of how many none can ("explained", in survivors.toml); which live
# ("survived"); and which live after as many of their tests as there was time for ("unfinished"): of those, which live
# is known once they are tried again with more time. Left are those that survived.
"""


def standing(rows: dict[str, Row], known: list[Place]) -> Iterator[str]:
    """Say for each room how many places it has, how many were tried, and the share that was noticed or explained.

    Args:
        rows: What became of the places that were tried.
        known: Every place.
    """
    for room in ROOMS:
        of_room = [place for place in known if place.room == room]
        told = Counter(rows[place.name].fate for place in of_room if place.name in rows)
        tried = told.total()
        share = 100 * (told["caught"] + told["timed out"] + told["explained"]) / tried if tried else 0.0
        counts = ", ".join(f"{told[fate]} {fate}" for fate in FATES)
        yield f"{room}: {len(of_room)} places, {tried} tried, {share:.1f} % noticed or explained ({counts})"


def write(rows: dict[str, Row], known: list[Place], lives: Callable[[Place], str]) -> None:
    """Write what is kept, and which state of the files it was measured on.

    Args:
        rows: What became of the places that were tried.
        known: Every place.
        lives: Tells what changes in a place where that lives.
    """
    tree = subprocess.run(["git", "rev-parse", "HEAD:loadplan"], cwd=ROOT, capture_output=True, text=True, check=True)
    of_file: dict[str, list[Place]] = {}
    for place in known:
        of_file.setdefault(place.file, []).append(place)
    lines = [_line(file, of_file[file], rows) for file in sorted(of_file)]
    left = [place for place in known if place.name in rows and rows[place.name].fate == "survived"]
    left.sort(key=lambda place: (place.file, place.line, place.number))
    told = [f"    {json.dumps(f'{place.file}:{place.line}: {lives(place)}', ensure_ascii=False)}," for place in left]
    first = [HEAD, f'tree = "{tree.stdout.strip()}"', "left = [", *told, "]"]
    FILE.write_text("\n".join([*first, "", "[files]", *lines, ""]), "utf-8")


def _line(file: str, places: list[Place], rows: dict[str, Row]) -> str:
    told = Counter(rows[place.name].fate for place in places if place.name in rows)
    counts = ", ".join(f"{fate.replace(' ', '_')} = {told[fate]}" for fate in FATES if told[fate])
    return f'"{file}" = {{ places = {len(places)}{", " * bool(counts)}{counts} }}'

"""Every place of every room, by a name that lasts, in the order in which they are tried."""

import hashlib
import json
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TypeAlias

from tests.mutation.mutants import ROOMS, ROOT, Change, changes, files, texts

SIGNS = 16
"""How many signs of a hash name a place: of 50,000 places no two share them (checked when they are listed)."""


@dataclass(frozen=True, slots=True)
class Place:
    """One change to one file.

    Attributes:
        name: A hash of what changes and of the part of the file it is in: what became of it holds until that is edited.
        room: The run it belongs to.
        file: Path in the repository.
        number: Its number among the changes to the file.
        line: The first line of the place.
        first: Whether it is the one of its statement that is tried before those of any other are tried twice.
        part: A hash of the part of the file it is in.
    """

    name: str
    room: str
    file: str
    number: int
    line: int
    first: bool
    part: str


def places(kept: Path) -> list[Place]:
    """List every place, the one that is first of its statement first, and then by their hashes.

    Args:
        kept: A file in which to keep the list: a file of the package that has not changed is not read again.

    Raises:
        SystemExit: If two places share a name.
    """
    old = json.loads(kept.read_text("utf-8")) if kept.exists() else {}
    new = {file: _kept(old.get(file), file) for room in ROOMS for file in files(room)}
    kept.parent.mkdir(parents=True, exist_ok=True)
    kept.write_text(json.dumps(new), "utf-8")
    rows = ((room, file, row) for room in ROOMS for file in files(room) for row in new[file][1])
    found = [Place(row[0], room, file, *row[1:]) for room, file, row in rows]
    if len({place.name for place in found}) < len(found):
        raise SystemExit(f"two places share the first {SIGNS} signs of their hashes")
    return sorted(found, key=lambda place: (not place.first, place.name))


Kept: TypeAlias = tuple[str, int, int, bool, str]
"""What is kept of a place: its name, number and line, whether it is the first, and a hash of its part."""

Listed: TypeAlias = tuple[str, list[Kept]]
"""What is kept of a file: its hash, and its places."""

FORM = b"name, number, line, first, part"
"""What is hashed with a file: a list kept in another form is made anew."""


def _kept(old: Listed | None, file: str) -> Listed:
    now = hashlib.sha256(FORM + (ROOT / file).read_bytes()).hexdigest()
    return old if old is not None and old[0] == now else (now, list(_rows(file)))


def _rows(file: str) -> Iterator[Kept]:
    found = [(_name(file, change, again), number, change) for number, (again, change) in enumerate(_in_parts(file))]
    firsts = {change.statement: name for name, _, change in sorted(found, key=lambda each: each[0], reverse=True)}
    for name, number, change in found:
        yield name, number, change.lines[0], firsts[change.statement] == name, _part(file, change)


def _name(file: str, change: Change, again: int) -> str:
    return digest(f"{file}\0{texts(change.module)[change.part + 1]}", change, again)[:SIGNS]


def _part(file: str, change: Change) -> str:
    return hashlib.sha256(f"{file}\0{texts(change.module)[change.part + 1]}".encode()).hexdigest()[:SIGNS]


def _in_parts(file: str) -> Iterator[tuple[int, Change]]:
    """List the changes to a file, each with its number among those of its part that read the same."""
    seen: Counter[tuple[int, str, str]] = Counter()
    for change in changes(file):
        words = change.part, *words_of(change)
        seen[words] += 1
        yield seen[words], change


def numbered(file: str) -> Iterator[tuple[int, Change]]:
    """List the changes to a file, each with its number among those that read the same."""
    seen: Counter[tuple[str, ...]] = Counter()
    for change in changes(file):
        words = words_of(change)
        seen[words] += 1
        yield seen[words], change


def digest(file: str, change: Change, number: int) -> str:
    """Name a change by what it changes, whatever stands elsewhere in the file."""
    return hashlib.sha256("\0".join((file, *words_of(change), str(number))).encode()).hexdigest()


def words_of(change: Change) -> tuple[str, str]:
    """Return what is in a place, and what might be."""
    return change.module.code_for_node(change.node), change.module.code_for_node(change.new)

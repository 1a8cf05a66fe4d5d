"""Which jobs, vehicles and shops lie in a folder: read once, and again only where a file is another one by now."""

import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from time import monotonic

from loadplan.errors import InputError, printable
from loadplan.files.find_beside import known_by
from loadplan.files.toml_source import tables_of, text_of

MOST_FILES = 300
"""Most files of a folder that are shown."""

SECONDS = 5.0
"""Longest time for reading those that are new [s]; what is left is read the next time."""


@dataclass(frozen=True, slots=True)
class ListedFile:
    """A file of ours.

    Attributes:
        name: Its name.
        schema: What it calls itself.
        title: Its title, "" for none.
    """

    name: str
    schema: str
    title: str


@dataclass(frozen=True, slots=True)
class Listing:
    """What lies in a folder.

    Attributes:
        files: Files of ours, by name.
        left_out: How many others are too many, or would have taken too long.
    """

    files: tuple[ListedFile, ...]
    left_out: int


@dataclass(slots=True)
class FolderFiles:
    """The TOML files of a folder, and what was found in each the last time.

    Attributes:
        folder: The folder.
        clock: Tells the time [s].
    """

    folder: Path
    clock: Callable[[], float] = monotonic
    _turn: threading.Lock = field(default_factory=threading.Lock)
    _known: dict[str, tuple[tuple[int, ...], ListedFile | None]] = field(default_factory=dict)

    def listed(self) -> Listing:
        """List the files; what cannot be read is left out.

        Returns:
            The files, and how many were not looked into.
        """
        with self._turn:
            paths = sorted(self.folder.glob("*.toml"))
            until, known = self.clock() + SECONDS, {}
            for path in paths[:MOST_FILES]:
                mark = known_by(path)
                before = self._known.get(path.name)
                if before and before[0] == mark:
                    known[path.name] = before
                elif self.clock() <= until:
                    known[path.name] = (mark, _read(path))
            self._known = known
            return Listing(tuple(_ours(known)), len(paths) - len(known))


def _ours(known: dict[str, tuple[tuple[int, ...], ListedFile | None]]) -> Iterator[ListedFile]:
    yield from (found for _, found in known.values() if found is not None)


def _read(path: Path) -> ListedFile | None:
    """Return what a file calls itself; None where it is none of ours."""
    try:
        raw = {} if path.name.startswith(".") else tables_of(path, text_of(path))
    except InputError:
        return None
    schema, title = raw.get("schema"), raw.get("title", "")
    if not isinstance(schema, str):
        return None
    return ListedFile(path.name, schema, printable(title) if isinstance(title, str) else "")

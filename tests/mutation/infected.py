"""Which tests a broken place infects, as `infection` leaves it for `table`."""

import json
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple


class Infected(NamedTuple):
    """The tests in which something broken answers otherwise.

    Attributes:
        tests: Their names.
        whole: Whether there is no other one.
    """

    tests: list[str]
    whole: bool

    def first(self, tests: list[str]) -> list[str]:
        """Put those first that may notice, and leave out those that cannot.

        Args:
            tests: Tests in the order in which they would be tried.
        """
        infected = set(self.tests)
        first = [test for test in tests if test in infected]
        return first if self.whole else [*first, *(test for test in tests if test not in infected)]


def keep(folder: Path, found: Mapping[str, Infected]) -> None:
    """Write what was found, by the names of the places."""
    (folder / "infected.json").write_text(json.dumps(found, indent=0), "utf-8")


def known(folder: Path) -> dict[str, Infected]:
    """Read what was found; nothing where nobody looked."""
    file = folder / "infected.json"
    found = json.loads(file.read_text("utf-8")) if file.exists() else {}
    return {name: Infected(*row) for name, row in found.items()}

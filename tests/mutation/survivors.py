"""Mutants that no test can tell, each with its reason: one by one, or by a kind that is the same everywhere."""

import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from tests.mutation.mutants import Mutant

LIST = Path(__file__).with_name("survivors.toml")


@dataclass(frozen=True, slots=True)
class Kind:
    """A change that no test can tell wherever it is made.

    Attributes:
        text: What is there.
        becomes: What may stand there instead.
        why: Why no test can tell.
    """

    text: str
    becomes: tuple[str, ...]
    why: str

    def holds(self, mutant: Mutant) -> bool:
        """Return whether a mutant is of this kind.

        Args:
            mutant: What is broken.
        """
        was, size = mutant.was, len(self.text)
        starts = [at for at in range(len(was)) if was.startswith(self.text, at)]
        return mutant.now in {was[:at] + text + was[at + size :] for at in starts for text in self.becomes}


def explained() -> dict[tuple[str, str, str], str]:
    """Read why each listed mutant survives, by its key."""
    return {(row["file"], row["was"], row["now"]): row["why"] for row in _list()["survivor"]}


@cache
def kinds() -> tuple[Kind, ...]:
    """Read the kinds."""
    return tuple(Kind(row["text"], tuple(row["becomes"]), row["why"]) for row in _list()["kind"])


def reason(mutant: Mutant, listed: dict[tuple[str, str, str], str]) -> str | None:
    """Return why a mutant survives, or None where it should not.

    Args:
        mutant: What is broken.
        listed: The reasons of single ones.
    """
    found: Iterable[str] = (kind.why for kind in kinds() if kind.holds(mutant))
    return listed.get(mutant.key) or next(iter(found), None)


def row(mutant: Mutant) -> str:
    """Write a row for the list, its reason left open."""
    texts = {"file": mutant.file, "was": mutant.was, "now": mutant.now}
    return "\n".join(["[[survivor]]", *(f"{key} = '''{text}'''" for key, text in texts.items()), 'why = ""', ""])


def _list() -> dict[str, list[dict[str, str]]]:
    rows: dict[str, list[dict[str, str]]] = tomllib.loads(LIST.read_text("utf-8"))
    return rows

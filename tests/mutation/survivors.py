"""Mutants that no test can tell, each with its reason."""

import tomllib
from pathlib import Path

from tests.mutation.mutants import Mutant

LIST = Path(__file__).with_name("survivors.toml")


def explained() -> dict[tuple[str, str, str], str]:
    """Read why each listed mutant survives, by its key."""
    rows = tomllib.loads(LIST.read_text("utf-8"))["survivor"]
    return {(row["file"], row["was"], row["now"]): row["why"] for row in rows}


def row(mutant: Mutant) -> str:
    """Write a row for the list, its reason left open."""
    texts = {"file": mutant.file, "was": mutant.was, "now": mutant.now}
    return "\n".join(["[[survivor]]", *(f"{key} = '''{text}'''" for key, text in texts.items()), 'why = ""', ""])

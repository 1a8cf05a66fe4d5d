"""The tree as files, and README.md cut into what a test asks about."""

import re
from pathlib import Path

from tests.tracked import ROOT, project_files

README = (ROOT / "README.md").read_text(encoding="utf-8")


def top_level() -> list[str]:
    return sorted({path.relative_to(ROOT).parts[0] for path in project_files()})


def files(suffixes: frozenset[str] | None = None) -> list[Path]:
    """Every file of the tree, or those with these suffixes."""
    return [path for path in project_files() if suffixes is None or path.suffix in suffixes]


def blocks(language: str) -> list[str]:
    """The README's fenced blocks of one language."""
    return re.findall(rf"^```{language}\n(.*?)\n```$", README, re.DOTALL | re.MULTILINE)


def section(heading: str) -> str:
    """What stands under a heading, to the next one of any rank."""
    found = re.search(rf"^#+ {re.escape(heading)}\n(.*?)(?=^#+ |\Z)", README, re.DOTALL | re.MULTILINE)
    assert found, heading
    return found[1]


def rows(text: str) -> list[list[str]]:
    """The cells of the tables in a text, headings and rules left out."""
    lines = [line for line in text.splitlines() if line.startswith("| ")]
    cells = [[cell.strip() for cell in line.strip("|").split(" | ")] for line in lines]
    rules = {number for number, row in enumerate(cells) if set("".join(row)) <= set("-| ")}
    return [row for number, row in enumerate(cells) if number not in rules and number + 1 not in rules]

"""The tree as files, and README.md and the pages of the manual cut into what a test asks about."""

import re
from pathlib import Path

from tests.tracked import ROOT, project_files

README = (ROOT / "README.md").read_text(encoding="utf-8")
MANUAL = {path.stem: path.read_text(encoding="utf-8") for path in sorted((ROOT / "loadplan" / "manual").glob("*.md"))}
"""Each page of the manual, by its topic."""


def top_level() -> list[str]:
    return sorted({path.relative_to(ROOT).parts[0] for path in project_files()})


def files(suffixes: frozenset[str] | None = None) -> list[Path]:
    """Every file of the tree, or those with these suffixes."""
    return [path for path in project_files() if suffixes is None or path.suffix in suffixes]


def blocks(language: str, text: str = README) -> list[str]:
    """The fenced blocks of one language, of the README or of a page."""
    return re.findall(rf"^```{language}\n(.*?)\n```$", text, re.DOTALL | re.MULTILINE)


def section(heading: str, text: str = README) -> str:
    """What stands under a heading of the README or of a page, to the next one of any rank."""
    found = re.search(rf"^#+ {re.escape(heading)}\n(.*?)(?=^#+ |\Z)", text, re.DOTALL | re.MULTILINE)
    assert found, heading
    return found[1]


def rows(text: str) -> list[list[str]]:
    """The cells of the tables in a text, headings and rules left out."""
    lines = [line for line in text.splitlines() if line.startswith("| ")]
    cells = [[cell.strip() for cell in line.strip("|").split(" | ")] for line in lines]
    rules = {number for number, row in enumerate(cells) if set("".join(row)) <= set("-| ")}
    return [row for number, row in enumerate(cells) if number not in rules and number + 1 not in rules]

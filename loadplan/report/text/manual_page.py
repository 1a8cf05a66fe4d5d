"""A page of the manual for a terminal: its Markdown laid out to a width, tables in columns, marks left out."""

import re
from collections.abc import Iterator

from loadplan.report.words.columns import Align, Column, indented, table, wrap

FENCE = "```"

ITEM = re.compile(r"(- |\d+\. )")
"""What begins an item of a list."""


def manual_page(text: str, width: int) -> str:
    r"""Lay a page out.

    Args:
        text: The page: headings, paragraphs, lists, tables and fenced blocks of Markdown.
        width: Widest line [characters]; only what stands in a fenced block may be wider.

    Returns:
        Its lines, ending in a line end.

    Example:
        >>> print(manual_page("# Order\n\nThe **first** is\ntold in [limits](limits.md).\n", 60), end="")
        Order
        =====
        <BLANKLINE>
        The first is told in limits (`loadplan manual limits`).
    """
    lines: list[str] = []
    item_before = False
    for block in _blocks(text.splitlines()):
        is_item = ITEM.match(block[0]) is not None
        laid = _laid_out(block, width)
        if lines and laid and not (is_item and item_before):
            lines.append("")
        lines += laid
        item_before = is_item
    return "\n".join(lines) + "\n"


def _blocks(lines: list[str]) -> Iterator[list[str]]:
    """Cut a page into its blocks: a fenced one is whole, others end where a line is blank or a new item begins.

    Args:
        lines: Lines of the page.

    Yields:
        The lines of each block.
    """
    block: list[str] = []
    fenced = False
    for line in lines:
        apart = not line.strip() or ITEM.match(line) or line.startswith(FENCE)
        if not fenced and apart and block:
            yield block
            block = []
        if line.startswith(FENCE):
            fenced = not fenced
        if fenced or line.strip():
            block.append(line)
        if line == FENCE and not fenced:
            yield block
            block = []
    if block:
        yield block


def _laid_out(block: list[str], width: int) -> list[str]:
    """Return the lines of one block; a picture has none, since a terminal cannot show it."""
    first = block[0]
    if first.startswith(FENCE):
        return "\n".join(block[1:-1]).strip("\n").split("\n")
    if first.startswith("!["):
        return []
    if first.startswith("| "):
        return table(_columns(block), width)
    if first.startswith("#"):
        words = _plain(first.lstrip("# "))
        return [words, ("=" if first.startswith("# ") else "-") * len(words)]
    begins = ITEM.match(first)
    words = _plain(" ".join(line.strip() for line in block))
    return indented(begins[0], words.removeprefix(begins[0]), width) if begins else wrap(words, width)


def _columns(block: list[str]) -> tuple[Column, ...]:
    """Return the columns of a table, its rule left out."""
    heading, _, *rows = ([_plain(cell.strip()) for cell in line.strip().strip("|").split("|")] for line in block)
    return tuple(Column(name, tuple(row[place] for row in rows), Align.LEFT) for place, name in enumerate(heading))


def _plain(text: str) -> str:
    """Return words without marks for weight, and where a link leads as what has to be typed."""
    text = re.sub(r"\[([^\]]+)\]\(([a-z-]+)\.md\)", r"\1 (`loadplan manual \2`)", text)
    return re.sub(r"\*\*(.+?)\*\*", r"\1", text)

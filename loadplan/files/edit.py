"""Changing single values in a user's file, with its comments and its order kept."""

import codecs
import re
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AbstractTable, AoT, InlineTable

from loadplan.errors import Fault, InputError

LINE_END = "\n"

HEADER = re.compile(r"\s*\[{1,2}\s*(?P<name>[\w.\"'-]+)\s*\]{1,2}\s*(#.*)?\s*$", re.MULTILINE)
"""Where a table begins, on a line of its own."""


@dataclass(frozen=True, slots=True)
class Change:
    """One value that is set, or taken away.

    Attributes:
        table: Kind of table: "support" for `[[support]]`; "" for what stands outside the tables.
        row: Number of the table among its kind, from 0.
        key: The key.
        value: The value as TOML text; None takes the key away.
    """

    table: str
    row: int
    key: str
    value: str | None


def edited(path: Path, changes: Iterable[Change]) -> bytes:
    """Make the new contents of a file; nothing is written.

    Args:
        path: The file, which has been read without faults.
        changes: What changes in it.

    Returns:
        Its contents with the changes, and everything else as it was.

    Raises:
        InputError: If a change cannot be made without touching something else.
        OSError: If the file cannot be read.
    """
    content = path.read_bytes()
    text = content.decode("utf-8-sig")
    plain = text.replace("\r\n", LINE_END)
    wanted = tomllib.loads(plain)
    pieces = _pieces(plain)
    try:
        for change in changes:
            _mean(wanted, change)
            _write(pieces, change)
        kept = tomllib.loads("".join(pieces)) == wanted
    except (TOMLKitError, LookupError, ValueError):
        kept = False
    if not kept:
        message = "cannot be changed without touching something else in it: write the values in by hand"
        raise InputError(Fault(str(path), "", "", message))
    mark = codecs.BOM_UTF8 if content.startswith(codecs.BOM_UTF8) else b""
    return mark + _with_line_ends("".join(pieces), text).encode("utf-8")


def number(value: float) -> str:
    """Write a number as a user would.

    Args:
        value: A rounded number.

    Returns:
        TOML text, without a point where there is nothing behind it.

    Example:
        >>> number(350.0), number(12.5), number(0.30000000000000004)
        ('350', '12.5', '0.3')
    """
    return f"{value:.6f}".rstrip("0").rstrip(".")


def quoted(text: str) -> str:
    r"""Write a text.

    Args:
        text: One line.

    Returns:
        TOML text, in quotes.

    Example:
        >>> quoted('the "big" one')
        '"the \\"big\\" one"'
    """
    return tomlkit.item(text).as_string()


def _pieces(text: str) -> list[str]:
    """Return a file cut before each table: the first piece stands outside, tables inside a table stay with it."""
    pieces = [""]
    name = ""
    for line in text.splitlines(keepends=True):
        header = HEADER.match(line)
        if header and not (name and header["name"].startswith(f"{name}.")):
            name = header["name"] if line.lstrip().startswith("[[") else ""
            pieces.append("")
        pieces[-1] += line
    return pieces


def _write(pieces: list[str], change: Change) -> None:
    """Put a change into its piece; only that piece is written anew."""
    rows = [number for number, piece in enumerate(pieces) if _is_row(piece, change.table)]
    where = rows[change.row] if change.table and rows else 0
    document: Any = tomlkit.parse(pieces[where])
    table = document
    if change.table:
        table = document[change.table][0 if rows else change.row]
    _put(table, change)
    blank = pieces[where][len(pieces[where].rstrip(LINE_END)) :]
    pieces[where] = tomlkit.dumps(document).rstrip(LINE_END) + (blank or LINE_END)


def _is_row(piece: str, table: str) -> bool:
    header = HEADER.match(piece)
    return header is not None and piece.lstrip().startswith("[[") and header["name"].strip("\"'") == table


def _put(table: Any, change: Change) -> None:  # noqa: ANN401 - a user's TOML, in whichever form it stands
    spread = isinstance(table.get(change.key), AbstractTable) and not isinstance(table[change.key], InlineTable)
    if change.value is None or spread:
        table.pop(change.key, None)
    if change.value is None:
        return
    if change.key in table or isinstance(table, InlineTable):
        table[change.key] = tomlkit.parse(f"value = {change.value}")["value"]
    else:
        # A new key would be put behind the comments and blank lines that lead to the next table.
        last = [each for each in table.values() if not isinstance(each, AbstractTable | AoT)][-1]
        last.trivia.trail = f"{last.trivia.trail or LINE_END}{change.key} = {change.value}{LINE_END}"


def _mean(document: dict[str, Any], change: Change) -> None:
    table = document[change.table][change.row] if change.table else document
    if change.value is None:
        table.pop(change.key, None)
    else:
        table[change.key] = tomllib.loads(f"value = {change.value}")["value"]


def _with_line_ends(text: str, like: str) -> str:
    return text.replace(LINE_END, "\r\n") if "\r\n" in like else text

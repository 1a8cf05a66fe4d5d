"""Changing single values in a user's file, with its comments and its order kept."""

import codecs
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit.items import AbstractTable, AoT, InlineTable

from loadplan.errors import Fault, InputError

LINE_END = "\n"


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
    document: Any = tomlkit.parse(text)
    wanted = tomllib.loads(text.replace("\r\n", "\n"))
    for change in changes:
        _write(_table(document, change), change)
        _mean(_table(wanted, change), change)
    new = _with_line_ends(tomlkit.dumps(document), text)
    if tomllib.loads(new.replace("\r\n", "\n")) != wanted:
        message = "cannot be changed without touching something else in it: write the values in by hand"
        raise InputError(Fault(str(path), "", "", message))
    return (codecs.BOM_UTF8 if content.startswith(codecs.BOM_UTF8) else b"") + new.encode("utf-8")


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


def _table(document: Any, change: Change) -> Any:  # noqa: ANN401 - a user's TOML, in whichever form it stands
    return document[change.table][change.row] if change.table else document


def _write(table: Any, change: Change) -> None:  # noqa: ANN401 - the same
    if change.value is None:
        table.pop(change.key, None)
    elif change.key in table or isinstance(table, InlineTable):
        table[change.key] = tomlkit.parse(f"value = {change.value}")["value"]
    else:
        # A new key would be put behind the comments and blank lines that lead to the next table.
        last = [each for each in table.values() if not isinstance(each, AbstractTable | AoT)][-1]
        last.trivia.trail = f"{last.trivia.trail or LINE_END}{change.key} = {change.value}{LINE_END}"


def _mean(table: dict[str, Any], change: Change) -> None:
    if change.value is None:
        table.pop(change.key, None)
    else:
        table[change.key] = tomllib.loads(f"value = {change.value}")["value"]


def _with_line_ends(text: str, like: str) -> str:
    plain = text.replace("\r\n", "\n")
    return plain.replace("\n", "\r\n") if "\r\n" in like else plain

"""Changing single values and tables in a user's file, with its comments and its order kept."""

import codecs
import re
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from difflib import SequenceMatcher
from pathlib import Path
from typing import Any, TypeAlias, assert_never

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AbstractTable, AoT, InlineTable

from loadplan.errors import Fault, InputError

LINE_END = "\n"

LONGEST = 200_000
"""Longest text that is changed [characters]: what keeps its comments slows down with the square of its length."""

HEADER = re.compile(r"\s*\[{1,2}\s*(?P<name>[\w.\"'-]+)\s*\]{1,2}\s*(#.*)?\s*$", re.MULTILINE)
"""Where a table begins, on a line of its own."""


@dataclass(frozen=True, slots=True)
class Change:
    """One value that is set, or taken away.

    Attributes:
        table: Kind of table: "support" for `[[support]]`, "lift" for `[lift]`; "" for what stands outside the tables.
        row: Number of the table among its kind, from 0; of a single table 0.
        key: The key.
        value: The value as TOML text; None takes the key away.
    """

    table: str
    row: int
    key: str
    value: str | None


@dataclass(frozen=True, slots=True)
class Added:
    """A table that is added behind another of its kind.

    Attributes:
        table: Kind of table: "support" for `[[support]]`.
        values: Its keys with their values as TOML text, in order.
        after: Number of the table that it comes behind, from 0; None for the last.
    """

    table: str
    values: tuple[tuple[str, str], ...]
    after: int | None = None

    @property
    def text(self) -> str:
        """The table as TOML text."""
        return "".join([f"[[{self.table}]]{LINE_END}", *(f"{key} = {value}{LINE_END}" for key, value in self.values)])


@dataclass(frozen=True, slots=True)
class Dropped:
    """A table that is taken away, with its comments.

    Attributes:
        table: Kind of table.
        row: Number of the table among its kind, from 0.
    """

    table: str
    row: int


@dataclass(frozen=True, slots=True)
class Swapped:
    """Two tables of a kind that follow each other change places, each with the comments that lead to it.

    Attributes:
        table: Kind of table.
        row: Number of the first of them, from 0.
    """

    table: str
    row: int


Edit: TypeAlias = Change | Added | Dropped | Swapped


def edited(path: Path, changes: Iterable[Edit]) -> bytes:
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
    return _with_byte_order_mark(edited_text(content.decode("utf-8-sig"), changes, path), content)


def written_like(text: str, content: bytes) -> bytes:
    r"""Write a text with the byte order mark and the line ends of a file that it comes from.

    Args:
        text: The text.
        content: Content of the file.

    Returns:
        Its bytes: a line that stays keeps its end, a new one gets the usual one.

    Example:
        >>> written_like("a = 1\nb = 2\n", b"a = 1\r\n")
        b'a = 1\r\nb = 2\r\n'
    """
    plain = text.replace("\r\n", LINE_END)
    return _with_byte_order_mark(_with_line_ends(plain, content.decode("utf-8-sig")), content)


def _with_byte_order_mark(text: str, content: bytes) -> bytes:
    mark = codecs.BOM_UTF8 if content.startswith(codecs.BOM_UTF8) else b""
    return mark + text.encode("utf-8")


def edited_text(text: str, edits: Iterable[Edit], path: Path) -> str:
    """Make the new text of a file.

    Args:
        text: Its text, which has been read without faults.
        edits: What changes in it, one after the other.
        path: The file, for messages.

    Returns:
        Its text with the changes, and everything else as it was.

    Raises:
        InputError: If a change cannot be made without touching something else, or the text is very long.
    """
    if len(text) > LONGEST:
        message = f"has {len(text)} characters: files of more than {LONGEST} are not written back"
        raise InputError(Fault(str(path), "", "", message))
    plain = text.replace("\r\n", LINE_END)
    wanted = tomllib.loads(plain)
    pieces = _pieces(plain)
    try:
        for edit in edits:
            _mean(wanted, edit)
            _make(pieces, edit)
        kept = tomllib.loads("".join(pieces)) == wanted
    except (TOMLKitError, LookupError, ValueError):
        kept = False
    if not kept:
        message = "cannot be changed without touching something else in it: write the values in by hand"
        raise InputError(Fault(str(path), "", "", message))
    return _with_line_ends("".join(pieces), text)


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


def _make(pieces: list[str], edit: Edit) -> None:
    """Make one edit in the pieces of a text, each a table with what belongs to it."""
    match edit:
        case Change():
            _write(pieces, edit)
        case Added():
            rows = _rows(pieces, edit.table)
            where = rows[-1 if edit.after is None else edit.after] + 1 if rows else len(pieces)
            before = pieces[where - 1].rstrip()
            # Comments that lead to the next table of the kind stay with that one.
            lead = _left_of(pieces[where - 1]) if edit.after is not None and where < len(pieces) else ""
            if before:
                # The piece before ends with an empty line, so that a table can follow.
                pieces[where - 1] = before.removesuffix(lead.rstrip()).rstrip() + LINE_END + LINE_END
            pieces.insert(where, edit.text + (LINE_END if where < len(pieces) else "") + lead)
        case Dropped():
            where = _rows(pieces, edit.table)[edit.row]
            pieces[where] = _left_of(pieces[where])
        case Swapped():
            _swap(pieces, *_rows(pieces, edit.table)[edit.row : edit.row + 2])
        case _:
            assert_never(edit)


def _swap(pieces: list[str], one: int, other: int) -> None:
    """Exchange two pieces with the comments before each, which stand at the end of the piece before."""
    leads = {place: _left_of(pieces[place]) for place in (one - 1, other - 1, other)}
    bodies = {place: pieces[place].rstrip().removesuffix(lead.rstrip()).rstrip() for place, lead in leads.items()}
    bodies[one] = pieces[one].rstrip().removesuffix(_left_of(pieces[one]).rstrip()).rstrip()
    after = {one - 1: leads[other - 1], other - 1: leads[one - 1], other: leads[other]}
    moved = {one: bodies[other], other: bodies[one]}
    for place in sorted({one - 1, one, other - 1, other}):
        body = moved.get(place, bodies.get(place, ""))
        lead = after.get(place, _left_of(pieces[place]))
        pieces[place] = (f"{body}{LINE_END}{LINE_END}" if body else "") + lead
    if other == len(pieces) - 1:
        pieces[other] = pieces[other].rstrip() + LINE_END


def _left_of(piece: str) -> str:
    """Return the comments at the end of a table, behind an empty line: they belong to what follows."""
    *_, last = re.split(r"\n[ \t]*\n", piece.rstrip())
    lead = piece.rstrip() != last.rstrip() and all(line.lstrip().startswith("#") for line in last.splitlines())
    return last.rstrip() + LINE_END if lead else ""


def _rows(pieces: list[str], table: str) -> list[int]:
    """Return the numbers of the pieces that are a table of an array."""
    headers = [(number, HEADER.match(piece)) for number, piece in enumerate(pieces) if piece.lstrip().startswith("[[")]
    return [number for number, header in headers if header and header["name"].strip("\"'") == table]


def _single(pieces: list[str], table: str) -> int | None:
    """Return the number of the piece that is a single table, None where it is none or stands in another way."""
    headers = ((number, HEADER.match(piece)) for number, piece in enumerate(pieces) if piece.lstrip().startswith("["))
    singles = (number for number, header in headers if header and not header.group().lstrip().startswith("[["))
    return next((number for number in singles if _named_there(pieces[number]) == table), None) if table else None


def _named_there(piece: str) -> str:
    header = HEADER.match(piece)
    return header["name"].strip("\"'") if header else ""


def _write(pieces: list[str], change: Change) -> None:
    """Put a change into its piece; only that piece is written anew."""
    rows = _rows(pieces, change.table)
    single = _single(pieces, change.table)
    where = rows[change.row] if change.table and rows else single or 0
    document: Any = tomlkit.parse(pieces[where])
    table = document
    if change.table:
        table = document[change.table] if single else document[change.table][0 if rows else change.row]
    _put(table, change)
    blank = pieces[where][len(pieces[where].rstrip(LINE_END)) :]
    pieces[where] = tomlkit.dumps(document).rstrip(LINE_END) + (blank or LINE_END)


def _put(table: Any, change: Change) -> None:  # noqa: ANN401 - a user's TOML, in whichever form it stands
    """Put a value into a table, or take it out, leaving all comments where they are."""
    spread = isinstance(table.get(change.key), AbstractTable) and not isinstance(table[change.key], InlineTable)
    if change.value is None or spread:
        table.pop(change.key, None)
    if change.value is None:
        return
    if change.key in table or isinstance(table, InlineTable):
        table[change.key] = tomlkit.parse(f"value = {change.value}")["value"]
    else:
        # A new key would be put behind the comments and blank lines that lead to the next table.
        # Of what stands in a table only the body holds every item with its line end: values() gives a bare True.
        body = table.value.body if isinstance(table, AbstractTable) else table.body
        last = [item for key, item in body if key is not None and not isinstance(item, AbstractTable | AoT)][-1]
        last.trivia.trail = f"{last.trivia.trail or LINE_END}{change.key} = {change.value}{LINE_END}"


def _mean(document: dict[str, Any], edit: Edit) -> None:
    """Make a change in what the file means."""
    match edit:
        case Change(table, row, key, None):
            _meant(document, table, row).pop(key, None)
        case Change(table, row, key, value):
            _meant(document, table, row)[key] = tomllib.loads(f"value = {value}")["value"]
        case Added(table, values, after):
            text = LINE_END.join(f"{key} = {value}" for key, value in values)
            rows = document.setdefault(table, [])
            rows.insert(len(rows) if after is None else after + 1, tomllib.loads(text))
        case Dropped(table, row):
            del document[table][row]
            if not document[table]:
                del document[table]
        case Swapped(table, row):
            rows = document[table]
            rows[row], rows[row + 1] = rows[row + 1], rows[row]


def _meant(document: dict[str, Any], table: str, row: int) -> dict[str, Any]:
    """Return the table that a change is about."""
    found: Any = document[table] if table else document
    return found[row] if isinstance(found, list) else found  # type: ignore[no-any-return]


def _with_line_ends(text: str, like: str) -> str:
    """Return a text with the line ends of another: a line that stays keeps its own, a new one gets the usual one."""
    if "\r\n" not in like:
        return text
    old = like.splitlines(keepends=True)
    crlf = [line.endswith("\r\n") for line in old]
    usual = sum(crlf) * 2 >= len(old)
    new = text.splitlines(keepends=True)
    ends = [usual] * len(new)
    if len({line.endswith("\r\n") for line in old if line.endswith(LINE_END)}) > 1:
        plain = [line.replace("\r\n", LINE_END) for line in old]
        for block in SequenceMatcher(None, plain, new, autojunk=False).get_matching_blocks():
            ends[block.b : block.b + block.size] = crlf[block.a : block.a + block.size]
    lines = zip(new, ends, strict=True)
    return "".join(line.replace(LINE_END, "\r\n") if windows else line for line, windows in lines)

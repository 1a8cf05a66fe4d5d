"""A file being read: its tables as TOML gives them, its units, and the faults found in it so far."""

import re
import stat
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from typing import Any, TypeAlias

from loadplan.errors import Fault, InputError
from loadplan.files.fault_wording import choice, one_line, shown
from loadplan.files.missing_ending import where_it_is
from loadplan.files.parsing_cost import too_costly
from loadplan.files.toml_hint import hint_at
from loadplan.units import System

Raw: TypeAlias = dict[str, Any]
"""A table as TOML gives it."""

LARGEST = 2_000_000
"""Largest file that is read [bytes]: a job of hundreds of tables has some 50 kB."""

MOST_FAULTS = 100
"""Most faults of one file that are told."""


@dataclass(frozen=True, slots=True)
class Source:
    """One file: what stands in it and what is wrong with it.

    Attributes:
        path: Where it lies.
        raw: Its tables.
        system: Units of its bare numbers.
        faults: Every fault found so far; grows while the file is read.
        content: Sum of what stood in the file when it was read; empty where that was given and not read.
    """

    path: Path
    raw: Mapping[str, Any]
    system: System
    faults: list[Fault] = field(default_factory=list)
    content: bytes = b""

    def blame(self, table: str, key: str, message: str) -> None:
        """Note a fault.

        Args:
            table: Table, with its number and name; "" for the file itself.
            key: Key, "" for the table itself.
            message: What is wrong, and what would be right.

        Raises:
            InputError: If there are so many faults that it is not worth reading on.
        """
        self.faults.append(Fault(str(self.path), table, one_line(key), message))
        if len(self.faults) >= MOST_FAULTS:
            told = f"has more faults than the {MOST_FAULTS} told: mend these first"
            raise InputError(*self.faults, _fault(self.path, "", told))


def open_source(path: Path, schema: str, text: str | None = None) -> Source:
    """Read a TOML file as far as its schema and units.

    Args:
        path: The file.
        schema: What its `schema` has to say.
        text: What is to stand in it, where that is not written yet.

    Returns:
        The file, with a fault noted where its units are missing or unknown.

    Raises:
        InputError: If it cannot be read, is no TOML, or is another kind of file. What stands in a file
            of another kind is not shown: the path may point anywhere.
    """
    read = content_of(path) if text is None else b""
    raw = tables_of(path, _decoded(path, read) if text is None else text)
    if not raw:
        raise InputError(_fault(path, "", f'is empty: it should begin with schema = "{schema}"'))
    found = raw.get("schema")
    if found != schema:
        told = f', is "{found}"' if isinstance(found, str) and re.fullmatch(r"loadplan-[a-z0-9-]{1,40}", found) else ""
        told = told or (", is missing" if found is None else ", is something else")
        raise InputError(_fault(path, "schema", f'must be "{schema}"{told}'))
    system = System.US if raw.get("units") == System.US.value else System.METRIC
    source = Source(path, raw, system, content=sum_of(read) if text is None else b"")
    if raw.get("units") not in [each.value for each in System]:
        source.blame("", "units", _units_message(raw.get("units")))
    return source


def text_of(path: Path) -> str:
    """Read the text of a file of bearable size; devices and pipes are not opened.

    Args:
        path: The file.

    Returns:
        Its text.

    Raises:
        InputError: If it cannot be read.
    """
    return _decoded(path, content_of(path))


def sum_of(content: bytes) -> bytes:
    """Return the sum by which what stands in a file is known.

    Args:
        content: What stands in it.

    Returns:
        Its SHA-256.
    """
    return sha256(content).digest()


def content_of(path: Path) -> bytes:
    """Read what stands in a file of bearable size; devices and pipes are not opened.

    Args:
        path: The file.

    Returns:
        Its content.

    Raises:
        InputError: If it cannot be read.
    """
    try:
        about = path.stat()
        if stat.S_ISDIR(about.st_mode):
            raise InputError(_fault(path, "", "is a folder: give the path of a TOML file in it"))
        if not stat.S_ISREG(about.st_mode):
            raise InputError(_fault(path, "", "is not a file: give the path of a TOML file"))
        if about.st_size > LARGEST:
            raise InputError(_fault(path, "", f"has {about.st_size} bytes: more than {LARGEST} are not read"))
        with path.open("rb") as stream:
            return stream.read(LARGEST + 1)
    except FileNotFoundError:
        raise InputError(_fault(path, "", f"is not there: check the path{where_it_is(path)}")) from None
    except PermissionError:
        raise InputError(_fault(path, "", "may not be read: check its permissions")) from None
    except (OSError, ValueError):
        raise InputError(_fault(path, "", "cannot be read: check the path")) from None


def _decoded(path: Path, text: bytes) -> str:
    try:
        return text.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = text.count(b"\n", 0, error.start) + 1
        raise InputError(
            _fault(path, "", f"is not UTF-8 text (line {line}): save it with the encoding UTF-8")
        ) from None


def tables_of(path: Path, text: str) -> Raw:
    """Read the tables of a TOML text.

    Args:
        path: The file, for messages.
        text: What stands in it.

    Returns:
        Its tables.

    Raises:
        InputError: If it is none, or would take too long to read.
    """
    costly = too_costly(text)
    if costly:
        raise InputError(_fault(path, "", costly))
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        told = f"{_without_contents(str(error))}{hint_at(text, str(error))}"
        raise InputError(_fault(path, "", f"is not valid TOML: {told}")) from None
    except RecursionError:
        raise InputError(_fault(path, "", "is not valid TOML for this program: it is nested too deep")) from None
    except ValueError:
        raise InputError(
            _fault(path, "", "is not valid TOML for this program: it has a number that is too long")
        ) from None


def _without_contents(message: str) -> str:
    """Return what the TOML reader says, less anything that it quotes from the file."""
    reason, _, place = message.rpartition(" (at ")
    if reason.startswith(("Cannot declare", "Cannot overwrite", "Duplicate")):
        return f"something is written twice; of tables that come more than once, each begins with [[ ]] ({place}"
    fixed = re.fullmatch(r"[^:('\"]*(?:'[^\w\s]{1,2}'[^:('\"]*)*", reason)
    says = reason if fixed else re.split(r"[:('\"]", reason)[0].strip()
    return f"{says[:1].lower()}{says[1:]} ({place}" if reason else "it cannot be understood"


def _fault(path: Path, key: str, message: str) -> Fault:
    return Fault(str(path), "", key, message)


def _units_message(units: object) -> str:
    """Return what is wrong with the units."""
    if units is None:
        return 'is missing: write units = "metric" (mm, kg, N) or units = "us" (in, lb, lbf)'
    return f"must be {choice([each.value for each in System])}, is {shown(units)}"

"""Writing TOML, as far as tests need it: they change a file's tables and read it again."""

from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

JOBS = Path(__file__).parent / "jobs"


def toml(tables: Mapping[str, Any]) -> str:
    """Write tables: plain values first, so that no table swallows them."""
    plain = [f"{_key(key)} = {_value(value)}" for key, value in tables.items() if not _is_table(value)]
    return "\n".join([*plain, *(_tables(key, value) for key, value in tables.items() if _is_table(value))]) + "\n"


def _is_table(value: object) -> bool:
    tables = isinstance(value, list) and bool(value) and all(isinstance(each, dict) for each in value)
    return isinstance(value, dict) or tables


def _tables(key: str, value: Any) -> str:  # noqa: ANN401 - whatever TOML holds
    one, many = ([value], ("[", "]")) if isinstance(value, dict) else (value, ("[[", "]]"))
    return "\n".join(f"{many[0]}{_key(key)}{many[1]}\n" + "\n".join(_lines(each)) for each in one)


def _lines(table: Mapping[str, Any]) -> list[str]:
    return [f"{_key(key)} = {_value(value)}" for key, value in table.items()]


def _key(key: str) -> str:
    return _value(key)


def _value(value: Any) -> str:  # noqa: ANN401 - whatever TOML holds
    match value:
        case bool():
            return str(value).lower()
        case str():
            escaped = value.replace("\\", "\\\\").replace('"', '\\"')
            return '"' + "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in escaped) + '"'
        case date():
            return value.isoformat()
        case dict():
            return "{ " + ", ".join(_lines(value)) + " }"
        case list():
            return "[" + ", ".join(_value(each) for each in value) + "]"
        case _:
            return repr(value)

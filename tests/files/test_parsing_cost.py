"""What a TOML text would cost to read is counted before it is read: long keys are refused, long files are not."""

import tomllib
from pathlib import Path

import pytest

from loadplan.files.parsing_cost import MOST_IN_KEY, MOST_WORK, too_costly
from loadplan.files.shipped import shipped_folder

LONG_KEY = f"has a key of more than {MOST_IN_KEY} parts in line"
MANY_KEYS = "has too many long keys up to line"


def key(parts: int, part: str = "a") -> str:
    return ".".join([part] * parts)


TOO_LONG = {
    "a key": f"{key(MOST_IN_KEY + 1)} = 1",
    "digits on both sides of each full stop": f"{key(MOST_IN_KEY + 1, '10')} = 1",
    "full stops with blanks around them": f"{' . '.join(['a'] * (MOST_IN_KEY + 1))} = 1",
    "quoted parts": f"""{key(MOST_IN_KEY + 1, "'a'")} = 1""",
    "parts that are full stops": f"""{key(MOST_IN_KEY + 1, '"."')} = 1""",
    "parts that are commas": f"""a = {{ {key(MOST_IN_KEY + 1, '","')} = 1 }}""",
    "a header": f"[{key(MOST_IN_KEY + 1)}]",
    "an array of tables": f"  [[ {key(MOST_IN_KEY + 1)} ]]",
    "an inline table": f"a = {{ {key(MOST_IN_KEY + 1)} = 1 }}",
    "an inline table in an array over several lines": f"a = [\n  1.5,\n  {{ b = 2, {key(MOST_IN_KEY + 1)} = 1 }},\n]",
    "after a string that hides its end": f'x = """ " "" \\""" \n"""\n{key(MOST_IN_KEY + 1)} = 1',
    "after a raw string": f"x = '''\\'''\n{key(MOST_IN_KEY + 1)} = 1",
    "after a remark with an open quote": f'x = 1 # "\n{key(MOST_IN_KEY + 1)} = 1',
    "after a string with a remark in it": f"""x = "#" \n{key(MOST_IN_KEY + 1)} = 1""",
}


@pytest.mark.parametrize("text", TOO_LONG.values(), ids=TOO_LONG.keys())
def test_a_key_of_many_parts_is_refused_wherever_it_stands(text: str) -> None:
    assert too_costly(text).startswith(LONG_KEY)
    tomllib.loads(text)


@pytest.mark.parametrize("name", ["a key", "a header", "an inline table", "an array of tables"])
def test_one_part_less_is_read(name: str) -> None:
    shorter = TOO_LONG[name].replace(key(MOST_IN_KEY + 1), key(MOST_IN_KEY))
    assert too_costly(shorter) == ""


NO_KEYS = {
    "decimal points": "a = [" + "1.5, " * 500 + "]",
    "decimal points under each other": "a = [\n" + "1.5, " * 500 + "\n]",
    "a remark": "# " + "." * 500,
    "a remark behind a value": "a = 1 # " + "." * 500,
    "a string": f'a = "{"." * 500}"',
    "a string of several lines": f'a = """\n{key(500)} = 1\n[{key(500)}]\n"""',
    "a raw string of several lines": f"a = '''\n{key(500)} = 1\n'''",
    "a quoted key": f'"{key(500)}" = 1',
    "days and hours": "a = [" + "2026-01-01T07:30:00.5, " * 100 + "]",
}


@pytest.mark.parametrize("text", NO_KEYS.values(), ids=NO_KEYS.keys())
def test_full_stops_that_part_no_key_cost_nothing(text: str) -> None:
    tomllib.loads(text)
    assert too_costly(text) == ""
    assert too_costly(f"{text}\n{key(MOST_IN_KEY + 1)} = 1").startswith(LONG_KEY)


def work(lines: int, parts: int, header: int = 0) -> str:
    above = f"[{key(header)}]\n" if header else ""
    return above + "".join(f"a{number}.{key(parts - 1)} = 1\n" for number in range(lines))


@pytest.mark.parametrize("header", [0, 20])
def test_many_long_keys_are_refused_together(header: int) -> None:
    """A key of d parts under a header of h costs d (d + h) steps: so many lines are just too many."""
    fit = (MOST_WORK - header) // (20 * (20 + header))
    assert too_costly(work(fit, 20, header)) == ""
    assert too_costly(work(fit + 1, 20, header)).startswith(MANY_KEYS)


def test_many_plain_keys_and_tables_are_read() -> None:
    """A file as large as any that is read: two megabytes of short keys, of tables, of inline tables, of numbers."""
    assert too_costly("".join(f"a{number:06d} = 1\n" for number in range(180_000))) == ""
    assert too_costly("[[part]]\nname = 'a'\n" * 90_000) == ""
    assert too_costly("a = [" + "{ a = 1.5 }, " * 150_000 + "]") == ""


def test_strings_that_do_not_end_are_passed_once() -> None:
    """Each of these quotes could open a string of several lines that none closes: told by what stands there."""
    assert too_costly('"""\n' + '\\"""\n' * 300_000 + key(MOST_IN_KEY + 1) + " = 1") == ""


@pytest.mark.parametrize("path", sorted(shipped_folder("demo").glob("*.toml")), ids=lambda path: path.name)
def test_what_ships_is_read(path: Path) -> None:
    assert too_costly(path.read_text("utf-8")) == ""

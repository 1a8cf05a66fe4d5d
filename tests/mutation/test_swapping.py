"""A loaded module is changed where it stands: what that reaches, and what it refuses."""

import importlib.util
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from types import ModuleType

import pytest

from tests.mutation import swapping
from tests.mutation.swapping import ImportedAnewError, NeverImportedError, functions, put

FILE = "loadplan/made_for_a_test.py"

MADE = '''"""What is made for a test."""

import re
from dataclasses import dataclass, field
from enum import Enum
from functools import partial

LIMIT = 2.0
DOUBLE = 2 * LIMIT
EDGE = 5


@dataclass(frozen=True, slots=True)
class Load:
    """Size of a load."""

    size: float = 3.0

    @property
    def doubled(self) -> float:
        return 2 * self.size


class Side(Enum):
    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True)
class Told:
    """What is told."""

    of: Side
    size: float = 3.0
    words: str = ""
    more: list[int] = field(default_factory=list)


NUMBER = re.compile("[0-9]+")


def share(load: float) -> float:
    return load / 4


def is_over(load: float) -> bool:
    return load > EDGE


given = partial(share, 8)
FIRST = Load(LIMIT - 0.5)
LEAST = 7.0
PAIRS = {part: LEAST for part in "ab"}


def at_least(load: float = LEAST) -> float:
    return max(load, LEAST)


STEP = 10


def steps(count: int) -> list[int]:
    return [step(number) for number in range(count)]


def step(number: int) -> int:
    return number * STEP


STEPS = steps(3)
LONGER = [*STEPS, 99]


class Counted:
    each = steps(2)[1] if STEPS else 0
'''

TAKER = "from loadplan.made_for_a_test import EDGE, share\n"


@pytest.fixture
def made(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[ModuleType]:
    monkeypatch.setattr(swapping, "ROOT", tmp_path)
    swapping.known_source.cache_clear()
    (tmp_path / "loadplan").mkdir()
    yield _imported(tmp_path / FILE, MADE)
    for name in [name for name in sys.modules if name.endswith("made_for_a_test")]:
        del sys.modules[name]
    swapping.known_source.cache_clear()


def _imported(path: Path, source: str) -> ModuleType:
    path.write_text(source, "utf-8")
    name = f"loadplan.{path.stem}"
    spec = importlib.util.spec_from_file_location(name, path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[name] = module
    spec.loader.exec_module(module)
    return module


def _change(old: str, new: str) -> None:
    assert MADE.count(old) == 1
    put(FILE, MADE.replace(old, new), functions())


def test_a_function_is_changed_for_all_who_hold_it(made: ModuleType) -> None:
    held: Callable[[float], float] = made.share
    _change("load / 4", "load * 4")
    assert held(8) == pytest.approx(32)
    assert made.given() == pytest.approx(32)


def test_a_property_is_changed_for_a_record_that_is_there(made: ModuleType) -> None:
    load = made.Load(5.0)
    _change("2 * self.size", "2 + self.size")
    assert load.doubled == pytest.approx(7)


def test_a_number_is_changed_for_who_took_it_by_name(made: ModuleType, tmp_path: Path) -> None:
    taker = _imported(tmp_path / "loadplan" / "taker_made_for_a_test.py", TAKER)
    _change("EDGE = 5", "EDGE = 6")
    assert taker.EDGE == 6
    assert not made.is_over(6)


def test_a_member_of_an_enumeration_is_changed_for_all_who_hold_it(made: ModuleType) -> None:
    held = made.Side.LEFT
    _change('LEFT = "left"', "LEFT = None")
    assert (held.value, made.Side(None), made.Side("right")) == (None, held, made.Side.RIGHT)
    assert "left" not in {each.value for each in made.Side}
    with pytest.raises(ValueError, match="'left' is not a valid Side"):
        made.Side("left")


def test_what_a_record_has_where_nothing_is_said_is_changed_for_those_made_later(made: ModuleType) -> None:
    before = made.Told(made.Side.LEFT)
    put(
        FILE,
        MADE.replace('size: float = 3.0\n    words: str = ""', 'size: float = 3.0\n    words: str = "XX"'),
        functions(),
    )
    assert (before.words, made.Told(made.Side.LEFT).words, made.Told(made.Side.LEFT).size) == ("", "XX", 3.0)
    assert made.Told(made.Side.LEFT, words="said").words == "said"


def test_a_pattern_is_changed(made: ModuleType) -> None:
    _change("[0-9]+", "[0-8]+")
    assert made.NUMBER.fullmatch("9") is None


def test_what_is_made_of_a_number_changes_with_it(made: ModuleType) -> None:
    _change("LIMIT = 2.0", "LIMIT = 3.0")
    assert pytest.approx(6) == made.DOUBLE
    assert pytest.approx(2.5) == made.FIRST.size


MADE_ONCE = MADE.partition("class Counted")[0]


@pytest.mark.parametrize(
    ("old", "new", "steps"),
    [
        ("STEP = 10", "STEP = 20", [0, 20, 40]),
        ("number * STEP", "number + STEP", [10, 11, 12]),
        ("range(count)", "range(1, count)", [10, 20]),
    ],
    ids=["a number", "a function that the function calls", "the function"],
)
def test_what_a_function_has_made_on_import_changes_with_it_and_with_what_it_reads(
    made: ModuleType, monkeypatch: pytest.MonkeyPatch, old: str, new: str, steps: list[int]
) -> None:
    (Path(str(made.__file__))).write_text(MADE_ONCE, "utf-8")
    monkeypatch.setattr(sys.modules[__name__], "MADE", MADE_ONCE)
    _change(old, new)
    assert steps == made.STEPS
    assert [*steps, 99] == made.LONGER


@pytest.mark.parametrize(("old", "new"), [("LIMIT = 2.0", "LIMIT = None"), ("5\n\n\n@", "1 / 0\n\n\n@")])
def test_what_could_not_be_made_on_import_is_told_apart(made: ModuleType, old: str, new: str) -> None:
    with pytest.raises(NeverImportedError):
        _change(old, new)
    assert made.is_over(6)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("number * STEP", "number + STEP"),
        ("STEP = 10", "STEP = 20"),
        ("LEAST = 7.0", "LEAST = 8.0"),
        ('of a load."""\n\n    size: float = 3.0', 'of a load."""\n\n    size: float = 4.0'),
        ("field(default_factory=list)", "None"),
        ('LEFT = "left"', 'LEFT = "right"'),
        ("partial(share, 8)", "partial(share, 9)"),
        ("slots=True", "slots=False"),
    ],
)
def test_what_more_was_made_of_is_refused(made: ModuleType, old: str, new: str) -> None:
    with pytest.raises(ImportedAnewError):
        _change(old, new)
    assert pytest.approx(2) == made.LIMIT

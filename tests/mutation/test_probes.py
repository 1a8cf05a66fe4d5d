"""Broken forms are run beside a function: what is told of each, and that the caller never hears of them."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest
from shapely.geometry import Point

from tests.mutation.infected import Infected, keep, known
from tests.mutation.probes import ENOUGH, Probes
from tests.mutation.sameness import same


def half(load: float, *, least: float = 0.0) -> float:
    return max(load / 2, least)


def countdown(loads: Iterator[int]) -> Iterator[int]:
    for each in loads:
        if each < 0:
            raise ValueError(each)
        yield each


NOT_BELOW = """\
def form(loads):
    for each in loads:
        if not each >= 0:
            raise ValueError(each)
        yield each
"""


def probed(function: Callable[..., object], **forms: str) -> tuple[Probes, Callable[..., object]]:
    """Put a probe into a copy of a function, its broken forms given as sources of functions named `form`."""
    names = dict(vars(__import__(__name__, fromlist=["half"])))
    copied = type(half)(function.__code__, names, function.__name__, function.__defaults__)
    copied.__kwdefaults__ = function.__kwdefaults__
    names[function.__name__] = copied
    codes = {}
    for name, source in forms.items():
        made: dict[str, type(half)] = {}
        exec(source, {}, made)
        codes[name] = made["form"].__code__
    probes = Probes(most=5.0)
    probes.put(copied, codes)
    probes.test = "first"
    return probes, copied


def told(probes: Probes) -> dict[str, list[str]]:
    return {each.name: list(each.tests) for each in probes.all}


class TestProbes:
    def test_tells_in_which_tests_a_form_answers_otherwise(self) -> None:
        probes, asked = probed(
            half,
            other="def form(load, *, least=0.0):\n    return max(load / 2, 1.0)",
            alike="def form(load, *, least=0.0):\n    return max(0.5 * load, least)",
        )
        assert asked(4.0) == 2.0
        probes.test = "second"
        assert asked(1.0, least=0.25) == 0.5
        assert told(probes) == {"other": ["second"], "alike": []}
        assert [each.calls for each in probes.all] == [2, 2]

    def test_takes_what_is_raised_for_an_answer(self) -> None:
        probes, asked = probed(half, fails="def form(load, *, least=0.0):\n    raise ValueError")
        assert asked(4.0) == 2.0
        assert told(probes) == {"fails": ["first"]}

    def test_raises_as_the_function_does(self) -> None:
        probes, asked = probed(half, alike="def form(load, *, least=0.0):\n    return max(least, load / 2)")
        with pytest.raises(TypeError):
            asked("x")
        assert told(probes) == {"alike": []}

    def test_ends_what_never_ends(self) -> None:
        probes, asked = probed(half, stays="def form(load, *, least=0.0):\n    while True:\n        pass")
        assert asked(4.0) == 2.0
        assert told(probes) == {"stays": ["first"]}

    def test_gives_every_form_what_an_iterator_gives(self) -> None:
        probes, asked = probed(
            countdown,
            alike=NOT_BELOW,
            shorter="def form(loads):\n    for each in loads:\n        return\n        yield each",
        )
        assert list(asked(iter([3, 2]))) == [3, 2]
        given = asked(iter([1, -1]))
        assert next(given) == 1
        with pytest.raises(ValueError, match="-1"):
            next(given)
        assert told(probes) == {"alike": [], "shorter": ["first"]}

    def test_stops_running_a_form_that_enough_tests_saw(self) -> None:
        probes, asked = probed(half, other="def form(load, *, least=0.0):\n    return 0.0")
        for number in range(ENOUGH + 5):
            probes.test = str(number)
            asked(4.0)
        (other,) = probes.all
        assert other.calls == ENOUGH
        assert not other.is_whole


@dataclass
class Made:
    size: float
    of: np.ndarray


class TestSame:
    @pytest.mark.parametrize(
        ("one", "other", "expected"),
        [
            (1, 1.0, False),
            (float("nan"), float("nan"), True),
            ([1.0, "a"], [1.0, "a"], True),
            ((1.0,), (1.0, 2.0), False),
            ({"a": 1, "b": 2}, {"b": 2, "a": 1}, False),
            (np.array([1.0, np.nan]), np.array([1.0, np.nan]), True),
            (np.array([1.0]), np.array([[1.0]]), False),
            (Made(1.0, np.zeros(2)), Made(1.0, np.zeros(2)), True),
            (Made(1.0, np.zeros(2)), Made(1.0, np.ones(2)), False),
            (Point(0, 0), Point(0, 0), True),
            (Point(0, 0), Point(0, 1e-300), False),
            (iter([1]), iter([1]), False),
        ],
    )
    def test_compares_to_the_last_bit(self, one: object, other: object, *, expected: bool) -> None:
        assert same(one, other) is expected


class TestInfected:
    def test_leaves_out_what_cannot_notice(self) -> None:
        assert Infected(["c", "b"], whole=True).first(["a", "b", "c"]) == ["b", "c"]

    def test_puts_first_what_may_notice(self) -> None:
        assert Infected(["c"], whole=False).first(["a", "b", "c"]) == ["c", "a", "b"]

    def test_is_read_as_it_was_written(self, tmp_path: Path) -> None:
        found = {"0123": Infected(["a::b"], whole=False)}
        keep(tmp_path, found)
        assert known(tmp_path) == found
        assert known(tmp_path / "none") == {}

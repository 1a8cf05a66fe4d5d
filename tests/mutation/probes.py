"""Runs broken forms of a function beside it, on the same arguments, and compares what they answer.

A probe stands in the place of a function. At each call it runs the function as it is, whose answer the caller gets,
and then each of its broken forms; while one of these runs no other probe does anything.
"""

import inspect
import signal
import threading
import time
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from types import CodeType, FrameType, FunctionType
from typing import TypeAlias

from tests.mutation.sameness import same

ENOUGH = 25
"""A broken form that answered otherwise in so many tests is not run any more: one of them will notice it, or none."""

SPARE = 0.2
TIMES = 20
"""Seconds that a broken form may take, and this many times what the function takes as it is: it may never end."""

ITEMS = 100_000
"""How many values of a generator are compared."""

Arguments: TypeAlias = tuple[tuple[object, ...], dict[str, object]]


class NeverEndsError(BaseException):
    """A broken form takes too long. Not an `Exception`: what is broken might catch that."""


@dataclass
class Broken:
    """A broken form of a function.

    Attributes:
        name: Its place's.
        run: The function that it is.
        calls: How often it was run.
        seconds: How long that took.
        tests: The tests in which it answered otherwise, in order.
        left_out: Whether it took more time than there was for it.
    """

    name: str
    run: FunctionType
    calls: int = 0
    seconds: float = 0.0
    tests: dict[str, None] = field(default_factory=dict)
    left_out: bool = False

    @property
    def is_whole(self) -> bool:
        """Whether it was run at all calls."""
        return not self.left_out and len(self.tests) < ENOUGH


@dataclass
class Probed:
    """A function as it is, and its broken forms that are still run."""

    whole: FunctionType
    broken: list[Broken]


@dataclass
class Told:
    """How a call ended.

    Attributes:
        answer: What it gave; the values of a generator.
        error: What it raised, or None.
        generates: Whether it is a generator's.
    """

    answer: object
    error: BaseException | None
    generates: bool

    def is_like(self, other: "Told") -> bool:
        """Return whether both answer the same, or raise the same."""
        alike = type(self.error) is type(other.error) and str(self.error) == str(other.error)
        return alike and same(self.answer, other.answer)

    def again(self) -> object:
        """End as the call did."""
        if self.generates:
            return self._values()
        if self.error is not None:
            raise self.error
        return self.answer

    def _values(self) -> Iterator[object]:
        assert isinstance(self.answer, list)
        yield from self.answer
        if self.error is not None:
            raise self.error


class Probes:
    """The probes of a process."""

    def __init__(self, most: float) -> None:
        """Begin with none.

        Args:
            most: Seconds that each broken form may take in all.
        """
        self.test = ""
        """The test that runs."""
        self.all: list[Broken] = []
        self._most = most
        self._inside = False
        signal.signal(signal.SIGVTALRM, _stop)

    def put(self, function: FunctionType, codes: Mapping[str, CodeType]) -> None:
        """Put a probe in the place of a function.

        Args:
            function: One that shares no variables with another (no closure).
            codes: The code of its broken forms, by the names of their places.
        """
        forms = [Broken(name, _running(function, code)) for name, code in codes.items()]
        self.all += forms
        probed = Probed(_running(function, function.__code__), forms)
        name = f"_probe_{id(probed)}"
        function.__globals__[name] = lambda args, named: self._call(probed, (args, named))
        made: dict[str, FunctionType] = {}
        exec(f"def probe(*args, **named):\n    return {name}(args, named)\n", {}, made)
        function.__code__ = made["probe"].__code__

    def _call(self, probed: Probed, asked: Arguments) -> object:
        if self._inside or not probed.broken or threading.current_thread() is not threading.main_thread():
            return probed.whole(*asked[0], **asked[1])
        asked = tuple(map(_kept, asked[0])), {name: _kept(each) for name, each in asked[1].items()}
        start = time.process_time()
        # What this calls has its own broken forms run.
        told = _told(probed.whole, asked)
        limit = SPARE + TIMES * (time.process_time() - start)
        self._inside = True
        try:
            for broken in tuple(probed.broken):
                self._compare(broken, told, asked, limit)
                broken.left_out = broken.seconds > self._most
        finally:
            self._inside = False
        probed.broken = [each for each in probed.broken if each.is_whole]
        return told.again()

    def _compare(self, broken: Broken, told: Told, asked: Arguments, limit: float) -> None:
        start = time.process_time()
        signal.setitimer(signal.ITIMER_VIRTUAL, limit)
        try:
            otherwise = not told.is_like(_told(broken.run, asked))
        except BaseException:  # noqa: BLE001 (it never ends, or what it gives cannot be compared)
            otherwise = True
        finally:
            signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        broken.calls += 1
        broken.seconds += time.process_time() - start
        if otherwise:
            broken.tests[self.test] = None


def _told(function: FunctionType, asked: Arguments) -> Told:
    """Run a function, a generator to its end."""
    generates = bool(function.__code__.co_flags & inspect.CO_GENERATOR)
    args, named = tuple(map(_given, asked[0])), {name: _given(each) for name, each in asked[1].items()}
    values: list[object] = []
    try:
        if not generates:
            return Told(function(*args, **named), None, generates)
        for each in function(*args, **named):
            values.append(each)
            if len(values) > ITEMS:
                raise NeverEndsError
    except NeverEndsError:
        raise
    except BaseException as error:  # noqa: BLE001 (the caller is to get whatever it is)
        return Told(values, error, generates)
    return Told(values, None, generates)


class _Kept(list[object]):
    """What an iterator gives: each form begins with it anew."""


def _kept(value: object) -> object:
    return _Kept(value) if isinstance(value, Iterator) else value


def _given(value: object) -> object:
    return iter(value) if isinstance(value, _Kept) else value


def _stop(_number: int, _frame: FrameType | None) -> None:
    raise NeverEndsError


def _running(function: FunctionType, code: CodeType) -> FunctionType:
    made = FunctionType(code, function.__globals__, function.__name__, function.__defaults__)
    made.__kwdefaults__ = function.__kwdefaults__
    return made

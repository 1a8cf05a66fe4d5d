"""Work shared by processes: the same as done by one, in its order, told as it goes, and done where none can start."""

import os
from concurrent.futures import Future
from concurrent.futures.process import BrokenProcessPool
from functools import partial

import pytest

from loadplan.report.drawing import side_by_side
from loadplan.report.drawing.side_by_side import ALONE, Helpers, helpers

MANY = 24


def _draw(subject: str, number: int) -> bytes:
    return f"{subject} {number}".encode()


def _whose(_: int) -> int:
    return os.getpid()


def _ready() -> None:
    """All that is needed is there."""


WANTED = [f"unit {number}".encode() for number in range(MANY)]


def test_two_processes_give_what_one_gives_in_the_same_order() -> None:
    heard: list[tuple[int, int]] = []
    with helpers(_ready, processes=2) as two:
        made = two.each(partial(_draw, "unit"), range(MANY), lambda done, whole: heard.append((done, whole)))
    assert made == WANTED == ALONE.each(partial(_draw, "unit"), range(MANY))
    assert heard[-1] == (MANY, MANY)


def test_this_process_does_its_share_from_the_last_on() -> None:
    with helpers(_ready, processes=2) as two:
        who = two.each(_whose, range(MANY))
    assert who[-1] == os.getpid()
    assert who == sorted(who, key=lambda each: each == os.getpid())


class Shared:
    """What all items need: it counts how often it is written down for another process."""

    written = 0

    def __reduce__(self) -> tuple[type, tuple[()]]:
        Shared.written += 1
        return Shared, ()


def _beside(_shared: Shared, number: int) -> int:
    return number


def test_what_all_items_share_is_sent_written_down_once() -> None:
    with helpers(_ready, processes=2) as two:
        assert two.each(partial(_beside, Shared()), range(MANY)) == list(range(MANY))
    assert Shared.written == 1


def test_alone_each_is_told() -> None:
    heard: list[int] = []
    ALONE.each(partial(_draw, "unit"), range(MANY), lambda done, _: heard.append(done))
    assert heard == list(range(1, MANY + 1))


class Broken:
    """A pool that cannot start, or whose process goes while it works."""

    def __init__(self, trouble: Exception, *, later: bool) -> None:
        self.trouble, self.later = trouble, later

    def submit(self, *_given: object) -> Future[bytes]:
        if not self.later:
            raise self.trouble
        future: Future[bytes] = Future()
        future.set_running_or_notify_cancel()
        future.set_exception(self.trouble)
        return future


@pytest.mark.parametrize("later", [False, True])
@pytest.mark.parametrize("trouble", [OSError("no room"), BrokenProcessPool("gone")])
def test_where_no_process_can_be_started_one_does_it(trouble: Exception, later: bool) -> None:  # noqa: FBT001 - two cases
    broken = Helpers(Broken(trouble, later=later))  # type: ignore[arg-type]
    assert broken.each(partial(_draw, "unit"), range(MANY)) == WANTED


def test_what_goes_wrong_in_the_work_is_raised() -> None:
    with helpers(_ready, processes=2) as two, pytest.raises(ZeroDivisionError):
        two.each(partial(divmod, 1), [0] * MANY)


def test_a_process_started_to_share_work_starts_no_others(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(side_by_side, "parent_process", lambda: "another")
    with helpers(_ready) as none:
        assert none is ALONE

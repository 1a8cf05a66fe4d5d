"""Pictures drawn by several processes: the same as by one, in their order, and told one after the other."""

from concurrent.futures.process import BrokenProcessPool
from functools import partial

import pytest

from loadplan.report.drawing import side_by_side as shared
from loadplan.report.drawing.side_by_side import WORTH_IT, side_by_side


def _draw(subject: str, number: int) -> bytes:
    return f"{subject} {number}".encode()


DRAWS = [partial(_draw, number=number) for number in range(WORTH_IT)]
WANTED = [f"unit {number}".encode() for number in range(WORTH_IT)]


def test_two_processes_give_what_one_gives_in_the_same_order() -> None:
    heard: list[tuple[int, int]] = []
    assert side_by_side("unit", DRAWS, lambda done, whole: heard.append((done, whole)), processes=2) == WANTED
    assert heard[-1] == (WORTH_IT, WORTH_IT)
    assert [done for done, _ in heard] == sorted(done for done, _ in heard)


@pytest.mark.parametrize("trouble", [OSError("no room"), BrokenProcessPool("gone")])
def test_where_no_process_can_be_started_one_does_it(monkeypatch: pytest.MonkeyPatch, trouble: Exception) -> None:
    def refuse(*_: object) -> None:
        raise trouble

    monkeypatch.setattr(shared, "_shared", refuse)
    heard: list[int] = []
    assert side_by_side("unit", DRAWS, lambda done, _: heard.append(done), processes=2) == WANTED
    assert heard == list(range(1, WORTH_IT + 1))

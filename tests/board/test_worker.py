"""What takes long holds nobody else up, and says so where it does not finish."""

import threading
import time
import urllib.error
import urllib.request
from contextlib import suppress
from pathlib import Path

import pytest

from loadplan.board import worker
from loadplan.board.open_plans import Open
from loadplan.board.undo_history import Plan
from tests.board.chromium import served
from tests.board.desk import Page
from tests.board.held_up import HeldUp
from tests.tracked import shipped


def test_while_a_plan_is_worked_on_others_are_answered(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for source in shipped("demo", "*.toml"):
        (tmp_path / source.name).write_bytes(source.read_bytes())
    held_up = HeldUp()

    def long(*_: object) -> dict[str, str]:
        held_up.wait()
        return {"done": "late"}

    with served(tmp_path, "front-unit.toml") as desk:
        monkeypatch.setattr(Open, "screen", long)
        told = held_up.answer(f"{desk.plan}/screen", f"{desk.address}/static/board.js")
    assert told == b'{"done":"late"}'


@pytest.mark.parametrize("address", ["bay", "screen"])
def test_requests_that_hang_leave_room_for_everybody_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, address: str
) -> None:
    """Sixty at once, more than the server has threads: all but a few are refused at once, the start page answers."""
    for source in shipped("demo", "*.toml"):
        (tmp_path / source.name).write_bytes(source.read_bytes())
    held_up, told = HeldUp(), []

    def long(*_: object) -> None:
        held_up.wait()

    def ask(url: str) -> None:
        with suppress(urllib.error.HTTPError), urllib.request.urlopen(url, timeout=60):
            return
        told.append(url)

    with served(tmp_path, "front-unit.toml") as desk:
        monkeypatch.setattr(Plan, "take_day", long)
        asking = [threading.Thread(target=ask, args=(f"{desk.plan}/{address}",)) for _ in range(60)]
        for each in asking:
            each.start()
        until = time.monotonic() + 30
        while len(told) < 60 - worker.MOST_ASKED and time.monotonic() < until:
            time.sleep(0.02)
        assert len(told) == 60 - worker.MOST_ASKED
        with urllib.request.urlopen(desk.address, timeout=60) as answered:
            assert answered.status == 200
        held_up.go_on.set()
        for each in asking:
            each.join(60)
        assert desk.desk.asked.now == 0
        assert desk.desk.plans[0].asked.now == 0


def test_what_does_not_finish_says_so(page: Page, monkeypatch: pytest.MonkeyPatch) -> None:
    go_on = threading.Event()

    def long(*_: object) -> None:
        go_on.wait(60)

    monkeypatch.setattr(worker, "BUDGET", 0.2)
    monkeypatch.setattr(Open, "screen", long)
    answer = page.client.get("/plan/0/screen")
    go_on.set()
    assert answer.status_code == 422
    assert "Not finished" in answer.json()["refused"]

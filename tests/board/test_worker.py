"""What takes long holds nobody else up, and says so where it does not finish."""

import threading
from pathlib import Path

import pytest

from loadplan.board import worker
from loadplan.board.open_plans import Open
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

"""What was answered is there again after a kill: with its way back, beside what somebody else wrote, or set aside."""

import json
import os
import re
import signal
import urllib.request
from pathlib import Path
from typing import Any

import pytest

from loadplan.board.tried_masses import WhatIf
from loadplan.board.undo_history import Plan
from tests.board.desk import Page, opened
from tests.board.test_serving import started

pytestmark = pytest.mark.slow


@pytest.fixture(autouse=True)
def own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))


def _left(page: Page) -> None:
    """Let go of the journal as a killed program does."""
    os.close(page.desk.plans[0].plan._journal._file)


def _moved(page: Page) -> Page:
    page.show(2)
    page.change("move", stand=0, x=0.3, y=0.3, snap=0.0)
    _left(page)
    return page


def test_after_a_kill_the_next_start_shows_what_was_answered(page: Page) -> None:
    _moved(page)
    again = opened(page.path.parent, page.path)
    again.show(2)
    assert again.stand("A")["point"] is None
    assert again.seen["unsaved"]
    assert "not saved the last time" in again.seen["said"]


def test_undo_goes_back_to_the_file_as_it_is(page: Page) -> None:
    _moved(page)
    again = opened(page.path.parent, page.path)
    again.seen = again.post("undo").json()
    assert again.stand("A")["point"] is not None
    assert not again.seen["unsaved"]


def test_once_saved_nothing_is_offered_any_more(page: Page) -> None:
    page.show(2)
    page.change("move", stand=0, x=0.3, y=0.3, snap=0.0)
    page.post("save", sure=True)
    assert not list(page.path.parent.glob(".*.changes"))
    assert opened(page.path.parent, page.path).seen["said"] == ""


def test_what_was_tried_out_is_there_again_as_a_what_if(page: Page) -> None:
    page.show(2)
    page.change("mass", part=0, text="90 kg")
    _left(page)
    again = opened(page.path.parent, page.path)
    assert "90 kg" in again.seen["what_if"]
    assert not again.seen["unsaved"]


def test_a_file_that_somebody_else_changed_since_is_not_written_over(page: Page) -> None:
    _moved(page)
    theirs = page.path.read_text("utf-8").replace("lowered     = 8", "lowered     = 9")
    page.path.write_text(theirs, "utf-8")
    again = opened(page.path.parent, page.path)
    told = again.post("save", sure=True)
    assert told.status_code == 409
    assert "+ lowered     = 9" in told.json()["theirs"]
    assert page.path.read_text("utf-8") == theirs


def test_what_makes_no_job_any_more_is_set_aside(page: Page) -> None:
    _moved(page)
    shop = page.path.with_name("shop.toml")
    job = page.path.read_text("utf-8").replace('"shop.toml"', '"other.toml"')
    page.path.with_name("other.toml").write_bytes(shop.read_bytes())
    page.path.write_text(job, "utf-8")
    shop.unlink()
    told: list[str] = []
    plan = Plan(page.path, told.append)
    assert not plan.unsaved
    assert "[300, 300" in page.path.with_name("front-unit-not-saved.toml").read_text("utf-8")
    assert "front-unit-not-saved.toml" in "".join(told)
    assert not list(page.path.parent.glob(".*.changes"))


def test_a_change_that_cannot_be_put_down_is_not_made(page: Page, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("loadplan.files.change_journal.os.fsync", full)
    page.show(2)
    answer = page.post("change", change={"kind": "move", "stand": 0, "x": 0.3, "y": 0.3, "snap": 0.0})
    assert answer.status_code == 422
    assert "No space left" in answer.json()["refused"]
    assert page.show(2)["revision"] == 0


@pytest.mark.parametrize("written", ["nonsense", "[]", '[[["no such part", 3.0]], [["x", [1]]]]', "[1, 2]"])
def test_a_line_of_what_was_tried_that_means_nothing_tries_nothing(page: Page, written: str) -> None:
    assert not WhatIf.read(written, page.draft.job)


def _post(address: str, token: str, body: dict[str, Any]) -> dict[str, Any]:
    headers = {"X-Token": token, "Origin": address.rpartition("/plan")[0], "Content-Type": "application/json"}
    request = urllib.request.Request(f"{address}/change", data=json.dumps(body).encode(), headers=headers)
    with urllib.request.urlopen(request) as answer:
        told: dict[str, Any] = json.load(answer)
    return told


def test_a_kill_loses_nothing_that_was_answered(page: Page) -> None:
    with started(page.path.parent, page.path.name) as (process, address):
        with urllib.request.urlopen(address) as answer:
            token = re.search(r'name="token" content="([^"]+)"', answer.read().decode())
        assert token is not None
        revision = 0
        for x in (0.3, 0.31, 0.32):
            change = {"kind": "move", "stand": 0, "x": x, "y": 0.3}
            revision = _post(address, token[1], {"revision": revision, "step": 2, "change": change})["revision"]
        process.send_signal(signal.SIGKILL)
        process.wait()
    again = opened(page.path.parent, page.path)
    again.show(2)
    assert again.stand("A")["x"] == pytest.approx(0.32)

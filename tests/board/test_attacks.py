"""What somebody tries who means harm: heads without end, forged addresses, links that lead out, streams without end."""

import os
import socket
from contextlib import ExitStack, suppress
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from loadplan.board import routes
from loadplan.board.draft import Draft
from loadplan.board.tried_masses import WhatIf
from loadplan.board.undo_history import Plan
from loadplan.board.worker_process import SECONDS
from loadplan.files import change_journal
from tests.board.chromium import Served, served
from tests.board.desk import Page, opened
from tests.tracked import shipped

LINKS = pytest.mark.skipif(os.name != "posix", reason="links need rights on this system")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for source in shipped("demo", "*.toml"):
        (tmp_path / source.name).write_bytes(source.read_bytes())
    return tmp_path


def _raw(desk: Served, request: bytes) -> bytes:
    """Send a request of a bare connection, "{host}" in it being the right one, and return what is answered."""
    found = urlsplit(desk.address)
    assert found.hostname is not None
    with socket.create_connection((found.hostname, found.port or 80), timeout=60) as there:
        with suppress(BrokenPipeError, ConnectionResetError):
            there.sendall(request.replace(b"{host}", found.netloc.encode()))
        told = b""
        with suppress(ConnectionResetError):
            while piece := there.recv(64_000):
                told += piece
    return told


HEADS = {
    "one line of a megabyte": b"GET / HTTP/1.1\r\nHost: {host}\r\nX: " + b"y" * 1_000_000 + b"\r\n\r\n",
    "ten thousand lines": b"GET / HTTP/1.1\r\nHost: {host}\r\n" + b"X: y\r\n" * 10_000 + b"\r\n",
    "an address of a megabyte": b"GET /" + b"a" * 1_000_000 + b" HTTP/1.1\r\nHost: {host}\r\n\r\n",
    "two lengths": b"GET / HTTP/1.1\r\nHost: {host}\r\nContent-Length: 0\r\nContent-Length: 1\r\n\r\n",
}


@pytest.mark.slow
@pytest.mark.parametrize("head", HEADS)
def test_a_head_that_asks_too_much_is_not_taken_and_others_are_answered(folder: Path, head: str) -> None:
    with served(folder, "front-unit.toml") as desk:
        for _ in range(5):
            told = _raw(desk, HEADS[head])
            assert told == b"" or told.startswith((b"HTTP/1.1 400", b"HTTP/1.1 408", b"HTTP/1.1 431"))
        plain = b"GET /static/board.js HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n"
        assert _raw(desk, plain).startswith(b"HTTP/1.1 200")


FORGED = {
    "two hosts": b"GET /plan/0 HTTP/1.1\r\nHost: {host}\r\nHost: evil.example\r\nConnection: close\r\n\r\n",
    "two hosts, the right one last": b"GET /plan/0 HTTP/1.1\r\nHost: x\r\nHost: {host}\r\nConnection: close\r\n\r\n",
    "two hosts in one line": b"GET /plan/0 HTTP/1.1\r\nHost: {host}, evil.example\r\nConnection: close\r\n\r\n",
    "a host with a user in it": b"GET /plan/0 HTTP/1.1\r\nHost: {host}@evil.example\r\nConnection: close\r\n\r\n",
    "a full address": b"GET http://evil.example/ HTTP/1.1\r\nHost: evil.example\r\nConnection: close\r\n\r\n",
    "no host": b"GET /plan/0 HTTP/1.1\r\nConnection: close\r\n\r\n",
    "an older version without a host": b"GET /plan/0 HTTP/1.0\r\n\r\n",
}


@pytest.mark.slow
@pytest.mark.parametrize("forged", FORGED)
def test_a_forged_host_gets_nothing(folder: Path, forged: str) -> None:
    # RFC 9112, 3.2: a request with no Host, or more than one, is answered with 400.
    with served(folder, "front-unit.toml") as desk:
        told = _raw(desk, FORGED[forged])
    assert told.startswith(b"HTTP/1.1 400")
    assert b"Rear crankshaft" not in told


@pytest.mark.slow
@pytest.mark.parametrize("host", [b"{host}", b"evil.example"])
def test_a_request_for_a_websocket_is_judged_as_any_other(folder: Path, host: bytes) -> None:
    pytest.importorskip("websockets", reason="without it nobody would take the connection over")
    asks = b"Upgrade: websocket\r\nConnection: Upgrade, close\r\nSec-WebSocket-Version: 13\r\n"
    asks += b"Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\n\r\n"
    with served(folder, "front-unit.toml") as desk:
        told = _raw(desk, b"GET /plan/0 HTTP/1.1\r\nHost: " + host + b"\r\n" + asks)
    assert told.startswith(b"HTTP/1.1 200" if host == b"{host}" else b"HTTP/1.1 400")
    assert b"content-security-policy" in told


@pytest.mark.parametrize(
    "origins",
    [("http://127.0.0.1:8000", "http://evil.example"), ("http://evil.example", "http://127.0.0.1:8000")],
)
def test_a_write_with_two_origins_is_refused(page: Page, origins: tuple[str, str]) -> None:
    headers = [(b"x-token", page.held.token.encode()), *((b"origin", each.encode()) for each in origins)]
    answer = page.client.post("/plan/0/undo", json={"revision": 0, "step": 0}, headers=headers)
    assert answer.status_code == 403


@LINKS
def test_a_link_to_a_file_of_another_kind_shows_nothing_of_it(
    folder: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    secret = tmp_path_factory.mktemp("elsewhere") / "secret"
    secret.write_text("key = hunter2\npassword: swordfish\n", "utf-8")
    (folder / "link.toml").symlink_to(secret)
    page = opened(folder, None)
    assert "link.toml" not in page.client.get("/").text
    answer = page.client.post("/open", data={"token": page.held.token, "job": "link.toml"}, headers=page.headers)
    assert answer.status_code == 422
    assert "swordfish" not in answer.text
    assert "hunter2" not in answer.text


@LINKS
@pytest.mark.parametrize("content", ["theirs", None])
def test_saving_under_a_name_that_is_a_link_writes_nothing_where_it_leads(
    page: Page, tmp_path_factory: pytest.TempPathFactory, content: str | None
) -> None:
    outside = tmp_path_factory.mktemp("elsewhere") / "target.toml"
    if content:
        outside.write_text(content, "utf-8")
    page.path.with_name("new.toml").symlink_to(outside)
    answer = page.post("save", name="new.toml", sure=True)
    assert answer.status_code == 422
    assert (outside.read_text("utf-8") if outside.exists() else None) == content


@LINKS
def test_a_journal_that_is_a_link_is_not_followed(page: Page, tmp_path_factory: pytest.TempPathFactory) -> None:
    page.change("move", stand=0, x=0.3, y=0.3, snap=0.0)
    [journal] = page.path.parent.glob(".*.changes")
    content = journal.read_bytes()
    page.desk.plans[0].plan._journal.clear()
    outside = tmp_path_factory.mktemp("elsewhere") / "journal"
    outside.write_bytes(content)
    journal.symlink_to(outside)
    assert change_journal.left_behind(page.path) == []
    assert outside.read_bytes() == content


def test_a_journal_whose_disk_is_full_in_the_middle_of_a_line_goes_on_elsewhere(
    page: Page, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    state = tmp_path / "state"
    monkeypatch.setenv("XDG_STATE_HOME", str(state))
    page.change("move", stand=0, x=0.3, y=0.3, snap=0.0)
    written, failed = os.write, list[int]()

    def full(file: int, content: bytes) -> int:
        if failed:
            return written(file, content)
        failed.append(written(file, content[:20]))
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("loadplan.files.change_journal.os.write", full)
    page.change("move", stand=0, x=0.31, y=0.3, snap=0.0)
    page.desk.plans[0].plan._journal._leave()  # as a kill does: the lock goes, the files stay
    assert list((state / "loadplan").glob("*.changes"))
    again = Plan(page.path)
    assert again.draft.job.supports[0].at[0] == pytest.approx(0.31)


def test_a_kill_between_the_journal_and_the_answer_offers_the_change(page: Page) -> None:
    plan = page.desk.plans[0].plan
    text = plan.draft.text + "# half way\n"
    plan._keep(Draft(page.path, text, WhatIf()))
    plan._journal._leave()  # as a kill does
    again = Plan(page.path)
    assert again.draft.text == text
    assert again.can_undo
    again.step(-1)
    assert not again.unsaved


def test_of_two_servers_on_one_folder_neither_takes_or_loses_what_the_other_has(page: Page) -> None:
    mine = page
    mine.change("move", stand=0, x=0.3, y=0.3, snap=0.0)
    theirs = opened(page.path.parent, page.path)
    # What the first holds is not saved and not theirs to take up.
    assert not theirs.seen["unsaved"]
    theirs.change("move", stand=1, x=-0.1, y=0.3, snap=0.0)
    saved = theirs.post("save", name="", sure=True)
    assert saved.status_code == 200, saved.text
    refused = mine.post("save", name="", sure=True)
    assert refused.status_code == 409
    assert refused.json()["conflict"]
    kept = mine.post("save", name="mine.toml", sure=True)
    assert kept.status_code == 200
    assert mine.stand("A")["x"] == pytest.approx(0.3)
    there = theirs.show()
    assert there["changed_on_disk"] == []


@pytest.mark.slow
def test_windows_without_end_are_not_all_listened_to(folder: Path) -> None:
    ask = b"GET /plan/0/stream HTTP/1.1\r\nHost: {host}\r\n\r\n"
    with served(folder, "front-unit.toml") as desk, ExitStack() as open_ones:
        found = urlsplit(desk.address)
        assert found.hostname is not None
        host, port = found.hostname, found.port or 80
        answers: list[bytes] = []
        for _ in range(routes.MOST_STREAMS + 20):
            there = open_ones.enter_context(socket.create_connection((host, port), timeout=60))
            there.sendall(ask.replace(b"{host}", found.netloc.encode()))
            answers.append(there.recv(12))
        assert answers.count(b"HTTP/1.1 200") == routes.MOST_STREAMS
        assert answers.count(b"HTTP/1.1 429") == 20
        assert _raw(desk, b"GET /plan/0/screen HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n").startswith(
            b"HTTP/1.1 200"
        )
        open_ones.close()
        # Those that left are no longer counted, as soon as the server has seen it.
        for _ in range(200):
            with socket.create_connection((host, port), timeout=60) as there:
                there.sendall(ask.replace(b"{host}", found.netloc.encode()))
                if there.recv(12) == b"HTTP/1.1 200":
                    return
        pytest.fail("windows that left are still counted")


def test_signs_that_turn_the_reading_round_are_on_no_page(folder: Path) -> None:
    path = folder / "front-unit.toml"
    text = path.read_text("utf-8").replace("Rear crankshaft", "\\u202eRear\\u001b[31m crankshaft", 1)
    path.write_text(text, "utf-8")
    page = opened(folder, None)
    told = page.client.get("/").text
    answer = page.client.post("/open", data={"token": page.held.token, "job": path.name}, headers=page.headers)
    if answer.status_code == 303:
        told += page.client.get("/plan/0").text + page.client.get("/plan/0/screen").text
    told += answer.text
    assert not set(told) & {"\u202e", "\x1b"}
    assert "\\u202e" not in told
    assert "\\u001b" not in told


def test_the_manual_tells_what_was_tried() -> None:
    page = (Path(routes.__file__).parents[1] / "manual" / "security.md").read_text("utf-8")
    assert f"({routes.MOST_STREAMS} of one" in page
    assert len(FORGED) == 7
    assert "seven forged hosts" in page
    assert f"{SECONDS:.0f} seconds is ended" in page

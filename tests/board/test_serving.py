"""The command itself: where it says it is, what it answers, how it stops, and that stopping loses nothing."""

import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import urllib.error
import urllib.parse
import urllib.request
import webbrowser
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from queue import SimpleQueue

import pytest

import loadplan
from loadplan.board import server
from loadplan.board.early_judging import begun
from loadplan.board.open_plans import Desk
from loadplan.board.request_guard import hosts_of
from loadplan.board.server import ServeOptions, listen, put_aside, serve
from loadplan.board.stopping import Serving
from loadplan.board.tried_masses import WhatIf
from loadplan.board.undo_history import Plan
from loadplan.errors import InputError
from tests.tracked import shipped


@contextmanager
def started(folder: Path, *options: str) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """Start the program in a folder, and yield where it says that it is."""
    command = [sys.executable, "-m", "loadplan", "board", "--no-open", *options]
    root = Path(__file__).parents[2]
    path = os.pathsep.join([str(root), os.environ.get("PYTHONPATH", "")])
    process = subprocess.Popen(
        command,
        cwd=folder,
        env={**os.environ, "PYTHONPATH": path, "PYTHONUNBUFFERED": "1"},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert process.stdout is not None
    try:
        found = re.search(r"http://\S+", process.stdout.readline())
        assert found is not None
        # As a browser does: the address that is told holds a key, and what comes for it is shown from then on.
        urllib.request.install_opener(urllib.request.build_opener(urllib.request.HTTPCookieProcessor()))
        with urllib.request.urlopen(found[0]) as entered:
            yield process, entered.url
    finally:
        urllib.request.install_opener(urllib.request.build_opener())
        process.kill()
        process.communicate()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for source in shipped("demo", "*.toml"):
        shutil.copy(source, tmp_path)
    return tmp_path


def test_it_is_where_it_says_and_stops_quietly(folder: Path) -> None:
    with started(folder, "front-unit.toml") as (process, address):
        assert re.fullmatch(r"http://127\.0\.0\.1:\d+/plan/0", address)
        with urllib.request.urlopen(address) as answer:
            html = answer.read().decode()
        assert "Rear crankshaft seal and oil pump" in html
        process.send_signal(signal.SIGINT)
        told, wrong = process.communicate(timeout=60)
        assert process.returncode == 0
        assert "not saved" not in told
        assert wrong == ""


@pytest.mark.slow
@pytest.mark.parametrize("how", ["SIGINT", "SIGTERM", "SIGHUP"])
def test_stopping_puts_aside_what_was_not_saved(folder: Path, how: str) -> None:
    if not hasattr(signal, how):
        pytest.skip("this system has no such signal")
    before = (folder / "front-unit.toml").read_bytes()
    with started(folder, "front-unit.toml") as (process, address):
        with urllib.request.urlopen(address) as answer:
            token = re.search(r'name="token" content="([^"]+)"', answer.read().decode())
        assert token is not None
        origin = address.removesuffix("/plan/0")
        request = urllib.request.Request(
            f"{address}/change",
            data=b'{"revision": 0, "step": 2, "change": {"kind": "move", "stand": 0, "x": 0.3, "y": 0.3}}',
            headers={"X-Token": token[1], "Origin": origin, "Content-Type": "application/json"},
        )
        urllib.request.urlopen(request).close()
        process.send_signal(getattr(signal, how))
        told, _ = process.communicate(timeout=60)
    assert "front-unit-not-saved.toml" in told
    assert (folder / "front-unit.toml").read_bytes() == before
    assert loadplan.read_job(folder / "front-unit-not-saved.toml").supports[0].at[:2] == (0.3, 0.3)


def test_a_plan_that_cannot_be_put_aside_keeps_no_other_from_it(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    desk = Desk(folder, None)
    for name in ("front-unit.toml", "one-body.toml", "other.toml"):
        (folder / name).write_bytes((folder / "front-unit.toml").read_bytes())
        plan = desk.plans[desk.open(folder / name)].plan
        plan.change(plan.draft.text + "# a note\n", WhatIf())
    written = Plan.put_aside

    def on_a_full_disk(plan: Plan) -> Path:
        if plan.path.name == "one-body.toml":
            raise OSError(28, "No space left on device", str(plan.path))
        return written(plan)

    monkeypatch.setattr(Plan, "put_aside", on_a_full_disk)
    monkeypatch.setattr(Plan, "kept_in", None)  # nor has a journal been written
    told: list[str] = []
    with pytest.raises(OSError, match="No space"):
        put_aside(desk, told.append)
    assert [line.split()[0] for line in told] == ["front-unit.toml", "other.toml"]
    assert (folder / "other-not-saved.toml").read_text("utf-8").endswith("# a note\n")


def test_what_cannot_be_put_aside_is_told_to_be_in_the_journal_and_comes_back(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk = Desk(folder, None)
    plan = desk.plans[desk.open(folder / "front-unit.toml")].plan
    plan.change(plan.draft.text + "# a note\n", WhatIf())

    def on_a_full_disk(_: Plan) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Plan, "put_aside", on_a_full_disk)
    told: list[str] = []
    put_aside(desk, told.append)
    assert [f"kept in {folder}" in line and "shows it again" in line for line in told] == [True]
    plan._journal._leave()  # as a program that ends does
    assert Plan(folder / "front-unit.toml").draft.text.endswith("# a note\n")


@pytest.mark.slow
def test_no_header_says_which_device_asks(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FORWARDED_ALLOW_IPS", "*")
    with started(folder, "front-unit.toml") as (_, address):
        request = urllib.request.Request(address, headers={"X-Forwarded-For": "192.0.2.7"})
        with urllib.request.urlopen(request) as answer:
            assert answer.url == address


@pytest.mark.slow
def test_without_a_job_there_is_a_page_to_begin_with(folder: Path) -> None:
    with started(folder) as (_, address), urllib.request.urlopen(address) as answer:
        assert "front-unit.toml" in answer.read().decode()


@pytest.mark.slow
def test_other_devices_are_told_of_plainly(folder: Path) -> None:
    with started(folder, "front-unit.toml", "--lan") as (process, _):
        assert process.stdout is not None
        told = "".join(process.stdout.readline() for _ in range(3))
    assert re.search(r"once they type the code \d{4} \d{4}", told)
    assert "not encrypted" in told


@pytest.mark.slow
def test_a_port_that_is_taken_is_told(folder: Path) -> None:
    with started(folder, "front-unit.toml") as (_, address):
        port = int(address.rpartition(":")[2].partition("/")[0])
        asked = ServeOptions(folder / "front-unit.toml", port, opens=False, lan=False, units=None)
        with pytest.raises(InputError, match="port"):
            serve(asked, begun(None), lambda _: None)


def test_a_job_that_cannot_be_used_is_told_before_anything_is_served(folder: Path) -> None:
    with pytest.raises(InputError, match="schema"):
        serve(ServeOptions(folder / "shop.toml", 0, opens=False, lan=False, units=None), begun(None), lambda _: None)


def test_the_browser_is_opened_where_something_listens_already(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It need not wait for the server: what it asks before that stands in the line of the socket."""
    opened: SimpleQueue[str] = SimpleQueue()
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(webbrowser, "open", opened.put)

    def before_it_serves(asked: Serving, *_: object) -> None:
        address = urllib.parse.urlsplit(opened.get(timeout=60))
        with asked.listener, socket.create_connection((address.hostname, address.port), 60):
            pass

    monkeypatch.setattr(server, "run", before_it_serves)
    serve(ServeOptions(None, 0, opens=True, lan=False, units=None), begun(None), lambda _: None)
    assert opened.empty()


def test_answers_are_sent_at_once() -> None:
    # asyncio turns Nagle off only where the protocol is named; else the second half of an answer waits 40 ms.
    listener = listen(ServeOptions(None, 0, opens=False, lan=False, units=None))
    assert listener.proto == socket.IPPROTO_TCP
    assert listener.getsockname()[0] == "127.0.0.1"
    listener.close()


def test_on_windows_no_other_program_may_listen_at_our_port(monkeypatch: pytest.MonkeyPatch) -> None:
    # There SO_REUSEADDR lets a second program take the port (Microsoft, Using SO_REUSEADDR and SO_EXCLUSIVEADDRUSE).
    # Another option stands in for the one that only Windows has.
    monkeypatch.setattr(socket, "SO_EXCLUSIVEADDRUSE", socket.SO_KEEPALIVE, raising=False)
    with listen(ServeOptions(None, 0, opens=False, lan=False, units=None)) as listener:
        assert listener.getsockopt(socket.SOL_SOCKET, socket.SO_KEEPALIVE)
        assert not listener.getsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR)


@pytest.mark.slow
def test_on_the_machine_itself_another_account_is_a_stranger_too(folder: Path) -> None:
    with started(folder, "front-unit.toml") as (_, address):
        stranger = urllib.request.build_opener()
        with stranger.open(address) as answer:
            html = answer.read().decode()
        assert answer.url.endswith("/enter")
        assert "Rear crankshaft seal" not in html
        with pytest.raises(urllib.error.HTTPError, match="403"):
            stranger.open(address.replace("/plan/0", "/key/guessed?plan=0"))


@pytest.mark.slow
def test_the_key_stands_in_no_address_that_stays(folder: Path) -> None:
    with started(folder, "front-unit.toml") as (_, address):
        assert "/key/" not in address


def test_at_the_port_that_a_browser_does_not_write_the_host_has_none() -> None:
    # RFC 9110, 4.2.1 and 7.2: the port of http is 80 where none is written.
    assert hosts_of(["127.0.0.1"], 80) == {"127.0.0.1", "127.0.0.1:80"}
    assert hosts_of(["127.0.0.1"], 8000) == {"127.0.0.1:8000"}

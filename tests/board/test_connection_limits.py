"""Half requests, hanging readers and too many connections: none keeps the server from answering, or from stopping."""

import signal
import socket
import subprocess
import sys
from contextlib import suppress
from pathlib import Path
from urllib.parse import urlsplit
from urllib.request import urlopen

import pytest

from loadplan.board import connection_limits
from tests.board.chromium import served
from tests.board.test_serving import started
from tests.tracked import shipped

pytestmark = pytest.mark.slow

HALVES = {
    "nothing": b"",
    "half a head": b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\nX-",
    "half a body behind another request": (
        b"GET /static/board.js HTTP/1.1\r\nHost: {host}\r\n\r\n"
        b"POST /enter HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nContent-Length: 99\r\n\r\nt"
    ),
    "half a body that is read": (
        b"POST /enter HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nContent-Length: 99\r\n\r\nt"
    ),
    "half a body": b"POST /open HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nContent-Length: 99\r\n\r\nt",
}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for source in shipped("demo", "*.toml"):
        (tmp_path / source.name).write_bytes(source.read_bytes())
    return tmp_path


def _sent(address: str, half: str) -> socket.socket:
    """Connect, and send only the first part of a request."""
    found = urlsplit(address)
    assert found.hostname is not None
    there = socket.create_connection((found.hostname, found.port or 80), timeout=60)
    there.sendall(HALVES[half].replace(b"{host}", found.netloc.encode()))
    return there


@pytest.mark.parametrize("half", HALVES)
def test_half_a_request_keeps_no_signal_from_ending_it(folder: Path, half: str) -> None:
    # Before there were limits the program waited for the rest of the body, whatever signal came.
    with started(folder, "front-unit.toml") as (process, address):
        with _sent(address, half):
            process.send_signal(signal.SIGTERM)
            _, wrong = process.communicate(timeout=60)
        assert process.returncode == 0
        assert wrong == ""


@pytest.mark.parametrize("half", HALVES)
def test_who_hangs_up_in_the_middle_writes_nothing_into_the_terminal(folder: Path, half: str) -> None:
    with started(folder, "front-unit.toml") as (process, address):
        for _ in range(3):
            _sent(address, half).close()
        with urlopen(address, timeout=60) as answer:  # by then the others were seen
            assert answer.status == 200
        process.send_signal(signal.SIGTERM)
        _, wrong = process.communicate(timeout=60)
    assert wrong == ""


@pytest.mark.parametrize("half", HALVES)
def test_half_a_request_is_not_waited_for(folder: Path, half: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(connection_limits, "HEAD_SECONDS", 0.2)
    monkeypatch.setattr(connection_limits, "BODY_SECONDS", 0.2)
    with served(folder, None) as desk, _sent(desk.address, half) as there:
        told = b"".join(iter(lambda: there.recv(1000), b""))
    assert b"HTTP/1.1 408" in told


def test_a_body_that_trickles_is_not_waited_for(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(connection_limits, "BODY_SECONDS", 0.5)
    with served(folder, None) as desk, _sent(desk.address, "half a body") as there:
        there.settimeout(0.1)
        ended = False
        for _ in range(80):
            try:
                there.sendall(b" ")
                ended = there.recv(1000) != b""
            except TimeoutError:
                continue
            except OSError:
                ended = True
            if ended:
                break
    assert ended


def test_one_connection_too_many_is_closed_and_the_others_are_answered(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(connection_limits, "MOST_OF_THIS_MACHINE", 3)
    with served(folder, None) as desk:
        held = [_sent(desk.address, "nothing") for _ in range(3)]
        held[0].sendall(f"GET / HTTP/1.1\r\nHost: {urlsplit(desk.address).netloc}\r\n\r\n".encode())
        assert held[0].recv(12) == b"HTTP/1.1 200"
        with _sent(desk.address, "nothing") as last, suppress(ConnectionResetError):
            assert last.recv(1) == b""
        for each in held:
            each.close()


HANGING = """
import time, uvicorn
from loadplan.board import server, stopping

async def app(scope, receive, send):
    print("busy", flush=True)
    time.sleep(1000)

config = uvicorn.Config(app, lifespan="off", log_level="critical")
listener = server.listen(server.ServeOptions(None, 0, opens=False, lan=False, units=None))
asked = stopping.Serving(stopping.BoundedServer(config), listener, stopping.heed_signals())
print(listener.getsockname()[1], flush=True)
stopping.run(asked, lambda: print("put aside", flush=True))
"""


def test_a_server_that_never_comes_back_is_left_behind_once_all_is_put_aside() -> None:
    with subprocess.Popen([sys.executable, "-c", HANGING], stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        port = int(process.stdout.readline())
        with socket.create_connection(("127.0.0.1", port)) as there:
            there.sendall(b"GET / HTTP/1.1\r\nHost: x\r\n\r\n")
            assert process.stdout.readline() == "busy\n"
            process.send_signal(signal.SIGINT)
            told, _ = process.communicate(timeout=60)
    assert told == "put aside\n"
    assert process.returncode == 0

"""Requests that no browser sends, over bare connections: each is answered or cut off, and the server goes on."""

import random
import socket
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from tests.board.chromium import served
from tests.tracked import shipped

TRIED = 2000
"""How many; the manual tells this number (security)."""

PIECES = (
    *(b"GET", b"POST", b"PUT", b"HEAD", b"\x00", b" ", b"  ", b"/", b"/plan/0/screen", b"/plan/0/change", b"//", b"*"),
    *(b"HTTP/1.1", b"HTTP/9.9", b"HTTP/1.0", b"\r\n", b"\n", b"\r", b"Host: ", b"Host: 127.0.0.1", b"Origin: null"),
    *(b"Content-Length: 5", b"Content-Length: -1", b"Content-Length: 99999999999", b"Transfer-Encoding: chunked"),
    *(b"Upgrade: websocket", b"Connection: upgrade", b"Cookie: loadplan-device=x", b"Expect: 100-continue"),
    *(b"ffffffff\r\n", b"0\r\n\r\n", b"{}", b"%00%ff", b"?" + b"a=1&" * 300, b"X: " + b"y" * 9000, b"\xff\xfe\x80"),
)


def _attack(dice: random.Random, host: bytes) -> bytes:
    """Make a request that is nearly right, or nothing like one."""
    right = (
        b"POST /plan/0/undo HTTP/1.1\r\nHost: "
        + host
        + b"\r\nOrigin: http://"
        + host
        + b"\r\nContent-Length: 2\r\n\r\n{}"
    )
    if dice.random() < 0.3:
        return b"".join(dice.choices(PIECES, k=dice.randint(1, 12))) + b"\r\n\r\n"
    at = dice.randrange(len(right))
    return right[:at] + dice.choice(PIECES) + right[at + dice.randrange(12) :] + dice.choice((b"", b"\r\n\r\n"))


@pytest.mark.slow
def test_no_request_brings_the_server_down_or_out_of_its_words(tmp_path: Path) -> None:
    for source in shipped("demo", "*.toml"):
        (tmp_path / source.name).write_bytes(source.read_bytes())
    dice = random.Random(20261129)
    with served(tmp_path, "front-unit.toml") as desk:
        there = urlsplit(desk.address)
        assert there.hostname is not None
        assert there.port is not None
        for _ in range(TRIED):
            told = _told((there.hostname, there.port), _attack(dice, there.netloc.encode()))
            assert told == b"" or told.startswith(b"HTTP/1.1 ")
            assert not told.startswith(b"HTTP/1.1 5")
            assert b"Traceback" not in told
        plain = b"GET / HTTP/1.1\r\nHost: " + there.netloc.encode() + b"\r\nConnection: close\r\n\r\n"
        with socket.create_connection((there.hostname, there.port), timeout=30) as connection:
            connection.sendall(plain)
            assert connection.recv(4000).startswith(b"HTTP/1.1 200")
        assert desk.desk.plans[0].plan.revision == 0


def _told(where: tuple[str, int], request: bytes) -> bytes:
    """Send a request, say that nothing more comes, and return what is answered, "" for nothing."""
    with socket.create_connection(where, timeout=30) as there:
        there.sendall(request)
        there.shutdown(socket.SHUT_WR)
        try:
            return there.recv(4000)
        except ConnectionResetError:
            return b""

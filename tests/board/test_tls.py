"""What passes is encrypted where that is asked for: asked by the standard library's own client, which trusts nobody."""

import http.client
import os
import re
import socket
import ssl
import stat
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from hashlib import sha256
from pathlib import Path

import pytest

from loadplan.board import certificate as certificates
from loadplan.board.certificate import made
from loadplan.board.connection_limits import HEAD_SECONDS
from loadplan.board.request_guard import hosts_of
from tests.tracked import shipped

STRANGER = ssl.create_default_context()


@contextmanager
def encrypted(folder: Path, *options: str) -> Iterator[tuple[subprocess.Popen[str], str, int, str]]:
    """Start the program with --tls; yield it, the key in its address, its port, and the fingerprint that it tells."""
    for source in shipped("demo", "*.toml"):
        (folder / source.name).write_bytes(source.read_bytes())
    root = Path(__file__).parents[2]
    process = subprocess.Popen(
        [sys.executable, "-m", "loadplan", "board", "front-unit.toml", "--no-open", "--tls", *options],
        cwd=folder,
        env={
            **os.environ,
            "PYTHONPATH": os.pathsep.join([str(root), os.environ.get("PYTHONPATH", "")]),
            "PYTHONUNBUFFERED": "1",
        },
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert process.stdout is not None
    try:
        told = ""
        while len(pairs := re.findall(r"^  ((?:[0-9A-F]{2}:?)+)$", told, re.MULTILINE)) < 2:
            line = process.stdout.readline()
            assert line, told
            told += line
        found = re.search(r"https://127\.0\.0\.1:(\d+)(/key/\S+)", told)
        assert found is not None
        yield process, found[2], int(found[1]), "".join(pairs)
    finally:
        process.kill()
        process.communicate()


def _trusting_nobody() -> ssl.SSLContext:
    """Return what takes any certificate: the test compares its fingerprint itself."""
    context = ssl.create_default_context()
    context.check_hostname, context.verify_mode = False, ssl.CERT_NONE
    return context


def _client(port: int, context: ssl.SSLContext | None = None) -> closing[http.client.HTTPSConnection]:
    return closing(http.client.HTTPSConnection("127.0.0.1", port, context=context or _trusting_nobody(), timeout=60))


def test_it_is_encrypted_with_the_certificate_whose_fingerprint_is_told(tmp_path: Path) -> None:
    with encrypted(tmp_path) as (_, key, port, told), _client(port) as client:
        client.request("GET", key)
        answer = client.getresponse()
        answer.read()
        assert answer.status == 303
        cookie = answer.headers["set-cookie"]
        assert "Secure" in cookie
        assert "HttpOnly" in cookie
        assert isinstance(client.sock, ssl.SSLSocket)
        assert client.sock.version() in {"TLSv1.2", "TLSv1.3"}
        shown = client.sock.getpeercert(binary_form=True)
        assert shown is not None
        assert sha256(shown).hexdigest().upper() == told.replace(":", "")
        client.request("GET", "/", headers={"Cookie": cookie.partition(";")[0]})
        page = client.getresponse().read().decode()
        assert told in page.replace("<wbr>", "")
        # The secure page's own origin is let through to the token; the plain one of the same name is not.
        for origin, refused in ((f"https://127.0.0.1:{port}", "another time"), (f"http://127.0.0.1:{port}", "page")):
            client.request(
                "POST",
                "/plan/0/undo",
                b"{}",
                headers={"Cookie": cookie.partition(";")[0], "Origin": origin},
            )
            answer = client.getresponse()
            assert answer.status == 403
            assert refused in answer.read().decode()


def test_nobody_who_checks_certificates_is_fooled(tmp_path: Path) -> None:
    with (
        encrypted(tmp_path) as (_, _, port, _),
        _client(port, STRANGER) as client,
        pytest.raises(ssl.SSLCertVerificationError),
    ):
        client.request("GET", "/")


@pytest.mark.slow
def test_what_is_not_encrypted_gets_no_answer(tmp_path: Path) -> None:
    with encrypted(tmp_path) as (process, key, port, _):
        with socket.create_connection(("127.0.0.1", port), timeout=60) as plain:
            plain.sendall(f"GET {key} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\n\r\n".encode())
            told = b""
            with suppress(ConnectionResetError):
                told = plain.recv(4000)
        assert b"HTTP" not in told
        assert b"loadplan" not in told
        process.terminate()
        _, wrong = process.communicate(timeout=60)
        assert wrong == ""


@pytest.mark.slow
def test_half_a_handshake_is_given_up_and_keeps_nobody_out(tmp_path: Path) -> None:
    with encrypted(tmp_path) as (process, key, port, _):
        halves = [socket.create_connection(("127.0.0.1", port), timeout=60) for _ in range(40)]
        for each in halves:
            each.sendall(b"\x16\x03\x01\x02\x00\x01")
        with _client(port) as client:
            client.request("GET", key)
            assert client.getresponse().status == 303
        for each in halves:
            each.settimeout(HEAD_SECONDS + 30)
            with suppress(ConnectionResetError):
                while each.recv(4000):
                    pass
            each.close()
        process.terminate()
        _, wrong = process.communicate(timeout=60)
        assert wrong == ""


def test_the_key_is_on_no_disk_and_for_nobody_else(monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[tuple[Path, int, int, bytes]] = []
    load = ssl.SSLContext.load_cert_chain

    def watched(self: ssl.SSLContext, path: Path, password: bytes) -> None:
        modes = (stat.S_IMODE(path.parent.stat().st_mode), stat.S_IMODE(path.stat().st_mode))
        seen.append((path, *modes, path.read_bytes()))
        load(self, path, password=password)

    monkeypatch.setattr(ssl.SSLContext, "load_cert_chain", watched)
    made(["127.0.0.1", "localhost"])
    [(path, folder_mode, _, content)] = seen
    assert not path.exists()
    assert not path.parent.exists()
    assert b"BEGIN ENCRYPTED PRIVATE KEY" in content
    if os.name == "posix":
        assert folder_mode == 0o700


def test_it_names_every_address_and_ends_soon() -> None:
    before = made(["192.0.2.7", "localhost"])
    again = made(["192.0.2.7", "localhost"])
    assert before.fingerprint != again.fingerprint
    assert re.fullmatch(r"([0-9A-F]{2}:){31}[0-9A-F]{2}", before.fingerprint)
    assert certificates.VALID.days <= 398  # longer than that browsers refuse (CA/Browser Forum, Baseline Requirements)


def test_at_the_port_of_https_the_host_has_none() -> None:
    # RFC 9110, 4.2.2: the port of https is 443 where none is written.
    assert hosts_of(["127.0.0.1"], 443, "https") == {"127.0.0.1", "127.0.0.1:443"}
    assert hosts_of(["127.0.0.1"], 443) == {"127.0.0.1:443"}
    assert hosts_of(["127.0.0.1"], 80, "https") == {"127.0.0.1:80"}

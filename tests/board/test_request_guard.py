"""Who may ask: other hosts, other origins, no token, too much, and devices without the code are refused."""

import time
from dataclasses import replace
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from loadplan.board.login_rate_limit import FIRST_WAIT, LONGEST_WAIT, MOST_ADDRESSES, Login
from loadplan.board.owner_keys import OwnerKeys
from loadplan.board.routes import board
from tests.board.desk import HOST, ORIGIN, Page, opened, page_on

WRITES = ("glance", "change", "undo", "redo", "save", "reread", "judge")


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1:8001", "localhost.evil.example:8000", "", "127.0.0.1"])
def test_another_host_is_refused(page: Page, host: str) -> None:
    answer = page.client.get("/plan/0", headers={"host": host})
    assert answer.status_code == 400
    assert page.path.stem not in answer.text


@pytest.mark.slow
@pytest.mark.parametrize("name", WRITES)
@pytest.mark.parametrize(
    "origin", ["http://evil.example", "null", "", f"http://evil.example/{HOST}", "https://127.0.0.1", f"https://{HOST}"]
)
def test_a_write_of_another_origin_is_refused(page: Page, name: str, origin: str) -> None:
    answer = page.client.post(
        f"/plan/0/{name}", json={"revision": 0}, headers={"x-token": page.held.token, "origin": origin}
    )
    assert answer.status_code == 403


@pytest.mark.slow
@pytest.mark.parametrize("name", WRITES)
@pytest.mark.parametrize("token", ["", "x", "é"])
def test_a_write_without_the_token_is_refused(page: Page, name: str, token: str) -> None:
    headers = [(b"origin", ORIGIN.encode()), (b"x-token", token.encode())]
    answer = page.client.post(f"/plan/0/{name}", json={"revision": 0, "step": 0}, headers=headers)
    assert answer.status_code == 403
    assert page.show()["revision"] == 0


def test_a_write_that_the_browser_marks_as_cross_site_is_refused(page: Page) -> None:
    answer = page.client.post(
        "/plan/0/undo", json={"revision": 0}, headers={**page.headers, "sec-fetch-site": "cross-site"}
    )
    assert answer.status_code == 403


def test_more_than_the_limit_is_not_read(page: Page) -> None:
    answer = page.client.post("/plan/0/change", content=b"x" * 100_000, headers=page.headers)
    assert answer.status_code == 413


def test_more_than_the_limit_is_not_read_without_a_length(page: Page) -> None:
    def pieces() -> object:
        for _ in range(100):
            yield b"x" * 1000

    answer = page.client.post("/plan/0/change", content=pieces(), headers=page.headers)
    assert answer.status_code == 413


@pytest.mark.parametrize("length", ["-1", "1e3", "x", "9" * 400])
def test_a_length_that_is_none_is_refused(page: Page, length: str) -> None:
    answer = page.client.post("/plan/0/change", content=b"{}", headers={**page.headers, "content-length": length})
    assert answer.status_code == 413


def test_every_answer_carries_the_policy(page: Page) -> None:
    for path in ("/", "/plan/0", "/plan/0/screen", "/static/board.js", "/nowhere", "/plan/7"):
        policy = page.client.get(path).headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "script-src 'self'" in policy
        assert "unsafe-inline" not in policy.replace("style-src-attr 'unsafe-inline'", "")


def test_no_page_has_a_script_or_a_style_in_it(page: Page) -> None:
    for path in ("/", "/ask", "/enter", "/plan/0"):
        html = page.client.get(path).text
        assert "<style" not in html
        assert " onclick=" not in html
        assert all("src=" in piece or "application/json" in piece for piece in html.split("<script")[1:])


def test_another_device_types_the_code_first(tmp_path: Path) -> None:
    page = opened(tmp_path, page_on(tmp_path).path, code="1234 5678", client="192.0.2.7")
    assert page.client.get("/plan/0").headers["location"] == "/enter"
    assert page.client.post("/plan/0/undo", json={"revision": 0}, headers=page.headers).status_code == 403
    wrong = page.client.post("/enter", data={"code": "8765 4321"}, headers=page.headers)
    assert wrong.status_code == 403
    page.held.login.clock = lambda: time.monotonic() + FIRST_WAIT
    right = page.client.post("/enter", data={"code": "12345678"}, headers=page.headers)
    assert right.status_code == 303
    assert page.client.get("/plan/0").status_code == 200


def test_who_has_not_typed_the_code_is_not_told_the_token(tmp_path: Path) -> None:
    page = opened(tmp_path, page_on(tmp_path).path, code="1234 5678", client="192.0.2.7")
    door = page.client.get("/enter")
    assert door.status_code == 200
    assert page.held.token not in door.text


@pytest.mark.parametrize("number", ["7", "9" * 5000, "-1", "x", "٣"])
def test_a_plan_that_is_not_open_is_refused(page: Page, number: str) -> None:
    answer = page.client.get(f"/plan/{number}")
    assert answer.status_code == 422
    assert "from the list of jobs" in answer.text


def test_a_code_serves_one_device(tmp_path: Path) -> None:
    page = opened(tmp_path, page_on(tmp_path).path, code="1234 5678", client="192.0.2.7")
    assert page.client.post("/enter", data={"code": "1234 5678"}, headers=page.headers).status_code == 303
    page.client.cookies.clear()
    assert page.client.post("/enter", data={"code": "1234 5678"}, headers=page.headers).status_code == 403
    assert page.held.login.code != "1234 5678"


def test_codes_cannot_be_tried_out(tmp_path: Path) -> None:
    page = opened(tmp_path, page_on(tmp_path).path, code="1234 5678", client="192.0.2.7")
    now = [0.0]
    page.held.login.clock = lambda: now[0]
    page.client.post("/enter", data={"code": "0000 0000"}, headers=page.headers)
    early = page.client.post("/enter", data={"code": "1234 5678"}, headers=page.headers)
    assert early.status_code == 403
    assert "Wait 1 s" in early.text
    now[0] = 1.5
    assert page.client.post("/enter", data={"code": "1234 5678"}, headers=page.headers).status_code == 303


def test_the_wait_grows_with_each_wrong_code_up_to_a_bound() -> None:
    now = [0.0]
    login = Login("1234 5678", clock=lambda: now[0])
    waits = []
    for _ in range(20):
        assert login.admit("0000 0000", "192.0.2.7") is None
        waits.append(login.wait("192.0.2.7"))
        now[0] += waits[-1] + 0.1
    assert waits[:4] == pytest.approx([1, 2, 4, 8])
    assert waits[-1] == pytest.approx(LONGEST_WAIT)


def test_what_one_address_types_shuts_no_other_out() -> None:
    login = Login("1234 5678")
    for number in range(50):
        login.admit(f"{number:08d}", "192.0.2.66")
    assert login.admit("1234 5678", "192.0.2.66") is None
    assert login.admit("1234 5678", "192.0.2.7") is not None


def test_only_so_many_addresses_are_counted() -> None:
    login = Login("1234 5678")
    for number in range(MOST_ADDRESSES + 50):
        login.admit("0000 0000", f"a{number}")
    assert len(login.wrong) == MOST_ADDRESSES


def test_a_device_can_be_sent_away_by_this_machine_only(tmp_path: Path) -> None:
    tablet = opened(tmp_path, page_on(tmp_path).path, code="1234 5678", client="192.0.2.7")
    tablet.client.post("/enter", data={"code": "1234 5678"}, headers=tablet.headers)
    number = tablet.held.login.devices[0].number
    assert tablet.client.post("/devices/away", json={"device": number}, headers=tablet.headers).status_code == 403
    assert tablet.client.get("/enter").status_code == 200
    told: list[str] = []
    owner = TestClient(board(tablet.desk, tablet.held, told.append), base_url=ORIGIN, client=("127.0.0.1", 5000))
    answer = owner.post("/devices/away", json={"device": number}, headers=tablet.headers)
    assert answer.status_code == 200
    assert "192.0.2.7 was sent away" in told[0]
    assert tablet.client.get("/plan/0").headers["location"] == "/enter"


@pytest.mark.parametrize(
    ("code", "host", "enters"),
    [
        ("1234 5678", "198.51.100.4:8000", True),
        ("1234 5678", "198.51.100.4:8001", False),
        ("1234 5678", "198.51.100.4", False),
        ("1234 5678", "198.51.100.5:8000", False),
        ("1234 5678", "evil.example:8000", False),
        ("", "198.51.100.4:8000", False),
    ],
)
def test_a_machine_in_two_networks_is_asked_at_the_address_that_it_has_there(
    tmp_path: Path, code: str, host: str, *, enters: bool
) -> None:
    page = opened(tmp_path, page_on(tmp_path).path, code=code, client="198.51.100.9")
    app = board(page.desk, page.held, lambda _: None)
    there = TestClient(app, base_url="http://198.51.100.4:8000", client=("198.51.100.9", 5000), follow_redirects=False)
    headers = {"host": host, "x-token": page.held.token, "origin": f"http://{host}"}
    assert there.get("/plan/0", headers=headers).status_code == (303 if enters else 400)
    typed = there.post("/enter", data={"code": code}, headers=headers)
    assert typed.status_code == (303 if enters else 400)
    foreign = there.post(
        "/plan/0/undo", json={"revision": 0}, headers={**headers, "origin": "http://198.51.100.5:8000"}
    )
    assert foreign.status_code == (403 if enters else 400)


def test_without_a_code_no_other_device_gets_in(tmp_path: Path) -> None:
    page = opened(tmp_path, page_on(tmp_path).path, client="192.0.2.7")
    assert page.client.get("/plan/0").status_code == 303
    assert page.client.post("/enter", data={"code": ""}, headers=page.headers).status_code == 403


def test_a_key_that_a_browser_was_started_with_counts_once() -> None:
    keys = OwnerKeys()
    once = keys.single()
    shown = keys.admit(once)
    assert shown is not None
    assert keys.knows(shown)
    assert keys.admit(once) is None
    assert keys.admit(keys.lasting) is not None
    assert keys.admit(keys.lasting) is not None


@pytest.mark.parametrize("told", ["", "x", "\udce9"])
def test_what_is_no_key_lets_nobody_in(told: str) -> None:
    keys = OwnerKeys()
    assert keys.admit(told) is None
    assert not keys.knows(told)


def test_another_device_does_not_get_in_with_the_owners_key(tmp_path: Path) -> None:
    page = opened(tmp_path, page_on(tmp_path).path, client="192.0.2.7")
    keys = OwnerKeys()
    page.client.app = board(page.desk, replace(page.held, keys=keys), lambda _: None)
    assert page.client.get(f"/key/{keys.lasting}").status_code == 403

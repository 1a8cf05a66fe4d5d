"""Whatever a request holds, the answer is one of ours: no traceback, no change that was not asked for."""

import json
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.board.desk import ANSWERED, Page
from tests.examples import examples

pytestmark = pytest.mark.slow

WRITES = ("glance", "change", "undo", "redo", "save", "reread")
KINDS = (
    *("move", "under", "add", "remove", "duplicate", "equip", "height", "part", "cg", "mass"),
    *("as_given", "keep_what_if", "nothing"),
)


numbers = st.one_of(st.integers(-3, 12), st.floats(), st.integers())
values = st.one_of(numbers, st.booleans(), st.none(), st.text(max_size=70), st.lists(numbers, max_size=3))
changes = st.fixed_dictionaries(
    {"kind": st.sampled_from(KINDS)},
    optional={
        key: st.one_of(st.integers(0, 9), st.floats(-2, 2), values)
        for key in ("stand", "part", "body", "point", "equipment", "x", "y", "snap", "forward", "left", "text", "off")
    },
)
said = st.dictionaries(
    st.sampled_from((
        "revision",
        "step",
        "wide",
        "high",
        "without",
        "stand",
        "x",
        "y",
        "snap",
        "name",
        "sure",
        "change",
    )),
    st.one_of(values, changes),
)
GENTLY = settings(examples(60), suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])


def _asked(page: Page, path: str, body: bytes) -> None:
    answer = page.client.post(path, content=body, headers=page.headers)
    assert answer.status_code in ANSWERED
    assert "Traceback" not in answer.text
    if answer.status_code in {403, 409, 422} and answer.headers["content-type"] == "application/json":
        assert answer.json().get("refused") or answer.json().get("stale") or answer.json().get("conflict")


@GENTLY
@given(name=st.sampled_from(WRITES), told=said)
def test_any_words_are_answered(page: Page, name: str, told: dict[str, Any]) -> None:
    _asked(page, f"/plan/0/{name}", json.dumps(told).encode())


@pytest.mark.slow
@GENTLY
@given(change=changes, step=st.integers(0, 12))
def test_any_change_is_made_or_refused(page: Page, change: dict[str, Any], step: int) -> None:
    revision = page.client.get("/plan/0/screen").json()["revision"]
    body = json.dumps({"revision": revision, "step": step, "change": change}).encode()
    _asked(page, "/plan/0/change", body)
    assert page.client.get("/plan/0/screen", params={"step": step}).status_code == 200


@GENTLY
@given(name=st.sampled_from((*WRITES, "nothing")), body=st.binary(max_size=300))
def test_any_bytes_are_answered(page: Page, name: str, body: bytes) -> None:
    _asked(page, f"/plan/0/{name}", body)


@GENTLY
@given(
    path=st.sampled_from(("/open", "/demo", "/begin", "/ask", "/ask/x.toml", "/enter")), body=st.binary(max_size=300)
)
def test_any_form_is_answered(page: Page, path: str, body: bytes) -> None:
    _asked(page, path, body)
    _asked(page, path, b"token=" + page.held.token.encode() + b"&" + body)


@GENTLY
@given(asked=st.dictionaries(st.sampled_from(("step", "wide", "high", "without", "x")), values.map(str), max_size=4))
def test_any_address_is_answered(page: Page, asked: dict[str, str]) -> None:
    answer = page.client.get("/plan/0/screen", params=asked)
    assert answer.status_code in {200, 422}


@pytest.mark.parametrize(
    "path",
    [
        *("/static/../app.py", "/static/..%2fapp.py", "/static/%2e%2e/app.py", "/static//etc/passwd"),
        *("/static/fonts/../x", "/plan/99999999999999999999", "/plan/-1", "/plan/0x", "/plan/0/", "/static/", "/%00"),
    ],
)
def test_no_path_leads_out(page: Page, path: str) -> None:
    answer = page.client.get(path)
    assert answer.status_code in {307, 400, 404, 405, 422}
    assert "import" not in answer.text

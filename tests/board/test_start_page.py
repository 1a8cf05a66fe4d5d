"""The page without a job: what lies in the folder, the demo one tap away, a first job by questions or choices."""

import re
import tomllib
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime
from pathlib import Path

import pytest
from playwright.sync_api import Browser

import loadplan
from loadplan.board import folder_files
from loadplan.board.open_plans import Desk
from loadplan.files.toml_source import tables_of
from loadplan.files.work_record_file import add_to_record, record_path
from loadplan.model.work_record import Deed, FoundAtStand, RecordEntry
from loadplan.report.sheet.sheet_number import sheet_number
from tests.board.chromium import served
from tests.board.desk import DEMO, Page, opened, page_on
from tests.board.held_up import HeldUp


@pytest.fixture
def start(tmp_path: Path) -> Page:
    return opened(tmp_path, None)


def _post(page: Page, path: str, **fields: str) -> str:
    answer = page.client.post(path, data={"token": page.held.token, **fields}, headers=page.headers)
    assert answer.status_code == 303, answer.text
    return answer.headers["location"]


def test_the_folder_is_shown(tmp_path: Path) -> None:
    page = page_on(tmp_path)
    html = page.client.get("/").text
    assert "front-unit.toml" in html
    assert "Rear crankshaft seal and oil pump: front unit out from below" in html
    assert "shop.toml" in html
    assert "van-longitudinal-diesel-rwd" in html


def test_what_cannot_be_read_does_not_end_the_page(tmp_path: Path) -> None:
    (tmp_path / "broken.toml").write_bytes(b"\xff\xfe nonsense")
    (tmp_path / "folder.toml").mkdir()
    (tmp_path / "loop.toml").symlink_to(tmp_path / "loop.toml")
    (tmp_path / "deep.toml").write_text("a = " + "[" * 5000 + "]" * 5000, "utf-8")
    assert opened(tmp_path, None).client.get("/").status_code == 200


def test_a_file_too_costly_to_read_is_left_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of a key of thousands of parts the reader keeps every path to every part: gigabytes for a file of 80 kB."""
    page = page_on(tmp_path)
    head = 'schema = "loadplan-job-1"\ntitle = "costly"\n'
    (tmp_path / "costly.toml").write_text(f"{head}{'.'.join(['10'] * 26_000)} = 1\n", "utf-8")
    given: list[str] = []
    loads = tomllib.loads
    monkeypatch.setattr(tomllib, "loads", lambda text: given.append(text) or loads(text))
    html = page.client.get("/").text
    assert "costly.toml" not in html
    assert "front-unit.toml" in html
    assert given
    assert all("10.10" not in text for text in given)


def test_a_job_is_one_tap_away(tmp_path: Path) -> None:
    page = page_on(tmp_path)
    assert _post(page, "/open", job="us-units.toml") == "/plan/1"
    assert page.client.get("/plan/1").status_code == 200
    assert _post(page, "/open", job="us-units.toml") == "/plan/1"


def test_the_demo_is_one_tap_away_and_is_a_copy(start: Page) -> None:
    shipped = (DEMO / "front-unit.toml").read_bytes()
    assert _post(start, "/demo", name="front-unit.toml") == "/plan/0"
    start.show(2)
    start.change("move", stand=0, x=0.3, y=0.3)
    start.post("save", sure=True)
    assert (DEMO / "front-unit.toml").read_bytes() == shipped
    assert (start.path / "loadplan-demo" / "front-unit.toml").read_bytes() != shipped
    again = opened(start.path, None)
    assert _post(again, "/demo", name="front-unit.toml") == "/plan/0"
    assert (start.path / "loadplan-demo" / "front-unit.toml").read_bytes() != shipped


@pytest.mark.parametrize("name", ["../shop.toml", "/etc/passwd", "x.toml", ""])
def test_only_files_of_the_folder_are_opened(start: Page, name: str) -> None:
    for path in ("/open", "/demo"):
        answer = start.client.post(
            path, data={"token": start.held.token, "job": name, "name": name}, headers=start.headers
        )
        assert answer.status_code == 422
        assert "There is no such" in answer.text


@pytest.mark.parametrize("path", ["/open", "/demo", "/begin", "/ask", "/ask/first.toml"])
def test_a_form_without_the_token_is_refused(start: Page, path: str) -> None:
    answer = start.client.post(path, data={"job": "x"}, headers=start.headers)
    assert answer.status_code == 422
    assert "another time" in answer.text


def test_a_vehicle_and_a_shop_begin_a_job(tmp_path: Path) -> None:
    page_on(tmp_path)
    page = opened(tmp_path, None)
    where = _post(
        page, "/begin", vehicle="van-longitudinal-diesel-rwd", shop="shop.toml", name="mine.toml", title='A "new" job'
    )
    assert where == "/plan/0"
    assert loadplan.read_job(tmp_path / "mine.toml").title == 'A "new" job'
    page.show()
    assert page.seen["verdict"]["key"] == "stop"
    page.change("add")
    assert [each["name"] for each in page.seen["stands"]] == ["A"]


@pytest.mark.parametrize("name", ["shop.toml", "../mine.toml", "mine.txt", ""])
def test_a_job_begins_only_under_a_new_name(tmp_path: Path, name: str) -> None:
    page_on(tmp_path)
    page = opened(tmp_path, None)
    before = (tmp_path / "shop.toml").read_bytes()
    fields = {"vehicle": "van-longitudinal-diesel-rwd", "shop": "shop.toml", "name": name, "title": "x"}
    answer = page.client.post("/begin", data={"token": page.held.token, **fields}, headers=page.headers)
    assert answer.status_code == 200
    assert (tmp_path / "shop.toml").read_bytes() == before
    assert not (tmp_path.parent / "mine.toml").exists()


def test_what_is_refused_in_a_window_is_a_page(start: Page) -> None:
    looking = {**start.headers, "accept": "text/html,application/xhtml+xml"}
    for answer in (
        start.client.post("/open", data={"token": start.held.token, "job": "x.toml"}, headers=looking),
        start.client.post("/demo", data={"token": "old"}, headers=looking),
        start.client.get("/plan/7", headers=looking),
    ):
        assert answer.status_code == 422
        assert answer.text.startswith("<!doctype html>")
    assert "not open any more" in answer.text
    assert 'class="fault said"' in answer.text


@pytest.mark.parametrize(("path", "status"), [("/nothing/here", 404), ("/open", 405)])
def test_where_nothing_is_a_window_finds_the_way_back(start: Page, path: str, status: int) -> None:
    """A bookmark, or an address that was typed: two words in the corner of a white page would leave somebody there."""
    looking = {**start.headers, "accept": "text/html,application/xhtml+xml"}
    page = start.client.get(path, headers=looking)
    assert page.status_code == status
    assert 'class="fault said" role="alert">There is no such page here. The jobs are below.' in page.text
    assert 'href="/ask"' in page.text
    plain = start.client.get(path, headers=start.headers)
    assert (plain.status_code, "<" in plain.text) == (status, False)


def test_what_was_typed_stays_when_a_beginning_is_refused(tmp_path: Path) -> None:
    page_on(tmp_path)
    page = opened(tmp_path, None)
    fields = {
        "vehicle": "van-longitudinal-diesel-rwd",
        "shop": "shop.toml",
        "name": "mine.txt",
        "title": "Mine & yours",
    }
    html = page.client.post("/begin", data={"token": page.held.token, **fields}, headers=page.headers).text
    assert ">Not a name for a job file" in html
    assert 'value="Mine &amp; yours"' in html
    assert 'value="mine.txt"' in html
    assert "<details open>" in html


def _many(folder: Path, count: int) -> None:
    for number in range(count):
        (folder / f"job-{number:03}.toml").write_text(f'schema = "loadplan-job-1"\ntitle = "Job {number}"\n', "utf-8")


def test_hundreds_of_files_are_read_once_and_again_only_where_one_changed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _many(tmp_path, 400)
    read: list[str] = []

    def counted(path: Path, text: str) -> dict[str, object]:
        read.append(path.name)
        return tables_of(path, text)

    monkeypatch.setattr(folder_files, "tables_of", counted)
    page = opened(tmp_path, None)
    html = page.client.get("/").text
    assert "Job 299" in html
    assert "100 more" in html
    assert sum(name.startswith("job-") for name in read) == folder_files.MOST_FILES
    read.clear()
    (tmp_path / "job-007.toml").write_text('schema = "loadplan-job-1"\ntitle = "Another one"\n', "utf-8")
    assert "Another one" in page.client.get("/").text
    assert read == ["job-007.toml"]


def test_files_that_take_too_long_are_left_out_and_said_so(tmp_path: Path) -> None:
    _many(tmp_path, 10)
    times = iter(range(100))
    found = folder_files.FolderFiles(tmp_path, clock=lambda: float(next(times)))
    first = found.listed()
    # One look at the clock to begin with, then one a file: 5 s are over after the fifth.
    assert (len(first.files), first.left_out) == (5, 5)
    assert found.listed().left_out == 0


def test_while_the_folder_is_read_others_are_answered(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    _many(tmp_path, 1)
    held_up = HeldUp()

    def slow(path: Path, text: str) -> dict[str, object]:
        held_up.wait()
        return tables_of(path, text)

    monkeypatch.setattr(folder_files, "tables_of", slow)
    with served(tmp_path, None) as desk:
        told = held_up.answer(desk.address, f"{desk.address}/static/board.js")
    assert b"Job 0" in told


def test_a_job_that_is_opened_twice_at_once_is_one_plan(tmp_path: Path) -> None:
    path = page_on(tmp_path).path
    desk = Desk(tmp_path, None)
    with ThreadPoolExecutor(8) as pool:
        assert set(pool.map(desk.open, [path] * 8)) == {0}
    assert len(desk.plans) == 1


def test_each_job_has_its_verdict_and_date(tmp_path: Path) -> None:
    page = page_on(tmp_path)
    assert 'data-job="front-unit.toml"' in page.client.get("/").text
    told = page.client.get("/verdict", params={"job": "front-unit.toml"}).json()
    word = page.seen["verdict"]["job"]
    assert word
    assert told["says"].startswith(f"FOR PRACTICE: {word.removeprefix('FOR PRACTICE: ')}, for ")
    assert "; file changed 20" in told["says"]


def test_the_list_counts_what_was_read_at_the_bay(tmp_path: Path) -> None:
    page = page_on(tmp_path)
    told = page.client.get("/verdict", params={"job": "front-unit.toml"}).json()
    assert told["key"] != "stop"
    step = page.draft.job.stages[1].name
    found = FoundAtStand("F", 3000.0)
    entry = RecordEntry(datetime.now(UTC), "K", sheet_number(page.draft.job), step, Deed.READ, found=found)
    add_to_record(page.path, entry)
    then = page.client.get("/verdict", params={"job": "front-unit.toml"}).json()
    assert then["key"] == "stop"
    assert then["says"].startswith("FOR PRACTICE: STOP, by what was read at the bay, for ")
    record_path(page.path).write_text("who\n", "utf-8")
    spoilt = page.client.get("/verdict", params={"job": "front-unit.toml"}).json()
    assert (spoilt["key"], spoilt["says"].endswith("; its record cannot be read")) == ("caution", True)
    assert "CAUTION, since what was read at the bay cannot be told, for " in spoilt["says"]


def test_the_list_tells_where_each_job_stands(tmp_path: Path) -> None:
    page = page_on(tmp_path)
    assert " at it since " not in page.client.get("/verdict", params={"job": "front-unit.toml"}).json()["says"]
    at, number = datetime(2026, 11, 20, 8, 42, tzinfo=UTC), sheet_number(page.draft.job)
    name = page.draft.job.stages[4].name
    add_to_record(page.path, *(RecordEntry(at, "K", number, name, each) for each in (Deed.TICKED, Deed.MOVED)))
    then = page.client.get("/verdict", params={"job": "front-unit.toml"}).json()
    stands = f"; step 5 of 9, {name}: at it since 2026-11-20 08:42; something moved, and no step is done since"
    assert then["says"].endswith(stands)
    assert (then["key"], "CAUTION, since something moved at the bay, for " in then["says"]) == ("caution", True)


def test_a_shop_that_changed_changes_the_verdict_of_the_list(tmp_path: Path) -> None:
    page = page_on(tmp_path)
    first = page.client.get("/verdict", params={"job": "front-unit.toml"}).json()
    shop = tmp_path / "shop.toml"
    text = shop.read_text("utf-8")
    shop.write_text(re.sub(r"(?m)^rating( *)= .*$", r'rating\1= "10 kg"', text), "utf-8")
    then = page.client.get("/verdict", params={"job": "front-unit.toml"}).json()
    assert (first["key"], then["key"]) != ("stop", "stop")
    assert then["key"] == "stop"


def test_a_job_that_cannot_be_used_is_told_to_be_not_judged(tmp_path: Path) -> None:
    page = page_on(tmp_path)
    path = tmp_path / "front-unit.toml"
    path.write_text(path.read_text("utf-8").replace("vehicle ", "vehicel ", 1), "utf-8")
    assert page.client.get("/verdict", params={"job": path.name}).json()["says"].startswith("Not judged: ")
    for name in ("../front-unit.toml", "nothing.toml", ""):
        assert page.client.get("/verdict", params={"job": name}).status_code == 422


def test_the_list_fills_with_verdicts(chromium: Browser, tmp_path: Path) -> None:
    page_on(tmp_path)
    with served(tmp_path, None) as found:
        shown = chromium.new_page()
        shown.goto(found.address)
        line = shown.locator("[data-job='front-unit.toml']")
        line.filter(has_text="file changed").wait_for(timeout=60_000)
        assert line.get_attribute("data-verdict")
        shown.close()

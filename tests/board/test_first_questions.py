"""The questions of a first job, a group at a time: asked as a page without script asks, and kept at every step."""

import re
from collections.abc import Mapping
from html import unescape
from pathlib import Path

import pytest
from httpx2 import Response

import loadplan
from loadplan.board import first_questions
from loadplan.files import find_beside
from loadplan.files.kept_answers import read_kept
from loadplan.planning.interview.new_files import Beside, Named, files_of_answers
from tests.board.desk import Page, opened, page_on
from tests.planning.typed import EMPTY, METRIC, all_typed

JOB = "first.toml"
ADDRESS = f"/ask/{JOB}"


@pytest.fixture
def start(tmp_path: Path) -> Page:
    return opened(tmp_path, None)


def _filled(html: str, answers: Mapping[str, str]) -> dict[str, str]:
    """Fill a group in as somebody would: what is marked stays marked, a choice is tapped, a field is typed in."""
    fields: dict[str, str] = {}
    for tag in re.findall(r"<input[^>]*>", html):
        name, value = (re.search(rf' {which}="([^"]*)"', tag) for which in ("name", "value"))
        assert name, tag
        if not re.search(r'type="?(radio|checkbox)"', tag) or " checked" in tag:
            fields[name[1]] = unescape(value[1]) if value else ""
    for name, text in re.findall(r'<textarea[^>]* name="([^"]+)"[^>]*>([^<]*)<', html):
        fields[name] = unescape(text)
    return fields | {key: answers[key] for key in fields if key in answers} | _tapped(html, answers)


def _tapped(html: str, answers: Mapping[str, str]) -> dict[str, str]:
    names = set(re.findall(r'type="radio" name="([^"]+)"', html))
    return {name: answers[name] for name in names if name in answers}


def _send(page: Page, fields: Mapping[str, str], way: str = "on") -> Response:
    return page.client.post(ADDRESS, data={**fields, "way": way}, headers=page.headers)


def _group(html: str) -> str:
    found = re.search(r'name="group" value="([^"]*)"', html)
    assert found
    return found[1]


def _answer_all(page: Page, answers: Mapping[str, str]) -> str:
    """Answer group by group, until the answers are shown for a last look; return that page."""
    html = page.client.get(ADDRESS).text
    for _ in range(40):
        if not _group(html):
            return html
        answer = _send(page, _filled(html, answers))
        html = page.client.get(answer.headers["location"]).text if answer.status_code == 303 else answer.text
    pytest.fail(f"still open: {_group(html)}")


def test_the_files_are_those_that_the_command_writes(start: Page) -> None:
    last = _answer_all(start, METRIC)
    assert not (start.path / JOB).exists()
    answer = _send(start, _filled(last, {}), "write")
    assert answer.headers["location"] == "/plan/0"
    wanted = files_of_answers(all_typed(METRIC, EMPTY)[1], Beside(JOB, Named("", ""), lambda _: False))
    assert {each.name: each.read_bytes() for each in start.path.glob("*.toml")} == wanted
    assert not (start.path / f"{JOB}.part").exists()
    assert loadplan.check(loadplan.read_job(start.path / JOB)).verdict in {"holds", "caution", "stop"}


def test_the_second_job_knows_vehicle_and_shop(start: Page) -> None:
    _send(start, _filled(_answer_all(start, METRIC), {}), "write")
    html = start.client.get("/ask/second.toml").text
    assert "Which vehicle is it?" in html
    assert "blue-hatchback" in html
    assert "Units of numbers" not in html
    fields = {**_filled(html, {}), "title": "Again", "own": "blue-hatchback"}
    start.client.post("/ask/second.toml", data={**fields, "way": "on"}, headers=start.headers)
    for _ in range(6):
        html = start.client.get("/ask/second.toml").text
        if not _group(html):
            break
        assert _group(html) not in {"shop", "unit", "vehicle"}
        start.client.post("/ask/second.toml", data={**_filled(html, {}), "way": "on"}, headers=start.headers)
    answer = start.client.post("/ask/second.toml", data={**_filled(html, {}), "way": "write"}, headers=start.headers)
    assert answer.status_code == 303, answer.text
    assert loadplan.read_job(start.path / "second.toml").vehicle.bodies


def test_each_group_is_on_the_disk_before_the_next_is_shown(start: Page) -> None:
    html = start.client.get(ADDRESS).text
    _send(start, _filled(html, METRIC))
    assert read_kept(start.path / f"{JOB}.part")["title"] == METRIC["title"]
    again = opened(start.path, None)
    assert JOB in again.client.get("/").text
    assert f'value="{METRIC["title"]}"' in again.client.get(f"{ADDRESS}?group=head").text


def test_a_field_that_is_left_is_kept_before_the_group_is_done(start: Page) -> None:
    fields = {**_filled(start.client.get(ADDRESS).text, {}), "title": "Clutch"}
    assert _send(start, fields, "look").status_code == 200
    kept = read_kept(start.path / f"{JOB}.part")
    assert kept["title"] == "Clutch"
    assert "name" not in kept, "nobody has answered that yet"


def test_back_keeps_later_answers(start: Page) -> None:
    _answer_all(start, METRIC)
    before = read_kept(start.path / f"{JOB}.part")
    html = start.client.get(f"{ADDRESS}?group=vehicle").text
    answer = _send(start, {**_filled(html, {}), "weight": "1190"}, "back")
    assert answer.headers["location"] == f"{ADDRESS}?group=unit"
    html = start.client.get(answer.headers["location"]).text
    answer = _send(start, _filled(html, {}))
    assert answer.headers["location"] == ADDRESS, "nothing else is open"
    assert read_kept(start.path / f"{JOB}.part") == {**before, "weight": "1190"}


def test_a_wrong_answer_is_told_beside_its_question_and_the_others_are_kept(start: Page) -> None:
    fields = {**_filled(start.client.get(ADDRESS).text, METRIC), "days": "three hands"}
    answer = _send(start, fields)
    assert answer.status_code == 422
    assert 'value="three hands"' in answer.text
    assert 'id="f-days"' in answer.text
    kept = read_kept(start.path / f"{JOB}.part")
    assert kept["title"] == METRIC["title"]
    assert "days" not in kept


def test_an_odd_answer_is_asked_about_and_taken_when_it_comes_again(start: Page) -> None:
    for _ in range(2):
        html = start.client.get(ADDRESS).text
        _send(start, _filled(html, METRIC))
    html = start.client.get(f"{ADDRESS}?group=unit").text
    answer = _send(start, {**_filled(html, METRIC), "pads.height": "900"})
    assert "Go on takes it as it is" in answer.text
    assert "pads.height" not in read_kept(start.path / f"{JOB}.part")
    other = _send(start, {**_filled(answer.text, METRIC), "pads.height": "950"})
    assert "pads.height" not in read_kept(start.path / f"{JOB}.part"), "that one was not asked about"
    _send(start, {**_filled(other.text, METRIC), "pads.height": "950"})
    assert read_kept(start.path / f"{JOB}.part")["pads.height"] == "950"


def test_the_sketch_grows(start: Page) -> None:
    html = start.client.get(ADDRESS).text
    assert "Nothing to draw yet" in html
    last = _answer_all(start, METRIC)
    for name in ("engine", "gearbox", "subframe"):
        assert f">{name}</text>" in last
    for letter in "ABCDEF":
        assert f">{letter}</text>" in last
    assert ">axle</text>" not in last[: last.index("<rect")], "a lump would cover the word"
    at = {
        letter: (float(x), float(y))
        for x, y, letter in re.findall(r'class="letter" x="([\d.]+)" y="([\d.]+)">([A-Z])<', last)
    }
    assert at["A"][0] < at["B"][0], "left is left"
    assert at["A"][1] < at["C"][1], "front is up"


@pytest.mark.parametrize("name", ["shop.toml", "../x.toml", "x.txt", "CON.toml", "front-unit-record.toml", ""])
def test_only_a_new_job_file_is_asked_about(tmp_path: Path, name: str) -> None:
    page = page_on(tmp_path)
    before = {each.name: each.read_bytes() for each in tmp_path.iterdir()}
    asked = {"token": page.held.token, "file": name}
    answer = page.client.post("/ask", data=asked, headers=page.headers)
    assert 'role="alert"' in answer.text
    if name and "/" not in name:
        assert page.client.get(f"/ask/{name}").status_code == 422
        form = {"token": page.held.token, "title": "x", "way": "on", "group": "head"}
        assert page.client.post(f"/ask/{name}", data=form, headers=page.headers).status_code == 422
    assert {each.name: each.read_bytes() for each in tmp_path.iterdir()} == before


def test_answers_that_cannot_be_understood_are_left_as_they_are(start: Page) -> None:
    part = start.path / f"{JOB}.part"
    part.write_bytes(b"\xff nonsense")
    assert start.client.get(ADDRESS).status_code == 422
    form = {"token": start.held.token, "title": "x", "way": "on", "group": "head"}
    assert start.client.post(ADDRESS, data=form, headers=start.headers).status_code == 422
    assert part.read_bytes() == b"\xff nonsense"


def test_one_of_several_shops_is_chosen_and_remembered(tmp_path: Path) -> None:
    page = page_on(tmp_path)
    (tmp_path / "other-shop.toml").write_bytes((tmp_path / "shop.toml").read_bytes())
    assert "other-shop.toml" in page.client.get("/ask").text
    asked = {"token": page.held.token, "file": JOB, "shop": "other-shop.toml"}
    assert page.client.post("/ask", data=asked, headers=page.headers).headers["location"] == ADDRESS
    html = page.client.get(ADDRESS).text
    assert ">The shop" not in html
    assert "Units of numbers" not in html


def test_a_full_disk_is_told_on_a_page_and_what_was_kept_stays(start: Page, monkeypatch: pytest.MonkeyPatch) -> None:
    _send(start, {"token": start.held.token, "group": "head", "units": "metric", "title": "Clutch", "days": ""})
    kept = (start.path / f"{JOB}.part").read_bytes()

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(first_questions, "rewrite", full)
    form = {"token": start.held.token, "group": "head", "units": "us", "title": "Another", "way": "on"}
    answer = start.client.post(ADDRESS, data=form, headers={**start.headers, "accept": "text/html"})
    assert answer.status_code == 422
    assert answer.headers["content-type"].startswith("text/html")
    assert "Cannot be written: No space left on device" in answer.text
    assert (start.path / f"{JOB}.part").read_bytes() == kept


def test_the_folder_is_read_once_and_again_only_where_it_changed(start: Page, monkeypatch: pytest.MonkeyPatch) -> None:
    _send(start, _filled(_answer_all(start, METRIC), {}), "write")
    start.client.get("/ask/second.toml")
    read: list[str] = []
    reads = find_beside.text_of

    def text_of(path: Path) -> str:
        read.append(path.name)
        return reads(path)

    monkeypatch.setattr(find_beside, "text_of", text_of)
    for _ in range(3):
        assert "blue-hatchback" in start.client.get("/ask/second.toml").text
    assert read == []
    vehicle = start.path / "blue-hatchback.toml"
    vehicle.write_text(vehicle.read_text("utf-8") + "# looked at again\n", "utf-8")
    (start.path / "gone.toml").write_text("", "utf-8")
    start.client.get("/ask/second.toml")
    assert read == ["blue-hatchback.toml", "gone.toml"]
    vehicle.unlink()
    assert "blue-hatchback" not in start.client.get("/ask/second.toml").text

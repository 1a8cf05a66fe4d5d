"""Photographs at the bay: sent from a tablet or tapped in the folder, kept whole beside the job or refused with why."""

import re
from html import unescape
from io import BytesIO
from pathlib import Path

import pytest
from httpx2 import Response
from PIL import Image

from loadplan.board import bay_photographs
from loadplan.files.photograph_file import content_sum
from loadplan.files.work_record_file import read_record, record_path
from loadplan.model.work_record import Deed, RecordEntry
from tests.board.at_the_bay import AtTheBay
from tests.board.desk import ORIGIN, Page
from tests.files.photographs import NO_PHOTOGRAPHS, SECRET, jpeg, png


class WithATablet(AtTheBay):
    """Somebody at the bay who takes photographs."""

    def send(self, content: bytes, name: str = "image.jpg", step: str = "0", token: str | None = None) -> Response:
        answer: Response = self.page.client.post(
            "/plan/0/bay/photograph",
            data={"token": token or self.page.held.token, "step": step, "what": "photograph"},
            files={"photograph": (name, content, "image/jpeg")},
            headers={"origin": ORIGIN, "accept": "text/html"},
        )
        return answer

    @property
    def folder(self) -> Path:
        return self.page.path.parent

    @property
    def kept(self) -> list[Path]:
        return sorted(self.folder.glob("front-unit-photo-*"))


@pytest.fixture
def bay(page: Page) -> WithATablet:
    return WithATablet(page)


def photographs(entries: tuple[RecordEntry, ...]) -> list[RecordEntry]:
    return [each for each in entries if each.deed is Deed.PHOTOGRAPHED]


def test_a_photograph_that_is_sent_is_kept_beside_the_job_without_its_place(bay: WithATablet) -> None:
    answer = bay.send(jpeg(), name="../../../etc/passwd.jpg")
    assert answer.status_code == 303
    assert answer.headers["location"] == "/plan/0/bay?step=0#kept"
    (path,) = bay.kept
    (entry,) = photographs(bay.record)
    assert (entry.words, entry.who, entry.step) == (path.name, "Kim Ö", bay.page.draft.job.stages[0].name)
    assert entry.picture == content_sum(path.read_bytes())
    assert SECRET not in path.read_bytes()
    assert Image.open(BytesIO(path.read_bytes())).size == (64, 48)
    assert f"Photograph: {path.name}" in bay.look(0)


def test_a_second_one_writes_over_nothing(bay: WithATablet) -> None:
    bay.send(jpeg())
    (first,) = bay.kept
    before = first.read_bytes()
    bay.send(jpeg(100, 20))
    assert len(bay.kept) == 2
    assert first.read_bytes() == before


@pytest.mark.parametrize("content", NO_PHOTOGRAPHS.values(), ids=NO_PHOTOGRAPHS)
def test_what_is_none_is_refused_with_why(bay: WithATablet, content: bytes) -> None:
    answer = bay.send(content)
    assert answer.status_code == 422
    told = unescape(answer.text)
    assert "Not kept: " in told
    assert "JPEG and PNG are" in told or "no photograph was chosen" in told
    assert (bay.kept, bay.record) == ([], ())


def test_a_bomb_is_refused(bay: WithATablet) -> None:
    answer = bay.send(png(9_000, 9_000))
    assert "Not kept: the photograph is too large: 50 million pixels are the most." in answer.text
    assert (bay.kept, bay.record) == ([], ())


def test_more_than_is_read_is_refused(bay: WithATablet) -> None:
    answer = bay.send(b"x" * 20_020_000)
    assert answer.status_code == 413
    assert "Not kept: the photograph is too large: 20 MB are the most." in answer.text
    assert (bay.kept, bay.record) == ([], ())


def test_what_is_too_large_leads_back_to_the_step_it_was_sent_from(bay: WithATablet) -> None:
    action = re.search(r'action="([^"]*/photograph[^"]*)"', bay.look(1))
    assert action
    head = {"origin": ORIGIN, "accept": "text/html", "content-length": "99000000"}
    answer = bay.page.client.post(action[1], content=b"x", headers=head)
    assert answer.status_code == 413
    assert '<input type="hidden" name="step" value="1">' in answer.text
    assert "20 MB are the most" in answer.text


def test_everything_else_keeps_its_small_limit(bay: WithATablet) -> None:
    assert bay.say(what="note", words="x" * 70_000).status_code == 413


def test_one_that_lies_in_the_folder_can_be_tapped(bay: WithATablet) -> None:
    (bay.folder / "IMG 7.jpg").write_bytes(jpeg())
    assert 'name="words" value="IMG 7.jpg"' in bay.look(0)
    assert bay.say(what="photograph", words="IMG 7.jpg").status_code == 303
    (entry,) = photographs(bay.record)
    assert (entry.words, entry.picture) == ("IMG 7.jpg", content_sum(jpeg()))
    assert 'value="IMG 7.jpg"' not in bay.look(0), "what hangs is not offered again"


@pytest.mark.parametrize("name", [
    "../out.jpg", "shop.toml", "gone.jpg", "link.jpg", "text.jpg", "", "/dev/zero", "<b>.jpg", "a\0.jpg",
])  # fmt: skip
def test_what_is_no_photograph_of_the_folder_is_not_hung(bay: WithATablet, name: str) -> None:
    (bay.folder.parent / "out.jpg").write_bytes(jpeg())
    (bay.folder / "link.jpg").symlink_to(bay.folder.parent / "out.jpg")
    (bay.folder / "text.jpg").write_text("no photograph", "utf-8")
    answer = bay.say(what="photograph", words=name)
    assert answer.status_code == 422
    assert "Not kept: " in answer.text
    assert "<b>" not in answer.text.split("<main")[1].replace("<b>" + "A", "").split("bay-part")[0]
    assert bay.record == ()


def test_without_a_name_or_with_a_plan_that_changed_no_file_is_left(bay: WithATablet) -> None:
    bay.page.client.cookies.clear()
    assert "write down who works here first" in bay.send(jpeg()).text
    bay.say(what="who", who="Kim")
    bay.page.show()
    bay.page.change("height", stand=0, text="331 mm")
    assert bay.send(jpeg()).status_code == 422
    assert (bay.kept, bay.record) == ([], ())


def test_a_record_that_takes_no_more_leaves_no_file(bay: WithATablet, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(bay_photographs, "add_to_record", full)
    answer = bay.send(jpeg())
    assert "Cannot be written: No space left on device" in answer.text
    assert bay.kept == []


def test_a_form_from_elsewhere_or_of_another_shape_is_refused(bay: WithATablet) -> None:
    assert bay.send(jpeg(), token="guess").status_code == 422
    head = {"origin": ORIGIN, "accept": "text/html"}
    token = bay.page.held.token
    field = f'Content-Disposition: form-data; name="token"\r\n\r\n{token}'
    for kind, body in (
        ("multipart/form-data", b"x"),
        ("multipart/form-data; boundary=" + "b" * 71, b"x"),
        ("application/x-www-form-urlencoded", f"token={token}&step=0".encode()),
        ("multipart/form-data; boundary=b", b""),
        ("multipart/form-data; boundary=b", f"--b\r\n{field}\r\n--b--".encode()),
        ("multipart/form-data; boundary=b", f"--b\r\n{field}\r\n--b\r\n{field}\r\n--b--".encode()),
        ("multipart/form-data; boundary=b", (f"--b\r\n{field}\r\n" * 300 + "--b--").encode()),
        ("multipart/form-data; boundary=b", f"--b\r\n{field}\r\n--b".encode()),
        ("multipart/form-data; boundary=b", b"--b\r\n" + b"x: y\r\n" * 9_000 + b"\r\n--b--"),
    ):
        answer = bay.page.client.post("/plan/0/bay/photograph", content=body, headers={**head, "content-type": kind})
        assert answer.status_code == 422, (kind, body[:80])
    assert not record_path(bay.page.path).exists()
    assert bay.kept == []


def test_what_hangs_is_read_again_with_its_sum(bay: WithATablet) -> None:
    bay.send(jpeg())
    assert not read_record(bay.page.path).edited
    (entry,) = photographs(bay.record)
    path = record_path(bay.page.path)
    path.write_text(path.read_text("utf-8").replace(entry.picture, "0" * 16), "utf-8")
    assert read_record(bay.page.path).edited

"""Photographs beside a job: only what is one is opened, only in the folder, and nothing but its pixels is kept."""

import os
import tracemalloc
from contextlib import nullcontext
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path
from random import Random
from typing import NamedTuple

import pytest
from PIL import Image

from loadplan.errors import InputError
from loadplan.files import photograph_file
from loadplan.files.photograph_file import (
    content_sum,
    folder_photographs,
    keep_photograph,
    made_anew,
    photograph_content,
    printed_photographs,
    small_picture,
)
from loadplan.model.hung_photograph import HungPhotograph, SmallPicture
from loadplan.model.work_record import Deed, RecordEntry, WorkRecord
from tests.files.photographs import NO_PHOTOGRAPHS, SECRET, jpeg, png

NOON = datetime(2026, 11, 20, 12, tzinfo=UTC)


def test_of_what_is_sent_only_what_is_seen_is_kept() -> None:
    sent = jpeg()
    assert SECRET in sent
    assert Image.open(BytesIO(sent)).getexif()
    made = made_anew(sent)
    assert SECRET not in made
    kept = Image.open(BytesIO(made))
    assert not kept.getexif()
    assert kept.info.keys() <= {"jfif", "jfif_version", "jfif_unit", "jfif_density", "progressive", "progression"}
    assert kept.size == (64, 48)


def test_it_stands_upright_as_the_camera_says() -> None:
    """Orientation 6: the top of the scene is at the right of what is stored (CIPA DC-008, 4.6.4)."""
    seen = small_picture(jpeg(upright=6))
    assert (seen.width, seen.height) == (48, 64)
    red, blue = seen.colours[:3], seen.colours[-3:]
    assert red[0] > blue[0]
    assert blue[2] > red[2]


def test_a_large_one_gets_smaller() -> None:
    made = Image.open(BytesIO(made_anew(jpeg(3000, 2000))))
    assert max(made.size) == photograph_file.KEPT_SIDE
    small = small_picture(jpeg(3000, 2000))
    assert (small.width, small.height, len(small.colours)) == (360, 240, 360 * 240 * 3)


@pytest.mark.parametrize("kind", ["1", "L", "P", "RGBA", "LA", "I;16"])
def test_every_kind_of_png_is_taken(kind: str) -> None:
    stream = BytesIO()
    Image.new(kind, (20, 10)).save(stream, format="PNG")
    assert small_picture(stream.getvalue()).width == 20
    assert Image.open(BytesIO(made_anew(stream.getvalue()))).mode == "RGB"


@pytest.mark.parametrize("content", NO_PHOTOGRAPHS.values(), ids=NO_PHOTOGRAPHS)
def test_what_only_looks_like_one_is_refused(content: bytes) -> None:
    for does in (made_anew, small_picture):
        with pytest.raises(InputError, match="no photograph that can be read"):
            does(content)


@pytest.mark.parametrize("side", [7_100, 9_600, 60_000])
def test_a_little_that_unpacks_to_much_is_never_unpacked(side: int) -> None:
    # 50 million pixels are the most; from 89 and 179 million on Pillow warns and refuses.
    content = png(side, side, b"x") if side > 10_000 else png(side, side)
    tracemalloc.start()
    with pytest.raises(InputError, match="50 million pixels are the most"):
        made_anew(content)
    assert tracemalloc.get_traced_memory()[1] < 20_000_000
    tracemalloc.stop()


def test_more_bytes_than_a_photograph_has_are_refused(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(photograph_file, "LARGEST_PHOTOGRAPH", 100)
    with pytest.raises(InputError, match="too large"):
        made_anew(jpeg())
    (tmp_path / "a.jpg").write_bytes(jpeg())
    with pytest.raises(InputError, match="too large"):
        photograph_content(tmp_path, "a.jpg")


def test_no_spoilt_bytes_get_through_as_another_error() -> None:
    chance = Random(7)
    for whole in (jpeg(), png(40, 30)):
        for _ in range(400):
            spoilt = bytearray(whole)
            for _ in range(chance.randrange(1, 6)):
                spoilt[chance.randrange(len(spoilt))] = chance.randrange(256)
            try:
                seen = small_picture(bytes(spoilt))
            except InputError:
                continue
            assert len(seen.colours) == 3 * seen.width * seen.height


@pytest.mark.parametrize("name", [
    "../outside.jpg", "/etc/outside.jpg", "..", "", ".hidden.jpg", "sub/inside.jpg", "sub\\inside.jpg", "a\0b.jpg",
    "job.toml", "no.gif", "x" * 300 + ".jpg", "a\u202egpj.jpg", "line\n.jpg",
])  # fmt: skip
def test_no_name_leads_out_of_the_folder(tmp_path: Path, name: str) -> None:
    (tmp_path / "outside.jpg").write_bytes(jpeg())
    folder = tmp_path / "jobs"
    (folder / "sub").mkdir(parents=True)
    (folder / "sub" / "inside.jpg").write_bytes(jpeg())
    (folder / ".hidden.jpg").write_bytes(jpeg())
    with pytest.raises(InputError, match="not a photograph in the job's folder"):
        photograph_content(folder, name)


def test_links_pipes_and_folders_are_neither_listed_nor_opened(tmp_path: Path) -> None:
    (tmp_path / "real.JPG").write_bytes(jpeg())
    (tmp_path / "link.jpg").symlink_to(tmp_path / "real.JPG")
    (tmp_path / "zero.png").symlink_to("/dev/zero")
    (tmp_path / "folder.png").mkdir()
    os.mkfifo(tmp_path / "pipe.jpg")
    assert [each.name for each in folder_photographs(tmp_path)] == ["real.JPG"]
    assert photograph_content(tmp_path, "real.JPG") == jpeg()
    for name in ("link.jpg", "zero.png", "folder.png", "pipe.jpg"):
        with pytest.raises(InputError, match="not a photograph in the job's folder"):
            photograph_content(tmp_path, name)


class _Entry(NamedTuple):
    """A file of a folder on a disk that keeps any time."""

    name: str
    stamp: float

    def is_file(self, *, follow_symlinks: bool) -> bool:
        return not follow_symlinks

    def stat(self, *, follow_symlinks: bool) -> os.stat_result:
        assert not follow_symlinks
        return os.stat_result((0,) * 8 + (int(self.stamp), 0))


def test_the_newest_stands_first(tmp_path: Path) -> None:
    for age, name in enumerate(["b.jpg", "a.png", "c.jpeg"]):
        (tmp_path / name).write_bytes(b"")
        os.utime(tmp_path / name, (1e9 - age, 1e9 - age))
    assert [each.name for each in folder_photographs(tmp_path)] == ["b.jpg", "a.png", "c.jpeg"]


def test_a_time_that_no_calendar_has_hides_no_photograph(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Some disks keep any number of seconds; a clock that ran wild must not close the bay."""
    stamps = {"far.jpg": 4e11, "now.jpg": 1e9, "never.jpg": -4e11}
    entries = [_Entry(name, stamp) for name, stamp in stamps.items()]
    monkeypatch.setattr(photograph_file.os, "scandir", lambda _: nullcontext(entries))
    assert [each.name for each in folder_photographs(tmp_path)] == ["far.jpg", "now.jpg", "never.jpg"]


def test_none_is_ever_written_over(tmp_path: Path) -> None:
    job = tmp_path / "front.toml"
    first, second = (keep_photograph(job, content, NOON) for content in (b"one", b"two"))
    assert (first.name, second.name) == ("front-photo-20261120-120000.jpg", "front-photo-20261120-120000-2.jpg")
    assert (tmp_path / first.name).read_bytes() == b"one"
    assert (tmp_path / second.name).read_bytes() == b"two"
    assert second.picture == content_sum(b"two")


def test_what_is_printed_is_what_was_hung(tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    hung = [HungPhotograph(name, content_sum(jpeg())) for name in ("kept.jpg", "gone.jpg", "another.jpg")]
    (tmp_path / "kept.jpg").write_bytes(jpeg())
    (tmp_path / "another.jpg").write_bytes(jpeg(20, 20))
    record = WorkRecord(
        tuple(RecordEntry(NOON, "K", "0", "", Deed.PHOTOGRAPHED, *(e.name, None, e.picture)) for e in hung)
    )
    told = printed_photographs(job, record)
    assert told[hung[0]] == small_picture(jpeg())
    assert isinstance(told[hung[0]], SmallPicture)
    assert told[hung[1]] == "not shown: its file is not there any more, or cannot be read"
    assert told[hung[2]] == "not shown: its file is another by now"

"""What this program wrote is known again by a mark, until one byte of it is changed."""

import io
import re
import tomllib
import zlib
from collections.abc import Callable
from pathlib import Path

import matplotlib as mpl
import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.image import imread
from pypdf import PdfReader

from loadplan.files.file_mark import is_ours, marked, unmarked
from loadplan.files.safe_write import Over, SafeWriter
from loadplan.report.drawing.animation import film
from loadplan.report.drawing.paper import Paper
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import Stroke


def drawn(file_format: str) -> bytes:
    """Return a picture as matplotlib writes it."""
    stream = io.BytesIO()
    figure = Figure(figsize=(1, 1))
    figure.add_axes((0, 0, 1, 1)).plot([0, 1], [0, 1])
    with mpl.rc_context({"svg.hashsalt": "x"}):
        figure.savefig(stream, format=file_format, metadata={"Date": None} if file_format == "svg" else {})
    return stream.getvalue()


def frames() -> bytes:
    """Return an animation as this program draws it."""
    stroke = Stroke("#1B2430", 2.0)

    def draw(paper: Paper) -> None:
        Pen(paper, Layer.PAGE, None).line([(0.0, 0.0), (96.0, 96.0)], stroke)

    return film((1, 1), 20, [(1, draw), (1, lambda _paper: None)])


KINDS: dict[str, Callable[[], bytes]] = {
    ".pdf": lambda: drawn("pdf"),
    ".png": lambda: drawn("png"),
    ".svg": lambda: drawn("svg"),
    ".gif": frames,
    ".toml": lambda: b'title = "a job"\n',
    ".txt": lambda: "Run sheet: Größe\n".encode(),
    ".md": lambda: b"# Run sheet\n",
    ".html": lambda: b"<!doctype html>\n<p>Run sheet</p>\n",
}


@pytest.mark.parametrize("ending", KINDS)
def test_a_file_is_known_again_until_one_byte_of_it_is_changed(ending: str) -> None:
    content = KINDS[ending]()
    known = marked(content, ending)
    assert is_ours(known, ending)
    assert not is_ours(content, ending)
    assert unmarked(known, ending) == content
    assert marked(known, ending) == known
    for place in range(0, len(known), max(1, len(known) // 97)):
        changed = known[:place] + bytes([known[place] ^ 1]) + known[place + 1 :]
        assert not is_ours(changed, ending), place
    assert not is_ours(known + b"\n", ending)


@pytest.mark.parametrize("ending", [".csv", ".json"])
def test_a_table_that_takes_no_comment_is_left_without_a_mark(ending: str) -> None:
    assert marked(b"a,b\n1,2\n", ending) == b"a,b\n1,2\n"
    assert not is_ours(b"a,b\n1,2\n", ending)


def test_readers_of_each_kind_pass_over_the_mark() -> None:
    """Pictures are read as matplotlib reads them, a PDF by pypdf; a PNG's chunk ends with its CRC-32."""
    for ending, content in ((".png", drawn("png")), (".gif", frames())):
        known = io.BytesIO(marked(content, ending))
        assert np.array_equal(imread(known, ending[1:]), imread(io.BytesIO(content), ending[1:]))
    known_png = marked(drawn("png"), ".png")
    chunk = known_png.index(b"tEXtComment\0loadplan-file-1 ")
    size = int.from_bytes(known_png[chunk - 4 : chunk], "big")
    assert zlib.crc32(known_png[chunk : chunk + 4 + size]).to_bytes(4, "big") == known_png[chunk + 4 + size :][:4]
    assert known_png[chunk + 8 + size + 4 :][:4] == b"IEND"
    assert re.search(rb"\x00!\xfe(.)loadplan-file-1 [0-9a-f]{32}\x00;$", marked(frames(), ".gif"))[1] == bytes([48])  # type: ignore[index]
    reader = PdfReader(io.BytesIO(marked(drawn("pdf"), ".pdf")), strict=True)
    assert len(reader.pages) == 1
    assert marked(drawn("pdf"), ".pdf").endswith(b"%%EOF\n")


def test_a_text_with_line_ends_of_windows_gets_a_mark_with_such_an_end() -> None:
    assert marked(b"a = 1\r\n", ".toml").count(b"\r\n") == marked(b"a = 1\r\n", ".toml").count(b"\n") == 2


@pytest.mark.parametrize("name", ["job.md", "job.html", "job.svg", "job.json", "job"])
def test_a_job_stays_a_job_whatever_its_name_ends_in(tmp_path: Path, name: str) -> None:
    content = b'schema = "loadplan-job-1"\nunits = "metric"\n'
    SafeWriter(tuple, Over.OWN).write(tmp_path / name, content)
    assert tomllib.loads((tmp_path / name).read_text("utf-8")) == tomllib.loads(content.decode())
    assert is_ours((tmp_path / name).read_bytes(), (tmp_path / name).suffix)

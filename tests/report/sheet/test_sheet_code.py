"""The code on a printed sheet, read back by a reader of codes that is not ours."""

from collections.abc import Callable, Sequence
from io import BytesIO

import pytest
import zxingcpp
from PIL import Image

from loadplan.assess import assess
from loadplan.files import read_job, shipped_folder
from loadplan.report.drawing.paper import Paper
from loadplan.report.drawing.picture_file import picture
from loadplan.report.drawing.save_figure import SHARP
from loadplan.report.sheet import floor_sheet
from loadplan.report.sheet.floor_sheet import PaperSize, sheet_pdf
from loadplan.report.sheet.sheet_number import sheet_code, sheet_number
from loadplan.units import System

Page = tuple[tuple[float, float], Callable[[Paper], None]]

COARSE = 100
"""Dots an inch of a poor copy; common practice, no source."""


@pytest.mark.slow
@pytest.mark.parametrize("paper", list(PaperSize))
def test_a_reader_of_codes_finds_the_sheets_number_on_every_page(
    paper: PaperSize, monkeypatch: pytest.MonkeyPatch
) -> None:
    pages: list[Page] = []

    def kept(given: Sequence[Page], *_title_and_listener: object) -> bytes:
        pages.extend(given)
        return b""

    told = assess(read_job(shipped_folder("demo") / "heights-open.toml"))
    monkeypatch.setattr(floor_sheet, "document", kept)
    sheet_pdf(told, paper, System.METRIC)
    assert pages
    for size, draw in pages:
        sharp = Image.open(BytesIO(picture(size, "png", draw)))
        smaller = round(sharp.width * COARSE / SHARP), round(sharp.height * COARSE / SHARP)
        copied = sharp.convert("L").resize(smaller, Image.Resampling.BILINEAR)
        for seen in (sharp.convert("RGB"), copied):
            found = zxingcpp.read_barcodes(seen)
            assert [each.text for each in found] == [sheet_code(sheet_number(told.job))]

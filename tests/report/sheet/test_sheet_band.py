"""The bands of the floor sheet: every page says what it is part of, and how that is judged."""

from pathlib import Path

import pytest

from loadplan.assess import assess
from loadplan.files import read_job
from loadplan.model.verdict import Verdict
from loadplan.report.drawing.pagination import Block, paged
from loadplan.report.sheet.floor_sheet import PaperSize, sheet_pdf
from loadplan.report.sheet.sheet_band import headed_again
from loadplan.report.sheet.step_pages import step_blocks
from loadplan.report.words.vocabulary import reader_of, shown_verdict
from loadplan.units import System
from tests.bench.bench_sizes import chain
from tests.reference.random_jobs import write_job
from tests.report.builders import assessment
from tests.report.sheet.test_floor_sheet import read, squeezed


@pytest.mark.slow
def test_a_page_that_goes_over_says_on_the_next_one_what_it_is_part_of(tmp_path: Path) -> None:
    many = assess(read_job(write_job(chain(2, 30, 1), tmp_path)))
    pages = read(sheet_pdf(many, PaperSize.A4, System.METRIC))
    verdict = squeezed(shown_verdict(many.verdict, many.basis))
    assert pages[1].startswith(f"{verdict}:settingthestands,continued")
    assert "continued" not in pages[0]


def test_every_page_but_the_first_begins_with_the_narrow_band() -> None:
    band, *rows = (Block(high, lambda _pen, _box: None) for high in (60, *[100] * 5))
    pages = paged(headed_again([band, *rows], "HOLDS: step 1 of 2, continued", Verdict.HOLDS, 500), 300)
    assert [len(page) for page in pages] == [3, 4, 3]
    assert pages[0][0] is band
    assert pages[1][0].high == pages[2][0].high < band.high


def test_a_steps_page_that_goes_over_begins_with_the_narrow_band() -> None:
    told, page = assessment(), PaperSize.A4.paper
    blocks = step_blocks(told, list(told.stages[:1]), page, reader_of(told.job, System.METRIC))
    first, second, *_ = paged(blocks, max(block.high for block in blocks) + 40)
    assert first[0] is blocks[0]
    assert second[0].high < first[0].high
    assert second[0] is blocks[1].again[0]

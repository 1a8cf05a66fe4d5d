"""The register on paper: a bar a job and a piece, all that is booked twice, numbered through."""

import re
from dataclasses import replace
from datetime import date
from io import BytesIO

import pytest
from pypdf import PdfReader

from loadplan.files import shipped_folder
from loadplan.files.job_reader import read_shop
from loadplan.model.verdict import Verdict
from loadplan.planning.register.bookings import Register
from loadplan.planning.register.parallel_reading import gather
from loadplan.report.drawing.pagination import Block, filled
from loadplan.report.drawing.pen import Pen
from loadplan.report.drawing.view import Box
from loadplan.report.sheet import register_pdf as sheet
from loadplan.report.sheet.register_pdf import register_pdf
from loadplan.units import System

JOBS = ("front-unit", "drive-unit-on-oil", "rocking-on-two-stands")


@pytest.fixture(scope="module")
def found() -> Register:
    demo = shipped_folder("demo")
    return gather(read_shop(demo / "shop.toml")[0], [demo / f"{name}.toml" for name in JOBS], date(2026, 11, 20))


def test_every_job_its_pieces_and_what_is_booked_twice_are_on_the_pages(found: Register) -> None:
    pdf = PdfReader(BytesIO(register_pdf(found, System.METRIC)))
    pages = [re.sub(r"\s+", "", page.extract_text()) for page in pdf.pages]
    whole = "".join(pages)
    assert "Bookedtwice" in pages[0]
    for number, page in enumerate(pages, start=1):
        assert f"{number}of{len(pages)}" in page
    for entry in found.entries:
        assert whole.count(re.sub(r"\s+", "", entry.title)) >= 2, "in the bay's days, and over its pieces"
        for row in entry.rows:
            assert row.tag in whole


@pytest.mark.slow
def test_under_every_job_is_the_plan_of_its_worst_step(found: Register) -> None:
    drawn = "".join(page.extract_text() for page in PdfReader(BytesIO(register_pdf(found, System.METRIC))).pages)
    bare = replace(found, entries=tuple(replace(each, job=None) for each in found.entries))
    plain = "".join(page.extract_text() for page in PdfReader(BytesIO(register_pdf(bare, System.METRIC))).pages)
    assert drawn.count("front") > plain.count("front") + len(JOBS) - 1
    assert all(f"Job {number}, step " in drawn for number in range(1, len(JOBS) + 1))


@pytest.mark.slow
def test_a_jobs_plan_is_on_the_page_of_its_table(found: Register) -> None:
    pages = [
        re.sub(r"\s+", "", page.extract_text()) for page in PdfReader(BytesIO(register_pdf(found, System.METRIC))).pages
    ]
    for number, entry in enumerate(found.entries, start=1):
        (plan,) = (page for page in pages if f"Job{number},step" in page)
        assert re.sub(r"\s+", "", f"{number}{entry.title}") in plan
        assert all(row.tag in plan for row in entry.rows)


def test_a_shop_of_hundreds_of_jobs_gets_plans_of_the_first_only(
    found: Register, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sheet, "MOST_PLANS", 1)
    drawn = "".join(page.extract_text() for page in PdfReader(BytesIO(register_pdf(found, System.METRIC))).pages)
    assert drawn.count(", step ") == 1


def test_the_days_of_a_bay_say_which_job_stops_and_which_cautions(found: Register) -> None:
    """Printed in grey, the dark red of a stop is the dark blue of what holds."""
    first = PdfReader(BytesIO(register_pdf(found, System.METRIC))).pages[0].extract_text()
    for number, entry in enumerate(found.entries, start=1):
        word = f"{entry.verdict.name}: " if entry.verdict in {Verdict.CAUTION, Verdict.STOP} else ""
        assert re.sub(r"\s+", "", f"{number} {word}{entry.title}") in re.sub(r"\s+", "", first)
    assert {entry.verdict for entry in found.entries} >= {Verdict.CAUTION, Verdict.STOP}


def test_what_can_grow_on_a_page_fills_it() -> None:
    """Half a page of white under a picture that nobody reads from afar: alike, and each no more than it may."""
    fixed, small, large = (Block(100.0, lambda _pen, _box: None, grows=grows) for grows in (0.0, 50.0, 400.0))
    assert [each.high for each in filled([fixed, small, large], 1000.0)] == pytest.approx([100.0, 150.0, 450.0])
    assert [each.high for each in filled([fixed, small, large], 340.0)] == pytest.approx([100.0, 120.0, 120.0])
    assert [each.high for each in filled([fixed, fixed], 1000.0)] == pytest.approx([100.0, 100.0])
    assert [each.high for each in filled([large, large], 150.0)] == pytest.approx([100.0, 100.0])


@pytest.mark.slow
def test_no_page_with_a_plan_is_half_empty(found: Register, monkeypatch: pytest.MonkeyPatch) -> None:
    heights: list[float] = []
    really = sheet.draw_blocks

    def hear(pen: Pen, box: Box, blocks: list[Block]) -> None:
        heights.append(sum(each.high for each in blocks) / box.height)
        really(pen, box, blocks)

    monkeypatch.setattr(sheet, "draw_blocks", hear)
    register_pdf(found, System.METRIC)
    assert min(heights[1:]) > 0.8

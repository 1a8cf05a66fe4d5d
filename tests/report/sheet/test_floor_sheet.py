"""The floor sheet: what it says, as text that a reader of PDF files finds; how it breaks over pages."""

import re
from dataclasses import fields, replace
from io import BytesIO

import pytest
from pypdf import PdfReader

from loadplan.assess import assess
from loadplan.files import read_job, shipped_folder
from loadplan.limits import Limits, limit_text
from loadplan.model.vehicle import Basis
from loadplan.model.verdict import Assessment, Verdict
from loadplan.report.drawing.pagination import Block, folded, paged, points, tables
from loadplan.report.sheet.floor_sheet import PaperSize, SheetExtras, SheetProof, sheet_pdf
from loadplan.report.sheet.last_page import MEASURES, _limits
from loadplan.report.sheet.sheet_number import sheet_code, sheet_number
from loadplan.report.sheet.step_groups import step_groups
from loadplan.report.sheet.tape_plan import check_diagonals, plan_words
from loadplan.report.sheet.tick_boxes import tick_blocks
from loadplan.report.words.cautions import Boxes, cautions
from loadplan.report.words.number_format import write_tape
from loadplan.report.words.stage_tables import carried
from loadplan.report.words.tape_words import setting
from loadplan.report.words.vocabulary import FIRST_LIFT, first_lift, reader_of, shown_verdict
from loadplan.units import System
from tests.report.builders import assessment
from tests.report.plans import job


@pytest.fixture(scope="module")
def told() -> Assessment:
    return assess(read_job(shipped_folder("demo") / "front-unit.toml"))


@pytest.fixture(scope="module")
def pages(told: Assessment) -> list[str]:
    return read(sheet_pdf(told, PaperSize.A4, System.METRIC))


def read(pdf: bytes) -> list[str]:
    return [squeezed(page.extract_text()) for page in PdfReader(BytesIO(pdf), strict=True).pages]


def squeezed(text: str) -> str:
    """Return a text without blanks and line ends: where lines break is not what is asked."""
    return re.sub(r"\s+", "", text)


def test_title_steps_loads_and_cautions_are_there_as_text(told: Assessment, pages: list[str]) -> None:
    whole, reader = "".join(pages), reader_of(told.job, System.METRIC)
    assert squeezed(told.job.title) in pages[0]
    for stage in told.stages:
        assert squeezed(f"Step {stage.state.index + 1} of {len(told.stages)}: {stage.state.name}") in whole
    for stage in (page[0] for page in step_groups(told, reader)):
        for answer in stage.statics.supports:
            assert squeezed(f"{answer.name} {carried(answer.load, reader)}") in whole
    for text in cautions(told.basis, System.METRIC):
        assert squeezed(text) in whole


def test_a_sheet_in_us_units_has_no_metric_length_nor_mass_on_it() -> None:
    told = assess(read_job(shipped_folder("demo") / "us-units.toml"))
    pdf = PdfReader(BytesIO(sheet_pdf(told, PaperSize.LETTER, System.US)), strict=True)
    whole = "\n".join(page.extract_text() for page in pdf.pages)
    assert squeezed(first_lift(System.US)) in squeezed(whole)
    assert re.findall(r"\d (?:mm|kg|N)\b", whole) == []


def test_what_is_not_in_balance_has_no_loads_and_says_so() -> None:
    rocking = assess(read_job(shipped_folder("demo") / "rocking-on-two-stands.toml"))
    whole = "".join(read(sheet_pdf(rocking, PaperSize.A4, System.METRIC)))
    assert squeezed("No loads for A, B, C, D, E and F: what they bear is not in balance.") in whole


def test_the_first_page_has_verdict_basis_number_and_tapes(told: Assessment, pages: list[str]) -> None:
    first = pages[0]
    for text in (
        "FOR PRACTICE: HOLDS ON PAPER",
        "Weights: example",
        "The first 50 mm of lift is the test.",
        "Worst case 110 mm to tipping: powertrain, step 4",
        "About A and C under the cradle and E under the powertrain, to the back left",
        "(182 mm with the weights as given).",
        f"Sheet {sheet_number(told.job)}: void if the plan changes.",
        "Seen from above, front up.",
        "Dashed: check diagonals.",
        "A to F 1345 mm",
        "320 mm front",
        "Lower vehicle past first touch: at least 7 mm, at most 16 mm. Unbolt. Then vehicle 50 mm up: stop, look.",
        "pin stand 5 t, G1",
        "440 mm",
    ):
        assert squeezed(text) in first
    assert all(squeezed(each.say) in first for each in told.job.supports)


def first_texts(name: str, units: System) -> tuple[str, list[str]]:
    """Return the first page of a demo's sheet, squeezed, and its lines as they were written."""
    told = assess(read_job(shipped_folder("demo") / f"{name}.toml"))
    page = PdfReader(BytesIO(sheet_pdf(told, PaperSize.A4, units)), strict=True).pages[0].extract_text()
    return squeezed(page), page.splitlines()


def test_under_a_stop_the_first_page_gives_no_order_to_lower(pages: list[str]) -> None:
    """A stranger with the page read how far to lower, in large letters, as what to do."""
    stop = squeezed("Stop: set nothing down by this plan. Change the plan first.")
    rocking, _ = first_texts("rocking-on-two-stands", System.METRIC)
    assert rocking.index(stop) < rocking.index(
        squeezed("Planned, and not to be done: lower vehicle past first touch: at least 10 mm")
    )
    assert squeezed("Lower vehicle") not in rocking
    oil, _ = first_texts("drive-unit-on-oil", System.METRIC)
    assert oil.index(squeezed("First what the caution asks.")) < oil.index(squeezed("Lower vehicle"))
    assert stop not in pages[0]


def test_each_letter_stands_on_its_saddle_and_rating_axle_and_heights_are_told() -> None:
    """A stranger took two letters for those of the stands beside, and half the ratings for wrong sums."""
    first, lines = first_texts("us-units", System.US)
    assert {"A B", "C D"} <= {*lines}, "the letters on the saddles, row by row"
    assert squeezed("Rated by the pair, half counts: A, B, C, D.") in first
    assert squeezed("front axle line: off this plan, further ahead") in first
    assert squeezed("heights from floor to saddle, shim on top.") in first
    metric, _ = first_texts("front-unit", System.METRIC)
    assert squeezed("off this plan") not in metric
    assert squeezed("Rated by the pair, half counts: A, B, C, D.") in metric


@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "units", "danger"),
    [
        ("rocking-on-two-stands", System.METRIC, "The powertrain is free to rock: only E and F hold it"),
        ("drive-unit-on-oil", System.METRIC, "Only oil holds D: without it the cradle and drive unit go over"),
        ("us-units", System.US, "Worst case 9 3/8 in to tipping: rear unit, step 1"),
    ],
)
def test_with_the_first_page_alone_the_stands_can_be_set_and_the_worst_danger_named(
    name: str, units: System, danger: str
) -> None:
    told = assess(read_job(shipped_folder("demo") / f"{name}.toml"))
    first = read(sheet_pdf(told, PaperSize.A4, units))[0]
    assert squeezed(danger) in first
    assert squeezed(shown_verdict(told.verdict, told.basis)) in first
    lifted = told.job.lift.body if told.job.lift else ""
    for stand in told.job.supports:
        ahead, aside = stand.at[:2]
        words = [stand.name, stand.say, stand.tag or stand.piece or stand.equipment.name]
        words += [f"{write_tape(abs(ahead), units)} {'front' if ahead > 0 else 'back'}"]
        if stand.body != lifted:
            words += [f"{write_tape(abs(aside), units)} {'left' if aside > 0 else 'right'}"]
        words += [setting(stand.height, units)] if stand.height is not None else ["to touch"]
        words += [setting(stand.shim.height, units)] if stand.shim else []
        for text in words:
            assert squeezed(text) in first, (stand.name, text)
    window = [each.statics.set_down for each in told.stages if each.statics.set_down is not None]
    is_told = any(each.start is not None for each in window)
    assert (squeezed("Lower vehicle") in first) == (is_told and told.verdict is not Verdict.STOP)
    assert (squeezed("lower vehicle past first touch") in first.lower()) == is_told


def test_the_nine_step_job_takes_no_more_pages_of_letter_paper(told: Assessment) -> None:
    assert len(read(sheet_pdf(told, PaperSize.LETTER, System.METRIC))) == 9


JOBS = sorted(path.stem for path in shipped_folder("demo").glob("*.toml") if "[[stage" in path.read_text("utf-8"))


@pytest.mark.slow
@pytest.mark.parametrize("name", JOBS)
def test_no_demo_takes_more_than_nine_pages_and_each_foot_has_the_whole_title(name: str) -> None:
    told = assess(read_job(shipped_folder("demo") / f"{name}.toml"))
    for paper in (PaperSize.A4, PaperSize.LETTER):
        sheet = read(sheet_pdf(told, paper, System.METRIC))
        assert len(sheet) <= 9
        mark = f"Sheet {sheet_number(told.job)}, void if the plan changes."
        for page in sheet:
            assert squeezed(f"{mark} {told.job.title}") in page


def test_a_set_of_four_boxes_stands_in_one_row_where_that_is_less_high() -> None:
    """Three abreast leave the fourth alone on a row of its own, which takes the room of the findings below."""
    reader = reader_of(job(), System.METRIC)
    rows = tick_blocks([Boxes("50 mm up", ("stop", "one walks round", "every hose", "look again"))], 744.0, reader)
    assert len(rows) == 2, "one row, and the room under it"
    long = [Boxes("Before", ("words that take three lines of a narrow column " * 2,) * 4)]
    assert len(tick_blocks(long, 744.0, reader)) > 2


def test_the_first_page_says_which_stand_is_in_place_in_which_steps(told: Assessment) -> None:
    """Tail stand and tail prop share a place: a stranger could not tell when which of them stands there."""
    first = first_texts("front-unit", System.METRIC)[0]
    said = "F in steps 1 to 3 and 6 to 8; tail stand in steps 2 and 7 to 8; tail prop in steps 3 to 6."
    assert squeezed(f"In place: A, B, C, D and E in steps 1 to 8; {said}") in first
    state = told.stages[0].state
    always = replace(told, stages=(replace(told.stages[0], state=replace(state, supports=told.job.supports)),))
    words = " ".join(plan_words(always, reader_of(told.job, System.METRIC)))
    assert "F, tail stand and tail prop in every step." in words


def test_limits_in_inches_are_told_exactly() -> None:
    """One of 5 mm told in eighths is 1/4 in, 6.35 mm: more than it is."""
    texts = _limits(Limits(), reader_of(job(), System.US))
    assert "bolt holes out: 0.20 in (common practice, no source)" in texts
    assert "a saddle off that was brought up to touch: 0.04 in (common practice, no source)" in texts
    assert not any("1/4 in" in each or "under" in each for each in texts)


def test_the_nine_step_job_takes_nine_pages_numbered_through(pages: list[str]) -> None:
    """What one reads in front of a unit is short; the parts of a page follow each other as the contents ask."""
    assert len(pages) == 9
    for number, page in enumerate(pages, start=1):
        assert f"{number}of9" in page
    assert "Cautions" in pages[1]
    assert "Notchecked:" in pages[1]
    assert "maker'sprocedureread" in pages[1]
    assert "Limits,withtheirsources" in pages[8]


def test_steps_alike_share_a_page_and_each_says_what_it_changes(told: Assessment, pages: list[str]) -> None:
    shared = [
        [stage.state.index + 1 for stage in page] for page in step_groups(told, reader_of(told.job, System.METRIC))
    ]
    assert shared == [[1], [2, 3], [4, 5], [6, 7], [8], [9]]
    assert "Fgoes" in pages[4]
    assert "gearboxwithoiloff" in pages[4]
    assert squeezed("set 400 mm + 12 mm") in pages[5]
    assert "tailpropgoes" in pages[5]
    assert "cradleboltstight" in pages[6]


@pytest.mark.slow
def test_steps_that_share_a_page_say_once_what_is_wrong_and_each_what_to_do() -> None:
    oil = read(
        sheet_pdf(assess(read_job(shipped_folder("demo") / "drive-unit-on-oil.toml")), PaperSize.A4, System.METRIC)
    )
    assert len(oil) == 9
    assert oil[3].count(squeezed("Only oil holds D")) == 1
    assert squeezed("Step 2: Before unbolting: put a stand that locks in place of D, or beside it.") in oil[3]
    assert squeezed("Step 3: Do not touch D. Take the weight back first.") in oil[3]


def test_no_listed_order_is_asked_of_parts_that_come_off_in_any(pages: list[str]) -> None:
    assert squeezed("Parts off, in any order") in pages[4]
    assert squeezed("Parts on: front cover with oil pump") in pages[5]
    assert squeezed("in the listed order") not in "".join(pages)


def test_the_code_on_a_sheet_is_its_number(told: Assessment) -> None:
    number = sheet_number(told.job)
    assert sheet_code(number) == f"LOADPLAN {number.upper()}"


def test_every_steps_page_has_its_verdict_the_weights_and_what_it_rests_on(pages: list[str]) -> None:
    for page in pages[2:-1]:
        assert squeezed("FOR PRACTICE: HOLDS ON PAPER") in page
        assert squeezed(f"Weights: example (invented, for practice). {FIRST_LIFT}") in page


@pytest.mark.slow
def test_nobody_signs_for_invented_weights_and_somebody_does_for_others(told: Assessment, pages: list[str]) -> None:
    assert "Checkedby" not in "".join(pages)
    for basis in (Basis.WEIGHED, Basis.DATA_SHEET):
        weighed = read(sheet_pdf(replace(told, basis=basis, verdict=Verdict.CAUTION), PaperSize.A3, System.METRIC))
        assert "Checkedby" in "".join(weighed)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("basis", "verdict", "why"),
    [
        (Basis.WEIGHED, Verdict.STOP, "TheverdictisSTOP:nobodysigns."),
        (Basis.GUESS, Verdict.CAUTION, "Theweightsareaguess:nobodysigns"),
    ],
)
def test_nobody_signs_a_stop_or_a_guess(told: Assessment, basis: Basis, verdict: Verdict, why: str) -> None:
    whole = "".join(read(sheet_pdf(replace(told, basis=basis, verdict=verdict), PaperSize.A4, System.METRIC)))
    assert "Checkedby" not in whole
    assert why in whole


@pytest.mark.slow
def test_the_last_page_has_limits_with_sources_and_the_proof_comes_only_when_asked(
    told: Assessment, pages: list[str]
) -> None:
    assert "29CFR1926.751,byanalogy" in pages[-1]
    assert "Proofnumbers" not in "".join(pages)
    asked = "".join(read(sheet_pdf(told, PaperSize.A4, System.METRIC, SheetExtras(SheetProof.PRINTED))))
    assert "Proofnumbers" in asked
    assert "weightofpowertrain" in asked


@pytest.mark.slow
def test_the_same_job_gives_the_same_bytes_without_a_date() -> None:
    first, second = (sheet_pdf(assessment(), PaperSize.LETTER, System.US) for _ in range(2))
    assert first == second
    assert b"CreationDate" not in first
    assert b"/FontFile2" in first


@pytest.mark.slow
@pytest.mark.parametrize(("size", "wide", "high"), [("A4", 595, 842), ("A3", 842, 1191), ("letter", 612, 792)])
def test_every_paper_has_its_size_and_all_that_is_written_is_on_it(size: str, wide: float, high: float) -> None:
    pdf = PdfReader(BytesIO(sheet_pdf(assessment(), PaperSize(size), System.METRIC)))
    assert float(pdf.pages[0].mediabox.width) == pytest.approx(wide, abs=1)
    assert float(pdf.pages[0].mediabox.height) == pytest.approx(high, abs=1)
    assert pdf.metadata
    assert pdf.metadata.title == assessment().job.title


@pytest.mark.slow
def test_odd_names_go_through_whole() -> None:
    odd = replace(
        assessment(),
        job=replace(assessment().job, title="$x$ " + "Donaudampfschifffahrt" * 9 + " שלום"),
    )
    whole = "".join(read(sheet_pdf(odd, PaperSize.A4, System.METRIC)))
    assert "$x$" in whole
    assert "Donaudampfschifffahrt" * 9 in whole


def test_the_number_changes_with_what_the_plan_rests_on_and_with_nothing_else() -> None:
    plan = job()
    assert len(sheet_number(plan)) == 8
    assert sheet_number(replace(plan, source="elsewhere.toml")) == sheet_number(plan)
    assert sheet_number(replace(plan, title="Another")) != sheet_number(plan)
    stands = (replace(plan.supports[0], height=0.351), *plan.supports[1:])
    assert sheet_number(replace(plan, supports=stands)) != sheet_number(plan)


def test_diagonals_are_the_longest_two_with_no_stand_in_common() -> None:
    places = ((0.0, 0.0, 0.2), (1.0, 0.0, 0.2), (0.9, 0.1, 0.2), (0.1, 0.1, 0.2))
    stands = tuple(replace(each, at=at) for each, at in zip(job().supports, places, strict=False))
    first, second = check_diagonals(stands)
    assert (first.first.name, first.second.name, first.length) == ("A", "B", 1.0)
    assert (second.first.name, second.second.name, second.length) == ("C", "D", pytest.approx(0.8))
    assert check_diagonals(job().supports[:1]) == ()


def test_a_word_wider_than_its_line_is_broken_and_nothing_is_lost() -> None:
    lines = folded("short " + "x" * 200 + " end", points(16), 300)
    assert "".join(lines).replace(" ", "") == "short" + "x" * 200 + "end"
    assert len(lines) > 5


def test_blocks_that_stay_together_go_to_the_next_page_together() -> None:
    def block(high: float, *, keeps: bool = False) -> Block:
        return Block(high, lambda _pen, _box: None, keeps=keeps)

    head = block(5)
    row = replace(block(30), again=(head,))
    assert [len(page) for page in paged([block(80), block(10, keeps=True), block(20)], 100)] == [1, 2]
    assert [page[0] for page in paged([head, row, row, row, row], 100)] == [head, head]


def test_every_limit_has_its_words_on_the_sheet() -> None:
    """Each limit's kind has a measure; its words, worded apart, come from where its default stands."""
    texts = [limit_text(each.name) for each in fields(Limits)]
    assert {text.kind for text in texts} == {None, *MEASURES}
    assert len({text.words for text in texts}) == len(texts)


def test_a_table_of_the_proof_stays_on_its_page_with_its_step() -> None:
    rows = [f"row {number}" for number in range(4)]
    blocks = tables(["Step 1", "", *rows, "", "Step 2", "", *rows], points(10))
    high = blocks[0].high
    pages = paged(blocks, 10.5 * high)
    assert [len(page) for page in pages] == [6, 7]


def test_a_number_stays_with_its_unit() -> None:
    lines = folded("Lower at least 7 mm, at most 16 mm. Then 50 mm up: stop.", points(18, bold=True), 180)
    assert len(lines) > 3
    assert not any(re.search(r"\d$", line) for line in lines)


@pytest.mark.slow
def test_a_smaller_type_keeps_the_table_on_the_first_page() -> None:
    crowded = assess(read_job(shipped_folder("demo") / "shell-nose-off-prop.toml"))
    first = read(sheet_pdf(crowded, PaperSize.LETTER, System.METRIC))[0]
    assert all(squeezed(each.equipment.name) in first for each in crowded.job.supports)


@pytest.mark.slow
def test_long_names_are_numbers_on_the_plan_which_the_table_explains(told: Assessment) -> None:
    named = {each.name: f"the stand called {each.name}" for each in told.job.supports}
    supports = tuple(replace(each, name=named[each.name]) for each in told.job.supports)
    pages = read(sheet_pdf(replace(told, job=replace(told.job, supports=supports)), PaperSize.A4, System.METRIC))
    assert "1thestandcalledA" in pages[0]
    assert "1to61345mm" in pages[0]


@pytest.mark.slow
def test_stands_at_one_place_share_its_words_and_fill_the_first_page() -> None:
    propped = assess(read_job(shipped_folder("demo") / "shell-nose-off-prop.toml"))
    first = read(sheet_pdf(propped, PaperSize.LETTER, System.METRIC))[0]
    assert squeezed("tail stand and tail prop: 3960 mm back, on the centre line.") in first

"""What the page shows is what `check --json` says, to the digit shown; markup in names stays words."""

import json
import re
from pathlib import Path

import pytest

import loadplan
from loadplan import board
from loadplan.assess import assess
from loadplan.model.verdict import Measure, Quantity
from loadplan.report.pictures.render import plan_picture
from loadplan.report.sheet.floor_sheet import PaperSize, sheet_pdf
from loadplan.report.words.number_format import write
from loadplan.units import System
from tests.board.desk import DEMO, Page, opened, page_on
from tests.board.test_changes import ONE_FILE
from tests.demo.jobs import answer, names


@pytest.mark.parametrize("name", names())
def test_the_page_says_what_check_says(name: str, tmp_path: Path) -> None:
    page = page_on(tmp_path, name)
    told = answer(name)
    units = System.US if page.seen["units"] == "us" else System.METRIC
    assert len(page.seen["steps"]) == len(told["stages"])
    for step, stage in enumerate(told["stages"]):
        seen = page.show(step)
        assert seen["verdict"]["key"] == stage["verdict"]
        loads = {each["name"]: each["load_n"] for each in stage["supports"]}
        shares = {each["name"]: each["share"] for each in stage["supports"]}
        for stand in seen["stands"]:
            load = loads.get(stand["name"])
            if load is None or load["expected"] is None:
                assert stand["load"] == ""
                continue
            words = write(Quantity(load["expected"], Measure.LOAD), units)
            assert stand["load"] == ("carries nothing" if words.startswith("0 ") else words)
            assert stand["most"] == write(Quantity(load["high"], Measure.LOAD), units)
            assert stand["bar"] == pytest.approx(shares[stand["name"]])
        worst = [body["worst_margin_mm"] for body in stage["bodies"] if body["worst_margin_mm"] is not None]
        if worst and all(body["balanced"] for body in stage["bodies"]):
            assert seen["margin"]["worst"]["value"] * 1000 == pytest.approx(min(worst), rel=1e-12)


def test_what_the_stands_carry_together_is_told_as_given(tmp_path: Path) -> None:
    """It stands over loads of the worst case, of which it is not the sum."""
    assert re.fullmatch(r"\d+ kg on 6 stands, as given", page_on(tmp_path, "front-unit").show(1)["mass"])


def test_away_from_the_plan_the_page_says_where_the_line_is_drawn(tmp_path: Path) -> None:
    seen = page_on(tmp_path, "rocking-on-two-stands").show(1)
    assert (seen["margin"]["name"], seen["margin"]["about"]) == ("powertrain", "about the thick line in the plan")


def test_every_word_is_escaped(tmp_path: Path) -> None:
    text = (DEMO / "front-unit.toml").read_text("utf-8")
    nasty = '<img src=x onerror=alert(1)>&\\"$x$ \u05e9\u05dc\u05d5\u05dd</script><!--'
    path = page_on(tmp_path).path
    path.write_text(text.replace("Rear crankshaft seal and oil pump: front unit out from below", nasty), "utf-8")
    page = opened(tmp_path, path)
    html = page.client.get("/plan/0").text
    assert "<img" not in html
    assert "onerror=alert(1)&gt;" in html
    data = re.search(r'<script type="application/json" id="screen">(.*?)</script>', html, re.DOTALL)
    assert data is not None
    assert json.loads(data[1])["title"].startswith("<img src=x onerror=alert(1)>&")
    assert "\u05e9\u05dc\u05d5\u05dd" in html


def test_the_drawing_names_every_stand_in_place(page: Page) -> None:
    seen = page.show(1)
    for stand in seen["stands"]:
        shown = f'id="stand-{stand["id"]}"' in seen["svg"]
        assert shown == (stand["here"] and stand["name"] not in {"tail stand", "tail prop"})
    assert "<style" not in seen["svg"]
    assert seen["svg"].startswith("<svg ")


def test_places_on_the_drawing_are_places_on_the_floor(page: Page) -> None:
    seen = page.show(1, wide=700, high=500)
    there, stand = seen["map"], page.stand("A")
    told = page.post("glance", stand=stand["id"], x=stand["x"], y=stand["y"], snap=0.0, step=1, wide=700, high=500)
    at = told.json()["at"]
    assert (there["v0"] - at["v"]) / there["k"] == pytest.approx(stand["x"])
    assert (there["u0"] - at["u"]) / there["k"] == pytest.approx(stand["y"])
    assert 'viewBox="0 0 525 375"' in seen["svg"]


def test_a_stand_taken_away_is_a_what_if(page: Page) -> None:
    before = page.show(2)
    stand = page.stand("E")
    seen = page.show(2, without=stand["id"])
    assert seen["what_if"] == "What if: E is taken away. Not saved."
    assert not page.stand("E")["here"]
    assert seen["revision"] == before["revision"]
    assert len(seen["steps"]) == len(before["steps"])
    lost = {each["support"]: each["balanced"] for each in answer("front-unit")["stages"][2]["lost"]}
    assert (seen["verdict"]["key"] == "stop") is not lost["E"]


@pytest.mark.slow
def test_the_sheet_is_the_one_that_sheet_prints(page: Page) -> None:
    pdf = page.client.get("/plan/0/sheet.pdf")
    assert pdf.headers["content-type"] == "application/pdf"
    assert pdf.content == sheet_pdf(assess(loadplan.read_job(page.path)), PaperSize.A4, System.METRIC)


def test_the_drawing_is_the_one_that_draw_draws(page: Page) -> None:
    svg = page.client.get("/plan/0/plan.svg?step=2")
    assert svg.content == plan_picture(assess(loadplan.read_job(page.path)), 2, "svg", System.METRIC)
    assert 'filename="front-unit-step-3.svg"' in svg.headers["content-disposition"]


def test_a_stand_that_may_roll_away_is_marked_in_its_row(tmp_path: Path) -> None:
    path = tmp_path / "one.toml"
    path.write_text(ONE_FILE.replace("rating = 1000", "rating = 1000\nwheels = true"), "utf-8")
    page = opened(tmp_path, path)
    assert {each["verdict"] for each in page.seen["stands"]} == {"caution"}
    assert {each["check"] for each in page.seen["findings"] if each["verdict"] == "caution"} == {"basis", "wheels"}


SCRIPTS = sorted(Path(board.__file__).with_name("static").glob("*.js"))


def test_the_page_gets_figures_apart_from_their_words(tmp_path: Path) -> None:
    page = page_on(tmp_path)
    for step in range(len(page.seen["steps"])):
        seen = page.show(step)
        for told in (seen["margin"][key] for key in ("given", "worst")):
            assert told["words"] == " ".join(each for each in (told["figure"], told["rest"]) if each)
            assert not re.search(r"\d", told["rest"])
            assert re.search(r"\d", told["figure"] or "0")
        for stand in seen["stands"]:
            assert stand["load_is_nothing"] == (stand["load"] == "carries nothing")
            assert stand["most_is_nothing"] == stand["most"].startswith("0 ")


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.name)
def test_the_page_parses_no_sentence(path: Path) -> None:
    assert not parsing(path.read_text("utf-8"))


@pytest.mark.parametrize(
    "code",
    [
        'const bare = (load) => load.replace(/^carries /, "");',
        'const spoken = (load) => (/^0 /.test(load) ? "carries nothing" : load);',
        "const parts = /^(.*?) to tipping(.*)$/.exec(words);",
        'loadsOf(stand, worst).big.replace("carries nothing", "nothing")',
        "const figure = margin.words.split(' ')[0];",
    ],
)
def test_a_parsed_sentence_would_be_seen(code: str) -> None:
    assert parsing(code)


def parsing(code: str) -> list[str]:
    """Return where a script takes apart what it was told; what a hand types is not among it."""
    told = r"(?:load|most|words|big|rest|figure|share|reason|says)"
    apart = r"(?:replace|match|split|startsWith|endsWith|slice|includes)"
    return re.findall(rf"\b{told}\.{apart}\(|\.(?:test|exec)\((?:\w+\.)*{told}\)", code)


def test_beside_a_stand_whose_load_is_not_known_no_empty_box_covers_the_drawing(tmp_path: Path) -> None:
    page = page_on(tmp_path, "rocking-on-two-stands")

    def widths(step: int) -> list[float]:
        tags = [found.split("</g>")[0] for found in page.show(step)["svg"].split('<g id="tag-')[1:]]
        # Path data (SVG 1.1, 8.3): each point of the outline stands behind an M or an L.
        outlines = [[float(x) for x in re.findall(r"[ML] ([\d.]+) ", tag.split("/>")[0])] for tag in tags]
        return [max(across) - min(across) for across in outlines]

    known, unknown = widths(0), widths(1)
    assert not any(page.stand(name)["load"] for name in "ABCDEF")
    assert len(known) >= 6
    assert all(box < 0.75 * other for other, box in zip(known[:6], unknown[:6], strict=True))

"""Scripts, styles and fonts of the pages: by name, and nothing else of the machine."""

import re
from pathlib import Path

import pytest

from loadplan import board
from tests.board.desk import page_on

FOLDER = Path(board.__file__).with_name("static")
PAGES = FOLDER.with_name("pages")
IMPORTED = re.compile(r'from "\./(\w+)\.js"')


def imported_by(name: str, found: set[str]) -> set[str]:
    """Every module that a module imports, and what these import."""
    for each in set(IMPORTED.findall((FOLDER / f"{name}.js").read_text("utf-8"))) - found:
        found |= {each}
        imported_by(each, found)
    return found


def test_the_plan_names_all_the_modules_that_its_script_comes_to_ask_for(tmp_path: Path) -> None:
    """A browser hears of a module's imports once that is read; named on the page, all are fetched at once."""
    told = page_on(tmp_path).client.get("/plan/0").text
    named = re.findall(r'<link rel="modulepreload" href="/static/(\w+)\.js">', told)
    assert set(named) == imported_by("board", set())
    assert len(named) == len(set(named)) > 20


def test_every_file_of_the_folder_is_answered_as_what_it_is(tmp_path: Path) -> None:
    client = page_on(tmp_path).client
    for each in FOLDER.iterdir():
        told = client.get(f"/static/{each.name}")
        kind = {".js": "text/javascript", ".css": "text/css"}[each.suffix]
        assert (told.status_code, told.headers["content-type"]) == (200, f"{kind}; charset=utf-8")
        assert told.content == each.read_bytes()


@pytest.mark.parametrize(
    "name", ["nobody.js", "..%2froutes.py", "%2e%2e", "", "board.html", "fonts", "fonts/other.ttf"]
)
def test_no_other_name_leads_anywhere(tmp_path: Path, name: str) -> None:
    assert page_on(tmp_path).client.get(f"/static/{name}").status_code == 404


def test_the_fonts_are_those_of_the_package(tmp_path: Path) -> None:
    client = page_on(tmp_path).client
    told = [client.get(f"/static/fonts/{name}.ttf") for name in ("regular", "bold")]
    assert [each.headers["content-type"] for each in told] == ["font/ttf"] * 2
    assert told[0].content[:4] == told[1].content[:4] == b"\x00\x01\x00\x00"
    assert told[0].content != told[1].content

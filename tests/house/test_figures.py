"""The pictures of README and manual are what the program draws now, whatever the drawing library."""

import re
import runpy
from pathlib import Path
from xml.etree import ElementTree

import pytest

from tests.house.tree import MANUAL, README
from tests.tracked import shipped

NEAR = 0.6
"""How far a place may be off [px of the picture]: another version of the drawing library or of its font."""

SCRIPTS = shipped("figures", "*.py")

Mark = tuple[str, str, tuple[float, ...]]
"""Kind of mark, its letters (commands of a path, or words), and its numbers."""


def _marks(svg: str) -> list[Mark]:
    marks: list[Mark] = []
    for element in ElementTree.fromstring(svg).iter():
        kind = element.tag.rpartition("}")[2]
        if kind in {"path", "use", "text", "rect"}:
            shape = " ".join(element.get(key, "") for key in ("d", "x", "y", "width", "height", "transform"))
            letters = "".join(re.findall(r"[A-Za-z]", shape)) + " " + "".join(element.itertext()).strip()
            marks.append((kind, letters, tuple(float(each) for each in re.findall(r"-?\d+\.?\d*", shape))))
    return marks


def _differences(one: str, other: str) -> list[tuple[Mark, Mark]]:
    return [
        (mine, theirs)
        for mine, theirs in zip(_marks(one), _marks(other), strict=True)
        if mine[:2] != theirs[:2] or mine[2] != pytest.approx(theirs[2], abs=NEAR)
    ]


@pytest.mark.parametrize("script", SCRIPTS, ids=[script.name for script in SCRIPTS])
def test_a_figure_drawn_again_is_the_same(script: Path) -> None:
    kept = script.with_suffix(".svg").read_text("utf-8")
    drawn = runpy.run_path(str(script))["picture"]().decode("utf-8")
    again = f"where that is meant: python figures/{script.name} draws it again"
    assert len(_marks(drawn)) == len(_marks(kept)) > 50, again
    assert _differences(kept, drawn) == [], again


def test_a_line_that_moves_is_seen() -> None:
    svg = '<svg xmlns="http://www.w3.org/2000/svg"><path d="M 1 2 L 3 {end}"/></svg>'
    assert _differences(svg.format(end=4), svg.format(end=4.5)) == []
    assert len(_differences(svg.format(end=4), svg.format(end=5))) == 1


def test_every_figure_is_shown_and_has_its_script() -> None:
    shown = re.findall(r"!\[.+\]\((figures/.+)\)", README)
    assert shown == ["figures/plan.svg"]
    shown += re.findall(r"!\[.+\]\(\.\./\.\./(figures/.+)\)", "".join(MANUAL.values()))
    assert sorted(shown) == [f"figures/{script.stem}.svg" for script in SCRIPTS]
    assert {each.stem for each in shipped("figures")} == {each.stem for each in SCRIPTS}

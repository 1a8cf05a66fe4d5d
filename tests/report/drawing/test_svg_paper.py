"""Our SVG is the drawing that matplotlib writes of the same page: an outside judge of every shape, cut and colour."""

import re
from io import BytesIO
from xml.etree import ElementTree

import matplotlib as mpl
import pytest
from matplotlib.figure import Figure

from loadplan.report.drawing.axes_paper import paint
from loadplan.report.drawing.paper import PX, Paper
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.save_figure import drawing
from loadplan.report.drawing.style import INK, MONO, Stroke, Type
from loadplan.report.drawing.svg_paper import svg_of
from loadplan.report.drawing.svg_texture import texture_path
from loadplan.report.drawing.view import Box

SIZE = (421.3, 300.0)
RIM = Stroke("#8A5A00C0", 1.7)
DASHED = Stroke("#0B5FA5", 4 / 3, (7, 4))
"""A stroke of one point: SVG's own, which is not said."""

INSIDE = ((20.0, 30.0), (90.0, 35.5), (60.25, 90.0))
OVER = ((-50.0, 30.0), (500.0, 35.0), (200.0, 900.0))
"""Goes over the rim of the page on three sides."""

AWAY = ((-900.0, 30.0), (-500.0, 35.0), (-200.0, -900.0))
"""All of it is off the page."""


KIND = ", (?:sans-serif|monospace)"
"""Ours names the kind of letters behind its fonts."""


def filled(pen: Pen) -> None:
    for places in (INSIDE, OVER, AWAY, (*INSIDE, INSIDE[0])):
        pen.area(places, "#DDE3E8B0", RIM)
    pen.area(INSIDE, "#000000", None)
    pen.area(INSIDE[:2], INK, RIM)
    pen.box(Box(1.0, 2.0, 3.0, 4.0), INK, DASHED)
    pen.cells((Box(10.0, 10.0, 12.0, 12.0), Box(14.0, 10.0, 16.0, 12.0)), "#000000")


def open_(pen: Pen) -> None:
    for places in (INSIDE, OVER, AWAY, (*INSIDE, INSIDE[0])):
        pen.area(places, None, RIM)
        pen.line(places, DASHED)
    pen.segments([(INSIDE[0], INSIDE[1]), (OVER[0], OVER[1]), (AWAY[0], AWAY[1])], RIM)
    pen.line([(210.0, -10.0), (210.0, 310.0), (211.0, 310.0), (211.0, 150.0)], RIM)


def round_(pen: Pen) -> None:
    pen.disc((100.0, 110.0), 12.5, "#FFFFFF", RIM)
    pen.disc((410.0, 110.0), 12.5, INK, DASHED)
    for sides in ((0, 90), (180, 270), (30, 200)):
        pen.wedge((200.0, 150.0), 9.0, sides, INK)


def textured(pen: Pen) -> None:
    for number, hatch in enumerate(("..", "//", "xx", "--", "x")):
        pen.texture(Box(10.0, 40.0 * number, 60.0, 40.0 * number + 30), hatch, "#F0B429")


def worded(pen: Pen) -> None:
    for number, side in enumerate(("left", "center", "right")):
        pen.words((150.0, 40.0 * number), 'A & B <"new">', Type(16.0, bold=number == 1, colour=INK), side)  # type: ignore[arg-type]
    pen.words((10.0, 200.0), "figures", Type(12.0, bold=False, colour="#000000", family=MONO))
    pen.words((10.0, 240.0), "", Type(12.0, bold=False, colour=INK))


def layered(pen: Pen) -> None:
    pen.line(INSIDE, RIM)
    low = Pen(
        pen.paper, Layer.GROUND, Box(40.0, 30.0, 80.0, 70.0), ids={("tag", "A"): "tag-0", ("load", "A"): "load-0"}
    )
    low.area(OVER, INK, None)
    with low.together("tag", "A"):
        low.box(Box(1.0, 2.0, 300.0, 4.0), None, DASHED)
        low.named("load", "A").words((20.0, 20.0), "D 107 kg", Type(20.0, bold=True, colour=INK))
    low.disc((20.0, 20.0), 5.0, INK, None)


def spread(pen: Pen) -> None:
    pen.paper.spread(Box(-10.0, 20.0, SIZE[0] / 2 - 10.0, 170.0))
    large = Pen(pen.paper, Layer.PAGE, Box(0.0, 30.0, 90.0, 100.0), 2.0)
    large.line(INSIDE, DASHED)
    large.disc((50.0, 60.0), 8.0, INK, RIM)
    large.words((40.0, 60.0), "on the wall", Type(14.0, bold=False, colour=INK))


def theirs(paper: Paper) -> bytes:
    """Return a page as matplotlib writes it."""
    stream = BytesIO()
    with drawing(), mpl.rc_context({"svg.fonttype": "none"}):
        figure = Figure(figsize=(paper.size[0] / PX, paper.size[1] / PX), dpi=PX)
        paint(paper, figure.add_axes((0.0, 0.0, 1.0, 1.0)))
        figure.savefig(stream, format="svg")
    return stream.getvalue()


def told(svg: bytes) -> list[tuple[str, dict[str, str], str]]:
    """Return the elements of an SVG in their order, without what names a thing anew in each program."""
    names: dict[str, str] = {}

    def called(one: re.Match[str]) -> str:
        """Call what is referred to by the order in which it is met."""
        return names.setdefault(one[0], f"{len(names)}")

    found = []
    for each in ElementTree.fromstring(svg).iter():
        tag = each.tag.rpartition("}")[2]
        attributes = {name: text for name, text in each.attrib.items() if name not in {"textLength", "lengthAdjust"}}
        for name, text in attributes.items():
            attributes[name] = re.sub(r"\b[hp][0-9a-f]{10}\b", called, re.sub(KIND, "", text))
        found.append((tag, attributes, (each.text or "").strip()))
    start = next(place for place, each in enumerate(found) if each[1].get("id") == "figure_1")
    return found[start:]


@pytest.mark.parametrize("draw", [filled, open_, round_, textured, worded, layered, spread])
def test_an_svg_is_what_matplotlib_writes_of_the_same_page(draw) -> None:  # type: ignore[no-untyped-def]  # noqa: ANN001
    paper = Paper(SIZE)
    draw(Pen(paper, Layer.PAGE, None))
    ours = told(svg_of(paper))
    assert len(ours) > 8
    assert ours == told(theirs(paper))


def test_a_ring_is_the_rim_of_a_disc() -> None:
    """Matplotlib goes once more to where a ring began, along a line of no length."""
    paths = []
    for fill in (None, INK):
        paper = Paper(SIZE)
        Pen(paper, Layer.PAGE, None).disc((100.0, 110.0), 12.5, fill, RIM)
        (path,) = (each[1] for each in told(svg_of(paper)) if "clip-path" in each[1])
        paths.append(path)
    ring, full = paths
    assert ring["d"] == full["d"]
    assert ring["style"].startswith("fill: none; stroke: #8a5a00; stroke-opacity: 0.75")


def test_a_texture_that_there_is_not_is_refused() -> None:
    for hatch in ("", "*", "x*"):
        with pytest.raises(ValueError, match="no texture"):
            texture_path(hatch)

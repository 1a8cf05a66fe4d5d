"""Figures as bytes: the same input gives the same bytes, whatever the machine's settings."""

import re
import warnings
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from html import unescape
from io import BytesIO
from threading import Lock
from types import MappingProxyType

import matplotlib as mpl
import numpy as np
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.figure import Figure
from numpy.typing import NDArray

from loadplan.report.drawing.page_axes import PX
from loadplan.report.drawing.png_file import png_file
from loadplan.report.drawing.side_by_side import untold
from loadplan.report.drawing.style import BEHIND, FONT, MONO, Type
from loadplan.report.drawing.text_width import text_width

SHARP = 144
"""Dots an inch of a PNG: half as many again as a px, for print and sharp screens."""

UNSAID: Mapping[str, Mapping[str, None]] = MappingProxyType({
    "svg": {"Creator": None, "Date": None, "Format": None, "Type": None},
    "pdf": {"Creator": None, "Producer": None, "CreationDate": None},
})
"""Metadata that is left out: no dates, no versions."""

LINE_OF_WORDS = re.compile(r'<text(?P<rest> style="(?P<style>[^"]*)"[^>]*)>(?P<words>[^<]*)</text>')
"""A line of words as matplotlib writes it into an SVG."""

NOT_LATIN = "\u0250"
"""The first sign behind the Latin letters."""

_ONE_AT_A_TIME = Lock()


def document(
    pages: Sequence[tuple[tuple[float, float], Callable[[Axes], None]]],
    title: str,
    told: Callable[[int, int], None] = untold,
) -> bytes:
    """Draw a PDF of several pages.

    Args:
        pages: Width and height [px], and what draws onto axes that fill the page, for each.
        title: Title of the document, for the reader's window.
        told: Hears after each page how many are drawn, of how many.

    Returns:
        Content of the file; equal for equal input.
    """
    return document_and_pictures(pages, title, (), told)[0]


def document_and_pictures(
    pages: Sequence[tuple[tuple[float, float], Callable[[Axes], None]]],
    title: str,
    file_formats: Sequence[str],
    told: Callable[[int, int], None] = untold,
) -> tuple[bytes, list[dict[str, bytes]]]:
    """Draw a PDF of several pages, and each page as a file of its own, too: each is drawn once, and saved as all.

    Args:
        pages: Width and height [px], and what draws onto axes that fill the page, for each.
        title: Title of the document, for the reader's window.
        file_formats: "svg" or "png".
        told: Hears after each page how many are drawn, of how many.

    Returns:
        Content of the document, and of each page's files by their format; equal for equal input.
    """
    stream = BytesIO()
    pictures: list[dict[str, bytes]] = []
    with drawing(), PdfPages(stream, metadata={**UNSAID["pdf"], "Title": title}) as book:
        for size, draw in pages:
            figure = _figure(size, draw)
            book.savefig(figure)
            pictures.append({file_format: _saved(figure, file_format) for file_format in file_formats})
            told(len(pictures), len(pages))
    return stream.getvalue(), pictures


@contextmanager
def drawing() -> Iterator[None]:
    """Draw with fixed settings: matplotlib's belong to the whole process, so only one thread draws at a time.

    Yields:
        Nothing; inside, the settings are ours.
    """
    with _ONE_AT_A_TIME, mpl.rc_context(), warnings.catch_warnings():
        warnings.simplefilter("ignore", UserWarning)  # letters that the font lacks are drawn as boxes
        mpl.rcdefaults()
        _settle()
        yield


def picture(page: tuple[float, float], file_format: str, draw: Callable[[Axes], None]) -> bytes:
    """Draw one picture.

    Args:
        page: Width and height [px].
        file_format: "svg", "png" or "pdf".
        draw: Draws onto axes that fill the page.

    Returns:
        Content of the file; equal for equal input.
    """
    with drawing():
        return _saved(_figure(page, draw), file_format)


def dots_of(figure: Figure, an_inch: float) -> NDArray[np.uint8]:
    """Draw a figure as dots.

    Args:
        figure: What is drawn, in `drawing`.
        an_inch: Dots an inch.

    Returns:
        Red, green and blue of each dot (rows, columns, 3), from the top.
    """
    # Straight onto its canvas: `savefig` would copy every dot several times.
    before = figure.dpi
    figure.dpi = an_inch
    canvas = FigureCanvasAgg(figure)
    canvas.draw()  # type: ignore[no-untyped-call]
    figure.dpi = before
    return np.asarray(canvas.buffer_rgba())[:, :, :3]  # type: ignore[no-untyped-call]


def with_widths(svg: bytes) -> bytes:
    """Say in an SVG how wide each line of words was laid out.

    The file names its font, and does not hold it: a program that lacks it takes another, most often a wider one, and
    its words would run over each other and out of their frame (SVG 1.1, 10.5: `textLength`).

    Args:
        svg: A drawing as matplotlib writes it.

    Returns:
        It, with the width of each line in Latin letters: others are shaped by the program that shows them.
    """

    def told(line: re.Match[str]) -> str:
        style, words = line["style"], unescape(line["words"])
        size = re.search(r"font-size: ([0-9.]+)px", style)
        if size is None or not words.strip() or max(words) >= NOT_LATIN:
            return line[0]
        family = MONO if MONO in style else FONT
        lettering = Type(float(size[1]), bold="font-weight: 700" in style, colour="", family=family)
        wide = text_width(words, lettering)
        return f'<text textLength="{wide:.2f}" lengthAdjust="spacingAndGlyphs"{line["rest"]}>{line["words"]}</text>'

    return LINE_OF_WORDS.sub(told, svg.decode("utf-8")).encode("utf-8")


def _saved(figure: Figure, file_format: str) -> bytes:
    if file_format == "png":
        return png_file(dots_of(figure, SHARP), SHARP)
    stream = BytesIO()
    figure.savefig(stream, format=file_format, dpi=SHARP, metadata=dict(UNSAID[file_format]))
    return with_widths(stream.getvalue()) if file_format == "svg" else stream.getvalue()


def _figure(page: tuple[float, float], draw: Callable[[Axes], None]) -> Figure:
    figure = Figure(figsize=(page[0] / PX, page[1] / PX), dpi=PX)
    draw(figure.add_axes((0.0, 0.0, 1.0, 1.0)))
    return figure


def _settle() -> None:
    """Set all on which the bytes of a picture hang besides the drawing itself."""
    mpl.rcParams["svg.hashsalt"] = "loadplan"
    mpl.rcParams["svg.fonttype"] = "none"
    mpl.rcParams["pdf.fonttype"] = 42
    mpl.rcParams["text.parse_math"] = False
    mpl.rcParams["font.family"] = [FONT, BEHIND]
    # What an SVG names for a kind of letters: the kind itself comes behind it.
    mpl.rcParams["font.sans-serif"] = [BEHIND]
    mpl.rcParams["font.monospace"] = [MONO]
    mpl.rcParams["hatch.linewidth"] = 2.0

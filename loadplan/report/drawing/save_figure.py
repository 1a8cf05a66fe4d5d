"""Pages as PDF and PNG, by matplotlib: the same input gives the same bytes, whatever the machine's settings."""

import warnings
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from io import BytesIO
from threading import Lock
from types import MappingProxyType

import matplotlib as mpl
import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.figure import Figure
from numpy.typing import NDArray

from loadplan.report.drawing.axes_paper import paint
from loadplan.report.drawing.paper import PX, Paper
from loadplan.report.drawing.png_file import png_file
from loadplan.report.drawing.side_by_side import untold
from loadplan.report.drawing.style import BEHIND, FONT
from loadplan.report.drawing.svg_paper import svg_of

SHARP = 144
"""Dots an inch of a PNG: half as many again as a px, for print and sharp screens."""

UNSAID: Mapping[str, None] = MappingProxyType({"Creator": None, "Producer": None, "CreationDate": None})
"""Metadata of a PDF that is left out: no dates, no versions."""

_ONE_AT_A_TIME = Lock()


def document(
    pages: Sequence[tuple[tuple[float, float], Callable[[Paper], None]]],
    title: str,
    told: Callable[[int, int], None] = untold,
) -> bytes:
    """Draw a PDF of several pages.

    Args:
        pages: Width and height [px] of each, and what draws it.
        title: Title of the document, for the reader's window.
        told: Hears after each page how many are drawn, of how many.

    Returns:
        Content of the file; equal for equal input.
    """
    return document_and_pictures(pages, title, (), told)[0]


def document_and_pictures(
    pages: Sequence[tuple[tuple[float, float], Callable[[Paper], None]]],
    title: str,
    file_formats: Sequence[str],
    told: Callable[[int, int], None] = untold,
) -> tuple[bytes, list[dict[str, bytes]]]:
    """Draw a PDF of several pages, and each page as a file of its own, too: each is drawn once, and saved as all.

    Args:
        pages: Width and height [px] of each, and what draws it.
        title: Title of the document, for the reader's window.
        file_formats: "svg" or "png".
        told: Hears after each page how many are drawn, of how many.

    Returns:
        Content of the document, and of each page's files by their format; equal for equal input.
    """
    stream = BytesIO()
    pictures: list[dict[str, bytes]] = []
    with drawing(), PdfPages(stream, metadata={**UNSAID, "Title": title}) as book:
        for size, draw in pages:
            paper = Paper(size)
            draw(paper)
            figure = _figure(paper)
            book.savefig(figure)
            pictures.append({
                file_format: svg_of(paper) if file_format == "svg" else _saved(figure, file_format)
                for file_format in file_formats
            })
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


def painted_file(paper: Paper, file_format: str) -> bytes:
    """Paint one page.

    Args:
        paper: What is drawn.
        file_format: "png" or "pdf".

    Returns:
        Content of the file; equal for equal input.
    """
    with drawing():
        return _saved(_figure(paper), file_format)


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


def _saved(figure: Figure, file_format: str) -> bytes:
    if file_format == "png":
        return png_file(dots_of(figure, SHARP), SHARP)
    stream = BytesIO()
    figure.savefig(stream, format=file_format, dpi=SHARP, metadata=dict(UNSAID))
    return stream.getvalue()


def _figure(paper: Paper) -> Figure:
    figure = Figure(figsize=(paper.size[0] / PX, paper.size[1] / PX), dpi=PX)
    paint(paper, figure.add_axes((0.0, 0.0, 1.0, 1.0)))
    return figure


def _settle() -> None:
    """Set all on which the bytes of a picture hang besides the drawing itself."""
    mpl.rcParams["pdf.fonttype"] = 42
    mpl.rcParams["text.parse_math"] = False
    mpl.rcParams["font.family"] = [FONT, BEHIND]
    mpl.rcParams["hatch.linewidth"] = 2.0

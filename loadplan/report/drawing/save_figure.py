"""Figures as bytes: the same input gives the same bytes, whatever the machine's settings."""

import warnings
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from io import BytesIO
from threading import Lock
from types import MappingProxyType
from typing import Any

import matplotlib as mpl
from matplotlib.axes import Axes
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.figure import Figure

from loadplan.report.drawing.page_axes import PX
from loadplan.report.drawing.side_by_side import untold
from loadplan.report.drawing.style import BEHIND, FONT, MONO

SHARP = 144
"""Dots an inch of a PNG: half as many again as a px, for print and sharp screens."""

PACKED = 3
"""How hard a PNG is packed, of 9: with 6, the usual, it takes half as long again and gets a twelfth smaller."""

UNSAID: Mapping[str, Mapping[str, None]] = MappingProxyType({
    "svg": {"Creator": None, "Date": None, "Format": None, "Type": None},
    "png": {"Software": None},
    "pdf": {"Creator": None, "Producer": None, "CreationDate": None},
})
"""Metadata that is left out: no dates, no versions."""

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


def _saved(figure: Figure, file_format: str) -> bytes:
    stream = BytesIO()
    packed: dict[str, Any] = {"pil_kwargs": {"compress_level": PACKED}} if file_format == "png" else {}
    figure.savefig(stream, format=file_format, dpi=SHARP, metadata=dict(UNSAID[file_format]), **packed)
    return stream.getvalue()


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

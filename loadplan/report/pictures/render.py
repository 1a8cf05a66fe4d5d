"""Pictures as bytes: the same input gives the same bytes, whatever the machine's settings."""

import re
import warnings
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from io import BytesIO
from threading import Lock
from types import MappingProxyType

import matplotlib as mpl
from matplotlib.axes import Axes
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.figure import Figure

from loadplan.model.verdict import Assessment, StageAssessment
from loadplan.report.drawing.page_axes import PX
from loadplan.report.drawing.style import FONT
from loadplan.report.pictures.cg_walk import draw_walk
from loadplan.report.pictures.elevation import draw_elevation
from loadplan.report.pictures.elevation_shapes import ViewSide
from loadplan.report.pictures.live_plan import Live, draw_live
from loadplan.report.pictures.load_chart import draw_loads, loads_size
from loadplan.report.pictures.lowering_chart import draw_lowering
from loadplan.report.pictures.plan_view import draw_plan
from loadplan.units import System

PAGE = (1280, 960)
"""Width and height of a plan [px of 1/96 in]."""

LOWERING_PAGE = (1280, 760)
"""Width and height of a lowering [px]."""

SHARP = 144
"""Dots an inch of a PNG: half as many again as a px, for print and sharp screens."""

UNSAID: Mapping[str, Mapping[str, None]] = MappingProxyType({
    "svg": {"Creator": None, "Date": None, "Format": None, "Type": None},
    "png": {"Software": None},
    "pdf": {"Creator": None, "Producer": None, "CreationDate": None},
})
"""Metadata that is left out: no dates, no versions."""

_ONE_AT_A_TIME = Lock()


def plan_files(assessment: Assessment, indexes: list[int], file_format: str, units: System) -> dict[str, bytes]:
    """Draw plan and elevations of some stages, the lowering where a unit is set down, and the way over all stages.

    Args:
        assessment: The job, judged.
        indexes: Numbers of the stages, from 0.
        file_format: "svg", "png" or "pdf".
        units: The reader's units.

    Returns:
        Each picture by the name of its file.
    """
    files: dict[str, bytes] = {}
    for index in indexes:
        stage = assessment.stages[index]
        name = _file_name(index, stage.state.name)
        files[f"{name}-plan.{file_format}"] = plan_picture(assessment, index, file_format, units)
        for seen in ViewSide:
            files[f"{name}-{seen.value}.{file_format}"] = elevation_picture(
                assessment, (index, seen), file_format, units
            )
        if stage.statics.set_down is not None:
            files[f"{name}-lowering.{file_format}"] = lowering_picture(assessment, index, file_format, units)
    if len(indexes) == len(assessment.stages):
        files[f"loads.{file_format}"] = loads_picture(assessment, file_format, units)
        files[f"walk.{file_format}"] = walk_picture(assessment, file_format, units)
    return files


def plan_picture(assessment: Assessment, stage_index: int, file_format: str, units: System) -> bytes:
    """Draw the plan of one stage as a file.

    Args:
        assessment: The job, judged.
        stage_index: Number of the stage, from 0.
        file_format: "svg", "png" or "pdf".
        units: The reader's units.

    Returns:
        Content of the file; equal for equal input.
    """
    return picture(PAGE, file_format, lambda ax: draw_plan(ax, assessment, stage_index, units))


def live_picture(live: Live, stage: StageAssessment) -> bytes:
    """Draw the live plan of one stage as SVG.

    Args:
        live: What is seen, and where.
        stage: The stage.

    Returns:
        Content of the file; a px of the page is 0.75 units of its view box.
    """
    frame = live.view.frame
    return picture((frame.width, frame.height), "svg", lambda ax: draw_live(ax, live, stage))


def elevation_picture(assessment: Assessment, view: tuple[int, ViewSide], file_format: str, units: System) -> bytes:
    """Draw an elevation of one stage as a file.

    Args:
        assessment: The job, judged.
        view: Number of the stage, from 0, and from where it is seen.
        file_format: "svg", "png" or "pdf".
        units: The reader's units.

    Returns:
        Content of the file; equal for equal input.
    """
    return picture(PAGE, file_format, lambda ax: draw_elevation(ax, assessment, *view, units))


def lowering_picture(assessment: Assessment, stage_index: int, file_format: str, units: System) -> bytes:
    """Draw the lowering of one stage as a file.

    Args:
        assessment: The job, judged.
        stage_index: Number of the stage, from 0; something is set down in it.
        file_format: "svg", "png" or "pdf".
        units: The reader's units.

    Returns:
        Content of the file; equal for equal input.
    """
    return picture(LOWERING_PAGE, file_format, lambda ax: draw_lowering(ax, assessment, stage_index, units))


def loads_picture(assessment: Assessment, file_format: str, units: System) -> bytes:
    """Draw the loads over the stages as a file.

    Args:
        assessment: The job, judged.
        file_format: "svg", "png" or "pdf".
        units: The reader's units.

    Returns:
        Content of the file; equal for equal input.
    """
    return picture(loads_size(assessment), file_format, lambda ax: draw_loads(ax, assessment, units))


def walk_picture(assessment: Assessment, file_format: str, units: System) -> bytes:
    """Draw the walk of the centres of gravity as a file.

    Args:
        assessment: The job, judged.
        file_format: "svg", "png" or "pdf".
        units: The reader's units.

    Returns:
        Content of the file; equal for equal input.
    """
    return picture(PAGE, file_format, lambda ax: draw_walk(ax, assessment, units))


def document(pages: Sequence[tuple[tuple[float, float], Callable[[Axes], None]]], title: str) -> bytes:
    """Draw a PDF of several pages.

    Args:
        pages: Width and height [px], and what draws onto axes that fill the page, for each.
        title: Title of the document, for the reader's window.

    Returns:
        Content of the file; equal for equal input.
    """
    stream = BytesIO()
    with drawing(), PdfPages(stream, metadata={**UNSAID["pdf"], "Title": title}) as book:
        for size, draw in pages:
            book.savefig(_figure(size, draw))
    return stream.getvalue()


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
        stream = BytesIO()
        _figure(page, draw).savefig(stream, format=file_format, dpi=SHARP, metadata=dict(UNSAID[file_format]))
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
    mpl.rcParams["font.family"] = [FONT]
    mpl.rcParams["hatch.linewidth"] = 2.0


def _file_name(index: int, stage: str) -> str:
    """Return a name that every file system takes: number and words of the stage."""
    words = re.sub(r"[^a-z0-9]+", "-", stage.lower()).strip("-")[:48].strip("-")
    return f"step-{index + 1:02d}-{words}" if words else f"step-{index + 1:02d}"

"""Pictures as bytes: the same input gives the same bytes, whatever the machine's settings."""

import re
import warnings
from collections.abc import Callable, Mapping
from io import BytesIO
from threading import Lock
from types import MappingProxyType

import matplotlib as mpl
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from loadplan.model.verdict import Assessment
from loadplan.report.ink import FONT
from loadplan.report.lowering import draw_lowering
from loadplan.report.page import PX
from loadplan.report.plan import draw_plan
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
    """Draw the plans of some stages, and the lowering where a unit is set down.

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
        files[f"{name}.{file_format}"] = plan_picture(assessment, index, file_format, units)
        if stage.statics.set_down is not None:
            files[f"{name}-lowering.{file_format}"] = lowering_picture(assessment, index, file_format, units)
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
    return _picture(PAGE, file_format, lambda ax: draw_plan(ax, assessment, stage_index, units))


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
    return _picture(LOWERING_PAGE, file_format, lambda ax: draw_lowering(ax, assessment, stage_index, units))


def _picture(page: tuple[int, int], file_format: str, draw: Callable[[Axes], None]) -> bytes:
    # matplotlib's settings belong to the whole process, so only one thread draws at a time.
    with _ONE_AT_A_TIME, mpl.rc_context(), warnings.catch_warnings():
        warnings.simplefilter("ignore", UserWarning)  # letters that the font lacks are drawn as boxes
        mpl.rcdefaults()
        _settle()
        figure = Figure(figsize=(page[0] / PX, page[1] / PX), dpi=PX)
        draw(figure.add_axes((0.0, 0.0, 1.0, 1.0)))
        stream = BytesIO()
        figure.savefig(stream, format=file_format, dpi=SHARP, metadata=dict(UNSAID[file_format]))
    return stream.getvalue()


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

"""Pictures as bytes: the same input gives the same bytes, whatever the machine's settings."""

import re
import warnings
from collections.abc import Mapping
from io import BytesIO
from threading import Lock
from types import MappingProxyType

import matplotlib as mpl
from matplotlib.figure import Figure

from loadplan.model.verdict import Assessment
from loadplan.report.ink import FONT
from loadplan.report.plan import PX, draw_plan
from loadplan.units import System

PAGE = (1280, 960)
"""Width and height of a plan [px of 1/96 in]."""

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
    """Draw the plans of some stages.

    Args:
        assessment: The job, judged.
        indexes: Numbers of the stages, from 0.
        file_format: "svg", "png" or "pdf".
        units: The reader's units.

    Returns:
        Each picture by the name of its file.
    """
    return {
        f"{_file_name(index, assessment.stages[index].state.name)}.{file_format}": plan_picture(
            assessment, index, file_format, units
        )
        for index in indexes
    }


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
    # matplotlib's settings belong to the whole process, so only one thread draws at a time.
    with _ONE_AT_A_TIME, mpl.rc_context(), warnings.catch_warnings():
        warnings.simplefilter("ignore", UserWarning)  # letters that the font lacks are drawn as boxes
        mpl.rcdefaults()
        _settle()
        figure = Figure(figsize=(PAGE[0] / PX, PAGE[1] / PX), dpi=PX)
        draw_plan(figure.add_axes((0.0, 0.0, 1.0, 1.0)), assessment, stage_index, units)
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

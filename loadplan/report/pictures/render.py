"""The pictures of a job as files: which there are, how large each is, and what it is called."""

import re
from math import radians

from loadplan.model.verdict import Assessment
from loadplan.report.drawing.save_figure import picture
from loadplan.report.pictures.axonometric_view import AZIMUTH, draw_axonometric
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


def plan_files(
    assessment: Assessment, indexes: list[int], file_format: str, units: System, azimuths: tuple[float, ...] = ()
) -> dict[str, bytes]:
    """Draw plan, elevations and a view in space of some stages, each lowering, and the way over all stages.

    Args:
        assessment: The job, judged.
        indexes: Numbers of the stages, from 0.
        file_format: "svg", "png" or "pdf".
        units: The reader's units.
        azimuths: Azimuths [degrees] of the views in space, which then stand in their names; empty for the usual one.

    Returns:
        Each picture by the name of its file.
    """
    turns = [(f"-{azimuth:03.0f}", radians(azimuth)) for azimuth in azimuths] or [("", AZIMUTH)]
    files: dict[str, bytes] = {}
    for index in indexes:
        stage = assessment.stages[index]
        # Letters and figures only, and not too many: every file system takes such a name.
        words = re.sub(r"[^a-z0-9]+", "-", stage.state.name.lower()).strip("-")[:48].strip("-")
        name = f"step-{index + 1:02d}-{words}" if words else f"step-{index + 1:02d}"
        files[f"{name}-plan.{file_format}"] = plan_picture(assessment, index, file_format, units)
        for seen in ViewSide:
            files[f"{name}-{seen.value}.{file_format}"] = elevation_picture(
                assessment, (index, seen), file_format, units
            )
        for turn, azimuth in turns:
            seen_from = (index, azimuth)
            files[f"{name}-space{turn}.{file_format}"] = space_picture(assessment, seen_from, file_format, units)
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


def live_picture(live: Live) -> bytes:
    """Draw the live plan of one stage as SVG.

    Args:
        live: What is seen, and where.

    Returns:
        Content of the file; a px of the page is 0.75 units of its view box.
    """
    frame = live.view.frame
    return picture((frame.width, frame.height), "svg", lambda ax: draw_live(ax, live))


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


def space_picture(assessment: Assessment, view: tuple[int, float], file_format: str, units: System) -> bytes:
    """Draw one stage in space as a file.

    Args:
        assessment: The job, judged.
        view: Number of the stage, from 0, and the azimuth from which it is seen [rad].
        file_format: "svg", "png" or "pdf".
        units: The reader's units.

    Returns:
        Content of the file; equal for equal input.
    """
    return picture(PAGE, file_format, lambda ax: draw_axonometric(ax, assessment, view, units))


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

"""The pictures of a job as files: which there are, how large each is, and what it is called."""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from math import radians
from typing import TypedDict

from loadplan.model.verdict import Assessment
from loadplan.report.drawing.picture_file import picture
from loadplan.report.drawing.side_by_side import ALONE, Helpers, untold
from loadplan.report.pictures.axonometric_view import AZIMUTH, draw_axonometric
from loadplan.report.pictures.cg_walk import draw_walk
from loadplan.report.pictures.elevation import draw_elevation
from loadplan.report.pictures.elevation_shapes import ViewSide
from loadplan.report.pictures.live_plan import Live, draw_live
from loadplan.report.pictures.live_side_view import SideView, draw_side_view
from loadplan.report.pictures.load_chart import draw_loads, loads_size
from loadplan.report.pictures.lowering_chart import draw_lowering
from loadplan.report.pictures.plan_view import draw_plan
from loadplan.report.words.vocabulary import Reader
from loadplan.units import System

PAGE = (1280, 960)
"""Width and height of a plan [px of 1/96 in]."""

LOWERING_PAGE = (1280, 760)
"""Width and height of a lowering [px]."""


class _How(TypedDict):
    """How every picture is drawn."""

    file_format: str
    units: System


@dataclass(frozen=True, slots=True)
class PictureTask:
    """A picture that is to be drawn.

    Attributes:
        name: Name of its file.
        draw: Draws it from the judged job; can be sent to another process.
    """

    name: str
    draw: Callable[[Assessment], bytes]


def drawn_files(
    assessment: Assessment,
    tasks: Sequence[PictureTask],
    told: Callable[[int, int], None] = untold,
    helpers: Helpers = ALONE,
) -> dict[str, bytes]:
    """Draw pictures, side by side where there are enough of them.

    Args:
        assessment: The job, judged.
        tasks: The pictures.
        told: Hears after each how many are drawn, of how many.
        helpers: Processes that share the work.

    Returns:
        Each picture by the name of its file, in the order of the tasks; equal whatever shares the work.
    """
    drawn = helpers.each(partial(_drawn, assessment), [task.draw for task in tasks], told)
    return {task.name: content for task, content in zip(tasks, drawn, strict=True)}


def _drawn(assessment: Assessment, draw: Callable[[Assessment], bytes]) -> bytes:
    return draw(assessment)


def picture_tasks(
    assessment: Assessment, indexes: list[int], file_format: str, units: System, azimuths: tuple[float, ...] = ()
) -> list[PictureTask]:
    """List the pictures of some stages: plan, views from the sides and in space, lowering; and those of all stages.

    Args:
        assessment: The job, judged.
        indexes: Numbers of the stages, from 0.
        file_format: "svg", "png" or "pdf".
        units: The reader's units.
        azimuths: Azimuths [degrees] of the views in space, which then stand in their names; empty for the usual one.

    Returns:
        The pictures.
    """
    turns = [(f"-{azimuth:03.0f}", radians(azimuth)) for azimuth in azimuths] or [("", AZIMUTH)]
    how: _How = {"file_format": file_format, "units": units}
    tasks: list[PictureTask] = []
    for index in indexes:
        stage = assessment.stages[index]
        # Letters and figures only, and not too many: every file system takes such a name.
        words = re.sub(r"[^a-z0-9]+", "-", stage.state.name.lower()).strip("-")[:48].strip("-")
        name = f"step-{index + 1:02d}-{words}" if words else f"step-{index + 1:02d}"
        kinds: list[tuple[str, Callable[[Assessment], bytes]]] = [
            ("plan", partial(plan_picture, stage_index=index, **how)),
            *((seen.value, partial(elevation_picture, view=(index, seen), **how)) for seen in ViewSide),
            *((f"space{turn}", partial(space_picture, view=(index, at), **how)) for turn, at in turns),
        ]
        if stage.statics.set_down is not None:
            kinds.append((
                "lowering",
                partial(lowering_picture, stage_index=index, **how),
            ))
        tasks += [PictureTask(f"{name}-{kind}.{file_format}", draw) for kind, draw in kinds]
    if len(indexes) == len(assessment.stages):
        tasks.append(PictureTask(f"loads.{file_format}", partial(loads_picture, **how)))
        tasks.append(PictureTask(f"walk.{file_format}", partial(walk_picture, **how)))
    return tasks


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
    return picture(PAGE, file_format, lambda paper: draw_plan(paper, assessment, stage_index, units))


def live_picture(live: Live) -> bytes:
    """Draw the live plan of one stage as SVG.

    Args:
        live: What is seen, and where.

    Returns:
        Content of the file; a px of the page is 0.75 units of its view box.
    """
    frame = live.view.frame
    return picture((frame.width, frame.height), "svg", lambda paper: draw_live(paper, live))


def side_view_picture(view: SideView, size: tuple[float, float], reader: Reader) -> bytes:
    """Draw one stage from the side, or in space, for a page.

    Args:
        view: The stage, and how it is looked at.
        size: Width and height of the page [px].
        reader: Who reads it.

    Returns:
        Content of the SVG file; a px of the page is 0.75 units of its view box.
    """
    return picture(size, "svg", lambda paper: draw_side_view(paper, view, reader))


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
    return picture(PAGE, file_format, lambda paper: draw_elevation(paper, assessment, *view, units))


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
    return picture(PAGE, file_format, lambda paper: draw_axonometric(paper, assessment, view, units))


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
    return picture(LOWERING_PAGE, file_format, lambda paper: draw_lowering(paper, assessment, stage_index, units))


def loads_picture(assessment: Assessment, file_format: str, units: System) -> bytes:
    """Draw the loads over the stages as a file.

    Args:
        assessment: The job, judged.
        file_format: "svg", "png" or "pdf".
        units: The reader's units.

    Returns:
        Content of the file; equal for equal input.
    """
    return picture(loads_size(assessment), file_format, lambda paper: draw_loads(paper, assessment, units))


def walk_picture(assessment: Assessment, file_format: str, units: System) -> bytes:
    """Draw the walk of the centres of gravity as a file.

    Args:
        assessment: The job, judged.
        file_format: "svg", "png" or "pdf".
        units: The reader's units.

    Returns:
        Content of the file; equal for equal input.
    """
    return picture(PAGE, file_format, lambda paper: draw_walk(paper, assessment, units))

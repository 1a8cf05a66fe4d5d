"""The plan of a job in the register on paper: where its stands are in the step that is worst, with their names."""

from dataclasses import replace

from loadplan.assess import assess_in_short
from loadplan.model.job import Job
from loadplan.model.verdict import Assessment, StageAssessment
from loadplan.report.drawing.label_placement import Ground
from loadplan.report.drawing.pagination import Block, points
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import HAIRLINE, SHEET, Stroke
from loadplan.report.drawing.text_boxes import draw_tags
from loadplan.report.drawing.text_width import broken
from loadplan.report.drawing.view import Box, view_of
from loadplan.report.pictures.plan_content import unit_scene
from loadplan.report.pictures.plan_labels import stand_tags
from loadplan.report.pictures.plan_shapes import draw_floor
from loadplan.report.pictures.title_block import draw_front, draw_scale
from loadplan.report.words.vocabulary import reader_of, shown_verdict
from loadplan.units import System

HIGH, HEAD, HIGHEST = 210, 20, 560
"""Height of the plan and of the line over it, and height of the plan where its page has room [px]."""

TITLE = points(10.5, bold=True)


def bay_plan(number: int, job: Job, width: float, units: System) -> tuple[Block, ...]:
    """Draw where the stands of a job are.

    Args:
        number: Its number in the register, from 0: the plan may stand on another page than the job's table.
        job: The job, with the equipment that the shop owns.
        width: Room [px].
        units: The reader's units.

    Returns:
        One block; none where no step has a stand on the floor.
    """
    assessment = assess_in_short(job)
    standing = [each for each in assessment.stages if any(not support.is_arm for support in each.state.supports)]
    if not standing:
        return ()
    # Of steps alike the first: what is worst is what whoever passes by should see.
    stage = max(standing, key=lambda each: (each.verdict, -each.state.index))

    def draw(pen: Pen, box: Box) -> None:
        step = f"Job {number + 1}, step {stage.state.index + 1}, {stage.state.name}"
        head = f"{step}: {shown_verdict(stage.verdict, assessment.basis)}"
        said = broken(reader_of(job, units).words(head), TITLE, width, most=1)[0]
        pen.words((box.left, box.top - HEAD / 2), said, TITLE)
        _draw_unit(pen, replace(box, top=box.top - HEAD), (assessment, stage), units)

    return (Block(HIGH + HEAD + 8, draw, grows=HIGHEST - HIGH),)


def _draw_unit(pen: Pen, box: Box, shown: tuple[Assessment, StageAssessment], units: System) -> None:
    """Draw the unit on its stands, each with its name and what it carries."""
    assessment, stage = shown
    reader = reader_of(assessment.job, units)
    frame = replace(box, bottom=box.bottom + 8)
    scene = unit_scene(assessment, stage)
    view = view_of(frame, scene.extent, rim=30, aside=60)
    replace(pen, layer=Layer.GROUND).box(frame, SHEET, Stroke(HAIRLINE, 1.5))
    inside = replace(pen, frame=frame)
    drawn = draw_floor(inside, view, scene)
    corners = [draw_front(pen, view), draw_scale(pen, view, units, (*drawn.taken, *drawn.lines))]
    ground = Ground((*drawn.taken, *corners), drawn.lines, frame)
    draw_tags(replace(pen, layer=Layer.LABELS), list(stand_tags(view, scene, drawn, reader)), ground)

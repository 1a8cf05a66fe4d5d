"""The plan on a step's page: what stands there, with signs at all that comes, goes, or comes off in the step."""

from dataclasses import replace

from loadplan.model.job import Support
from loadplan.model.verdict import Assessment, StageAssessment
from loadplan.report.drawing.label_placement import Ground
from loadplan.report.drawing.pagination import points
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import HAIRLINE, LABEL, SHEET, STRONG, Stroke, Type
from loadplan.report.drawing.text_boxes import Row, Tag, draw_tags, told_apart
from loadplan.report.drawing.text_width import LINE, broken
from loadplan.report.drawing.view import Box, view_of
from loadplan.report.pictures.plan_changes import DISC, PlanChanges, change_sign, changes_of, draw_changes
from loadplan.report.pictures.plan_content import PlanContent, unit_scene, vehicle_scene
from loadplan.report.pictures.plan_labels import WIDEST, mount_tags, stand_tags, worst_words
from loadplan.report.pictures.plan_shapes import Drawn, draw_floor
from loadplan.report.pictures.tie_marks import draw_ties, marks_in, tie_tags
from loadplan.report.pictures.title_block import draw_front, draw_scale
from loadplan.report.pictures.verdict_colours import UNBLAMED
from loadplan.report.words.stage_tables import carried
from loadplan.report.words.tape_words import across_words, along_words, height_words, setting
from loadplan.report.words.vocabulary import Reader

COLUMN, APART = 196, 12
"""Width of the column beside the plan, and free room between the two [px]."""

ASIDE = 50
"""Further room beside the unit, for letters and loads [px]."""

NARROW = 90
"""Widest line in the small view of the vehicle [px]."""

KEY = ((True, "comes, goes on, tight"), (False, "goes, comes off, undone"))
"""Signs of what changes, and their words."""

SMALL = points(10)
"""Type of the key."""


def draw_step(pen: Pen, box: Box, assessment: Assessment, stages: list[StageAssessment], reader: Reader) -> None:
    """Draw the plan of steps that share a page, and beside it the vehicle on the lift in each.

    Args:
        pen: Draws it.
        box: Where.
        assessment: The job, judged.
        stages: The steps, at least one: the unit is drawn as in the first.
        reader: Who reads it.
    """
    around = [
        (stage, scene)
        for stage in stages
        if (scene := vehicle_scene(assessment, stage)) and not _changes(assessment, stage, scene).only_stands.nothing
    ]
    key = _key(pen, box)
    if not around:
        _unit(pen, replace(box, bottom=key), assessment, stages[0], reader)
        return
    _unit(pen, replace(box, right=box.right - COLUMN - APART), assessment, stages[0], reader)
    beside = replace(box, left=box.right - COLUMN, bottom=key)
    high = beside.height / max(len(around), 1)
    for number, (stage, scene) in enumerate(around):
        part = replace(beside, top=beside.top - number * high, bottom=beside.top - (number + 1) * high + 6)
        title = f"Step {stage.state.index + 1}: {reader.words(scene.bodies[0].name)}"
        pen.words((part.left, part.top - 9), broken(title, STRONG, COLUMN, most=1)[0], STRONG)
        _vehicle(pen, replace(part, top=part.top - 22), _changes(assessment, stage, scene), scene, reader)


def _unit(pen: Pen, box: Box, assessment: Assessment, stage: StageAssessment, reader: Reader) -> None:
    """Draw the unit on its stands, with the signs of what changes, and rulers to what comes."""
    scene = unit_scene(assessment, stage)
    changes = _changes(assessment, stage, scene)
    comes = changes.comes if stage.state.index else ()
    places = [*(each.at[:2] for each in changes.goes), *(each.at[:2] for each in changes.off)]
    view = view_of(box, [*scene.extent, *places], rim=46, aside=ASIDE)
    replace(pen, layer=Layer.GROUND).box(box, SHEET, Stroke(HAIRLINE, 1.5))
    inside = replace(pen, frame=box)
    drawn = draw_floor(inside, view, scene)
    told, signs = draw_changes(inside, view, changes, reader)
    marks = marks_in(box, scene, lambda tie: view.page(*tie.at[:2]))
    corners = [
        draw_front(pen, view),
        draw_scale(pen, view, reader.units, (*drawn.taken, *drawn.lines, *signs)),
        *draw_ties(pen, marks),
    ]
    changed = {each.name for each in (*changes.undone, *changes.done_up)}
    ties = tuple(joint for joint in (*scene.mounts, *scene.links) if joint.name not in changed)
    tags = [_with_tape(tag, comes, scene, drawn, reader) for tag in stand_tags(view, scene, drawn, reader)]
    tags += [*_worst_tags(scene, drawn, reader), *told, *tie_tags(marks, reader)]
    ground = Ground((*drawn.taken, *signs, *corners), drawn.lines, box)
    # Ties that stay as they were have their names where there is room: what changes is what the page is about.
    draw_tags(replace(pen, layer=Layer.LABELS), tags, ground, mount_tags(view, ties, reader))


def _with_tape(tag: Tag, comes: tuple[Support, ...], scene: PlanContent, drawn: Drawn, reader: Reader) -> Tag:
    """Return the words beside a stand; beside one that comes also where it goes and how high it is set."""
    named = {box: support for (support, _), box in zip(scene.supports, drawn.taken, strict=False)}
    support = named[tag.anchor]
    if support not in comes:
        return tag
    shim = f" + {setting(support.shim.height, reader.units)}" if support.shim else ""
    x, y, _ = support.at
    texts = (f"set {height_words(support, reader)}{shim}", along_words(x, reader), across_words(y, reader))
    return replace(tag, rows=(*tag.rows, *(((text, LABEL),) for text in texts)))


def _worst_tags(scene: PlanContent, drawn: Drawn, reader: Reader) -> list[Tag]:
    """Return how near to tipping the nearest is, and each that is at fault, in the worst case; the band says more."""
    tags = []
    for whole, anchor in drawn.edges:
        look = scene.faults.edge(whole)
        if whole.name == scene.critical or look is not UNBLAMED:
            far, about = worst_words(whole, reader)
            strong = Type(18, bold=True, colour=look.line)
            named = tuple(((line, STRONG),) for line in broken(reader.words(whole.name), STRONG, WIDEST, most=2))
            pieces = _by_clause(far) if far else broken(about, strong, WIDEST, most=2)
            told = tuple(((line, strong),) for line in pieces if line)
            tags.append(Tag((*named, *told), anchor, (0.0, 0.0)))
    return tags


def _by_clause(far: str) -> list[str]:
    """Return a distance and, in a line of its own, that it is the worst case: neither is parted in its middle."""
    distance, comma, case = far.partition(", ")
    return [f"{distance}{comma.strip()}", *([case] if case else [])]


def _vehicle(pen: Pen, frame: Box, changes: PlanChanges, scene: PlanContent, reader: Reader) -> None:
    """Draw the vehicle on the lift, small, with the signs of what changes under it."""
    places = [each.at[:2] for each in changes.goes]
    view = view_of(frame, [*scene.extent, *places], rim=14)
    replace(pen, layer=Layer.GROUND).box(frame, SHEET, Stroke(HAIRLINE, 1.5))
    inside = replace(pen, frame=frame)
    drawn = draw_floor(inside, view, scene)
    told, signs = draw_changes(inside, view, changes.only_stands, reader, NARROW)
    stands = [
        Tag(_named(support.name, carried(load, reader), reader), box, (0.0, 0.0))
        for (support, load), box in zip(scene.supports, drawn.taken, strict=False)
        if not support.is_arm
    ]
    tags = [*told_apart(stands), *told]
    draw_tags(replace(pen, layer=Layer.LABELS), tags, Ground((*drawn.taken, *signs), drawn.lines, frame))


def _named(name: str, told: str, reader: Reader) -> tuple[Row, ...]:
    """Return a name in lines, and what the stand carries below it."""
    return (*(((line, STRONG),) for line in broken(reader.words(name), STRONG, NARROW, most=2)), ((told, LABEL),))


def _changes(assessment: Assessment, stage: StageAssessment, scene: PlanContent) -> PlanChanges:
    """Return what a step changes about the bodies of a scene, and about what is gone from it."""
    job = assessment.job
    shown = {body.name for body in scene.bodies}
    lifted = job.lift.body if job.lift else ""
    gone = set(job.bodies) - set(stage.state.bodies)
    return changes_of(assessment, stage).of(tuple(shown | (gone if lifted not in shown else set())))


def _key(pen: Pen, box: Box) -> float:
    """Return how far up [px] the key of the signs reaches, drawn in the lower right corner."""
    left, step = box.right - COLUMN, LINE * SMALL.size + 4
    for number, (comes, words) in enumerate(reversed(KEY)):
        middle = box.bottom + (number + 0.5) * step
        change_sign(pen, (left + DISC + 1, middle), comes=comes)
        pen.words((left + 3 * DISC, middle), words, SMALL)
    return box.bottom + len(KEY) * step + LABEL.size / 2

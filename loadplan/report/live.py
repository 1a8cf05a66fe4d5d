"""The live plan of one stage: the unit on its stands as in the plan, with ids by which a page finds every piece."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from matplotlib.axes import Axes

from loadplan.model.answer import Load
from loadplan.model.job import Job, Support
from loadplan.model.verdict import Assessment, StageAssessment
from loadplan.report.figures import carried
from loadplan.report.floor import Drawn, draw_floor, edge_ends, region_left
from loadplan.report.ink import HAIRLINE, LABEL, LETTER, LOAD, SHEET, STRONG, Livery, Stroke, Type, livery
from loadplan.report.labels import Ground, Wanted, place_labels
from loadplan.report.lettering import LINE, text_width
from loadplan.report.margins import draw_front, draw_scale
from loadplan.report.naming import distance_words, mount_tags
from loadplan.report.page import page_of
from loadplan.report.pen import Layer, Named, Pen
from loadplan.report.region import Polygon
from loadplan.report.scene import Scene, Whole, unit_scene
from loadplan.report.tags import SPACE, Tag, draw_tags
from loadplan.report.view import Box, View, view_of
from loadplan.report.words import Reader, reader_of
from loadplan.units import System

NARROW = 560
"""Below this width [px] the names of mounts are left out."""

RIM = 56
"""Least distance of what is shown from the rim [px]."""

LEADER_INK = Stroke("#52606D", 1.0)
"""From a stand to its letter where that stands further off."""


@dataclass(frozen=True, slots=True)
class Live:
    """A stage drawn live: what is seen, and where.

    Attributes:
        scene: What is seen.
        view: Where.
        reader: Who reads it.
        ids: Id of every piece that is the same in every step.
        bodies: Names of the vehicle's bodies: a centre of gravity has the number of its first body.
    """

    scene: Scene
    view: View
    reader: Reader
    ids: Mapping[Named, str]
    bodies: tuple[str, ...]


def live_of(assessment: Assessment, stage: StageAssessment, size: tuple[float, float], units: System) -> Live:
    """Lay out a stage on a page.

    Args:
        assessment: The job, judged.
        stage: The stage.
        size: Width and height of the page [px].
        units: The reader's units.

    Returns:
        What is seen, and where.
    """
    scene = unit_scene(assessment, stage)
    frame = Box(0.0, 0.0, *size)
    job = assessment.job
    bodies = tuple(body.name for body in job.vehicle.bodies)
    return Live(scene, view_of(frame, scene.extent, RIM), reader_of(job, units), ids_of(job), bodies)


def ids_of(job: Job) -> dict[Named, str]:
    """Name the pieces of a drawing for a page: by numbers, since names may hold anything.

    Args:
        job: The job.

    Returns:
        Id of every support and every assembly in every role, by role and name.
    """
    return {
        (kind, support.name): f"{kind}-{number}"
        for number, support in enumerate(job.supports)
        for kind in ("stand", "tag", "load", "leader")
    }


def draw_live(ax: Axes, live: Live, stage: StageAssessment) -> None:
    """Draw a stage so that it fills the axes.

    Args:
        ax: Axes; their limits become px.
        live: What is seen, and where.
        stage: The stage.
    """
    page_of(ax)
    look = livery(stage.verdict)
    ids = {**live.ids, **_wholes(live)}
    pen = Pen(ax, Layer.GROUND, None, ids=ids)
    frame = live.view.frame
    pen.box(frame, SHEET, Stroke(HAIRLINE, 1.5))
    drawn = draw_floor(replace(pen, frame=frame), live.view, live.scene, look)
    corners = (draw_front(pen, live.view), draw_scale(pen, live.view, live.reader.units))
    ground = Ground((*drawn.taken, *corners), drawn.lines, frame)
    taken = _draw_stands(replace(pen, layer=Layer.LABELS), live, drawn, ground)
    rest = Ground((*ground.taken, *taken), ground.lines, frame)
    _draw_wholes(replace(pen, layer=Layer.LABELS), live, drawn, (look, rest))


def lines_of(live: Live, scene: Scene) -> dict[str, Polygon]:
    """Find the lines that move while a stand is moved, on the page of an earlier look.

    Args:
        live: The earlier look.
        scene: What is seen now.

    Returns:
        Lines and outlines on the page [px], by their ids: nearest edge, distance to it, region; empty for none.
    """
    told: dict[str, Polygon] = {}
    for number, whole in enumerate(scene.wholes):
        told[f"edge-{number}"], told[f"span-{number}"] = edge_ends(live.view, whole)
        told[f"region-{number}"] = live.view.page_all(region_left(live.view, whole))
    return told


def _wholes(live: Live) -> dict[Named, str]:
    ids = {
        (kind, whole.name): f"{kind}-{number}"
        for number, whole in enumerate(live.scene.wholes)
        for kind in ("edge", "span", "region", "far")
    }
    signs = {("cg", each.name): f"cg-{live.bodies.index(each.bodies[0].name)}" for each in live.scene.wholes}
    return ids | signs


def _draw_stands(pen: Pen, live: Live, drawn: Drawn, ground: Ground) -> list[Box]:
    """Return what the letters and loads cover, each of them a group of its own with its line."""
    shown = [
        (support, load, box)
        for (support, load), box in zip(live.scene.supports, drawn.taken, strict=False)
        if live.view.frame.holds(box.middle)
    ]
    middle = live.view.frame.middle
    wanted = [Wanted(_size(support, load, live.reader), box, _away(box, middle)) for support, load, box in shown]
    placed = place_labels(wanted, ground)
    for (support, load, _), spot in zip(shown, placed, strict=True):
        if spot.leader:
            replace(pen, layer=Layer.LEADERS).named("leader", support.name).line(spot.leader, LEADER_INK)
        with pen.together("tag", support.name):
            _draw_stand(pen, (support, load), spot.box, live.reader)
    return [spot.box for spot in placed]


def _draw_stand(pen: Pen, told: tuple[Support, Load | None], box: Box, reader: Reader) -> None:
    support, load = told
    pen.box(box, f"{SHEET}D0", None)
    name = reader.words(support.name)
    x, y = box.left + SPACE / 2, box.middle[1]
    pen.words((x, y), name, _letter(name))
    along = x + text_width(name, _letter(name)) + SPACE
    pen.named("load", support.name).words((along, y), carried(load, reader), LOAD)


def _size(support: Support, load: Load | None, reader: Reader) -> tuple[float, float]:
    name = reader.words(support.name)
    wide = text_width(name, _letter(name)) + text_width(carried(load, reader), LOAD)
    return wide + 2 * SPACE, LETTER.size * LINE


def _letter(name: str) -> Type:
    return LETTER if len(name) <= 3 else Type(18, bold=True, colour=LETTER.colour)


def _draw_wholes(pen: Pen, live: Live, drawn: Drawn, how: tuple[Livery, Ground]) -> None:
    look, ground = how
    mounts = mount_tags(live.view, live.scene.mounts, live.reader) if live.view.frame.width >= NARROW else []
    tags = [(_edge_tag(whole, anchor, live, look), whole.name) for whole, anchor in drawn.edges]
    for tag, name in tags:
        with pen.together("far", name):
            draw_tags(pen, [tag], ground)
    if mounts:
        draw_tags(pen, mounts, ground)


def _edge_tag(whole: Whole, anchor: Box, live: Live, look: Livery) -> Tag:
    strong = Type(22, bold=True, colour=look.line) if whole.name == live.scene.critical else STRONG
    far, _ = distance_words(whole, live.reader)
    name = ((live.reader.words(whole.name), LABEL),)
    return Tag((name, ((far, strong),)) if far else (name,), anchor, (0.0, 0.0))


def _away(box: Box, middle: tuple[float, float]) -> tuple[float, float]:
    across, along = box.middle[0] - middle[0], box.middle[1] - middle[1]
    return (across > 0) - (across < 0), 0.3 * ((along > 0) - (along < 0))

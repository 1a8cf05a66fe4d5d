"""The walk of the centre of gravity over the steps: of the unit, and of the vehicle on the lift."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from loadplan.model.vehicle import Place
from loadplan.model.verdict import Assessment, StageAssessment
from loadplan.report.drawing.label_placement import Ground
from loadplan.report.drawing.paper import Paper
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import CHALK, HAIRLINE, INK, LABEL, QUIET, SHEET, STRONG, TITLE, Stroke
from loadplan.report.drawing.text_boxes import Row, Tag, draw_tags
from loadplan.report.drawing.text_width import broken
from loadplan.report.drawing.view import Box, View, view_of
from loadplan.report.pictures.plan_content import PlanContent, unit_scene, vehicle_scene
from loadplan.report.pictures.plan_labels import edge_tags
from loadplan.report.pictures.plan_shapes import beads, draw_floor
from loadplan.report.pictures.signs import CG, cg_sign
from loadplan.report.pictures.tipping_edge import RigidShown
from loadplan.report.pictures.title_block import CAUTION_HIGH, draw_caution, draw_front, draw_scale
from loadplan.report.words.stage_tables import from_chalk
from loadplan.report.words.vocabulary import Reader, first_lift, reader_of, shown_verdict
from loadplan.units import System

RIM, TOP, WORDS = 24, 104, 220
"""Free rim, room for the title, and for the list below each view [px]."""

HEADING, CLOSE, NAME = 24, 250, 110
"""Room for what a view shows, width of the view from close by, widest name beside a stand [px]."""

DOT = 5
"""Radius of a stop on the way among the stands [px]."""

WAY = Stroke(INK, 2.0)
"""The way of a centre of gravity."""

FAR = 1e9
"""Further from tipping than anything is [m]."""

MOST = 3
"""Signs that cover each other by more than this of a radius squared, of 4, are told as one."""

SAME = 0.0005
"""Distance [m] below which a centre of gravity did not move: half of the last millimetre told."""


@dataclass(frozen=True, slots=True)
class Stop:
    """Where a centre of gravity is from one step to another.

    Attributes:
        steps: First and last step, from 1.
        at: Where [m], in the attitude of the vehicle's file.
        mass: What weighs [kg].
    """

    steps: tuple[int, int]
    at: Place
    mass: float

    @property
    def words(self) -> str:
        """The steps as people count them."""
        first, last = self.steps
        return f"{first}" if first == last else f"{first} to {last}"


def draw_walk(paper: Paper, assessment: Assessment, units: System) -> None:
    """Draw how the centres of gravity move from step to step so that it fills the page.

    Args:
        paper: A page of some 1200 px or more in width.
        assessment: The job, judged.
        units: The reader's units.
    """
    reader = reader_of(assessment.job, units)
    page = paper.page
    pen = Pen(paper, Layer.PAGE, None)
    replace(pen, layer=Layer.GROUND).box(page, SHEET, None)
    inner = page.grown(-RIM)
    shown = f"{shown_verdict(assessment.verdict, assessment.basis)}; weights: {assessment.basis.words}."
    title = broken(reader.words(f"Centre of gravity, step by step: {assessment.job.title}"), TITLE, inner.width, most=1)
    pen.words((inner.left, inner.top - 10), title[0], TITLE)
    pen.words((inner.left, inner.top - 36), shown, STRONG)
    pen.words((inner.left, inner.top - 58), first_lift(reader.units), LABEL)
    draw_caution(pen, Box(inner.left, page.bottom, inner.right, page.bottom + CAUTION_HIGH))
    walks = _walks(assessment)
    part = inner.width / max(len(walks), 1)
    for number, told in enumerate(walks):
        left = inner.left + number * part
        _draw(
            pen,
            Box(left, inner.bottom + CAUTION_HIGH - RIM, left + part - RIM / 2, inner.top - TOP + RIM),
            told,
            reader,
        )


def unit_walk(assessment: Assessment) -> list[Stop]:
    """Follow the common centre of gravity of all that any step parts from the body on the lift.

    Args:
        assessment: The job, judged.

    Returns:
        Where it is, steps in which it does not move together; empty where there is no unit.
    """
    unit = unit_bodies(assessment)
    return _stops([(stage, _centre(stage, unit)) for stage in assessment.stages])


def unit_bodies(assessment: Assessment) -> frozenset[str]:
    """Name the assemblies that stand apart from the body on the lift in any step.

    Args:
        assessment: The job, judged.

    Returns:
        Their names; without a lift all of them, and where no step parts any, all but the body on the lift.
    """
    lifted = assessment.job.lift.body if assessment.job.lift else ""
    groups = [group.bodies for stage in assessment.stages for group in stage.statics.groups]
    apart = {body for bodies in groups if lifted not in bodies for body in bodies}
    return frozenset(apart or {body for bodies in groups for body in bodies if body != lifted})


def lift_walk(assessment: Assessment) -> list[Stop]:
    """Follow the centre of gravity of all that the lift weighs.

    Args:
        assessment: The job, judged.

    Returns:
        Where it is, steps in which it does not move together; empty where the lift holds nothing.
    """
    held = [(stage, stage.statics.lift) for stage in assessment.stages]
    return _stops([(stage, (lift.cg, lift.mass) if lift else None) for stage, lift in held])


def _stops(found: list[tuple[StageAssessment, tuple[Place, float] | None]]) -> list[Stop]:
    """Return where a centre of gravity stops; steps one behind the other in which it stays are one stop."""
    stops: list[Stop] = []
    for stage, now in found:
        number = stage.state.index + 1
        stays = (
            now
            and stops
            and stops[-1].steps[1] == number - 1
            and all(abs(one - other) < SAME for one, other in zip(stops[-1].at, now[0], strict=True))
        )
        if stays:
            stops[-1] = replace(stops[-1], steps=(stops[-1].steps[0], number))
        elif now:
            stops.append(Stop((number, number), *now))
    return stops


def _centre(stage: StageAssessment, unit: frozenset[str]) -> tuple[Place, float] | None:
    there = [body for body in stage.statics.bodies if body.name in unit]
    if not there:
        return None
    mass = sum(body.mass for body in there)
    x, y, z = (sum(body.mass * body.cg[axis] for body in there) / mass for axis in range(3))
    return (x, y, z), mass


@dataclass(frozen=True, slots=True)
class _Walk:
    """A walk, whose it is, and the step that is drawn round it: the nearest to tipping."""

    name: str
    stops: list[Stop]
    step: int
    scene: PlanContent


def _walks(assessment: Assessment) -> list[_Walk]:
    """Return the walk of the unit and that of what the lift weighs, each with its narrowest step."""
    unit = [unit_scene(assessment, stage) for stage in assessment.stages]
    around = [vehicle_scene(assessment, stage) for stage in assessment.stages]
    stops, lifted = unit_walk(assessment), lift_walk(assessment)
    found = [("unit", stops, *_narrowest(unit))] if stops else []
    found += [("on the lift", lifted, *_narrowest(around))] if lifted and any(around) else []
    return [_Walk(*each) for each in found]


def _narrowest(scenes: Sequence[PlanContent | None]) -> tuple[int, PlanContent]:
    """Return number and scene of the step that is nearest to tipping; what has no edge comes last."""
    there = [(number, scene) for number, scene in enumerate(scenes) if scene]
    return min(there, key=lambda each: min((_left(whole) for whole in each[1].wholes), default=FAR))


def _left(whole: RigidShown) -> float:
    """Return how far a rigid whole is from going over in the worst case [m], where that is known."""
    if whole.free or whole.nearest is None:
        return -FAR if whole.free else FAR
    return whole.nearest.left


def _draw(pen: Pen, box: Box, walk: _Walk, reader: Reader) -> None:
    """Draw a walk among the stands and edges of its narrowest step, below it the same large, and a list of it."""
    frame = replace(box, bottom=box.bottom + WORDS, top=box.top - HEADING)
    said = f"{walk.name}: stands and edges as in step {walk.step + 1}, the nearest to tipping"
    pen.words((box.left, box.top - 10), broken(reader.words(said), STRONG, box.width, most=1)[0], STRONG)
    _among_stands(pen, frame, walk, reader)
    close = Box(box.right - CLOSE, box.bottom, box.right, frame.bottom - 10)
    _close(pen, close, walk.stops, reader)
    _list(pen, Box(box.left, box.bottom, close.left - 10, frame.bottom - 10), walk.stops, reader)


def _among_stands(pen: Pen, frame: Box, walk: _Walk, reader: Reader) -> None:
    """Draw the way to scale among stands, edges and the distance to the nearest of them."""
    scene = replace(walk.scene, points=(), bare=())
    view = view_of(frame, [*scene.extent, *(stop.at[:2] for stop in walk.stops)], rim=40, aside=50)
    replace(pen, layer=Layer.GROUND).box(frame, SHEET, Stroke(HAIRLINE, 1.5))
    inside = replace(pen, frame=frame)
    drawn = draw_floor(inside, view, scene)
    places = [view.page(*stop.at[:2]) for stop in walk.stops]
    for start, end in pairwise(places):
        replace(inside, layer=Layer.EDGES).line([start, end], WAY)
    for place in places:
        replace(inside, layer=Layer.CENTRES).disc(place, DOT, INK, Stroke(SHEET, 1.2))
    signs = [Box(x - DOT, y - DOT, x + DOT, y + DOT) for x, y in places]
    front = draw_front(pen, view)
    corners = [front, draw_scale(pen, view, reader.units, (*drawn.taken, *drawn.lines, *signs, front))]
    stands = drawn.taken[: len(scene.supports)]
    letters = [
        Tag(_called(support.name, reader), spot, (0.0, 0.0), tuple(each for each in stands if each != spot))
        for (support, _), spot in zip(scene.supports, stands, strict=True)
    ]
    ground = Ground((*drawn.taken, *signs, *corners), drawn.lines, frame)
    draw_tags(replace(pen, layer=Layer.LABELS), [*edge_tags(scene, drawn, reader), *letters], ground)


def _called(name: str, reader: Reader) -> tuple[Row, ...]:
    return tuple(((line, STRONG),) for line in broken(reader.words(name), STRONG, NAME, most=2))


def _close(pen: Pen, frame: Box, stops: list[Stop], reader: Reader) -> None:
    """Draw the way as large as its room lets it, with the steps at each stop."""
    view = view_of(frame, [stop.at[:2] for stop in stops], rim=34, aside=26)
    replace(pen, layer=Layer.GROUND).box(frame, SHEET, Stroke(HAIRLINE, 1.5))
    inside = replace(pen, frame=frame)
    _chalk(inside, view)
    places = [view.page(*stop.at[:2]) for stop in stops]
    for start, end in pairwise(places):
        replace(inside, layer=Layer.EDGES).line([start, end], WAY)
    for place in places:
        cg_sign(replace(inside, layer=Layer.CENTRES), place)
    signs = [Box(x - CG, y - CG, x + CG, y + CG) for x, y in places]
    corners = [draw_scale(pen, view, reader.units, signs)]
    tags = [Tag((((words, STRONG),),), sign, (0.0, 0.0)) for sign, words in _told_once(stops, signs).items()]
    lines = tuple(bead for start, end in pairwise(places) for bead in beads(start, end))
    draw_tags(replace(pen, layer=Layer.LABELS), tags, Ground((*signs, *corners), lines, frame))


def _told_once(stops: list[Stop], signs: list[Box]) -> dict[Box, str]:
    """Return the steps at each sign; where it comes back to a place, all of them together."""
    words: dict[Box, str] = {}
    for stop, sign in zip(stops, signs, strict=True):
        at = next((each for each in words if each.overlap(sign) > MOST * CG * CG), sign)
        words[at] = f"{words[at]}, {stop.words}" if at in words else stop.words
    return words


def _chalk(pen: Pen, view: View) -> None:
    across, along = view.page(0.0, 0.0)
    frame = view.frame
    pen = replace(pen, layer=Layer.FLOOR)
    pen.line([(frame.left, along), (frame.right, along)], CHALK)
    pen.line([(across, frame.bottom), (across, frame.top)], CHALK)


def _list(pen: Pen, box: Box, stops: list[Stop], reader: Reader) -> None:
    """Write each stop in lines, as many as there is room for; a place to which it comes back is told once."""
    top = box.top
    told: dict[str, list[str]] = {}
    for stop in stops:
        where = f"{from_chalk(*stop.at[:2], reader)}, {reader.length(stop.at[2])} up"
        told.setdefault(f"{reader.mass(stop.mass)}, {where}", []).append(stop.words)
    rows: list[str] = []
    for there, when in told.items():
        steps = ", ".join(when)
        rows += broken(f"{'Step' if steps.isdigit() else 'Steps'} {steps}: {there}", LABEL, box.width, most=2)
    most = int((top - box.bottom) / (1.3 * LABEL.size)) - 1
    top = pen.lines((box.left, top), rows[:most], LABEL)
    if len(rows) > most:
        pen.lines((box.left, top), ["and more"], QUIET)

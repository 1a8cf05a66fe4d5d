"""The lowering of one stage: how the load goes over from the arms of the lift to the stands, millimetre by millimetre.

Stands are drawn as a share of what they are to carry, each arm as a share of what it carried just before first
touch, so that one line each shows where the stands have the unit and where an arm is nearly empty.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import floor
from types import MappingProxyType

from loadplan.checks.case import NOTHING
from loadplan.model.lowering import SetDownAnswer
from loadplan.model.verdict import Assessment, CheckName, StageAssessment, Verdict
from loadplan.report.drawing.graph import ROW, Curve, Graph, ScaleMark, draw_scales, draw_share, tick_step
from loadplan.report.drawing.paper import Paper
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import BODIES, EDGE, INK, LABEL, QUIET, SHEET, STRONG, Stroke
from loadplan.report.drawing.text_width import broken, text_width
from loadplan.report.drawing.view import Box
from loadplan.report.pictures.rulers import spread
from loadplan.report.pictures.title_block import RIM, draw_surround
from loadplan.report.pictures.verdict_colours import UNBLAMED, Livery, livery
from loadplan.report.words.number_format import write_window
from loadplan.report.words.vocabulary import Reader, reader_of
from loadplan.stages import joined
from loadplan.statics.set_down_window import ARM_LEFT, BORNE
from loadplan.units import System

BESIDE, BELOW, ABOVE, SCALE = 300, 64, 62, 96
"""Room for the names of the lines, for the scale of levels, for the window's words, for the scale of shares [px]."""

DASHES = ((7.0, 4.0), (1.5, 3.0), (12.0, 4.0, 2.0, 4.0), ())
"""Dashes of the arms, in turn."""

TOP = 1.2
"""The shares reach at least so far."""

ASKED = ((BORNE, "stands have the unit"), (ARM_LEFT, "an arm is nearly empty"))
"""The two shares that make the window."""

INCH = 0.0254
"""Inch [m], exact."""

STEPS: Mapping[System, tuple[float, ...]] = MappingProxyType({
    System.METRIC: (0.001, 0.002, 0.005, 0.010, 0.020, 0.050, 0.100),
    System.US: (INCH / 8, INCH / 4, INCH / 2, INCH, 2 * INCH, 4 * INCH),
})
"""Distances of two marks on the scale of levels [m]."""

LEVELS = "lift lowered past first touch, or stands brought up"
"""What the levels are."""


SHARES = "carries: stands in % of the unit's weight, each pad in % of what it bore before the stands touched"
"""What the shares are."""

ALIKE = 0.02
"""Lines whose shares differ by no more than this all the way are drawn as one, with all their names."""


@dataclass(frozen=True, slots=True)
class LoadLine:
    """What one support, or all stands together, carry as the lift goes down.

    Attributes:
        name: What carries the load.
        curve: The load at each level, as a share.
        before: Load at the first level [N].
        now: Load at the job's level [N].
    """

    name: str
    curve: Curve
    before: float
    now: float


def draw_lowering(paper: Paper, assessment: Assessment, stage_index: int, units: System) -> None:
    """Draw the lowering of a stage in which a unit is set down, so that it fills the page.

    Args:
        paper: A page of some 1200 px or more in width.
        assessment: The job, judged.
        stage_index: Number of the stage, from 0; something is set down in it.
        units: The reader's units.

    Raises:
        ValueError: If nothing is set down in that stage.
    """
    stage = assessment.stages[stage_index]
    down = stage.statics.set_down
    if down is None:
        raise ValueError(stage.state.name)
    reader = reader_of(assessment.job, units)
    pen = Pen(paper, Layer.PAGE, None)
    middle = draw_surround(pen, paper.page, assessment, stage, reader)
    blamed = max((each.verdict for each in stage.findings if each.check is CheckName.SET_DOWN), default=Verdict.HOLDS)
    look = livery(blamed) if blamed > Verdict.NOTE else UNBLAMED
    shown = _Lowering(down, _lines(assessment, stage, down), look)
    _draw_graph(pen, middle, shown, reader)


@dataclass(frozen=True, slots=True)
class _Lowering:
    """What the graph shows: the set-down, a line a stand, and the colours of its fault."""

    down: SetDownAnswer
    lines: list[LoadLine]
    look: Livery


def _draw_graph(pen: Pen, box: Box, shown: _Lowering, reader: Reader) -> None:
    """Draw the window, the shares that make it, a line a stand, and the job's own level."""
    down, lines, look = shown.down, shown.lines, shown.look
    frame = Box(box.left + SCALE, box.bottom + BELOW, box.right - BESIDE, box.top - ABOVE)
    graph = Graph(frame, down.lowering.levels[-1], max(1.1 * max(max(line.curve.shares) for line in lines), TOP))
    _draw_window(pen, graph, down, reader)
    step = tick_step(graph.deepest, STEPS[reader.units])
    marks = range(floor(graph.deepest / step) + 1)
    ticks = [ScaleMark(mark * step, reader.length(mark * step)) for mark in marks]
    draw_scales(pen, graph, LEVELS, ticks)
    upright = [each for each in (down.start, down.end, down.lowered) if each is not None]
    for share in ASKED:
        draw_share(pen, graph, share, [line.curve for line in lines], upright)
    pen.words((box.left, frame.top + 48), SHARES, LABEL)
    _draw_lines(pen, graph, lines, reader)
    _draw_planned(pen, graph, down, look, reader)


def _lines(assessment: Assessment, stage: StageAssessment, down: SetDownAnswer) -> list[LoadLine]:
    """Return the stands together, then each arm that carried something."""
    lift, lowering = assessment.job.lift, down.lowering
    tied = joined(stage.state.done_up, lift.body) - {lift.body} if lift else frozenset()
    known = [each for each in stage.state.supports if each.name in lowering.supports]
    stands = [each.name for each in known if not each.is_arm and each.body in tied]
    arms = [each.name for each in known if each.is_arm and lowering.at(each.name, 0.0) > NOTHING * down.weight]
    return [
        _line("stands", stands, down, Stroke(INK, 3.5)),
        *_merged([_line(name, [name], down, Stroke(INK, 2.0)) for name in arms]),
    ]


def _merged(lines: list[LoadLine]) -> list[LoadLine]:
    """Return lines that can be told apart: those that run together are one, with the largest loads of them."""
    apart: list[LoadLine] = []
    for line in lines:
        place = next((number for number, each in enumerate(apart) if _alike(each, line)), None)
        if place is None:
            apart.append(line)
        else:
            one = apart[place]
            before, now = max(one.before, line.before), max(one.now, line.now)
            apart[place] = replace(one, name=f"{one.name}, {line.name}", before=before, now=now)
    return [
        replace(line, curve=replace(line.curve, stroke=Stroke(INK, 2.0, DASHES[number % len(DASHES)])))
        for number, line in enumerate(apart)
    ]


def _alike(one: LoadLine, other: LoadLine) -> bool:
    """Return whether two lines lie on each other."""
    pairs = zip(one.curve.shares, other.curve.shares, strict=True)
    return all(abs(here - there) <= ALIKE for here, there in pairs)


def _line(name: str, supports: list[str], down: SetDownAnswer, stroke: Stroke) -> LoadLine:
    lowering = down.lowering
    borne = [lowering.loads[lowering.supports.index(support)] for support in supports]
    loads = [sum(each) for each in zip(*borne, strict=True)]
    whole = loads[0] if supports == [name] else down.weight
    now = sum(lowering.at(support, down.lowered) for support in supports)
    return LoadLine(name, Curve(lowering.levels, tuple(each / whole for each in loads), stroke), loads[0], now)


def _draw_window(pen: Pen, graph: Graph, down: SetDownAnswer, reader: Reader) -> None:
    """Shade the levels between too little and too much, and write both; without a window, write why."""
    start, end, frame = down.start, down.end, graph.frame
    if start is not None and (end is None or start <= end):
        right = frame.right if end is None else graph.x(end)
        replace(pen, layer=Layer.BODIES).box(Box(graph.x(start), frame.bottom, right, frame.top), BODIES[0], None)
    marks = [(graph.x(level), words) for level, words in _ends(start, end, reader)]
    sizes = [text_width(words, STRONG) + 2 * RIM for _, words in marks]
    places = spread([x for x, _ in marks], sizes, (frame.left - SCALE, frame.right + BESIDE)) if marks else []
    for (x, words), place in zip(marks, places, strict=True):
        under = replace(pen, layer=Layer.EDGES)
        under.line([(x, frame.bottom), (x, frame.top), (place, frame.top + 8)], Stroke(EDGE, 1.4))
        pen.words((place, frame.top + 20), words, STRONG, "center")


def _ends(start: float | None, end: float | None, reader: Reader) -> list[tuple[float, str]]:
    """Return both ends of the window with their words, each rounded so that it stays inside."""
    if start is not None and end is not None and start <= end:
        least, most = write_window(start, end, reader.units)
        return [(start, f"at least {least}"), (end, f"at most {most}")]
    told = ((start, "at least "), (end, "at most "))
    return [(level, words + reader.length(level)) for level, words in told if level is not None]


def _draw_lines(pen: Pen, graph: Graph, lines: list[LoadLine], reader: Reader) -> None:
    """Draw a line a stand, with names at their ends moved apart."""
    inside = replace(pen, layer=Layer.EDGES, frame=graph.frame)
    ends = [graph.y(line.curve.shares[-1]) for line in lines]
    order = sorted(range(len(lines)), key=ends.__getitem__)
    room = (graph.frame.bottom - RIM, graph.frame.top + RIM)
    places = spread([ends[each] for each in order], [3.4 * ROW] * len(lines), room)
    for curve in (line.curve for line in lines):
        inside.line([(graph.x(x), graph.y(y)) for x, y in zip(curve.levels, curve.shares, strict=True)], curve.stroke)
    for each, place in zip(order, places, strict=True):
        _name(pen, (graph.frame.right, ends[each], place), lines[each], reader)


def _name(pen: Pen, at: tuple[float, float, float], line: LoadLine, reader: Reader) -> None:
    """Write a line's name and loads beside its end, with a leader that has its stroke."""
    right, end, place = at
    pen.line([(right, end), (right + 16, place), (right + 46, place)], line.curve.stroke)
    names = broken(reader.words(line.name), STRONG, BESIDE - 60, most=2)
    top = place + ROW * (len(names) + 1) / 2
    top = pen.lines((right + 54, top), names, STRONG)
    each = "each up to " if ", " in line.name else ""
    pen.lines((right + 54, top), [f"{each}{reader.load(line.before)}, then {reader.load(line.now)}"], LABEL)


def _draw_planned(pen: Pen, graph: Graph, down: SetDownAnswer, look: Livery, reader: Reader) -> None:
    """Draw how far the job goes."""
    x, frame = graph.x(down.lowered), graph.frame
    at = reader.length(down.lowered)
    pen.words((frame.right + 54, frame.bottom - 44), f"load at touch, then at {at}", QUIET)
    words = f"{at} {'planned' if down.given else 'taken'}"
    replace(pen, layer=Layer.EDGES).line([(x, frame.bottom), (x, frame.top)], Stroke(look.line, 3.0))
    wide = text_width(words, STRONG)
    left = x + 8 if x + 12 + wide < frame.right else x - 8 - wide
    pen.box(Box(left - 4, frame.top - 34, left + wide + 4, frame.top - 10), SHEET, None)
    pen.words((left, frame.top - 22), words, replace(STRONG, colour=look.line))

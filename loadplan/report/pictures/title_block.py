"""What stands round the drawing: verdict band, title, scale bar, key, and the cautions in one line."""

from collections.abc import Sequence
from dataclasses import replace

from loadplan.model.verdict import Assessment, StageAssessment, Verdict
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import (
    EDGE,
    INK,
    LABEL,
    QUIET,
    SENTENCE,
    SHEET,
    STRONG,
    TITLE,
    Stroke,
    Type,
)
from loadplan.report.drawing.text_width import LINE, broken, text_width
from loadplan.report.drawing.view import Box, View
from loadplan.report.pictures.plan_content import PlanContent
from loadplan.report.pictures.plan_labels import worst_words
from loadplan.report.pictures.tipping_edge import RigidShown
from loadplan.report.pictures.verdict_colours import livery
from loadplan.report.words.cautions import ONE_LINE
from loadplan.report.words.findings import stage_lines
from loadplan.report.words.vocabulary import Reader, first_lift, shown_verdict
from loadplan.units import System

GAP = 4
"""Free under the distances of a small view [px]."""

BAND = 118
"""Height of the verdict band with a reason of up to two lines [px]."""

RIM = 24
"""Free rim of the page [px]."""

TITLE_HIGH, CAUTION_HIGH = 66, 56
"""Room for title and cautions [px]."""

LINES, SMALL_REASON, SMALL_LINES = 4, 13.5, 6
"""Most lines of a reason, its type where it takes more [px], and how many it may then take."""

TEXTURE = 72
"""Width of the texture at each end of the band [px]."""


def draw_band(pen: Pen, page: Box, assessment: Assessment, stage: StageAssessment, reader: Reader) -> float:
    """Draw the verdict of a stage: word, texture, colour, basis, and the reason in one sentence.

    Args:
        pen: Draws it.
        page: The page; the band goes across its top.
        assessment: The job, judged.
        stage: The stage.
        reader: Who reads it.

    Returns:
        How far down it reaches: further with a long reason.
    """
    look = livery(stage.verdict)
    sentence = replace(SENTENCE, colour=look.text)
    lines, lettering = _whole(reason(stage, reader), sentence, page.width - 2 * (TEXTURE + 20))
    more = max(0.0, LINE * (len(lines) * lettering.size - 2 * sentence.size))
    box = replace(page, bottom=page.top - BAND - more)
    pen.box(box, look.fill, None)
    for left in (box.left, box.right - TEXTURE):
        end = Box(left, box.bottom, left + TEXTURE, box.top)
        pen.texture(end, look.hatch * 2, look.text)
    inner = Box(box.left + TEXTURE + 20, box.bottom, box.right - TEXTURE - 20, box.top)
    word = shown_verdict(stage.verdict, assessment.basis)
    pen.words((inner.left, box.top - 34), word, Type(40, bold=True, colour=look.text))
    pen.words((inner.right, box.top - 34), f"weights: {assessment.basis.words}", sentence, "right")
    pen.lines((inner.left, box.top - 60), lines, lettering)
    return box.bottom


def _whole(text: str, lettering: Type, width: float) -> tuple[list[str], Type]:
    """Return a text in lines of a type so small that all of it is there: what is cut off last is what would help."""
    small = replace(lettering, size=SMALL_REASON)
    large = broken(text, lettering, width, most=LINES)
    return (broken(text, small, width, most=SMALL_LINES), small) if large[-1].endswith("…") else (large, lettering)


def draw_surround(pen: Pen, page: Box, assessment: Assessment, stage: StageAssessment, reader: Reader) -> Box:
    """Draw what every page of a stage has round its middle: ground, verdict band, title, cautions.

    Args:
        pen: Draws it.
        page: The page.
        assessment: The job, judged.
        stage: The stage.
        reader: Who reads it.

    Returns:
        The middle, which is left free.
    """
    replace(pen, layer=Layer.GROUND).box(page, SHEET, None)
    low = draw_band(pen, page, assessment, stage, reader)
    inner = Box(page.left + RIM, page.bottom, page.right - RIM, low - 8)
    draw_title(pen, Box(inner.left, inner.top - TITLE_HIGH, inner.right, inner.top), assessment, stage, reader)
    draw_caution(pen, Box(inner.left, inner.bottom, inner.right, inner.bottom + CAUTION_HIGH))
    return Box(inner.left, inner.bottom + CAUTION_HIGH + 6, inner.right, inner.top - TITLE_HIGH)


def draw_title(pen: Pen, box: Box, assessment: Assessment, stage: StageAssessment, reader: Reader) -> None:
    """Draw which step of which job this is, and what a verdict rests on.

    Args:
        pen: Draws it.
        box: Where.
        assessment: The job, judged.
        stage: The stage.
        reader: Who reads it.
    """
    number = f"Step {stage.state.index + 1} of {len(assessment.stages)}: "
    title = broken(reader.words(number + stage.state.name), TITLE, box.width, most=1)
    first = first_lift(reader.units)
    job = broken(reader.words(assessment.job.title), LABEL, box.width - text_width(first, STRONG) - 30, most=1)
    pen.words((box.left, box.top - 18), title[0], TITLE)
    pen.words((box.left, box.top - 46), first, STRONG)
    pen.words((box.right, box.top - 46), job[0], QUIET, "right")


def draw_caution(pen: Pen, box: Box) -> None:
    """Draw the cautions in one line, or as many as it takes.

    Args:
        pen: Draws it.
        box: Where.
    """
    pen.line([(box.left, box.top), (box.right, box.top)], Stroke(EDGE, 1.2))
    pen.lines((box.left, box.top - 6), broken(ONE_LINE, LABEL, box.width, most=2), LABEL)


def draw_scale(pen: Pen, view: View, units: System, busy: Sequence[Box] = ()) -> Box:
    """Draw the scale bar in the corner of a view that is free: the lower left, else one without the arrow to front.

    Args:
        pen: Draws it.
        view: The view.
        units: The reader's units.
        busy: What is drawn already: in a corner with least of it the bar is not taken for an edge, nor hides a stand.

    Returns:
        What it covers.
    """
    metres, words = _bar(view, units)
    long, frame = metres * view.scale, view.frame
    wide = text_width(words, LABEL)
    far = frame.right - long - wide - 22
    corners = [(frame.left + 14, frame.bottom + 14), (far, frame.bottom + 14), (far, frame.top - 18)]
    # Where every corner has something in it, a place between the lower two may have less.
    between = [(corners[0][0] + part / 8 * (far - corners[0][0]), frame.bottom + 14) for part in range(1, 8)]
    places = [*corners, *between]
    left, bottom = min(places, key=lambda at: sum(map(_scale_room(at, long + wide).overlap, busy)))
    for part, fill in ((0.0, INK), (0.5, "#FFFFFF")):
        pen.box(Box(left + part * long, bottom, left + (part + 0.5) * long, bottom + 8), fill, Stroke(INK, 1.2))
    pen.box(Box(left + long + 6, bottom - 6, left + long + wide + 10, bottom + 14), SHEET, None)
    pen.words((left + long + 8, bottom + 4), words, LABEL)
    return _scale_room((left, bottom), long + wide)


def _scale_room(at: tuple[float, float], long: float) -> Box:
    """Return what a scale bar with its words covers, from its lower left end and both lengths [px]."""
    return Box(at[0] - 6, at[1] - 8, at[0] + long + 14, at[1] + 16)


def draw_front(pen: Pen, view: View) -> Box:
    """Draw an arrow to the front in the upper left corner of a view.

    Args:
        pen: Draws it.
        view: The view.

    Returns:
        What it covers.
    """
    half = text_width("front", STRONG) / 2
    x, top = view.frame.left + half + 8, view.frame.top - 8
    pen.area([(x, top), (x - 9, top - 22), (x + 9, top - 22)], INK, None)
    pen.line([(x, top - 20), (x, top - 44)], Stroke(INK, 3.0))
    # Chalk lines and outlines that run through here would strike the word out.
    pen.box(Box(x - half - 3, top - 66, x + half + 3, top - 46), SHEET, None)
    pen.words((x, top - 56), "front", STRONG, "center")
    return Box(view.frame.left, top - 68, x + half + 4, top + 8)


def draw_distances(pen: Pen, box: Box, scene: PlanContent, reader: Reader) -> None:
    """Write how far the assemblies of a small view are from going over, and what they turn about.

    Args:
        pen: Draws it.
        box: Where.
        scene: The scene of that view.
        reader: Who reads it.
    """
    top = box.top
    for whole in scene.wholes:
        for lines, lettering in _distance_lines(scene, whole, box.width, reader):
            top = pen.lines((box.left, top), lines, lettering)


def distances_high(scene: PlanContent, width: float, reader: Reader) -> float:
    """Return the room [px] that the distances of a small view take in a column of some width [px]."""
    told = [each for whole in scene.wholes for each in _distance_lines(scene, whole, width, reader)]
    return sum(len(lines) * LINE * lettering.size for lines, lettering in told) + 2 * GAP


def _distance_lines(
    scene: PlanContent, whole: RigidShown, width: float, reader: Reader
) -> list[tuple[list[str], Type]]:
    """Return how far a rigid whole is from going over, and under it what it turns about, in lines."""
    far, about = worst_words(whole, reader)
    strong = replace(STRONG, colour=scene.faults.edge(whole).line)
    heading = f"{reader.words(whole.name)}: {far}" if far else reader.words(whole.name)
    below = [(broken(about, LABEL, width, most=2), LABEL)] if about else []
    return [(broken(heading, strong, width, most=2), strong), *below]


def reason(stage: StageAssessment, reader: Reader) -> str:
    """Tell in one sentence why a stage has its verdict.

    Args:
        stage: The stage.
        reader: Who reads it.

    Returns:
        What its worst finding says; what was looked at where nothing is wrong.
    """
    lines = stage_lines(stage, reader)
    worst = [line for line in lines if line.verdict is stage.verdict and line.verdict > Verdict.HOLDS]
    if worst:
        return worst[0].text
    return "Every check of this step holds; read its notes." if lines else "Every check of this step holds."


def _bar(view: View, units: System) -> tuple[float, str]:
    """Return a round length [m] that is some 120 px long, or a quarter of a narrow view, and its words."""
    match units:
        case System.METRIC:
            lengths = [(millimetres / 1000, f"{millimetres} mm") for millimetres in (100, 200, 500, 1000, 2000, 5000)]
        case System.US:
            lengths = [(inches * 0.0254, f"{inches} in") for inches in (4, 6, 12, 24, 48, 96, 192)]
    return min(lengths, key=lambda each: abs(each[0] * view.scale - min(120.0, view.frame.width / 4)))

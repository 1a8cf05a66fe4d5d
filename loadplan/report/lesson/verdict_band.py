"""The verdict on a page of a lesson: word, colour and texture, and how good the weights are."""

from dataclasses import replace

from loadplan.model.vehicle import Basis
from loadplan.model.verdict import Verdict
from loadplan.report.drawing.pen import Pen
from loadplan.report.drawing.style import INK, Stroke
from loadplan.report.drawing.text_width import broken, text_width
from loadplan.report.drawing.view import Box
from loadplan.report.lesson.load_bars import BODY, BOLD, STEP
from loadplan.report.pictures.verdict_colours import livery
from loadplan.report.words.vocabulary import shown_verdict

ENDS, INSET, GAP = 9, 4, 10
"""Width of the texture at each end, free room beside the word, and gap before the weights [px]."""


def verdict_high(width: float, verdict: Verdict, basis: Basis) -> float:
    """Measure how high a verdict with the weights is, beside it or below.

    Args:
        width: Room [px].
        verdict: The verdict.
        basis: How good the weights are.

    Returns:
        Its height [px].
    """
    lines = _lines(width, verdict, basis)
    return STEP * (len(lines) + (not _beside(lines, width, basis))) + INSET


def draw_verdict(pen: Pen, box: Box, verdict: Verdict, basis: Basis) -> None:
    """Draw a verdict in its colour and texture at the foot of a box, the weights beside it or below.

    Args:
        pen: Draws it.
        box: Where.
        verdict: The verdict.
        basis: How good the weights are.
    """
    look, lines = livery(verdict), _lines(box.width, verdict, basis)
    beside = _beside(lines, box.width, basis)
    low = box.bottom if beside else box.bottom + STEP
    wide = max(text_width(line, BOLD) for line in lines) + 2 * (ENDS + INSET)
    band = Box(box.left, low, box.left + wide, low + STEP * len(lines))
    pen.box(band, look.fill, Stroke(INK, 1.0))
    for left in (band.left, band.right - ENDS):
        pen.texture(Box(left, band.bottom, left + ENDS, band.top), look.hatch, look.text)
    pen.lines((band.left + ENDS + INSET, band.top), lines, replace(BOLD, colour=look.text))
    place = (band.right + GAP, band.middle[1]) if beside else (box.left, low - STEP / 2 - 1)
    pen.words(place, _weights(basis), BODY)


def _lines(width: float, verdict: Verdict, basis: Basis) -> list[str]:
    return broken(shown_verdict(verdict, basis), BOLD, width - 2 * (ENDS + INSET), most=2)


def _beside(lines: list[str], width: float, basis: Basis) -> bool:
    wide = max(text_width(line, BOLD) for line in lines) + 2 * (ENDS + INSET)
    return wide + GAP + text_width(_weights(basis), BODY) <= width


def _weights(basis: Basis) -> str:
    return f"weights: {basis.words}"

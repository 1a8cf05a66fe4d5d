"""Ink: the colours, textures, strokes and type of every drawing. Sizes in px of 1/96 in.

The colours were chosen by measured contrast: white on the blue of "holds" 6.6, ink on the yellow of "caution" 8.4,
white on the red of "stop" 9.1; the three stay apart for colour-blind eyes (CIE76 45 or more). A verdict never
stands on its colour alone: word and texture stand beside it.
"""

from dataclasses import dataclass
from typing import assert_never

from loadplan.model.verdict import Verdict

FONT = "DejaVu Sans"
"""Comes with matplotlib, so that every machine draws the same."""

MONO = "DejaVu Sans Mono"
"""The same, every letter as wide as the next: for columns of figures."""

INK = "#1B2430"
SOFT = "#52606D"
SHEET = "#FFFFFF"
PAPER = "#F4F3EE"
HAIRLINE = "#D5D9D6"
EDGE = "#6B7682"
BODIES = ("#DDE3E8", "#CBD4DB")
"""Fills of the assemblies, in turn."""

POINTS_PER_PX = 0.75
"""Typographic points a px."""


@dataclass(frozen=True, slots=True)
class Type:
    """A size [px] and weight of lettering, its colour and its font."""

    size: float
    bold: bool
    colour: str
    family: str = FONT


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line's colour, width [px] and dashes (lengths in line widths, empty for none)."""

    colour: str
    width: float
    dashes: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Livery:
    """How a verdict looks.

    Attributes:
        fill: Ground of its band.
        text: Lettering on that ground.
        line: Lines and lettering in its colour on white.
        hatch: Texture of the ends of its band.
    """

    fill: str
    text: str
    line: str
    hatch: str


LABEL = Type(16, bold=False, colour=INK)
STRONG = Type(16, bold=True, colour=INK)
QUIET = Type(16, bold=False, colour=SOFT)
SENTENCE = Type(20, bold=False, colour=INK)
TITLE = Type(20, bold=True, colour=INK)
LETTER = Type(26, bold=True, colour=INK)
LOAD = Type(22, bold=False, colour=INK)

OUTLINE = Stroke(INK, 1.6)
FAR_OUTLINE = Stroke(EDGE, 1.6, (7, 4))
"""Outline of an assembly that is not the subject of the drawing."""

CHALK = Stroke(EDGE, 1.2, (12, 4, 2, 4))
"""The lines chalked on the floor."""

TAPE = Stroke(EDGE, 0.9, (1, 3))
"""From a stand to the ruler on which its place is read."""

LEADER = Stroke(SOFT, 1.0)
THIN_EDGE = Stroke(INK, 3.0)
LIMIT = Stroke(EDGE, 1.4, (4, 3))
"""Edge of the region in which a centre of gravity may lie."""


def livery(verdict: Verdict) -> Livery:
    """Return how a verdict looks.

    Args:
        verdict: The verdict; a note for a whole stage says that it was not judged.

    Returns:
        Colours and texture.
    """
    match verdict:
        case Verdict.HOLDS:
            return Livery("#0B5FA5", SHEET, "#0B5FA5", ".")
        case Verdict.CAUTION:
            return Livery("#F0B429", INK, "#8A5A00", "/")
        case Verdict.STOP:
            return Livery("#8F1239", SHEET, "#8F1239", "x")
        case Verdict.NOTE:
            return Livery(SOFT, SHEET, SOFT, "-")
        case _:
            assert_never(verdict)

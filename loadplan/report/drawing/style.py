"""Style: the colours, strokes and type of every drawing. Sizes in px of 1/96 in."""

from dataclasses import dataclass

FONT = "Atkinson Hyperlegible"
"""Comes from a package, so that every machine draws the same; the page has it, too."""

BEHIND = "DejaVu Sans"
"""Comes with matplotlib: has the letters that the first lacks."""

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


LABEL = Type(16, bold=False, colour=INK)
STRONG = Type(16, bold=True, colour=INK)
QUIET = Type(16, bold=False, colour=SOFT)
SENTENCE = Type(20, bold=False, colour=INK)
TITLE = Type(20, bold=True, colour=INK)
LETTER = Type(26, bold=True, colour=INK)
LOAD = Type(22, bold=False, colour=INK)
SMALL_LETTER = Type(20, bold=True, colour=INK)
"""Letter of a stand in a narrow drawing, with its load as a label."""

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

HATCH = Stroke(SOFT, 1.2)
"""Where one more stand would help."""

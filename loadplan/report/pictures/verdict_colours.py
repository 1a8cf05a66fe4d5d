"""How a verdict looks in every picture: its colours and its texture.

The colours were chosen by measured contrast: white on the blue of "holds" 6.6, ink on the yellow of "caution" 8.4,
white on the red of "stop" 9.1; the three stay apart for colour-blind eyes (CIE76 45 or more). A verdict never
stands on its colour alone: word and texture stand beside it.
"""

from dataclasses import dataclass
from typing import assert_never

from loadplan.model.verdict import Verdict
from loadplan.report.drawing.style import EDGE, INK, SHEET, SOFT


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


UNBLAMED = Livery(EDGE, SHEET, INK, "")
"""How an edge looks that is far enough away: colour stands on what is at fault, and nowhere else."""


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

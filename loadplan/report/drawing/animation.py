"""Animations as bytes: a GIF, whose frames may be drawn by several processes."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import TypeAlias

from matplotlib.figure import Figure
from matplotlib.patches import Rectangle
from PIL import Image

from loadplan.report.drawing.axes_paper import paint
from loadplan.report.drawing.paper import PX, Paper
from loadplan.report.drawing.save_figure import dots_of, drawing
from loadplan.report.drawing.style import HAIRLINE, SHEET

MILLISECONDS = 1000
"""Milliseconds a second: what a GIF's library counts in."""

Frame: TypeAlias = tuple[float, Callable[[Paper], None]]
"""For how many seconds a frame stands, and what draws it."""


@dataclass(frozen=True, slots=True)
class Still:
    """A frame that is drawn.

    Attributes:
        seconds: For how long it stands [s].
        size: Width and height [dots].
        dots: Number of each dot's colour, a byte each, row by row from the top.
        colours: Red, green and blue of each colour that the frame has, a byte each.
    """

    seconds: float
    size: tuple[int, int]
    dots: bytes
    colours: bytes


@dataclass(frozen=True, slots=True)
class Reel:
    """What all frames of an animation have in common.

    Attributes:
        inches: Width and height [in].
        dots: Dots an inch.
    """

    inches: tuple[float, float]
    dots: int

    def still(self, numbered: tuple[int, Frame]) -> Still:
        """Draw a frame.

        Args:
            numbered: Its number, from 0, and the frame.

        Returns:
            It, equal for equal input.
        """
        number, (seconds, draw) = numbered
        wide, high = (round(length * self.dots) for length in self.inches)
        paper = Paper((self.inches[0] * PX, self.inches[1] * PX))
        draw(paper)
        figure = Figure(figsize=self.inches)
        with drawing():
            paint(paper, figure.add_axes((0.0, 0.0, 1.0, 1.0)))
            _mark_corners(figure, (1 / wide, 1 / high), HAIRLINE if number % 2 else SHEET)
            dots = dots_of(figure, self.dots)
        # Its colours are chosen here, where several processes share the frames, not where they are joined.
        chosen = Image.fromarray(dots).convert("P", palette=Image.Palette.ADAPTIVE)
        return Still(seconds, (wide, high), chosen.tobytes(), chosen.palette.tobytes() if chosen.palette else b"")


def film(inches: tuple[float, float], dots: int, frames: Sequence[Frame]) -> bytes:
    """Draw an animation that goes round and round.

    Args:
        inches: Width and height [in].
        dots: Dots an inch.
        frames: Its frames; at least one.

    Returns:
        Content of a GIF file whose frames all have its size; equal for equal input.
    """
    return joined([Reel(inches, dots).still(each) for each in enumerate(frames)])


def joined(stills: Sequence[Still]) -> bytes:
    """Put frames together to an animation that goes round and round.

    Args:
        stills: The frames, of one size; at least one.

    Returns:
        Content of a GIF file; equal for equal input.
    """
    first, *others = (_picture(each) for each in stills)
    stands = [round(each.seconds * MILLISECONDS) for each in stills]
    stream = BytesIO()
    first.save(stream, format="GIF", save_all=True, append_images=others, duration=stands, loop=0)
    return stream.getvalue()


def _picture(still: Still) -> Image.Image:
    found = Image.frombytes("P", still.size, still.dots)
    found.putpalette(still.colours)
    return found


def _mark_corners(figure: Figure, pixel: tuple[float, float], colour: str) -> None:
    """Mark two opposite corners by a pixel in turn of another colour.

    Pillow keeps of each frame the part that differs from the one before; some viewers take that for the whole frame.
    With both corners different it is the whole.
    """
    for corner in ((0.0, 0.0), (1.0 - pixel[0], 1.0 - pixel[1])):
        figure.add_artist(
            Rectangle(corner, *pixel, transform=figure.transFigure, facecolor=colour, linewidth=0, zorder=100)
        )

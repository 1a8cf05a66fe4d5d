"""Animations as bytes: a GIF, which matplotlib writes through Pillow, without any other program."""

from collections.abc import Callable, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Protocol

from matplotlib.animation import PillowWriter
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from loadplan.report.drawing.save_figure import drawing
from loadplan.report.drawing.style import HAIRLINE, SHEET

MILLISECONDS = 1000
"""Milliseconds a second: what a GIF's library counts in."""


def film(inches: tuple[float, float], dots: int, frames: Sequence[tuple[float, Callable[[Axes], None]]]) -> bytes:
    """Draw an animation that goes round and round.

    Args:
        inches: Width and height [in].
        dots: Dots an inch.
        frames: For how many seconds each stands, and what draws it onto axes that fill the page; at least one.

    Returns:
        Content of a GIF file whose frames all have its size; equal for equal input.
    """
    figure = Figure(figsize=inches)
    pixel = 1 / (inches[0] * dots), 1 / (inches[1] * dots)
    with drawing(), TemporaryDirectory() as folder:
        path = Path(folder, "film.gif")
        writer = _Holder([round(seconds * MILLISECONDS) for seconds, _ in frames])
        with writer.saving(figure, str(path), dpi=dots):
            for number, (_, draw) in enumerate(frames):
                figure.clear()
                draw(figure.add_axes((0.0, 0.0, 1.0, 1.0)))
                _mark_corners(figure, pixel, HAIRLINE if number % 2 else SHEET)
                writer.grab_frame()
        return path.read_bytes()


class _Picture(Protocol):
    """What of one of Pillow's pictures is used."""

    def save(
        self, path: str, *, save_all: bool, append_images: "list[_Picture]", duration: list[int], loop: int
    ) -> None:
        """Write an animation that begins with it."""


class _Holder(PillowWriter):
    """A writer whose frames each stand as long as they should, where the usual one draws a frame again and again."""

    _frames: "list[_Picture]"

    def __init__(self, durations: list[int]) -> None:
        super().__init__()
        self._durations = durations

    def finish(self) -> None:
        """Write the file."""
        first, *others = self._frames
        first.save(str(self.outfile), save_all=True, append_images=others, duration=self._durations, loop=0)


def _mark_corners(figure: Figure, pixel: tuple[float, float], colour: str) -> None:
    """Mark two opposite corners by a pixel in turn of another colour.

    Pillow keeps of each frame the part that differs from the one before; some viewers take that for the whole frame.
    With both corners different it is the whole.
    """
    for corner in ((0.0, 0.0), (1.0 - pixel[0], 1.0 - pixel[1])):
        figure.add_artist(
            Rectangle(corner, *pixel, transform=figure.transFigure, facecolor=colour, linewidth=0, zorder=100)
        )

"""Animations as bytes: a GIF, which matplotlib writes through Pillow, without any other program."""

from collections.abc import Callable, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

from matplotlib.animation import PillowWriter
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from loadplan.report.drawing.save_figure import drawing


def film(inches: tuple[float, float], dots: int, frames: Sequence[tuple[int, Callable[[Axes], None]]]) -> bytes:
    """Draw an animation that goes round and round.

    Args:
        inches: Width and height [in].
        dots: Dots an inch.
        frames: For how many seconds each stands, and what draws it onto axes that fill the page; at least one.

    Returns:
        Content of a GIF file; equal for equal input.
    """
    figure = Figure(figsize=inches)
    with drawing(), TemporaryDirectory() as folder:
        path = Path(folder, "film.gif")
        writer = PillowWriter(fps=1)
        with writer.saving(figure, str(path), dpi=dots):
            for seconds, draw in frames:
                figure.clear()
                draw(figure.add_axes((0.0, 0.0, 1.0, 1.0)))
                for _ in range(seconds):
                    writer.grab_frame()
        return path.read_bytes()

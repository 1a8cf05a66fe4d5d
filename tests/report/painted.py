"""A page painted onto axes, whose artists tests look at."""

from collections.abc import Callable

from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from loadplan.report.drawing.axes_paper import paint
from loadplan.report.drawing.paper import PX, Paper


def painted(size: tuple[float, float], draw: Callable[[Paper], None]) -> Axes:
    """Return the axes that a page of a size [px] is painted on."""
    paper = Paper(size)
    draw(paper)
    figure = Figure(figsize=(size[0] / PX, size[1] / PX), dpi=PX)
    FigureCanvasAgg(figure)
    ax = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    paint(paper, ax)
    return ax

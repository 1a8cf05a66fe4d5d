"""A page painted by matplotlib: for PDF and PNG, which it writes."""

from typing import Any, assert_never

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.backend_bases import RendererBase
from matplotlib.image import AxesImage
from matplotlib.patches import Circle, PathPatch, Rectangle, Wedge
from matplotlib.path import Path
from matplotlib.transforms import Bbox, TransformedBbox

from loadplan.report.drawing.artists import DrawnLine, PaintedArea, TextLine
from loadplan.report.drawing.font_measure import font_of
from loadplan.report.drawing.paper import (
    AreaMark,
    CellsMark,
    DiscMark,
    GroupMark,
    LineMark,
    Look,
    Paper,
    PictureMark,
    PlacedMark,
    Shape,
    TextureMark,
    WedgeMark,
    WordsMark,
)
from loadplan.report.drawing.style import POINTS_PER_PX
from loadplan.report.drawing.view import Box

CELL = (Path.MOVETO, Path.LINETO, Path.LINETO, Path.LINETO, Path.CLOSEPOLY)
"""How a rectangle of many is drawn."""


def paint(paper: Paper, ax: Axes) -> None:
    """Paint a page onto axes.

    Args:
        paper: What is drawn.
        ax: Axes that fill a figure of its size; their limits are set and their frame is hidden.
    """
    ax.set_xlim(paper.page.left, paper.page.right)
    ax.set_ylim(paper.page.bottom, paper.page.top)
    ax.set_axis_off()
    cuts = _Cuts(ax)
    for mark in paper.marks:
        artist = _artist(mark, ax)
        artist.set_zorder(mark.layer)
        artist.set_gid(mark.called or None)
        ax.add_artist(artist)
        if not isinstance(mark.shape, GroupMark):
            artist.set_clip_box(cuts.of(mark.frame))


class _Cuts:
    """Where what is drawn is cut off, for each frame, made once."""

    def __init__(self, ax: Axes) -> None:
        self._ax = ax
        self._made: dict[Box | None, TransformedBbox] = {}

    def of(self, frame: Box | None) -> TransformedBbox:
        """Return where what is drawn in a frame is cut off: at the frame, or at the page."""
        if frame not in self._made:
            inside = Bbox.from_extents(frame.left, frame.bottom, frame.right, frame.top) if frame else Bbox.unit()
            self._made[frame] = TransformedBbox(inside, self._ax.transData if frame else self._ax.patch.get_transform())
        return self._made[frame]


def _artist(mark: PlacedMark, ax: Axes) -> Artist:
    """Return what draws a mark."""
    match mark.shape:
        case LineMark():
            return _line(mark.shape)
        case WordsMark():
            return _words(mark.shape)
        case GroupMark():
            return _Bracket(mark.shape.opens)
        case PictureMark():
            return _picture(mark.shape, ax)
        case _:
            return _patch(mark.shape)


def _patch(shape: Shape) -> Artist:
    """Return what draws a shape that is painted inside.

    Raises:
        TypeError: If it is none.
    """
    match shape:
        case AreaMark():
            return PaintedArea(shape.places, closed=True, **_look(shape.look))
        case DiscMark():
            return Circle(shape.centre, shape.radius, **_look(shape.look))
        case WedgeMark():
            return Wedge(shape.centre, shape.radius, *shape.sides, **_look(shape.look))
        case TextureMark():
            box = shape.box
            patch = Rectangle((box.left, box.bottom), box.width, box.height)
            patch.set(facecolor="none", edgecolor=shape.colour, hatch=shape.hatch, linewidth=0)
            return patch
        case CellsMark():
            path = Path([each for box in shape.boxes for each in _round(box)], CELL * len(shape.boxes))
            return PathPatch(path, facecolor=shape.fill, edgecolor="none", linewidth=0)
        case LineMark() | WordsMark() | GroupMark() | PictureMark():
            raise TypeError(shape)
        case _:
            assert_never(shape)


def _round(box: Box) -> tuple[tuple[float, float], ...]:
    """Return the corners of a box, the first once more at the end."""
    first = (box.left, box.bottom)
    return first, (box.right, box.bottom), (box.right, box.top), (box.left, box.top), first


def _line(shape: LineMark) -> Artist:
    """Return what draws a line."""
    stroke = shape.stroke
    return DrawnLine(
        [x for x, _ in shape.places],
        [y for _, y in shape.places],
        color=stroke.colour,
        linewidth=stroke.width * POINTS_PER_PX,
        linestyle=(0, stroke.dashes) if stroke.dashes else "-",
        solid_capstyle="butt",
        dash_capstyle="butt",
    )


def _words(shape: WordsMark) -> Artist:
    """Return what writes a line of words."""
    return TextLine(
        *shape.at,
        shape.text,
        color=shape.lettering.colour,
        fontproperties=font_of(shape.lettering),
        horizontalalignment=shape.side,
        verticalalignment="baseline",
        parse_math=False,
    )


def _picture(shape: PictureMark, ax: Axes) -> Artist:
    """Return what shows a picture."""
    box = shape.box
    image = AxesImage(ax, interpolation="none", extent=(box.left, box.right, box.bottom, box.top))
    image.set_data(np.frombuffer(shape.colours, np.uint8).reshape(shape.height, shape.width, 3))
    return image


def _look(look: Look) -> dict[str, Any]:
    """Return how a shape with a fill and a rim is made."""
    stroke = look.stroke
    return {
        "facecolor": look.fill or "none",
        "edgecolor": stroke.colour if stroke else "none",
        "linewidth": stroke.width * POINTS_PER_PX if stroke else 0,
        "linestyle": (0, stroke.dashes) if stroke and stroke.dashes else "-",
        "joinstyle": "miter",
    }


class _Bracket(Artist):
    """Opens a group of an SVG, or closes it: axes draw artists of one layer in the order in which they came."""

    def __init__(self, opens: str) -> None:
        super().__init__()
        self._opens = opens

    def draw(self, renderer: RendererBase) -> None:
        """Open the group, or close it."""
        if self._opens:
            renderer.open_group("named", gid=self._opens)
        else:
            renderer.close_group("named")

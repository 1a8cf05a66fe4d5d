"""The pen: lines, areas and words on a page whose unit is the px, y upwards."""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from enum import Enum
from types import MappingProxyType
from typing import Any, Literal, TypeAlias

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.backend_bases import RendererBase
from matplotlib.image import AxesImage
from matplotlib.patches import Circle, PathPatch, Rectangle, Wedge
from matplotlib.path import Path
from matplotlib.transforms import Bbox, TransformedBbox

from loadplan.report.drawing.artists import DrawnLine, PaintedArea, TextLine
from loadplan.report.drawing.style import POINTS_PER_PX, Stroke, Type
from loadplan.report.drawing.text_width import LINE, font_of
from loadplan.report.drawing.view import XY, Box

Hold: TypeAlias = Literal["left", "center", "right"]
"""The side at which a line of text is held."""

MIDDLE = 0.36
"""Height of the middle of capitals and figures over the line [type sizes]."""


APART: XY = (float("nan"), float("nan"))
"""Where a line is lifted off the page: no place on it."""

Named: TypeAlias = tuple[str, str]
"""What a piece of a drawing shows: its kind, and the name of the thing."""

UNNAMED: Mapping[Named, str] = MappingProxyType({})


class Layer(Enum):
    """What lies over what, lowest first."""

    GROUND = 1
    BODIES = 2
    REGION = 3
    FLOOR = 4
    STANDS = 5
    EDGES = 6
    CENTRES = 7
    LEADERS = 8
    LABELS = 9
    PAGE = 10


@dataclass(frozen=True, slots=True)
class Pen:
    """Draws onto axes, inside a frame if there is one.

    Attributes:
        ax: The axes, whose data units are px.
        layer: Over and under what it draws.
        frame: What sticks out of it is cut off; None for the whole page.
        zoom: How many px of the paper a px of the page is: above 1 everything is drawn larger, for a wall.
        ids: Id in an SVG of each piece that a page wants to find again.
        called: Id of what is drawn next, "" for none.
        cuts: Where what is drawn is cut off, for each frame, made once: shared by all pens made of this one.
    """

    ax: Axes
    layer: Layer
    frame: Box | None
    zoom: float = 1.0
    ids: Mapping[Named, str] = field(default_factory=lambda: UNNAMED)
    called: str = ""
    cuts: dict[Box | None, TransformedBbox] = field(default_factory=dict, repr=False, compare=False)

    def named(self, kind: str, name: str) -> "Pen":
        """Return a pen whose single strokes carry the id of a thing, if it has one."""
        return replace(self, called=self.ids.get((kind, name), ""))

    @contextmanager
    def together(self, kind: str, name: str) -> Iterator[None]:
        """Put what is drawn meanwhile on this pen's layer into one group with the id of a thing, if it has one."""
        called = self.ids.get((kind, name), "")
        if called:
            self.ax.add_artist(_Bracket(self.layer, called))
        yield
        if called:
            self.ax.add_artist(_Bracket(self.layer, ""))

    def line(self, places: Sequence[XY], stroke: Stroke) -> None:
        """Draw a line through places [px]."""
        line = DrawnLine(
            [x for x, _ in places],
            [y for _, y in places],
            color=stroke.colour,
            linewidth=stroke.width * POINTS_PER_PX * self.zoom,
            linestyle=(0, stroke.dashes) if stroke.dashes else "-",
            solid_capstyle="butt",
            dash_capstyle="butt",
            zorder=self.layer.value,
        )
        line.set_gid(self.called or None)
        self._add(line, self.frame)  # as add_line does, without working out limits that are set

    def segments(self, pairs: Sequence[tuple[XY, XY]], stroke: Stroke) -> None:
        """Draw lines that need not meet, each from place to place [px], as one piece of the drawing."""
        if pairs:
            self.line([place for pair in pairs for place in (*pair, APART)], stroke)

    def area(self, places: Sequence[XY], fill: str | None, stroke: Stroke | None) -> None:
        """Draw an area with corners [px]."""
        if len(places) > 2:
            self._add(PaintedArea(places, closed=True, **self._look(fill, stroke)), self.frame)

    def disc(self, centre: XY, radius: float, fill: str | None, stroke: Stroke | None) -> None:
        """Draw a disc [px]."""
        self._add(Circle(centre, radius, **self._look(fill, stroke)), self.frame)

    def wedge(self, centre: XY, radius: float, sides: tuple[float, float], fill: str) -> None:
        """Draw a piece of a disc [px] from one direction to another [degrees]."""
        self._add(Wedge(centre, radius, *sides, **self._look(fill, None)), self.frame)

    def texture(self, box: Box, hatch: str, colour: str) -> None:
        """Draw a texture."""
        patch = Rectangle((box.left, box.bottom), box.width, box.height)
        patch.set(facecolor="none", edgecolor=colour, hatch=hatch, linewidth=0, zorder=self.layer.value)
        self.ax.add_artist(patch)

    def box(self, box: Box, fill: str | None, stroke: Stroke | None) -> None:
        """Draw a rectangle."""
        self.area(
            ((box.left, box.bottom), (box.right, box.bottom), (box.right, box.top), (box.left, box.top)), fill, stroke
        )

    def cells(self, boxes: Sequence[Box], fill: str) -> None:
        """Fill many rectangles as one shape."""
        corners = [
            place
            for box in boxes
            for place in (
                (box.left, box.bottom),
                (box.right, box.bottom),
                (box.right, box.top),
                (box.left, box.top),
                (box.left, box.bottom),
            )
        ]
        codes = [Path.MOVETO, Path.LINETO, Path.LINETO, Path.LINETO, Path.CLOSEPOLY] * len(boxes)
        self.ax.add_artist(
            PathPatch(Path(corners, codes), facecolor=fill, edgecolor="none", linewidth=0, zorder=self.layer.value)
        )

    def picture(self, box: Box, width: int, height: int, colours: bytes) -> None:
        """Put a picture into a box [px]: red, green and blue of each of its pixels, a byte each, from the top left."""
        image = AxesImage(self.ax, interpolation="none", extent=(box.left, box.right, box.bottom, box.top))
        image.set_data(np.frombuffer(colours, np.uint8).reshape(height, width, 3))
        image.set_zorder(self.layer.value)
        self._add(image, None)

    def words(self, at: XY, text: str, lettering: Type, side: Hold = "left") -> None:
        """Write one line held at one side; `at` is that side, in the middle of its height [px]."""
        line = TextLine(
            at[0],
            at[1] - MIDDLE * lettering.size,
            text,
            color=lettering.colour,
            fontproperties=font_of(replace(lettering, size=lettering.size * self.zoom)),
            horizontalalignment=side,
            verticalalignment="baseline",
            parse_math=False,
            zorder=self.layer.value,
            gid=self.called or None,
        )
        self._add(line, None)

    def lines(self, at: XY, texts: Sequence[str], lettering: Type) -> float:
        """Return how far down [px] the lines reach that it writes from a top left corner [px]."""
        x, top = at
        step = lettering.size * LINE
        for number, text in enumerate(texts):
            self.words((x, top - (number + 0.5) * step), text, lettering)
        return top - len(texts) * step

    def _look(self, fill: str | None, stroke: Stroke | None) -> dict[str, Any]:
        """Return how a shape with a fill and a rim is made, in this layer, under this name."""
        return {
            "facecolor": fill or "none",
            "edgecolor": stroke.colour if stroke else "none",
            "linewidth": stroke.width * POINTS_PER_PX * self.zoom if stroke else 0,
            "linestyle": (0, stroke.dashes) if stroke and stroke.dashes else "-",
            "joinstyle": "miter",
            "zorder": self.layer.value,
            "gid": self.called or None,
        }

    def _add(self, artist: Artist, frame: Box | None) -> None:
        """Put something onto the axes, cut off at a frame or at the page."""
        if frame not in self.cuts:
            inside = Bbox.from_extents(frame.left, frame.bottom, frame.right, frame.top) if frame else Bbox.unit()
            self.cuts[frame] = TransformedBbox(inside, self.ax.transData if frame else self.ax.patch.get_transform())
        self.ax.add_artist(artist)
        artist.set_clip_box(self.cuts[frame])


class _Bracket(Artist):
    """Opens a group of an SVG, or closes it: axes draw artists of one layer in the order in which they came."""

    def __init__(self, layer: Layer, opens: str) -> None:
        super().__init__()
        self.set_zorder(layer.value)
        self._opens = opens

    def draw(self, renderer: RendererBase) -> None:
        """Open the group, or close it."""
        if self._opens:
            renderer.open_group("named", gid=self._opens)
        else:
            renderer.close_group("named")

"""The pen: lines, areas and words on a page whose unit is the px, y upwards."""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from enum import Enum
from types import MappingProxyType
from typing import TypeAlias

from loadplan.report.drawing.paper import (
    AreaMark,
    CellsMark,
    DiscMark,
    GroupMark,
    Hold,
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
from loadplan.report.drawing.style import Stroke, Type
from loadplan.report.drawing.text_width import LINE
from loadplan.report.drawing.view import XY, Box

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
    """Draws onto paper, inside a frame if there is one.

    Attributes:
        paper: The page; its units are px.
        layer: Over and under what it draws.
        frame: What sticks out of it is cut off; None for the whole page.
        zoom: How many px of the paper a px of the page is: above 1 everything is drawn larger, for a wall.
        ids: Id in an SVG of each piece that a page wants to find again.
        called: Id of what is drawn next, "" for none.
    """

    paper: Paper
    layer: Layer
    frame: Box | None
    zoom: float = 1.0
    ids: Mapping[Named, str] = field(default_factory=lambda: UNNAMED)
    called: str = ""

    def named(self, kind: str, name: str) -> "Pen":
        """Return a pen whose single strokes carry the id of a thing, if it has one."""
        return replace(self, called=self.ids.get((kind, name), ""))

    @contextmanager
    def together(self, kind: str, name: str) -> Iterator[None]:
        """Put what is drawn meanwhile on this pen's layer into one group with the id of a thing, if it has one."""
        called = self.ids.get((kind, name), "")
        if called:
            self.paper.put(PlacedMark(self.layer.value, GroupMark(called)))
        yield
        if called:
            self.paper.put(PlacedMark(self.layer.value, GroupMark("")))

    def line(self, places: Sequence[XY], stroke: Stroke) -> None:
        """Draw a line through places [px]."""
        self._put(LineMark(tuple(places), self._wide(stroke)), self.frame)

    def segments(self, pairs: Sequence[tuple[XY, XY]], stroke: Stroke) -> None:
        """Draw lines that need not meet, each from place to place [px], as one piece of the drawing."""
        if pairs:
            self.line([place for pair in pairs for place in (*pair, APART)], stroke)

    def area(self, places: Sequence[XY], fill: str | None, stroke: Stroke | None) -> None:
        """Draw an area with corners [px]."""
        if len(places) > 2:
            self._put(AreaMark(tuple(places), self._look(fill, stroke)), self.frame)

    def disc(self, centre: XY, radius: float, fill: str | None, stroke: Stroke | None) -> None:
        """Draw a disc [px]."""
        self._put(DiscMark(centre, radius, self._look(fill, stroke)), self.frame)

    def wedge(self, centre: XY, radius: float, sides: tuple[float, float], fill: str) -> None:
        """Draw a piece of a disc [px] from one direction to another [degrees]."""
        self._put(WedgeMark(centre, radius, sides, self._look(fill, None)), self.frame)

    def texture(self, box: Box, hatch: str, colour: str) -> None:
        """Draw a texture."""
        self.paper.put(PlacedMark(self.layer.value, TextureMark(box, hatch, colour)))

    def box(self, box: Box, fill: str | None, stroke: Stroke | None) -> None:
        """Draw a rectangle."""
        self.area(
            ((box.left, box.bottom), (box.right, box.bottom), (box.right, box.top), (box.left, box.top)), fill, stroke
        )

    def cells(self, boxes: Sequence[Box], fill: str) -> None:
        """Fill many rectangles as one shape."""
        self.paper.put(PlacedMark(self.layer.value, CellsMark(tuple(boxes), fill)))

    def picture(self, box: Box, width: int, height: int, colours: bytes) -> None:
        """Put a picture into a box [px]: red, green and blue of each of its pixels, a byte each, from the top left."""
        self._put(PictureMark(box, width, height, colours), None)

    def words(self, at: XY, text: str, lettering: Type, side: Hold = "left") -> None:
        """Write one line held at one side; `at` is that side, in the middle of its height [px]."""
        base = (at[0], at[1] - MIDDLE * lettering.size)
        large = replace(lettering, size=lettering.size * self.zoom) if self.zoom != 1.0 else lettering
        self._put(WordsMark(base, text, large, side), None)

    def lines(self, at: XY, texts: Sequence[str], lettering: Type) -> float:
        """Return how far down [px] the lines reach that it writes from a top left corner [px]."""
        x, top = at
        step = lettering.size * LINE
        for number, text in enumerate(texts):
            self.words((x, top - (number + 0.5) * step), text, lettering)
        return top - len(texts) * step

    def _look(self, fill: str | None, stroke: Stroke | None) -> Look:
        """Return how a shape with a fill and a rim is painted."""
        return Look(fill, self._wide(stroke) if stroke else None)

    def _wide(self, stroke: Stroke) -> Stroke:
        """Return a stroke as wide as it is on the paper."""
        return replace(stroke, width=stroke.width * self.zoom) if self.zoom != 1.0 else stroke

    def _put(self, shape: Shape, frame: Box | None) -> None:
        self.paper.put(PlacedMark(self.layer.value, shape, frame, self.called))

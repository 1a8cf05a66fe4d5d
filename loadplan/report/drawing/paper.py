"""The paper: what a drawing puts on a page, stroke by stroke, whatever becomes of it: an SVG, a PDF or dots.

A drawing knows no library. What it draws is kept as marks, which `svg_paper.py` writes as SVG by itself, and
`axes_paper.py` gives to matplotlib for all else.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from loadplan.report.drawing.style import Stroke, Type
from loadplan.report.drawing.view import XY, Box

PX = 96
"""px an inch."""

VIEW_BOX = 0.75
"""Units of an SVG's view box a px: they are points."""

Hold: TypeAlias = Literal["left", "center", "right"]
"""The side at which a line of text is held."""


@dataclass(frozen=True, slots=True)
class Look:
    """How a shape is painted: its fill, None for none, and its rim, None for none."""

    fill: str | None
    stroke: Stroke | None


@dataclass(frozen=True, slots=True)
class LineMark:
    """A line through places; it is lifted off where one is no place (NaN)."""

    places: tuple[XY, ...]
    stroke: Stroke


@dataclass(frozen=True, slots=True)
class AreaMark:
    """An area with corners."""

    places: tuple[XY, ...]
    look: Look


@dataclass(frozen=True, slots=True)
class DiscMark:
    """A disc."""

    centre: XY
    radius: float
    look: Look


@dataclass(frozen=True, slots=True)
class WedgeMark:
    """A piece of a disc from one direction to another [degrees]."""

    centre: XY
    radius: float
    sides: tuple[float, float]
    look: Look


@dataclass(frozen=True, slots=True)
class TextureMark:
    """A rectangle with a texture: how often each sign of it stands is how dense it is."""

    box: Box
    hatch: str
    colour: str


@dataclass(frozen=True, slots=True)
class CellsMark:
    """Rectangles filled as one shape."""

    boxes: tuple[Box, ...]
    fill: str


@dataclass(frozen=True, slots=True)
class PictureMark:
    """A picture in a box: red, green and blue of each of its pixels, a byte each, from the top left."""

    box: Box
    width: int
    height: int
    colours: bytes


@dataclass(frozen=True, slots=True)
class WordsMark:
    """A line of words, held at one side on its base line."""

    at: XY
    text: str
    lettering: Type
    side: Hold


@dataclass(frozen=True, slots=True)
class GroupMark:
    """The beginning of a group with an id, or its end where the id is ""."""

    opens: str


Shape: TypeAlias = (
    LineMark | AreaMark | DiscMark | WedgeMark | TextureMark | CellsMark | PictureMark | WordsMark | GroupMark
)
"""What a pen can draw."""


@dataclass(frozen=True, slots=True)
class PlacedMark:
    """A shape on a page.

    Attributes:
        layer: What has a higher one lies over it.
        shape: The shape; strokes and type are as large as on the paper.
        frame: What sticks out of it is cut off; None for the whole page.
        called: Its id in an SVG, "" for none.
    """

    layer: int
    shape: Shape
    frame: Box | None = None
    called: str = ""


@dataclass(slots=True)
class Paper:
    """A page that is being drawn on.

    Attributes:
        size: Width and height [px].
        page: What its places are counted in: px, until `spread` says otherwise.
        marks: What is drawn, in the order in which it came.
    """

    size: tuple[float, float]
    page: Box = field(init=False)
    marks: list[PlacedMark] = field(default_factory=list)

    def __post_init__(self) -> None:
        """Count places in px."""
        self.page = Box(0.0, 0.0, float(self.size[0]), float(self.size[1]))

    def spread(self, page: Box) -> None:
        """Count places in other units: those of a page of the same shape.

        Args:
            page: What the whole page is in them.
        """
        self.page = page

    def put(self, mark: PlacedMark) -> None:
        """Draw something."""
        self.marks.append(mark)

    def in_order(self) -> Iterable[PlacedMark]:
        """Return what is drawn from the lowest layer to the highest, on each in the order in which it came."""
        return sorted(self.marks, key=lambda mark: mark.layer)

"""A view: which part of the floor is drawn where on the page, front up, to scale."""

from dataclasses import dataclass
from typing import TypeAlias

XY: TypeAlias = tuple[float, float]
"""A place on the page [px], to the right and up, or on the floor [m]: what the frame of a view parts."""

Corners: TypeAlias = tuple[XY, ...]
"""Places one after the other round an area, or along a line."""


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on the page [px], y upwards."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Its width [px]."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Its height [px]."""
        return self.top - self.bottom

    @property
    def middle(self) -> XY:
        """Its middle [px]."""
        return (self.left + self.right) / 2, (self.bottom + self.top) / 2

    def overlap(self, other: "Box") -> float:
        """Return the area that it shares with another [px²]."""
        wide = min(self.right, other.right) - max(self.left, other.left)
        high = min(self.top, other.top) - max(self.bottom, other.bottom)
        return wide * high if wide > 0 and high > 0 else 0.0

    def grown(self, by: float) -> "Box":
        """Return it larger by so much on every side [px]."""
        return Box(self.left - by, self.bottom - by, self.right + by, self.top + by)

    def holds(self, place: XY) -> bool:
        """Return whether a place on the page [px] is in it."""
        return self.left <= place[0] <= self.right and self.bottom <= place[1] <= self.top


@dataclass(frozen=True, slots=True)
class View:
    """Part of the floor on part of the page.

    Attributes:
        frame: Where on the page.
        centre: Place of the vehicle [m] in the middle of the frame.
        scale: Size of a metre [px].
    """

    frame: Box
    centre: XY
    scale: float

    def page(self, x: float, y: float) -> XY:
        """Return where on the page [px] a place [m] is: forward is up, left is left."""
        across, along = self.frame.middle
        return across - (y - self.centre[1]) * self.scale, along + (x - self.centre[0]) * self.scale

    def page_all(self, places: Corners) -> Corners:
        """Return where on the page [px] places [m] are."""
        return tuple(self.page(*place) for place in places)

    def floor(self) -> Corners:
        """Return the corners of the part of the floor [m] that it shows."""
        half_x, half_y = self.frame.height / self.scale / 2, self.frame.width / self.scale / 2
        x, y = self.centre
        return (x + half_x, y + half_y), (x + half_x, y - half_y), (x - half_x, y - half_y), (x - half_x, y + half_y)

    def shows(self, x: float, y: float) -> bool:
        """Return whether a place [m] is in the frame."""
        return self.frame.holds(self.page(x, y))


def view_of(frame: Box, places: list[XY], rim: float, aside: float = 0.0) -> View:
    """Return the view that shows all places as large as the frame lets it.

    Args:
        frame: Where on the page.
        places: Places to show [m], at least one.
        rim: Least distance of a place from the frame [px].
        aside: How much further it is from the sides [px].

    Returns:
        The view.

    Example:
        >>> view_of(Box(0, 0, 400, 400), [(0.5, 0.5), (-0.5, -0.5)], 50).scale
        300.0
    """
    low = min(x for x, _ in places), min(y for _, y in places)
    high = max(x for x, _ in places), max(y for _, y in places)
    tall = max(high[0] - low[0], SMALLEST)
    wide = max(high[1] - low[1], SMALLEST)
    scale = min((frame.height - 2 * rim) / tall, (frame.width - 2 * (rim + aside)) / wide)
    return View(frame, ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2), scale)


SMALLEST = 0.3
"""Least length of floor that fills a view [m]: nothing is drawn larger than it serves."""

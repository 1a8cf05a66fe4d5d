"""Axonometric projection: a place in space on a flat page, seen from far away, so that nothing shrinks with distance.

The viewer looks at the origin from an azimuth (round the upright axis) and an elevation (over the floor). With the
unit vector towards him v = (cos e cos a, cos e sin a, sin e), the page's axes are right = (-sin a, cos a, 0) and
up = v x right = (-sin e cos a, -sin e sin a, cos e): orthonormal, so lengths along either are true. Orthographic
projection as in ISO 5456-3.
"""

from dataclasses import dataclass
from math import cos, sin
from typing import TypeAlias

from loadplan.report.drawing.view import XY

XYZ: TypeAlias = tuple[float, float, float]
"""A place in space [m], or a direction: x, y, and z upwards."""


@dataclass(frozen=True, slots=True)
class Projection:
    """From where a picture is seen.

    Attributes:
        azimuth: Direction in which the viewer stands [rad], from x towards y.
        elevation: How high he stands over the floor [rad]: 0 at its level, pi / 2 right above.
    """

    azimuth: float
    elevation: float

    @property
    def towards(self) -> XYZ:
        """Unit vector towards the viewer."""
        level = cos(self.elevation)
        return level * cos(self.azimuth), level * sin(self.azimuth), sin(self.elevation)

    def project(self, place: XYZ) -> XY:
        """Return where a place [m] is seen: to the right and up from the origin [m].

        Example:
            >>> right, up = Projection(0.0, 0.0).project((5.0, 2.0, 3.0))
            >>> right, up
            (2.0, 3.0)
        """
        x, y, z = place
        ahead = x * cos(self.azimuth) + y * sin(self.azimuth)
        return y * cos(self.azimuth) - x * sin(self.azimuth), z * cos(self.elevation) - ahead * sin(self.elevation)

    def depth(self, place: XYZ) -> float:
        """Return how much nearer to the viewer a place is than the origin [m]."""
        return dot(place, self.towards)


def dot(one: XYZ, other: XYZ) -> float:
    """Return the scalar product of two vectors."""
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]

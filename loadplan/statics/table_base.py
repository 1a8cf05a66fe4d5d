"""Base of a table: one piece under several places goes over as one, about the rim of its one base.

What its saddles carry and hold sideways has to come down inside that base: for each side of the base, square to n,
Σ N (d − n·(p − c)) − n·H h ≥ 0 over its saddles at p, with normals N, sideways forces H and heights h; c is the
middle of the base and d how far that side is from it. Its own weight, which holds it down too, is not counted.
"""

from dataclasses import dataclass
from math import cos, pi, sin
from typing import NamedTuple

import numpy as np

from loadplan.model.shop import Circle, Footprint, Square
from loadplan.model.vehicle import PlanPoint
from loadplan.statics.mass import Array

ROUND_SIDES = 32
"""Sides of the polygon inside a round base."""


class BaseSide(NamedTuple):
    """One side of a base: direction outward square to it [rad], and distance from its middle [m]."""

    outward: float
    distance: float


@dataclass(frozen=True, slots=True)
class TableBase:
    """The base that a saddle shares with the others of its piece.

    Attributes:
        piece: Name of the piece.
        middle: Middle of the base in plan [m].
        sides: Its sides.
        height: Height of this saddle with its shim [m].
    """

    piece: str
    middle: PlanPoint
    sides: tuple[BaseSide, ...]
    height: float

    def hold(self, number: int, at: PlanPoint, forces: Array) -> Array:
        """Return how far forces hold the piece down over one side.

        Args:
            number: Number of the side.
            at: Place of the saddle [m].
            forces: Forces (k, 3) of the saddle on what it carries, along x, y and z.

        Returns:
            Moment (k) about that side, a length [m] times force; below 0 where it turns the piece over.
        """
        outward, distance = self.sides[number]
        towards = np.array([cos(outward), sin(outward)])
        room = distance - towards @ (np.array(at) - np.array(self.middle))
        # What the saddle gives to the body, the body gives back to the saddle.
        held: Array = room * forces[:, 2] - self.height * (-forces[:, :2] @ towards)
        return held


def base_sides(shape: Footprint) -> tuple[BaseSide, ...]:
    """List the sides of a base.

    Args:
        shape: The base.

    Returns:
        Four of a rectangle, along x and y; of a round one those of a polygon inside it, at most 0.5 % too near.

    Example:
        >>> [each.distance for each in base_sides(Square(1.2, 0.8))]
        [0.6, 0.4, 0.6, 0.4]
    """
    match shape:
        case Square(along_x=length, along_y=width):
            return tuple(BaseSide(turn * pi / 2, (length, width)[turn % 2] / 2) for turn in range(4))
        case Circle(diameter=diameter):
            near = diameter / 2 * cos(pi / ROUND_SIDES)
            return tuple(BaseSide(2 * pi * turn / ROUND_SIDES, near) for turn in range(ROUND_SIDES))


class BaseRow(NamedTuple):
    """One side of one piece, as a row of the balances: name of the piece, number of the side."""

    piece: str
    side: int


def base_rows(bases: tuple[TableBase | None, ...]) -> tuple[BaseRow, ...]:
    """List the sides over which pieces may go, each piece once.

    Args:
        bases: Base of each saddle, None where it stands by itself.

    Returns:
        The rows.
    """
    sides = {base.piece: len(base.sides) for base in bases if base}
    return tuple(BaseRow(piece, number) for piece, count in sides.items() for number in range(count))

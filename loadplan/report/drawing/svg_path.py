"""Path data of an SVG: lines, areas, discs and wedges, in points from the top left corner (SVG 1.1, 8.3)."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import ceil, cos, isnan, log2, pi, radians, sin, sqrt, tan

from loadplan.report.drawing.view import XY

MARGIN = 1.0
"""How far an open path goes over the rim of the page before it is cut off [points]."""

HALF = sqrt(0.5)

HANDLE = 0.2652031
"""Length of the handles of an eighth of a circle of radius 1 (Lancaster, Approximating a Circle or an Ellipse Using
Four Bezier Cubic Splines)."""

QUARTER = (
    ((HANDLE, -1.0), (HALF - HALF * HANDLE, -HALF - HALF * HANDLE), (HALF, -HALF)),
    ((HALF + HALF * HANDLE, -HALF + HALF * HANDLE), (1.0, -HANDLE), (1.0, 0.0)),
)
"""A quarter of a circle as two curves, each with two handles and its end. The other three are this one turned."""

ROUND = tuple(
    tuple((x, y) for x, y in curve)
    for quarter in (
        QUARTER,
        [[(-y, x) for x, y in curve] for curve in QUARTER],
        [[(-x, -y) for x, y in curve] for curve in QUARTER],
        [[(y, -x) for x, y in curve] for curve in QUARTER],
    )
    for curve in quarter
)
"""The curves of a whole circle, from its lowest place on against the clock."""


def number(value: float) -> str:
    """Write a number with at most six decimals.

    Args:
        value: The number.

    Returns:
        Its figures.

    Example:
        >>> number(12.5), number(3.0), number(1 / 3)
        ('12.5', '3', '0.333333')
    """
    return f"{value:f}".rstrip("0").rstrip(".")


def spot(command: str, *places: XY) -> str:
    """Write one command of a path.

    Args:
        command: Its letter.
        places: Where it goes [points].

    Returns:
        Path data, on a line of its own.
    """
    return f"{command} {' '.join(f'{number(x)} {number(y)}' for x, y in places)} \n"


def outline(places: Sequence[XY]) -> str:
    """Write a closed area that is filled.

    Args:
        places: Its corners [points].

    Returns:
        Path data.
    """
    corners = places[:-1] if places[0] == places[-1] else places
    return spot("M", corners[0]) + "".join(spot("L", each) for each in corners[1:]) + "z\n"


def disc(centre: XY, radius: float) -> str:
    """Write a disc.

    Args:
        centre: Its middle [points].
        radius: Its radius [points].

    Returns:
        Path data.
    """
    x, y = centre
    curves = [spot("C", *((x + radius * across, y - radius * along) for across, along in curve)) for curve in ROUND]
    return f"{spot('M', (x, y + radius))}{''.join(curves)}z\n"


def wedge(centre: XY, radius: float, sides: tuple[float, float]) -> str:
    """Write a piece of a disc.

    Args:
        centre: The middle of the disc [points].
        radius: Its radius [points].
        sides: From one direction to another, against the clock [degrees].

    Returns:
        Path data.
    """
    x, y = centre
    begin, end = radians(sides[0]), radians(sides[1])
    pieces = 2 ** ceil(log2(max((end - begin) / (pi / 2), 1e-9)) + 1) if end > begin else 1
    step = (end - begin) / pieces
    # Length of the handles of a piece of an arc (Maisonobe, Drawing an elliptical arc using polylines, quadratic or
    # cubic Bezier curves, 3.4.1).
    handle = sin(step) * (sqrt(4 + 3 * tan(step / 2) ** 2) - 1) / 3
    turns = [begin + step * each for each in range(pieces + 1)]
    rims = [(cos(turn), sin(turn)) for turn in turns]

    def on(place: XY) -> XY:
        return x + radius * place[0], y - radius * place[1]

    told = [spot("M", on(rims[0]))]
    for (c1, s1), (c2, s2) in pairwise(rims):
        first, second = (c1 - handle * s1, s1 + handle * c1), (c2 + handle * s2, s2 - handle * c2)
        told.append(spot("C", on(first), on(second), on((c2, s2))))
    return "".join([*told, spot("L", centre), "z\n"])


@dataclass(slots=True)
class OpenPath:
    """A path that is not filled, and cut off a little outside the page.

    What lies far outside would make a file large, and some programs draw dashes along all of it.

    Attributes:
        right: Right rim of the page [points].
        bottom: Bottom rim of the page [points].
        told: Path data so far.
    """

    right: float
    bottom: float
    told: list[str] = field(default_factory=list)

    def through(self, places: Sequence[XY]) -> str:
        """Write lines; one ends where a place is none (NaN), and another begins.

        Args:
            places: Where they go [points].

        Returns:
            Path data.
        """
        run: list[XY] = []
        for place in (*places, (float("nan"), float("nan"))):
            if not isnan(place[0]):
                run.append(place)
                continue
            self._along(run)
            run = []
        return "".join(self.told)

    def round(self, places: Sequence[XY]) -> str:
        """Write a closed rim.

        Args:
            places: Its corners [points].

        Returns:
            Path data.
        """
        if self._along((*places, places[0]) if places[0] != places[-1] else places):
            # The rim ends in a point: closed it would meet itself at its first corner, which is off the page.
            self.told.append("z\n")
        return "".join(self.told)

    def _along(self, run: Sequence[XY]) -> bool:
        """Return whether all of a line is there, and write it."""
        whole, lifted = True, True
        if len(run) == 1 and self._holds(run[0]):
            self.told.append(spot("M", run[0]))
        for start, end in pairwise(run):
            cut = self._cut(start, end)
            if cut is None:
                whole = False
                continue
            if lifted or cut[0] != start:
                self.told.append(spot("M", cut[0]))
            self.told.append(spot("L", cut[1]))
            whole, lifted = whole and cut == (start, end), False
        return whole

    def _holds(self, place: XY) -> bool:
        return -MARGIN <= place[0] <= self.right + MARGIN and -MARGIN <= place[1] <= self.bottom + MARGIN

    def _cut(self, start: XY, end: XY) -> tuple[XY, XY] | None:
        """Return the part of a straight line that is on the page or just beside it, None where there is none."""
        if self._holds(start) and self._holds(end):
            return start, end
        sides = (
            (start[0], end[0] - start[0], -MARGIN, self.right + MARGIN),
            (start[1], end[1] - start[1], -MARGIN, self.bottom + MARGIN),
        )
        begins, ends = 0.0, 1.0
        for at, far, low, high in sides:
            if far == 0:
                if not low <= at <= high:
                    return None
                continue
            one, two = (low - at) / far, (high - at) / far
            begins, ends = max(begins, min(one, two)), min(ends, max(one, two))
        if begins >= ends:
            return None
        across, along = end[0] - start[0], end[1] - start[1]
        first = start if begins == 0.0 else (start[0] + across * begins, start[1] + along * begins)
        last = end if ends == 1.0 else (start[0] + across * ends, start[1] + along * ends)
        return first, last

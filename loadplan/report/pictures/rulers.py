"""Rulers along a view: where each stand goes, measured with a tape from the chalk lines."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from loadplan.model.job import Support
from loadplan.model.shop import EquipmentKind
from loadplan.model.vehicle import PlanPoint
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import EDGE, LABEL, STRONG, TAPE, Stroke, Type
from loadplan.report.drawing.text_width import broken, text_width
from loadplan.report.drawing.view import View
from loadplan.report.words.tape_words import across_words, along_words
from loadplan.report.words.vocabulary import Reader

TICK = 14
"""From the view to the words of a ruler [px]."""

ROW = 20
"""Height of a line of words [px]."""

LEFT = 150
"""How far the lower ruler reaches beyond the view on the left [px]."""

NARROW = 110
"""Widest letters on the lower ruler [px]."""

WIDE = 16
"""Least distance of two words on the lower ruler [px]."""


@dataclass(frozen=True, slots=True)
class _Ruler:
    """Who reads a ruler, and how much larger than usual it is."""

    reader: Reader
    size: float

    @property
    def strong(self) -> Type:
        """Type of the letters."""
        return replace(STRONG, size=STRONG.size * self.size)

    @property
    def label(self) -> Type:
        """Type of the lengths."""
        return replace(LABEL, size=LABEL.size * self.size)

    @property
    def row(self) -> float:
        """Height of a line of words [px]."""
        return ROW * self.size

    def letters(self, stands: list[Support], width: float) -> str:
        """Return the letters of some stands on one line."""
        names = ", ".join(self.reader.words(stand.name) for stand in stands)
        return broken(names, self.strong, width * self.size, most=1)[0]


def draw_rulers(pen: Pen, view: View, supports: list[Support], reader: Reader, size: float = 1.0) -> None:
    """Draw the rulers at the left and lower side of a view.

    Args:
        pen: Draws them, not held inside the view.
        view: The view.
        supports: Supports; those that stand on the floor in the view are measured.
        reader: Who reads it.
        size: How much larger than usual its words and its room are.
    """
    stands = [each for each in supports if not each.is_arm and on_floor(each) and view.shows(each.at[0], each.at[1])]
    ruler = _Ruler(reader, size)
    _left(pen, view, stands, ruler)
    _lower(pen, view, stands, ruler)


def spread(wanted: list[float], sizes: list[float], room: tuple[float, float]) -> list[float]:
    """Move places along a line apart until nothing overlaps, each group about its own middle.

    Args:
        wanted: Places in rising order [px].
        sizes: Room that each takes [px].
        room: Where all of it has to stay [px]; where it is too narrow, all get less.

    Returns:
        Places in the same order.

    Example:
        >>> spread([30.0, 32.0, 100.0], [20.0, 20.0, 20.0], (0.0, 105.0))
        [21.0, 41.0, 95.0]
    """
    tight = min(1.0, (room[1] - room[0]) / max(sum(sizes), 1.0))
    sizes = [size * tight for size in sizes]
    groups: list[tuple[float, list[float]]] = []
    for place, size in zip(wanted, sizes, strict=True):
        middle, members = min(max(place, room[0] + size / 2), room[1] - size / 2), [size]
        while groups and groups[-1][0] + sum(groups[-1][1]) / 2 > middle - sum(members) / 2:
            before, earlier = groups.pop()
            middle = (before * len(earlier) + middle * len(members)) / (len(earlier) + len(members))
            members = earlier + members
            middle = max(min(middle, room[1] - sum(members) / 2), room[0] + sum(members) / 2)
        groups.append((middle, members))
    return [place for middle, members in groups for place in _in_row(middle, members)]


def _in_row(middle: float, sizes: list[float]) -> list[float]:
    """Return the middles of things in a row about a place [px]."""
    start = middle - sum(sizes) / 2
    return [start + sum(sizes[:place]) + size / 2 for place, size in enumerate(sizes)]


def on_floor(support: Support) -> bool:
    """Return whether a support stands on the floor."""
    return not support.on and support.equipment.kind is not EquipmentKind.HOIST


def _left(pen: Pen, view: View, stands: list[Support], ruler: _Ruler) -> None:
    """Draw the ruler on the left: how far each stand is from the axle line."""
    read = _read(stands, lambda support: along_words(support.at[0], ruler.reader))
    rows = sorted(read, key=lambda row: view.page(*row[1][0].at[:2])[1])
    wanted = [view.page(*members[0].at[:2])[1] for _, members in rows]
    edge = view.frame.left
    for (told, members), tick, place in zip(
        rows, wanted, spread(wanted, [2.2 * ruler.row] * len(rows), (view.frame.bottom, view.frame.top)), strict=True
    ):
        furthest = max(view.page(*each.at[:2])[0] for each in members)
        _tape(pen, [(furthest, tick), (edge, tick)])
        pen.line([(edge, tick), (edge - TICK, place)], Stroke(EDGE, 1.2))
        letters = ruler.letters(members, LEFT - TICK / ruler.size)
        pen.words((edge - TICK - 4, place + ruler.row / 2), letters, ruler.strong, "right")
        pen.words((edge - TICK - 4, place - ruler.row / 2), told, ruler.label, "right")


def _lower(pen: Pen, view: View, stands: list[Support], ruler: _Ruler) -> None:
    """Draw the ruler below: how far each stand is from the centre line."""
    read = _read(stands, lambda support: across_words(support.at[1], ruler.reader))
    rows = sorted(read, key=lambda row: view.page(*row[1][0].at[:2])[0])
    wanted = [view.page(*members[0].at[:2])[0] for _, members in rows]
    sizes = [
        max(text_width(text, ruler.strong) for text in _in_three(told, members, ruler)) + WIDE for told, members in rows
    ]
    edge = view.frame.bottom
    for (told, members), tick, place in zip(
        rows, wanted, spread(wanted, sizes, (view.frame.left - LEFT * ruler.size, view.frame.right)), strict=True
    ):
        furthest = max(view.page(*each.at[:2])[1] for each in members)
        _tape(pen, [(tick, furthest), (tick, edge)])
        pen.line([(tick, edge), (place, edge - TICK)], Stroke(EDGE, 1.2))
        letters, number, side = _in_three(told, members, ruler)
        pen.words((place, edge - TICK - 0.7 * ruler.row), letters, ruler.strong, "center")
        pen.words((place, edge - TICK - 1.7 * ruler.row), number, ruler.label, "center")
        pen.words((place, edge - TICK - 2.7 * ruler.row), side, ruler.label, "center")


def _tape(pen: Pen, places: list[PlanPoint]) -> None:
    replace(pen, layer=Layer.FLOOR).line(places, TAPE)


def _read(stands: list[Support], told: Callable[[Support], str]) -> list[tuple[str, list[Support]]]:
    """Return what the ruler says, with the stands at each."""
    read: dict[str, list[Support]] = {}
    for stand in stands:
        read.setdefault(told(stand), []).append(stand)
    return list(read.items())


def _in_three(told: str, stands: list[Support], ruler: _Ruler) -> tuple[str, str, str]:
    """Return letters, number and side for a narrow place."""
    number, _, side = told.rpartition(" ")
    on_it = "on the" in told
    return ruler.letters(stands, NARROW), "on the" if on_it else number, "line" if on_it else side

"""What is known so far, as a small plan of characters, front up: edges of the lumps, mounts, pads, stands."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from loadplan.model.vehicle import Vehicle
from loadplan.planning.interview.known_vehicle import KnownVehicle
from loadplan.planning.interview.question import Edges, Seat, Tie, Value
from loadplan.planning.interview.questions_on_vehicle import stand_letters

WIDTH = 45
"""Columns of the plan."""

SIGNS = {"o": "o mount or link", "#": "# lift pad", "A": "letters stands"}
"""What the signs mean."""

MOST_ROWS = 20
"""Most rows between the foremost and the rearmost thing."""

ASPECT = 2.0
"""How much higher a character is than wide."""


@dataclass(frozen=True, slots=True)
class PlanMark:
    """A character at a place in plan [m]."""

    sign: str
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class KnownThings:
    """What of a plan is known so far.

    Attributes:
        boxes: The edges of each lump by its name, the longest first, so that the shorter are drawn over it.
        marks: Pads, mounts and links, then stands, so that a letter is never hidden.
    """

    boxes: Mapping[str, Edges]
    marks: tuple[PlanMark, ...]

    @property
    def is_drawable(self) -> bool:
        """Whether there is enough of it to draw."""
        return bool(self.boxes) or len(self.marks) >= 3


@dataclass(slots=True)
class Sheet:
    """A grid of characters over what is drawn.

    Attributes:
        front: x of its upper edge [m].
        left: y of its left edge [m].
        step: Width of a column [m].
        rows: Its characters.
    """

    front: float
    left: float
    step: float
    rows: list[list[str]] = field(default_factory=list)

    def put(self, sign: str, x: float, y: float) -> None:
        """Draw a character, over what is there."""
        row, column = self.at(x, y)
        if 0 <= row < len(self.rows) and 0 <= column < WIDTH:
            self.rows[row][column] = sign

    def at(self, x: float, y: float) -> tuple[int, int]:
        """Return row and column of a place."""
        return round((self.front - x) / (ASPECT * self.step)), round((self.left - y) / self.step)

    def frame(self, name: str, box: Edges) -> None:
        """Draw a lump's edges, with its name in the upper one."""
        top, left = self.at(box.high[0], box.high[1])
        bottom, right = self.at(box.low[0], box.low[1])
        for column in range(left, right + 1):
            self._line("-", top, column)
            self._line("-", bottom, column)
        for row in range(top, bottom + 1):
            self._line("|" if top < row < bottom else "+", row, left)
            self._line("|" if top < row < bottom else "+", row, right)
        for number, letter in enumerate(name[: max(right - left - 3, 0)]):
            self._line(letter, top, left + 2 + number)

    def _line(self, sign: str, row: int, column: int) -> None:
        if 0 <= row < len(self.rows) and 0 <= column < WIDTH:
            self.rows[row][column] = sign


def known_things(known: Mapping[str, Value], vehicle: Vehicle | None) -> KnownThings:
    """Collect what can be drawn so far.

    Args:
        known: Value of each answer so far.
        vehicle: The vehicle, where it was known before.

    Returns:
        It.
    """
    if vehicle is None:
        return KnownThings(_boxes(known), tuple(_marks(known)))
    return KnownThings(_boxes_of(vehicle), tuple(_marks_of(vehicle, known)))


def plan_of(known: Mapping[str, Value], vehicle: Vehicle | None) -> str:
    """Draw what is known so far.

    Args:
        known: Value of each answer so far.
        vehicle: The vehicle, where it was known before.

    Returns:
        Lines, "" where there is nothing to draw.
    """
    things = known_things(known, vehicle)
    if not things.is_drawable:
        return ""
    boxes, marks = things.boxes, things.marks
    xs = [each.x for each in marks] + [end[0] for box in boxes.values() for end in (box.low, box.high)]
    ys = [each.y for each in marks] + [end[1] for box in boxes.values() for end in (box.low, box.high)] + [0.0]
    half = max(abs(each) for each in ys) + 0.02
    # As wide as it may be, and no higher than a screen leaves room for.
    step = max(2 * half / (WIDTH - 1), (max(xs) - min(xs)) / (ASPECT * MOST_ROWS))
    sheet = Sheet(max(xs), step * (WIDTH - 1) / 2, step)
    height = round((max(xs) - min(xs)) / (ASPECT * step)) + 1
    sheet.rows = [[" "] * WIDTH for _ in range(height)]
    for row in range(height):
        sheet.put(".", sheet.front - row * ASPECT * step, 0.0)
    for name, box in boxes.items():
        sheet.frame(name, box)
    for each in marks:
        sheet.put(each.sign, each.x, each.y)
    lines = ["  " + "".join(row).rstrip() for row in sheet.rows]
    signs = [words for sign, words in SIGNS.items() if any(each.sign == sign for each in marks)]
    return "\n".join((f"  {', '.join(('front up', *signs))}", *lines, ""))


def _boxes(known: Mapping[str, Value]) -> dict[str, Edges]:
    """Return the edges of the lumps, the longest first, so that the shorter are drawn over it."""
    found = {key.removesuffix(".box"): value for key, value in known.items() if isinstance(value, Edges)}
    return dict(sorted(found.items(), key=lambda each: each[1].low[0] - each[1].high[0]))


def _boxes_of(vehicle: Vehicle) -> dict[str, Edges]:
    """Return the outlines of the assemblies that come out, as boxes."""
    found = {}
    unit = KnownVehicle(vehicle).unit
    for body in vehicle.bodies:
        if body.name in unit and body.outline:
            xs, ys = zip(*body.outline, strict=True)
            found[body.name] = Edges((min(xs), min(ys), 0.0), (max(xs), max(ys), 0.0))
    return found


def _marks(known: Mapping[str, Value]) -> Iterator[PlanMark]:
    """Yield ties first, then stands, so that a letter is never hidden."""
    along, out = known.get("pads.along"), known.get("pads.out")
    near = not any(isinstance(each, Edges) for each in known.values())
    if near and isinstance(along, tuple) and isinstance(out, float):
        yield from (PlanMark("#", float(str(x)), y) for x in along for y in (out, -out))
    for key, value in known.items():
        if isinstance(value, Tie):
            yield PlanMark("o", value.place[0], value.place[1])
        elif key.startswith("hung") and isinstance(value, tuple):
            yield PlanMark("o", float(str(value[0])), float(str(value[1])))
    for key, value in known.items():
        if isinstance(value, Seat) and key.startswith("stand"):
            yield PlanMark(key.removeprefix("stand"), value.place[0], value.place[1])


def _marks_of(vehicle: Vehicle, known: Mapping[str, Value]) -> Iterator[PlanMark]:
    """Yield the places of stands of a known vehicle, by the letter that each will have."""
    wanted = known.get("places")
    chosen = [each for each in KnownVehicle(vehicle).places if not isinstance(wanted, tuple) or each.name in wanted]
    for letter, point in zip(stand_letters(len(chosen)), chosen, strict=False):
        yield PlanMark(letter, point.at[0], point.at[1])

"""Balance of a group in exact fractions: matrices, free motions and every extreme ray, by brute force.

A motion y has three entries a rigid whole (w, rx, ry); the place (x, y) of a whole goes up by w + rx·y − ry·x.
Nothing here is rounded but the lever of a link: coordinates enter as the decimals of the file.
"""

from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import combinations
from math import gcd, hypot, lcm, sqrt

from tests.reference.scenes import Lump, Place, Scene, Seat, Tie

Row = tuple[Fraction, ...]


@dataclass(frozen=True)
class Frame:
    """The supports and mounts of one group as rows of exact fractions over its motions.

    `seat_rows[i] · y` is how far seat i's place is lifted (less that of what it stands on), `tie_rows[j] · y` the
    stretch of mount j.
    """

    scene: Scene
    wholes: tuple[int, ...]
    seats: tuple[Seat, ...]
    ties: tuple[Tie, ...]
    seat_rows: tuple[Row, ...]
    tie_rows: tuple[Row, ...]

    @property
    def size(self) -> int:
        return 3 * len(self.wholes)


@dataclass(frozen=True)
class Ray:
    """A tipping mode: its motion a whole (w [mm], rx, ry, up to scale), the work of the weight, what stays still."""

    motion: tuple[float, ...]
    work: float
    turns: tuple[float, ...]
    """Length of (rx, ry) of each whole."""
    still_seats: tuple[str, ...]
    still_ties: tuple[str, ...]


def exact(value: float) -> Fraction:
    """Return the decimal that a file wrote, as a fraction."""
    return Fraction(repr(value))


def frame_of(scene: Scene, wholes: tuple[int, ...]) -> Frame:
    """Collect the rows of a group."""
    inside = [body for number in wholes for body in scene.wholes[number]]
    seats = tuple(seat for seat in scene.seats if seat.body in inside)
    ties = tuple(
        _softened(scene, tie)
        for tie in scene.ties
        if not tie.bolted and tie.first in inside and scene.whole_of(tie.first) != scene.whole_of(tie.second)
        if not tie.link or _holds(scene, tie)
    )
    seat_rows = tuple(_lift_row(scene, wholes, seat.at, seat.body, seat.on) for seat in seats)
    tie_rows = tuple(_lift_row(scene, wholes, tie.places[0], tie.first, tie.second) for tie in ties)
    return Frame(scene, wholes, seats, ties, seat_rows, tie_rows)


def _holds(scene: Scene, link: Tie) -> bool:
    """Return whether a link holds: beside mounts, with a lever about their line of a tenth of its distance from it."""
    if link.to is None:
        return len(_beside(scene, link)) >= 2
    return _lever_share(scene, link) >= 0.1


def _beside(scene: Scene, link: Tie) -> list[Tie]:
    own = {scene.whole_of(link.first), scene.whole_of(link.second)}
    mounts = [tie for tie in scene.ties if not tie.bolted and not tie.link]
    return [tie for tie in mounts if {scene.whole_of(tie.first), scene.whole_of(tie.second)} == own]


def _lever_share(scene: Scene, link: Tie) -> float:
    """Return its lever about the line of the two mounts furthest apart, over its distance from that in plan."""
    places = [tie.places[0] for tie in _beside(scene, link)]
    at, to = link.places[0], link.to
    pairs = [(hypot(one[0] - two[0], one[1] - two[1]), one, two) for one, two in combinations(places, 2)]
    run, one, other = max(pairs, key=lambda pair: pair[0], default=(0.0, at, at))
    if run <= 1.0 or to is None:
        return 0.0
    line = [other[axis] - one[axis] for axis in range(3)]
    rod = [to[axis] - at[axis] for axis in range(3)]
    # Six times the volume of both lines, over their lengths: the lever of one about the other.
    turned = [line[one_on] * rod[two_on] - line[two_on] * rod[one_on] for one_on, two_on in ((1, 2), (2, 0), (0, 1))]
    six = abs(sum(turned[axis] * (at[axis] - one[axis]) for axis in range(3)))
    far = abs(line[0] * (at[1] - one[1]) - line[1] * (at[0] - one[0])) / hypot(*line[:2])
    return float(six / hypot(*line) / hypot(*rod) / far) if far else 1.0


def _softened(scene: Scene, link: Tie) -> Tie:
    """Return a link as stiff as it is as a mount: a pull along it shifts and turns the mounts sideways, too [N/mm]."""
    if not link.link or link.to is None:
        return link
    beside = _beside(scene, link)
    total = sum(tie.stiffness for tie in beside)
    x, y = (sum(tie.stiffness * tie.places[0][axis] for tie in beside) / total for axis in (0, 1))
    polar = sum(tie.stiffness * ((tie.places[0][0] - x) ** 2 + (tie.places[0][1] - y) ** 2) for tie in beside)
    (at_x, at_y, at_z), (to_x, to_y, to_z) = link.places[0], link.to
    length = hypot(to_x - at_x, to_y - at_y, to_z - at_z)
    pull_x, pull_y = (to_x - at_x) / length, (to_y - at_y) / length
    yaw = (at_x - x) * pull_y - (at_y - y) * pull_x
    stretch = 1 / link.stiffness + (pull_x**2 + pull_y**2) / total + yaw**2 / polar
    return replace(link, stiffness=min(link.stiffness, _lever_share(scene, link) ** 2 / stretch))


def _lift_row(scene: Scene, wholes: tuple[int, ...], at: Place, body: str, other: str) -> Row:
    row = [Fraction(0)] * (3 * len(wholes))
    for sign, name in ((1, body), (-1, other)):
        if name:
            first = 3 * wholes.index(scene.whole_of(name))
            for place, value in enumerate((Fraction(1), exact(at[1]), -exact(at[0]))):
                row[first + place] += sign * value
    return tuple(row)


def weight_row(frame: Frame, lumps: list[Lump]) -> Row:
    """Return the weights b of a group: Σ m g (1, y, −x) a whole, as given [N, N·mm]."""
    total = [Fraction(0)] * frame.size
    for lump in lumps:
        whole = frame.scene.whole_of(lump.body)
        if whole not in frame.wholes:
            continue
        first = 3 * frame.wholes.index(whole)
        weight = lump.sign * exact(lump.mass) * exact(GRAVITY)
        for place, value in enumerate((Fraction(1), exact(lump.at[1]), -exact(lump.at[0]))):
            total[first + place] += weight * value
    return tuple(total)


GRAVITY = 9.80665


def free_motions(frame: Frame) -> list[Row]:
    """Return a basis of the motions that move no support and stretch no mount; empty where the rank is full."""
    return null_space([*frame.seat_rows, *frame.tie_rows], frame.size)


def rays_of(frame: Frame, weights: Row) -> list[Ray]:
    """Return every extreme ray of {y: Mᵀy = 0, Sᵀy >= 0} of a group of full rank, by trying every subset."""
    basis = null_space(list(frame.tie_rows), frame.size)
    lifts = [tuple(dot(row, column) for column in basis) for row in frame.seat_rows]
    found: dict[Row, None] = {}
    for chosen in combinations(lifts, len(basis) - 1):
        alone = null_space(list(chosen), len(basis))
        if len(alone) == 1:
            for sign in (1, -1):
                ray = tuple(sign * value for value in alone[0])
                if all(dot(lift, ray) >= 0 for lift in lifts):
                    found.setdefault(_to_whole_numbers(ray))
    return [_ray(frame, basis, ray, weights) for ray in found]


def _ray(frame: Frame, basis: list[Row], ray: Row, weights: Row) -> Ray:
    motion = tuple(dot(ray, tuple(column[i] for column in basis)) for i in range(frame.size))
    scale = max(abs(value) * Fraction(1 if place % 3 == 0 else 1000) for place, value in enumerate(motion))
    motion = tuple(Fraction(value) / scale for value in motion)
    moving = [seat.name for seat, row in zip(frame.seats, frame.seat_rows, strict=True) if dot(row, motion) != 0]
    turns = tuple(sqrt(motion[first + 1] ** 2 + motion[first + 2] ** 2) for first in range(0, frame.size, 3))
    return Ray(
        motion=tuple(float(value) for value in motion),
        work=float(dot(weights, motion)),
        turns=turns,
        still_seats=tuple(seat.name for seat in frame.seats if seat.name not in moving),
        still_ties=tuple(tie.name for tie in frame.ties),
    )


def dot(one: Row, other: Row) -> Fraction:
    """Return the inner product."""
    return sum((a * b for a, b in zip(one, other, strict=True)), Fraction(0))


def null_space(rows: list[Row], size: int) -> list[Row]:
    """Return a basis of the vectors that every row maps to 0, by Gauss-Jordan elimination."""
    rest = [list(row) for row in rows]
    pivots: list[int] = []
    done: list[list[Fraction]] = []
    for column in range(size):
        pivot = next((row for row in rest if row[column] != 0), None)
        if pivot is None:
            continue
        rest.remove(pivot)
        pivot = [value / pivot[column] for value in pivot]
        rest = [_less(row, pivot, column) for row in rest]
        done = [_less(row, pivot, column) for row in done] + [pivot]
        pivots.append(column)
    free = [column for column in range(size) if column not in pivots]
    return [_null_vector(done, pivots, column, size) for column in free]


def _less(row: list[Fraction], pivot: list[Fraction], column: int) -> list[Fraction]:
    factor = row[column]
    return [a - factor * b for a, b in zip(row, pivot, strict=True)] if factor else row


def _null_vector(done: list[list[Fraction]], pivots: list[int], column: int, size: int) -> Row:
    vector = [Fraction(0)] * size
    vector[column] = Fraction(1)
    for row, pivot in zip(done, pivots, strict=True):
        vector[pivot] = -row[column]
    return tuple(vector)


def _to_whole_numbers(ray: Row) -> Row:
    scale = lcm(*(value.denominator for value in ray))
    numbers = [int(value * scale) for value in ray]
    common = gcd(*numbers)
    return tuple(Fraction(number, common) for number in numbers)

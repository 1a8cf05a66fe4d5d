"""What can stand where at one set-down level, and which stands get in each other's way."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, islice

from loadplan.checks.footprint import area, overlap
from loadplan.model.shop import Equipment
from loadplan.model.vehicle import Place
from loadplan.planning.placement.branch_and_bound import Members
from loadplan.planning.placement.layout_space import Space, kept_level, levels, movable, serves, usable

MOST_ASSIGNMENTS = 20
"""Ways to share out equipment that are looked at for one choice of points."""


@dataclass(frozen=True, slots=True)
class Reach:
    """What serves which candidate at one level.

    Attributes:
        level: How much higher than in the file's attitude the unit stands [m].
        pieces: Equipment with pieces to place, and how many; None where they are not counted.
        serving: For each of them, the candidates that it reaches, as bits.
    """

    level: float
    pieces: tuple[tuple[Equipment, int | None], ...]
    serving: tuple[int, ...]

    @property
    def allowed(self) -> int:
        """Candidates that anything reaches, as bits."""
        allowed = 0
        for bits in self.serving:
            allowed |= bits
        return allowed

    def assignments(self, members: Members) -> Iterator[tuple[Equipment, ...]]:
        """Yield ways to share out equipment over candidates, the shop's first first."""
        left = tuple(len(members) if count is None else count for _, count in self.pieces)
        yield from islice(self._shared_out(members, left), MOST_ASSIGNMENTS)

    def _shared_out(self, members: Members, left: tuple[int, ...]) -> Iterator[tuple[Equipment, ...]]:
        """Yield ways to give each member a piece that serves it, of pieces as many as are left."""
        if not members:
            yield ()
            return
        for number, (equipment, _) in enumerate(self.pieces):
            if left[number] and self.serving[number] >> members[0] & 1:
                fewer = (*left[:number], left[number] - 1, *left[number + 1 :])
                for others in self._shared_out(members[1:], fewer):
                    yield (equipment, *others)


def reaches(space: Space) -> tuple[Reach, ...]:
    """List what can stand where, over the levels that differ.

    Args:
        space: The job without the supports to be planned.

    Returns:
        Those that no other level outdoes, lowest level first; where stands that stay are set, theirs alone.
    """
    slack = space.job.limits.uneven
    counted = [(each, usable(each, space.job.supports)) for each in movable(space.job)]
    pieces = tuple((each, count) for each, count in counted if count is None or count > 0)
    found: dict[tuple[int, ...], float] = {}
    kept = kept_level(space)
    # Where the level can be chosen no shim is needed; where it is given one under the saddle may make up for a step.
    under = (0.0,) if kept is None else (0.0, *(shim.height for shim in space.job.shop.shims))
    for level in levels(space.job, space.points) if kept is None else (kept,):
        serving = tuple(
            _bits([any(serves(each, point, level - shim, slack) for shim in under) for point in space.points])
            for each, _ in pieces
        )
        # Levels come rising: of those that serve alike the lowest is kept.
        found.setdefault(serving, level)
    return tuple(
        Reach(level, pieces, serving)
        for serving, level in found.items()
        # What another level serves and more can go: every layout of it is among the other's.
        if not any(
            other != serving and all(mine & ~theirs == 0 for mine, theirs in zip(serving, other, strict=True))
            for other in found
        )
    )


def _bits(flags: list[bool]) -> int:
    return sum(1 << number for number, flag in enumerate(flags) if flag)


def apart(space: Space) -> tuple[int, ...]:
    """Say which candidates cannot both have a stand: whatever is used, the bases would overlap.

    Args:
        space: The job without the supports to be planned.

    Returns:
        For each candidate the others, as bits.
    """
    pieces = movable(space.job)
    # Without every base nobody can say that two stands are in each other's way.
    if not pieces or any(each.base is None for each in pieces):
        return (0,) * len(space.points)
    pairs = [(first, second) for first in pieces for second in pieces]
    return tuple(
        _bits([
            # Only where no two pieces fit: which stand goes where is settled later.
            other is not point and not any(clear((point.at, other.at), pair) for pair in pairs)
            for other in space.points
        ])
        for point in space.points
    )


def clear(places: tuple[Place, ...], equipment: tuple[Equipment, ...]) -> bool:
    """Tell whether the bases of a layout stand clear of each other.

    Args:
        places: Where each stands [m].
        equipment: What stands there.

    Returns:
        False where two of them share some floor; equipment without a base in the file counts as clear.
    """
    bases = [area(each.base, at[:2]) for at, each in zip(places, equipment, strict=True) if each.base is not None]
    return not any(overlap(first, second) for first, second in combinations(bases, 2))

"""Readings held against each other: whether any weights inside their tolerances could give all of them at once.

Each of several readings may be possible, and all of them together not: their sum is no weight of what stands there, or
the places at which they were taken put its centre of gravity where it cannot be. So it is asked how far readings would
have to be off, beyond what they may be, until some state gives them all: loads r ≥ 0 and mount forces f in balance with
the weights, at each lowering of the lift at which something was read. With mass m and moments p = m (x - x given),
q = m (y - y given) of each part as unknowns all of it is linear (|p| ≤ pm · m), so the answer is exact: that of one
linear programme. Of stiffness, floor and friction nothing is taken for granted, as in `load_bounds` (bounded errors:
Milanese et al., Bounding Approaches to System Identification, 1996, ch. 1).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple, TypeAlias

import numpy as np

from loadplan.limits import GRAVITY
from loadplan.model.answer import Statics
from loadplan.model.job import Job, StageReading, State
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.expected_reading import further_down, lift_names, span, weight_of
from loadplan.statics.mass import Array, lumps
from loadplan.statics.unsolved import UnsolvedError

ROUNDING = 1e-6
"""Share of a group's weight by which readings may be off for nothing: the programme is solved in floating point."""


@dataclass(frozen=True, slots=True)
class ReadTogether:
    """Scales and hands that together found what the group over them cannot weigh.

    Attributes:
        readings: What was found.
        load: What they come to [N]: of what a hand tells no more than the most, or no less than the least, that it may.
        limit: What the group weighs at most, where that is less, or at least, where that is more [N].
        odd: The only one of them without which all else that was read could be so; None where there is no such one.
    """

    readings: tuple[StageReading, ...]
    load: float
    limit: float
    odd: StageReading | None = None


@dataclass(frozen=True, slots=True)
class ReadOutOfBalance:
    """Scales and hands that together found what no weights inside their tolerances balance, whatever they come to.

    Attributes:
        readings: What was found: as few as there are that cannot all be so.
        off: By how much at least one of them is more or less than that allows [N].
        odd: The only one of them without which all else that was read could be so; None where there is no such one.
    """

    readings: tuple[StageReading, ...]
    off: float
    odd: StageReading | None = None


Misfit: TypeAlias = ReadTogether | ReadOutOfBalance


class _Found(NamedTuple):
    """One reading of a group.

    Attributes:
        reading: The reading.
        counted: 1 for each support (n) that it adds up, else 0.
        height: What tells at which lowering it was taken.
    """

    reading: StageReading
    counted: Array
    height: object


def misfits_together(job: Job, state: State, statics: Statics) -> tuple[Misfit, ...]:
    """Find readings that together no weights inside their tolerances give, though each of them alone may be.

    Args:
        job: The job.
        state: The stage.
        statics: What was computed about it.

    Returns:
        What does not go together, a record a group and lowering of the lift for what it cannot weigh, else one a group;
        none where the group is not balanced, since what holds it is then not known.

    Raises:
        UnsolvedError: If it cannot be told whether they go together.
    """
    # One reading alone is held against what is possible there, and most stages have none.
    if len(state.stage.readings) < 2:
        return ()
    told: list[Misfit] = []
    for frame, found in _by_group(job, state, statics):
        # What somebody can add up at the bay is told before what takes the places of the stands, too.
        sums = _sums(frame, found, weight_of(job, state, statics.group_of(frame.bodies[0])))
        told += [_with_odd(frame, found, each) for each in sums] or _out_of_balance(frame, found)
    return tuple(told)


def fit_together(job: Job, state: State, statics: Statics) -> bool:
    """Tell whether some weights inside their tolerances give all readings of a stage.

    Args:
        job: The job.
        state: The stage.
        statics: What was computed about it.

    Returns:
        Whether there are such; what is read of a group that is not balanced says nothing.

    Raises:
        UnsolvedError: If it cannot be told.
    """
    return all(_fits(*each) for each in _by_group(job, state, statics))


def _by_group(job: Job, state: State, statics: Statics) -> Iterator[tuple[Frame, tuple[_Found, ...]]]:
    """Yield each balanced group with what was read of its loads."""
    for frame in frames(state, lumps(job, state)):
        if statics.group_of(frame.bodies[0]).balanced:
            yield frame, _found(job, (state, statics), frame)


def _found(job: Job, of_stage: tuple[State, Statics], frame: Frame) -> tuple[_Found, ...]:
    """Return what was read of a group's loads."""
    state, statics = of_stage
    lift = lift_names(job, state)
    arms = {each.name for each in state.supports if each.is_arm}
    told = []
    for each in state.stage.readings:
        # The gauge shows all arms; what only stands on another part of the same rigid whole has no load that is known.
        names = arms if each.support in lift else {each.support}
        counted = np.array([support.name in names for support in frame.supports], dtype=float)
        if counted.any():
            lower = further_down(state, statics, each)
            told.append(_Found(each, counted, f"lowered {each.lowered}" if lower is None else lower))
    return tuple(told)


def _sums(frame: Frame, found: Sequence[_Found], weight: tuple[float, float]) -> list[ReadTogether]:
    """Return what comes to more than a group weighs, or, where all that holds it was read, to less [N].

    How a group shares its weight hangs on stiffness and floor, what it comes to does not: what some of its supports
    carry is at most its weight, what all of them carry is its weight.
    """
    told = []
    least, most = weight
    for height in dict.fromkeys(each.height for each in found):
        read, holds_all = _each_once(frame, [each for each in found if each.height == height])
        if len(read) < 2:
            continue
        off = sum(each.pm for each in read)
        low, high = (sum(each) for each in zip(*map(span, read), strict=True))
        if low - off > most:
            told.append(ReadTogether(read, low, most))
        elif holds_all and high + off < least:
            told.append(ReadTogether(read, high, least))
    return told


def _each_once(frame: Frame, found: Sequence[_Found]) -> tuple[tuple[StageReading, ...], bool]:
    """Return readings of one height that count each load once, and whether they are of all that holds the group."""
    # What stands on another assembly of the group weighs on that.
    holds = frame.up @ np.tile([1.0, 0.0, 0.0], len(frame.wholes)) != 0
    counted = np.zeros(len(frame.supports), dtype=bool)
    chosen = []
    # What the gauge shows has what single arms carry in it; where a scale was read a hand tells less.
    for each in sorted(found, key=lambda each: (-each.counted.sum(), each.reading.load is None)):
        own = each.counted > 0
        if not (own & (counted | ~holds)).any():
            chosen.append(each)
            counted |= own
    return tuple(each.reading for each in found if any(each is other for other in chosen)), bool(
        (counted == holds).all()
    )


def _with_odd(frame: Frame, found: Sequence[_Found], misfit: ReadTogether) -> ReadTogether:
    """Return what does not come to what it should with the one of it that may be why."""
    own = [each for each in found if any(each.reading is other for other in misfit.readings)]
    return ReadTogether(misfit.readings, misfit.load, misfit.limit, _odd(frame, found, own))


def _out_of_balance(frame: Frame, found: Sequence[_Found]) -> list[Misfit]:
    """Return what does not go together though its sum may be; nothing where all of it could be so."""
    while not _fits(frame, found):
        few = _as_few(frame, found)
        if len(few) > 1:
            readings = tuple(each.reading for each in few)
            return [ReadOutOfBalance(readings, _off(frame, few), _odd(frame, found, few))]
        # What cannot be by itself is told by itself; the rest may not go together all the same.
        found = _without(found, few[0])
    return []


def _as_few(frame: Frame, found: Sequence[_Found]) -> Sequence[_Found]:
    """Return readings that cannot all be so, of which each is needed for that."""
    few = found
    for each in found:
        rest = _without(few, each)
        few = few if _fits(frame, rest) else rest
    return few


def _odd(frame: Frame, found: Sequence[_Found], misfit: Sequence[_Found]) -> StageReading | None:
    """Return the only one of some readings without which all else could be so."""
    alone = [each.reading for each in misfit if _fits(frame, _without(found, each))]
    return alone[0] if len(alone) == 1 else None


def _without(found: Sequence[_Found], one: _Found) -> Sequence[_Found]:
    return [each for each in found if each is not one]


def _fits(frame: Frame, found: Sequence[_Found]) -> bool:
    """Return whether some weights inside their tolerances give all readings; what was not read fits anyhow."""
    return not found or _off(frame, found) <= ROUNDING * frame.weight


def _off(frame: Frame, found: Sequence[_Found]) -> float:
    """Return by how much at least one reading is off, beyond what it may be, whatever the weights are [N].

    Raises:
        UnsolvedError: If there is no answer: as given it stands, so some loads there are.
    """
    # scipy takes half a second to load, for which nobody waits who has read nothing.
    from loadplan.statics.highs import NoProgrammeError, Polytope, least_values  # noqa: PLC0415

    columns = _StateColumns(frame, tuple(dict.fromkeys(each.height for each in found)))
    inside = [*_in_place(columns), *(row for each in found for row in _as_read(each, columns))]
    polytope = Polytope(
        rows=np.array([row for row, _ in inside]).reshape(-1, columns.size),
        most=np.array([most for _, most in inside]),
        balance=np.vstack([_balance(columns, height) for height in columns.heights] or [np.zeros((0, columns.size))]),
        ranges=columns.ranges,
    )
    try:
        return GRAVITY * float(least_values(polytope, [columns.off])[0])
    except NoProgrammeError as error:
        raise UnsolvedError from error


@dataclass(frozen=True, slots=True)
class _StateColumns:
    """Where the unknowns stand [kg, kg span], each height by itself but for the weights that are the same at each.

    First how far readings are off; then mass, p and q of each lump that is there whatever the order; then for each
    height loads, mount forces, and mass, p and q of each lump that may have come off meanwhile.

    Attributes:
        frame: The group.
        heights: What tells each lowering at which something was read.
    """

    frame: Frame
    heights: tuple[object, ...]

    @property
    def _lasting(self) -> int:
        return sum(not lump.optional for lump in self.frame.lumps)

    @property
    def _each(self) -> int:
        """How many unknowns each height has."""
        return len(self.frame.supports) + len(self.frame.mounts) + 3 * (len(self.frame.lumps) - self._lasting)

    @property
    def size(self) -> int:
        """How many unknowns there are."""
        return 1 + 3 * self._lasting + len(self.heights) * self._each

    @property
    def off(self) -> Array:
        """What counts how far readings are off, and nothing else."""
        row = np.zeros(self.size)
        row[0] = 1.0
        return row

    @property
    def ranges(self) -> list[tuple[float | None, float | None]]:
        """Least and most of each unknown."""
        free: tuple[float | None, float | None] = (None, None)
        told: list[tuple[float | None, float | None]] = [(0.0, None)] + [free] * (self.size - 1)
        for height in self.heights:
            start = self.loads(height)
            told[start : start + len(self.frame.supports)] = [(0.0, None)] * len(self.frame.supports)
            for number, lump in enumerate(self.frame.lumps):
                # It may be there or not, and be of any mass between: what is between both is left open, too.
                least = 0.0 if lump.optional else max(lump.low, 0.0)
                told[self.lump(height, number)] = (least, lump.high)
        return told

    def loads(self, height: object) -> int:
        """Return where the loads of a height begin; its mount forces come behind them."""
        return 1 + 3 * self._lasting + self.heights.index(height) * self._each

    def lump(self, height: object, number: int) -> int:
        """Return where the mass of a lump at a height stands; its moments come behind it."""
        alike = [lump.optional == self.frame.lumps[number].optional for lump in self.frame.lumps[:number]].count(True)
        if not self.frame.lumps[number].optional:
            return 1 + 3 * alike
        return self.loads(height) + len(self.frame.supports) + len(self.frame.mounts) + 3 * alike


def _in_place(columns: _StateColumns) -> Iterator[tuple[Array, float]]:
    """Yield that no moment is larger than its mass times how far its place may be off."""
    for height in columns.heights:
        for number, lump in enumerate(columns.frame.lumps):
            mass = columns.lump(height, number)
            for axis in (0, 1):
                for way in (1.0, -1.0):
                    row = np.zeros(columns.size)
                    row[mass + 1 + axis], row[mass] = way, -lump.at_pm[axis] / columns.frame.span
                    yield row, 0.0


def _as_read(found: _Found, columns: _StateColumns) -> Iterator[tuple[Array, float]]:
    """Yield that a load lies no further off what was read than that may be, and all readings are."""
    low, high = span(found.reading)
    start = columns.loads(found.height)
    for way, end in ((1.0, high), (-1.0, -low)):
        if np.isfinite(end):
            row = -columns.off
            row[start : start + len(found.counted)] = way * found.counted
            yield row, (end + found.reading.pm) / GRAVITY


def _balance(columns: _StateColumns, height: object) -> Array:
    """Return the balance of the group at a height, rows that come to 0 (3 q, size)."""
    frame = columns.frame
    start = columns.loads(height)
    beside = start + len(frame.supports)
    rows = np.zeros((frame.load.size, columns.size))
    rows[:, start:beside] = frame.up.T
    rows[:, beside : beside + len(frame.mounts)] = frame.stretch.T
    for number, (lump, whole) in enumerate(zip(frame.lumps, frame.whole_of.tolist(), strict=True)):
        mass, first = columns.lump(height, number), 3 * whole
        x, y = ((lump.at[axis] - frame.middle[axis]) / frame.span for axis in (0, 1))
        rows[first, mass] = -lump.sign
        rows[first + 1, [mass, mass + 2]] = -lump.sign * np.array([y, 1.0])
        rows[first + 2, [mass, mass + 1]] = lump.sign * np.array([x, 1.0])
    return rows

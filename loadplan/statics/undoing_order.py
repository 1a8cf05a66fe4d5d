"""Undoing: joints of one stage come off one at a time, and every state in between has to stand.

Each of n joints is done up or undone, so the states on the way are the 2ⁿ sets of what is undone, and an order is a way
through them that undoes one more at each step. Every set is judged once, whatever the n! orders that lead through it;
how bad an order is, is then the worst of its states and steps. Sought is the way whose worst is mildest, and of those
the one whose greatest drop is least: each is a way with the cheapest dearest step (`subset_paths.narrowest_way`).
Beyond six joints only the first and the last state on the way are looked at: each joint alone undone, each alone left.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from math import inf
from typing import NamedTuple

from loadplan.limits import GRAVITY
from loadplan.model.answer import Load, Motion
from loadplan.model.job import State, Support
from loadplan.model.step_change import Halfway, Severity, Trouble, Undoing
from loadplan.statics.mass import upper_mass
from loadplan.statics.passage import Passage, Seen, motions
from loadplan.statics.settlement import FAR, drops, spots
from loadplan.statics.subset_paths import narrowest_way
from loadplan.statics.worst_way import what_moves

MOST_TOGETHER = 6
"""Up to so many joints every set of them is looked at (62 states)."""

FINE = Halfway(Severity.FINE, Trouble.NONE, (), (), None)


@dataclass(frozen=True, slots=True)
class _OnTheWay:
    """One state on the way: what is wrong with it, and where its bodies are."""

    judged: Halfway
    motions: Mapping[str, Motion]


def undoing(passage: Passage) -> Undoing | None:
    """Judge the order in which the joints of a stage come off.

    Args:
        passage: The stage, with the state before it.

    Returns:
        The order, and the worst on its way; None where no more than one joint comes off.
    """
    joints = one_by_one(passage)
    if len(joints) < 2:
        return None
    states = _Between(passage, joints)
    listed = passage.after.stage.undone_in_order
    worst = states.worst_step() if len(joints) <= MOST_TOGETHER else states.worst_end()
    way = tuple(range(len(joints))) if listed else _way(states)
    told = states.worst(way)
    return Undoing(
        order=tuple(joints[each] for each in way),
        every_order=worst is not Severity.OVER,
        alike=worst is told.severity,
        listed=listed,
        worst=told,
    )


def undoing_at_a_glance(passage: Passage) -> Undoing | None:
    """Judge the order in which the joints of a stage come off, no further than to see that none holds.

    Args:
        passage: The stage, with the state before it.

    Returns:
        What `undoing` gives; where all goes over with whichever joint comes off first, the joints as listed, and that.
    """
    joints = one_by_one(passage)
    if len(joints) < 2:
        return None
    states = _Between(passage, joints)
    if any(states.severity(0, part) is not Severity.OVER for part in range(len(joints))):
        return undoing(passage)
    # Every order begins with one of these: so none is milder, and the states behind them need not be solved.
    listed = passage.after.stage.undone_in_order
    return Undoing(order=joints, every_order=False, alike=True, listed=listed, worst=states.first(0))


def one_by_one(passage: Passage) -> tuple[str, ...]:
    """Name the joints that a stage undoes, as it lists them; those that go with a body or part are not among them.

    Args:
        passage: The stage, with the state before it.

    Returns:
        Their names.
    """
    tight = {each.name for each in passage.before.done_up}
    loose = {each.name for each in passage.after.undone}
    return tuple(dict.fromkeys(name for name in passage.after.stage.undone if name in tight & loose))


def _way(states: "_Between") -> tuple[int, ...]:
    """Return the way whose worst is mildest, and of those the one with the least of the greatest drops."""
    many = len(states.joints)
    if many > MOST_TOGETHER:
        return min(states.from_ends(), key=states.badness)
    # How bad it gets comes first; only among the mildest ways does the depth of a drop decide.
    mildest, _ = narrowest_way(lambda off, part: float(states.severity(off, part)), many)

    def drop(off: int, part: int) -> float:
        return states.fall(off, part) if states.severity(off, part) <= mildest else inf

    return narrowest_way(drop, many)[1]


class _Between:
    """The states between all joints done up and all undone, each solved once; sets of joints as bits."""

    def __init__(self, passage: Passage, joints: tuple[str, ...]) -> None:
        self.joints = joints
        self._passage = passage
        self._spots = spots(passage.job, passage.before, passage.after)
        self._all = (1 << len(joints)) - 1
        # What was before and what the stage leaves are judged as such: on the way only the drop into it counts.
        self._known = {0: _OnTheWay(FINE, passage.stood), self._all: _OnTheWay(FINE, passage.stands)}

    def worst_step(self) -> Severity:
        """Return how bad the worst of all steps is, from whatever is undone to one joint more."""
        every = range(len(self.joints))
        return max(self.severity(off, part) for off in range(self._all) for part in every if not off >> part & 1)

    def worst_end(self) -> Severity:
        """Return how bad the worst is of first steps, of last ones, and of what stands before these by one joint."""
        first = [self.severity(0, part) for part in range(len(self.joints))]
        return max(*first, *(self._last(part) for part in range(len(self.joints))))

    def _last(self, part: int) -> Severity:
        """Return how bad it is that a joint comes off last: the state in which it alone is left, and the step after."""
        alone = self._all & ~(1 << part)
        return max(self._at(alone).judged.severity, self.severity(alone, part))

    def from_ends(self) -> Iterator[tuple[int, ...]]:
        """Yield ways with every first and last joint, the others as listed."""
        every = range(len(self.joints))
        for first in every:
            for last in every:
                if first != last:
                    yield (first, *(each for each in every if each not in {first, last}), last)

    def badness(self, way: tuple[int, ...]) -> tuple[float, float]:
        """Return how bad the first and the last state of a way are, and the larger of the drops into and from them."""
        first, last = way[0], way[-1]
        return (
            float(max(self.severity(0, first), self._last(last))),
            max(self.fall(0, first), self.fall(self._all & ~(1 << last), last)),
        )

    def severity(self, off: int, part: int) -> Severity:
        """Return how bad a step is: the state that it leads to, and the drop into that."""
        return max(self._at(off | 1 << part).judged.severity, self._drop(off, part).severity)

    def fall(self, off: int, part: int) -> float:
        """Return how far the place sinks that sinks furthest in a step [m], at least 0."""
        return max(self._drop(off, part).value or 0.0, 0.0)

    def worst(self, way: tuple[int, ...]) -> Halfway:
        """Return the worst of a way's states and steps, the first of equals; where all is fine its greatest drop."""
        told: list[Halfway] = []
        off = 0
        # Of many joints only the ends were solved: of what lies between, nothing can be told.
        skipped = len(way) > MOST_TOGETHER and way != tuple(range(len(way)))
        for number, part in enumerate(way):
            if not skipped or number == 0:
                told += [self._drop(off, part), self._at(off | 1 << part).judged]
            elif number == len(way) - 1:
                told += [self._at(off).judged, self._drop(off, part)]
            off |= 1 << part
        # Of what is equally bad, going over comes first: a load can be borne, a fall cannot.
        done = max(told, key=lambda each: (each.severity, each.trouble is Trouble.BALANCE, each.value or 0.0))
        in_order = (self.joints[each] for each in way)
        return replace(done, undone=tuple(name for name in in_order if name in done.undone))

    def first(self, part: int) -> Halfway:
        """Return the worse of the state and the step with which a joint comes off before all others."""
        return max((self._at(1 << part).judged, self._drop(0, part)), key=lambda each: each.severity)

    def _at(self, off: int) -> _OnTheWay:
        if off not in self._known:
            undone = tuple(name for number, name in enumerate(self.joints) if off >> number & 1)
            state = _with_undone(self._passage, undone)
            seen = self._passage.look(state, self._passage.gaps)
            self._known[off] = _OnTheWay(_judged(self._passage, state, seen, undone), motions(seen))
        return self._known[off]

    def _drop(self, off: int, part: int) -> Halfway:
        """Return the drop in a step, with how bad it is."""
        after = off | 1 << part
        undone = tuple(name for number, name in enumerate(self.joints) if after >> number & 1)
        open_now = {each.name for each in self._passage.after.undone} - set(self.joints) | set(undone)
        places = tuple(each for each in self._spots if each.name in open_now or each.name not in self.joints)
        fallen = drops(places, self._at(off).motions, self._at(after).motions)
        if not fallen:
            return FINE
        most = max(fallen, key=lambda each: each.fall)
        limit = self._passage.job.limits.drop
        severity = Severity.FINE
        if most.fall > limit:
            severity = Severity.OVER if most.fall > FAR * limit else Severity.NEAR
        return Halfway(severity, Trouble.DROP, undone, (most.place,), most.fall)


def _with_undone(passage: Passage, undone: tuple[str, ...]) -> State:
    """Return the state on the way with some joints undone: what comes off in the stage is still on."""
    before, after = passage.before, passage.after
    bodies = tuple(name for name in passage.job.bodies if name in {*before.bodies, *after.bodies})
    tight = {each.name for each in after.done_up} | {each.name for each in before.done_up} - set(undone)
    joints = [each for each in passage.job.vehicle.joints if set(each.between) <= set(bodies)]
    return replace(
        after,
        bodies=bodies,
        on=before.on | after.on,
        may_be_on=(),
        done_up=tuple(each for each in joints if each.name in tight),
        undone=tuple(each for each in joints if each.name not in tight),
    )


def _judged(passage: Passage, state: State, seen: Seen, undone: tuple[str, ...]) -> Halfway:
    """Return what is wrong with a state on the way: balance first, then ratings, as the check of ratings has them."""
    going = tuple(body for _, solved in seen if not solved.answer.robust for body in what_moves(solved.answer))
    if going:
        return Halfway(Severity.OVER, Trouble.BALANCE, undone, going, None)
    burdens = _burdens(state, seen)
    if not burdens:
        return FINE
    piece = max(burdens, key=lambda name: burdens[name].high)
    if burdens[piece].high > passage.job.limits.rating_share:
        severity = Severity.OVER if burdens[piece].high > 1 else Severity.NEAR
        return Halfway(severity, Trouble.RATING, undone, (piece,), burdens[piece].high)
    piece = max(burdens, key=lambda name: burdens[name].most)
    most = burdens[piece].most
    if most <= 1:
        return FINE
    return Halfway(Severity.NEAR, Trouble.BOUND, undone, (piece,), None if most == inf else most)


class _PieceShares(NamedTuple):
    """What a piece carries, as shares of its rating [1]: most on this floor, and most it could ever carry."""

    high: float
    most: float


def _burdens(state: State, seen: Seen) -> dict[str, _PieceShares]:
    """Return what each piece carries, arms of the lift aside; several supports never more than all over them weighs."""
    loads = {
        support.name: (load, frame)
        for frame, solved in seen
        for support, load in zip(frame.supports, solved.loads or (), strict=True)
    }
    pieces: defaultdict[str, list[Support]] = defaultdict(list)
    for each in state.supports:
        if not each.is_arm and each.name in loads:
            pieces[each.piece or each.name].append(each)
    found = {}
    for name, those in pieces.items():
        over = {frame.bodies: frame for _, frame in (loads[each.name] for each in those)}
        capped = len(those) > 1 and not any(each.on for each in those)
        cap = GRAVITY * sum(upper_mass(frame.lumps) for frame in over.values()) if capped else inf
        carried = [loads[each.name][0] for each in those]
        rating = those[0].equipment.rating_of_one
        found[name] = _PieceShares(
            min(sum(each.at_most for each in carried), cap) / rating, min(sum(map(_most, carried)), cap) / rating
        )
    return found


def _most(load: Load) -> float:
    """Return the most that a support could ever carry [N]; infinite without a limit, on this floor where not known."""
    if load.range is None or load.range.least is None:
        return load.at_most
    return inf if load.range.most is None else load.range.most

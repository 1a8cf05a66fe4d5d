"""How loads follow what is not known exactly: masses, centres of gravity, saddle heights, and stiffness.

Every unknown has a standard uncertainty: half of what a file gives as plus or minus (k = 2, normal), and a saddle's
height a/√3 of how far it may be off (rectangular; JCGM 100:2008, 4.3.7). How much a load changes with one of them is
half the difference between it one standard uncertainty up and down (5.1.3, note 2): unlike a derivative it sees a
saddle that comes into touch or leaves it on the way.
"""

from dataclasses import dataclass, replace
from math import log, sqrt

import numpy as np

from loadplan.limits import GRAVITY
from loadplan.model.answer import Statics
from loadplan.model.job import Job, State
from loadplan.model.vehicle import Joint, Place
from loadplan.stages import untouched
from loadplan.statics.contact_loads import Springs, settle, springs
from loadplan.statics.distinct_rows import distinct_rows
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.gaps import unevenness
from loadplan.statics.mass import Array, Lump, lumps
from loadplan.statics.mount_preload import PreloadRule, preload_rule

HALF = 0.5
"""A plus or minus is two standard uncertainties."""

STIFFNESS_SPREAD = log(2.0) / 2
"""Standard uncertainty of the logarithm of a stiffness: half to twice what is given; common practice, no source."""


@dataclass(frozen=True, slots=True)
class UncertainMass:
    """One mass whose figures may be off.

    Attributes:
        body: Its body.
        part: The part, "" for a body weighed whole.
        mass: Mass [kg].
        mass_pm: Plus or minus on it [kg].
        at: Centre of gravity [m].
        at_pm: Plus or minus on each coordinate [m].
    """

    body: str
    part: str
    mass: float
    mass_pm: float
    at: Place
    at_pm: Place


@dataclass(frozen=True, slots=True)
class SprungGroup:
    """One balanced group; k lumps that count, n supports.

    Attributes:
        frame: Its equations.
        held: Its springs, without preload.
        gaps: Of its supports as set (n) [m].
        columns: Number of each lump's weight (k).
        saddles: Number of each support among those of the stage (n).
    """

    frame: Frame
    held: Springs
    gaps: Array
    columns: np.ndarray[tuple[int], np.dtype[np.intp]]
    saddles: np.ndarray[tuple[int], np.dtype[np.intp]]


@dataclass(frozen=True, slots=True)
class LoadResponse:
    """Loads of one stage as a function of unknowns: w weights, n supports, j joints that give, u = 3 w + n + 1 + j.

    The unknowns are, in this order: mass, x and y of each weight [kg, m, m]; how much lower each saddle is than set
    [m]; the logarithm of how many times as stiff the arms are, and each joint is, as given.

    Attributes:
        weights: Whose mass and place are unknown.
        supports: Names of the supports of the stage, arms too.
        is_arm: Which of them are arms (n).
        joints: Mounts and links that count in some balanced group.
        known: Names of the supports whose load can be told: those of balanced groups.
        given: The unknowns as given (u).
        spread: Their standard uncertainties (u); 0 for stiffness, unless that is asked for.
        groups: Those that stand.
        preload: How the mounts' forces follow from the weights; None where there are none.
        whole: Number of the weight of each lump of the whole vehicle that counts.
    """

    weights: tuple[UncertainMass, ...]
    supports: tuple[str, ...]
    is_arm: np.ndarray[tuple[int], np.dtype[np.bool_]]
    joints: tuple[Joint, ...]
    known: frozenset[str]
    given: Array
    spread: Array
    groups: tuple[SprungGroup, ...]
    preload: PreloadRule | None
    whole: np.ndarray[tuple[int], np.dtype[np.intp]]

    @property
    def stiffness_from(self) -> int:
        """Number of the first unknown that is about stiffness: the arms', then the joints'."""
        return 3 * len(self.weights) + len(self.supports)

    def loads(self, unknowns: Array, lower: float, touching: frozenset[str] = frozenset()) -> Array:
        """Find what the supports carry.

        Args:
            unknowns: Cases (c, u).
            lower: How much further down the arms are than the stage has them [m].
            touching: Supports of which is known that they touch: where unknowns would lift something off them, their
                loads go below 0 instead of staying there.

        Returns:
            Loads (c, n) [N]; 0 for supports that are not known.

        Raises:
            NoEquilibriumError: If a case does not settle: with such weights it tips.
        """
        told = np.zeros((len(unknowns), len(self.supports)))
        stiff = unknowns[:, self.stiffness_from :]
        # What is as stiff as each other shares its springs, and is solved in one go.
        for factors in distinct_rows(stiff):
            alike = (stiff == factors).all(axis=1)
            for group in self.groups:
                told[np.ix_(alike, group.saddles)] = self._of_group(group, unknowns[alike], (lower, touching))
        return told

    def changes(self, around: Array, lower: float, share: float = 1.0, touching: frozenset[str] = frozenset()) -> Array:
        """Find by how much loads change with each unknown, a standard uncertainty of it.

        Args:
            around: Unknowns (u) about which they are changed.
            lower: How much further down the arms are than the stage has them [m].
            share: How far the unknowns are moved for it, of their standard uncertainties: 1 sees what touches and
                leaves on the way, a small share only what touches now.
            touching: Supports of which is known that they touch.

        Returns:
            Half differences (n, u) over that share [N]; 0 where an unknown is exact.

        Raises:
            NoEquilibriumError: If it tips with one of them so far off.
        """
        step = share * np.diag(self.spread)
        up, down = self.loads(around + step, lower, touching), self.loads(around - step, lower, touching)
        told: Array = ((up - down) / (2 * share)).T
        return told

    def _of_group(self, group: SprungGroup, unknowns: Array, seen: tuple[float, frozenset[str]]) -> Array:
        """Return loads (c, n) [N] of one group, for cases that share their stiffness.

        A support that is known to touch is a spring that pulls as well: for the solver a mount that is not stretched
        where its saddle just touches.
        """
        lower, touching = seen
        frame = group.frame
        held = self._springs(group, unknowns[0])
        first = 3 * len(self.weights)
        off = unknowns[:, first + group.saddles] + np.where(self.is_arm[group.saddles], lower, 0.0)
        gaps = (group.gaps + off) / frame.span
        touch = np.array([each.name in touching for each in frame.supports], dtype=bool)
        # One spring that never presses: the solver wants some support, even where all are known to touch.
        kept = Springs(
            up=np.vstack([held.up[~touch], np.zeros((1, held.up.shape[1]))]),
            stretch=np.vstack([held.stretch, held.up[touch]]),
            stiffness=np.append(held.stiffness[~touch], 0.0),
            mount_stiffness=np.concatenate([held.mount_stiffness, held.stiffness[touch]]),
            preload=np.zeros(len(held.stretch) + int(touch.sum())),
        )
        pressed = -gaps[:, touch] * held.stiffness[touch]
        preload = np.hstack([self._preloads(group, unknowns), pressed])
        load = _scaled_weights(frame, group.columns, unknowns) - preload @ kept.stretch
        settled = settle(kept, load, np.column_stack([gaps[:, ~touch], np.zeros(len(gaps))]))
        loads = np.zeros((len(unknowns), len(frame.supports)))
        loads[:, ~touch] = settled.loads[:, :-1]
        loads[:, touch] = settled.forces[:, len(held.stretch) :] + pressed
        return loads * frame.weight

    def _springs(self, group: SprungGroup, unknowns: Array) -> Springs:
        """Return the springs of a group with the stiffness that the unknowns (u) have."""
        arms, *joints = np.exp(unknowns[self.stiffness_from :])
        factor = {joint.name: times for joint, times in zip(self.joints, joints, strict=True)}
        return replace(
            group.held,
            stiffness=np.where(self.is_arm[group.saddles], arms, 1.0) * group.held.stiffness,
            mount_stiffness=group.held.mount_stiffness * np.array([factor[each.name] for each in group.frame.mounts]),
        )

    def _preloads(self, group: SprungGroup, unknowns: Array) -> Array:
        """Return the forces (c, m) of a group's mounts in the file's attitude, as shares of its weight."""
        mounts = group.frame.mounts
        if self.preload is None or not mounts:
            return np.zeros((len(unknowns), len(mounts)))
        forces = self.preload.at(_scaled_weights(self.preload.frame, self.whole, unknowns)) / group.frame.weight
        number = {mount.name: place for place, mount in enumerate(self.preload.frame.mounts)}
        # A link may count here and not on the whole vehicle: then it had no force there.
        none = np.zeros(len(unknowns))
        return np.column_stack([forces[:, number[each.name]] if each.name in number else none for each in mounts])


def load_response(job: Job, state: State, statics: Statics, *, stiffness_open: bool = False) -> LoadResponse:
    """Find how the loads of a stage follow what is not known exactly.

    Args:
        job: The job.
        state: The stage.
        statics: What was computed about it.
        stiffness_open: Whether the stiffness of arms and joints is unknown, too.

    Returns:
        The response; of groups that do not stand it knows nothing.
    """
    weights = _weights((*lumps(job, untouched(job)), *lumps(job, state)))
    column = {(each.body, each.part): number for number, each in enumerate(weights)}
    names = tuple(each.name for each in state.supports)
    own = [each for each in frames(state, lumps(job, state)) if statics.group_of(each.bodies[0]).balanced]
    rule = preload_rule(job)
    groups = tuple(
        SprungGroup(
            frame=frame,
            held=springs(frame, {}),
            gaps=np.array([statics.gaps[each.name] for each in frame.supports]),
            columns=_columns(frame, column),
            saddles=np.array([names.index(each.name) for each in frame.supports], dtype=np.intp),
        )
        for frame in own
    )
    joints = tuple(mount for frame in own for mount in frame.mounts)
    figures = np.array([(each.mass, *each.at[:2]) for each in weights]).reshape(-1)
    spreads = HALF * np.array([(each.mass_pm, *each.at_pm[:2]) for each in weights]).reshape(-1)
    off = np.array([unevenness(each, job.limits) / sqrt(3) for each in state.supports])
    soft = np.full(1 + len(joints), STIFFNESS_SPREAD if stiffness_open else 0.0)
    return LoadResponse(
        weights=weights,
        supports=names,
        is_arm=np.array([each.is_arm for each in state.supports], dtype=bool),
        joints=joints,
        known=frozenset(each.name for frame in own for each in frame.supports),
        given=np.concatenate([figures, np.zeros(len(off) + len(soft))]),
        spread=np.concatenate([spreads, off, soft]),
        groups=groups,
        preload=rule,
        whole=_columns(rule.frame, column) if rule else np.zeros(0, dtype=np.intp),
    )


def _weights(made_of: tuple[Lump, ...]) -> tuple[UncertainMass, ...]:
    """Return each weight once, whether it counts, was taken off, or both."""
    found = {}
    for each in made_of:
        spread = (each.high - each.low) / 2
        found[each.body, each.part] = UncertainMass(each.body, each.part, each.mass, spread, each.at, each.at_pm)
    return tuple(found.values())


def _columns(frame: Frame, column: dict[tuple[str, str], int]) -> np.ndarray[tuple[int], np.dtype[np.intp]]:
    return np.array([column[each.body, each.part] for each in frame.lumps if each.counts], dtype=np.intp)


def _scaled_weights(frame: Frame, columns: np.ndarray[tuple[int], np.dtype[np.intp]], unknowns: Array) -> Array:
    """Return the scaled weights (c, 3 q) of a group with masses and centres as the unknowns have them."""
    counts = np.array([each.counts for each in frame.lumps], dtype=bool)
    sign = np.array([each.sign for each in frame.lumps], dtype=float)[counts]
    whole = np.eye(len(frame.wholes))[frame.whole_of[counts]]
    mass = unknowns[:, 3 * columns] * sign * (GRAVITY / frame.weight)
    x = (unknowns[:, 3 * columns + 1] - frame.middle[0]) / frame.span
    y = (unknowns[:, 3 * columns + 2] - frame.middle[1]) / frame.span
    rows = [mass @ whole, (mass * y) @ whole, (-mass * x) @ whole]
    load: Array = np.stack(rows, axis=2).reshape(len(unknowns), -1)
    return load

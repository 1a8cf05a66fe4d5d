"""A second solution: every load and every bound once more, by scipy and from the equations alone.

Of all push-only support loads r and mount forces f that balance the weight, those that springs come to have the least
energy: sum of r²/2k + r·gap over the supports and of (f − preload)²/2k over the mounts (least complementary energy;
Timoshenko and Goodier, Theory of Elasticity, 3rd ed. 1970, art. 93). That is a bounded least-squares problem; the
balance enters it as equations of very large weight. A bound is one linear programme, solved by HiGHS.

What is shared with the first solution is the model: the rigid wholes, the matrices and the springs. What is not: the
way by which either is solved. An uneven floor has thousands of cases; those that give a load its least and most are
solved again, the others only by the first solution.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from scipy.optimize import lsq_linear

from loadplan.model.answer import LoadRange, Statics
from loadplan.model.job import Job, State
from loadplan.statics.contact_loads import Springs, settle, springs
from loadplan.statics.equilibrium import Frame
from loadplan.statics.group import solve
from loadplan.statics.highs import bounded_load
from loadplan.statics.mass import Array
from loadplan.statics.resting_state import Settings, Solved
from loadplan.statics.stage_sequence import solve_stages_by
from loadplan.statics.tipping_modes import ways
from loadplan.statics.uneven_floor import corners, mass_levels

EQUATION = 1e5
"""Weight of the balance against springs: what it leaves open is smaller by its square."""

APART = 1e-6
"""Share of a group's weight by which two solutions may differ: far above rounding, far below what a scale reads."""


@dataclass(frozen=True, slots=True)
class Compared:
    """One number, twice.

    Attributes:
        stage: Number of the stage, from 0; of a group that stages share, the first.
        subject: Support or mount.
        what: What was solved: "load", "least here", "most here", "least ever", "most ever" or "force".
        told: What the report says [N]; None for no end.
        again: What scipy says [N].
        weight: Weight of the group [N].
    """

    stage: int
    subject: str
    what: str
    told: float | None
    again: float | None
    weight: float

    @property
    def apart(self) -> float:
        """How far both are apart, as a share of the weight; infinite where one has an end and the other has not."""
        if self.told is None or self.again is None:
            return 0.0 if self.told is self.again else float("inf")
        return abs(self.told - self.again) / self.weight


def recheck(job: Job, states: tuple[State, ...], told: tuple[Statics, ...]) -> tuple[Compared, ...]:
    """Solve every load and every bound again.

    Args:
        job: The job.
        states: Its states, in order.
        told: What is told of them.

    Returns:
        Every number that was solved twice, stage by stage.
    """
    # Through the same sequence of stages, so that every gap and level is the one that was told.
    met: list[tuple[Frame, Settings]] = []

    def noted(frame: Frame, settings: Settings) -> Solved:
        met.append((frame, settings))
        return solve(frame, settings)

    found: list[Compared] = []

    def after(index: int) -> None:
        for frame, settings in met:
            found.extend(_group(index, (frame, settings), told[index]))
        met.clear()

    solve_stages_by(noted, job, states, after)
    return tuple(found)


def _group(stage: int, group: tuple[Frame, Settings], told: Statics) -> Iterator[Compared]:
    """Yield the numbers of one group that stands."""
    frame, settings = group
    loads = {each.name: each.load for each in told.supports}
    kept = [loads[support.name] for support in frame.supports]
    standing = [load for load in kept if load is not None]
    if len(standing) < len(kept) or not kept:
        return
    held = springs(frame, dict(settings.preload))
    gaps = np.array(settings.gaps) / frame.span
    rest = _least_energy(held, frame.load, gaps) * frame.weight
    forces = {each.name: each.force for each in told.joints}
    for mount, force in zip(frame.mounts, rest[len(kept) :], strict=True):
        yield Compared(stage, mount.name, "force", forces[mount.name], float(force), frame.weight)
    lows, highs = _range(frame, settings, held)
    for number, (support, load) in enumerate(zip(frame.supports, standing, strict=True)):
        span = load.range
        if span is None:
            continue
        ends = (float(min(lows[number], rest[number])), float(max(highs[number], rest[number])))
        again = (float(rest[number]), *ends, *_bounds(frame, number, span, ends))
        names = ("load", "least here", "most here", "least ever", "most ever")
        figures = (load.expected, span.low, span.high, span.least, span.most)
        for what, first, second in zip(names, figures, again, strict=True):
            yield Compared(stage, support.name, what, first, second, frame.weight)


def _least_energy(held: Springs, load: Array, gaps: Array) -> Array:
    """Return the support loads, then the mount forces (n + m), as shares of the weight."""
    balance = EQUATION * np.hstack([held.up.T, held.stretch.T])
    # Completed squares: r²/2k + r·gap is (r/√k + gap·√k)²/2, but for a constant.
    soft = np.sqrt(np.concatenate([held.stiffness, held.mount_stiffness]))
    wanted = np.concatenate([-gaps * soft[: len(gaps)], held.preload / soft[len(gaps) :], EQUATION * load])
    least = np.concatenate([np.zeros(len(gaps)), np.full(len(held.preload), -np.inf)])
    rows = np.vstack([np.diag(1 / soft), balance])
    found: Array = lsq_linear(rows, wanted, (least, np.inf), method="bvls", tol=1e-15, max_iter=1000).x
    return found


def _range(frame: Frame, settings: Settings, held: Springs) -> tuple[Array, Array]:
    """Return the least and the most of each load [N], in the cases in which the first solution found them."""
    off = np.array(settings.gaps) / frame.span + corners(held, np.array(settings.uneven) / frame.span)
    levels = mass_levels(frame, ways(frame).all_there)
    weights, gaps = np.repeat(levels, len(off), axis=0), np.tile(off, (len(levels), 1))
    loads = settle(held, weights, gaps).loads
    ends = []
    for cases in (loads.argmin(axis=0), loads.argmax(axis=0)):
        # Many loads have their extreme in the same case, and each case is dear.
        again = {case: _least_energy(held, weights[case], gaps[case]) for case in set(cases.tolist())}
        ends.append(np.array([again[case][number] for number, case in enumerate(cases.tolist())]) * frame.weight)
    return ends[0], ends[1]


def _bounds(frame: Frame, number: int, span: LoadRange, ends: tuple[float, float]) -> tuple[float | None, float | None]:
    """Return the least and the most of one load [N] over tolerance and stiffness; None where it is not told."""
    if span.least is None:
        return None, None
    least, most = (bounded_load(frame, number, sign) for sign in (1.0, -1.0))
    return min(least or 0.0, ends[0]), None if most is None else max(most, ends[1])

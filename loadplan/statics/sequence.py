"""The stages one after another: what just touches was set where the stage before had left the body."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from loadplan.limits import GRAVITY
from loadplan.model.answer import JointForce, Load, Motion, SetDownAnswer, Statics, SupportAnswer
from loadplan.model.job import Job, State
from loadplan.stages import joined
from loadplan.statics.attitude import misses
from loadplan.statics.bodies import body_answers, lift_answer
from loadplan.statics.contact import springs
from loadplan.statics.frame import Frame, frames
from loadplan.statics.gaps import Touch, reference, set_gap, touch_gap
from loadplan.statics.grip import grips, highest_part
from loadplan.statics.group import Settings, Solved, solve
from loadplan.statics.mass import lumps, mass_and_cg, off_before
from loadplan.statics.parting import drop
from loadplan.statics.preload import mount_preload
from loadplan.statics.pull import pulled
from loadplan.statics.push import Grip
from loadplan.statics.setdown import SetDown, hang


@dataclass(frozen=True, slots=True)
class _Carried:
    """What one stage hands to the next.

    Attributes:
        touched: Saddles that were brought up to touch.
        motions: Expected motion of each body whose group is balanced.
        reference: What gaps are measured from, None where no height was set yet.
        level: How far the lift is down; it stays there when the unit is parted [m].
    """

    touched: Mapping[str, Touch] = field(default_factory=dict)
    motions: Mapping[str, Motion] = field(default_factory=dict)
    reference: float | None = None
    level: float = 0.0


def solve_stages(job: Job, states: tuple[State, ...]) -> tuple[Statics, ...]:
    """Solve every stage of a job.

    Args:
        job: The job.
        states: Its states, in order.

    Returns:
        One record a stage. Groups that a stage leaves as they were are solved once.
    """
    solver = _Solver(job, states)
    carried = _Carried()
    told = []
    for state in states:
        statics, carried = solver.stage(state, carried)
        told.append(statics)
    return tuple(told)


class _Solver:
    """Solves stages of one job, and remembers the groups that it has solved."""

    def __init__(self, job: Job, states: tuple[State, ...]) -> None:
        self._job = job
        self._states = states
        self._preload = mount_preload(job)
        self._solved: dict[object, Solved] = {}

    def stage(self, state: State, carried: _Carried) -> tuple[Statics, _Carried]:
        """Return one stage solved, and what the next one needs."""
        made_of = lumps(self._job, state)
        groups = frames(state, made_of)
        against = reference(state)
        against = carried.reference if against is None else against
        touched = self._touched(state, groups, carried, against)
        gaps = {
            support.name: touched[support.name].seen_from(against) if set_ is None else set_
            for support in state.supports
            if not support.is_arm
            for set_ in (set_gap(support, against),)
        }
        set_down = self._set_down(state, groups, gaps) or _Level(carried.level, None)
        gaps |= dict.fromkeys((each.name for each in state.supports if each.is_arm), set_down.level)
        holds = grips(self._job, state, against)
        solved = tuple(self._solve(state, frame, (gaps, holds)) for frame in groups)
        motions = {
            name: each.motions[number]
            for frame, each in zip(groups, solved, strict=True)
            if each.motions is not None
            for number, names in enumerate(frame.wholes)
            for name in names
        }
        statics = Statics(
            groups=tuple(each.answer for each in solved),
            bodies=body_answers(state, groups, solved, made_of),
            supports=_supports(state, groups, solved, gaps),
            joints=_joints(state, groups, solved),
            misses=misses(self._job, state, groups, motions),
            lift=lift_answer(self._job, state, made_of),
            set_down=set_down.answer,
            pull=pulled(state.stage.pull, groups, solved, holds),
        )
        return statics, _Carried(touched, motions, against, set_down.level)

    def _touched(
        self, state: State, groups: tuple[Frame, ...], carried: _Carried, against: float | None
    ) -> dict[str, Touch]:
        """Return where every saddle without a set height stands: as it was left, or brought up now."""
        touching = [each for each in state.supports if not each.is_arm and each.set_height is None]
        known = {each.name: carried.touched[each.name] for each in touching if each.name in carried.touched}
        first = state.index == 0
        stands = self._hung(state, groups, against) if first else carried.motions
        since = against if first else carried.reference
        return known | {each.name: Touch(touch_gap(each, stands), since) for each in touching if each.name not in known}

    def _hung(self, state: State, groups: tuple[Frame, ...], against: float | None) -> dict[str, Motion]:
        """Return how what hangs on the lift stands once it has come down until the first set support touches."""
        frame = self._on_lift(state, groups)
        motion = None if frame is None else hang(frame, self._preload)
        if frame is None or motion is None:
            return {}
        rises = frame.up @ motion * frame.span
        reach = [
            float(rise) + gap
            for rise, support in zip(rises, frame.supports, strict=True)
            if not support.is_arm and (gap := set_gap(support, against)) is not None
        ]
        down = min(reach, default=0.0)
        return {name: Motion(each.w - down, each.rx, each.ry) for name, each in frame.motions(motion)}

    def _on_lift(self, state: State, groups: tuple[Frame, ...]) -> Frame | None:
        if self._job.lift is None or not any(each.is_arm for each in state.supports):
            return None
        body = self._job.lift.body
        return next(frame for frame in groups if body in frame.bodies)

    def _set_down(self, state: State, groups: tuple[Frame, ...], gaps: Mapping[str, float]) -> "_Level | None":
        """Return the level of the arms past first touch; None where nothing is being set down."""
        frame = self._on_lift(state, groups)
        if frame is None or self._job.lift is None:
            return None
        coming = joined(state.done_up, self._job.lift.body) - {self._job.lift.body}
        stands = np.array([each.body in coming and not each.is_arm for each in frame.supports])
        hung = hang(frame, self._preload) if stands.any() else None
        if hung is None:
            return None
        scaled = np.array([gaps.get(each.name, 0.0) / frame.span for each in frame.supports])
        down = SetDown(frame, springs(frame, self._preload), scaled, stands, hung)
        return self._lowered(state, down, tuple(name for name in state.bodies if name in self._parted(state, coming)))

    def _lowered(self, state: State, down: SetDown, parted: tuple[str, ...]) -> "_Level":
        if not parted:
            return _Level(down.first_touch + (state.lowered or 0.0), None)
        own = tuple(lump for lump in down.frame.lumps if lump.body in parted)
        weight = GRAVITY * mass_and_cg(own)[0]
        window = down.window(weight)
        lowered = state.lowered if state.lowered is not None else window.middle or 0.0
        answer = SetDownAnswer(
            bodies=parted,
            weight=weight,
            start=window.start,
            end=window.end,
            lowered=lowered,
            given=state.lowered is not None,
            drop=drop(state, parted, down, lowered),
            lowering=down.lowering(tuple(each for each in (window.start, window.end, lowered) if each is not None)),
        )
        return _Level(down.first_touch + lowered, answer)

    def _parted(self, state: State, coming: frozenset[str]) -> frozenset[str]:
        """Return the bodies joined to the lift's now that a later stage parts from it."""
        body = self._job.lift.body if self._job.lift else ""
        later = [joined(each.done_up, body) for each in self._states[state.index + 1 :]]
        return frozenset(name for name in coming if any(name not in still for still in later))

    def _solve(self, state: State, frame: Frame, set_up: tuple[Mapping[str, float], Mapping[str, Grip]]) -> Solved:
        gaps, holds = set_up
        limits = self._job.limits
        body = self._job.lift.body if self._job.lift else ""
        settings = Settings(
            gaps=tuple(gaps[support.name] for support in frame.supports),
            uneven=tuple(
                limits.uneven_touch if support.set_height is None else limits.uneven for support in frame.supports
            ),
            preload=tuple((mount.name, self._preload.get(mount.name, 0.0)) for mount in frame.mounts),
            slope=limits.floor_slope,
            needs=off_before(self._job, frame.lumps),
            undone=tuple(joint for joint in state.undone if set(joint.between) & set(frame.bodies)),
            held=frozenset(name for names in frame.wholes if body in names for name in names),
            grips=tuple(holds[support.name] for support in frame.supports),
            pushed=highest_part(self._job, state, frame.bodies),
        )
        key = (frame.wholes, frame.supports, frame.mounts, frame.lumps, settings)
        if key not in self._solved:
            self._solved[key] = solve(frame, settings)
        return self._solved[key]


@dataclass(frozen=True, slots=True)
class _Level:
    """Level of the arms below the file's attitude [m], and what is told of the set-down."""

    level: float
    answer: SetDownAnswer | None


def _supports(
    state: State, groups: tuple[Frame, ...], solved: tuple[Solved, ...], gaps: Mapping[str, float]
) -> tuple[SupportAnswer, ...]:
    loads: dict[str, Load] = {}
    for frame, each in zip(groups, solved, strict=True):
        if each.loads is not None:
            loads |= dict(zip((support.name for support in frame.supports), each.loads, strict=True))
            loads |= dict.fromkeys(frame.idle, Load(0.0, 0.0, 0.0, 0.0, 0.0))
    return tuple(SupportAnswer(support.name, gaps[support.name], loads.get(support.name)) for support in state.supports)


def _joints(state: State, groups: tuple[Frame, ...], solved: tuple[Solved, ...]) -> tuple[JointForce, ...]:
    forces = {
        mount.name: force
        for frame, each in zip(groups, solved, strict=True)
        if each.forces is not None
        for mount, force in zip(frame.mounts, each.forces, strict=True)
    }
    return tuple(JointForce(joint.name, forces.get(joint.name)) for joint in state.done_up)

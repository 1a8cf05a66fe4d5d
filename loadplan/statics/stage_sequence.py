"""The stages one after another: what just touches was set where the stage before had left the body."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import partial
from types import MappingProxyType

from loadplan.errors import InputError
from loadplan.model.answer import Between, Load, LoadRange, Motion, Statics
from loadplan.model.job import Job, State, Support
from loadplan.model.step_change import StepChange
from loadplan.stages import untouched
from loadplan.statics.any_order import over_every_set, states_between
from loadplan.statics.body_figures import body_answers, lift_answer
from loadplan.statics.drop_raise import drop_cures
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.gaps import is_touching, reference, set_gap, touch_gap, unevenness
from loadplan.statics.grip_angle import grip_angles
from loadplan.statics.group import BRIEF, glance_between, solve
from loadplan.statics.lift_level import Level, coming_down, first_touch, hung
from loadplan.statics.listed_order import states_on_the_way
from loadplan.statics.loads_between import statics_between
from loadplan.statics.mass import lumps, off_before
from loadplan.statics.misalignment import misses
from loadplan.statics.mount_preload import mount_preload
from loadplan.statics.other_order import with_other_order
from loadplan.statics.outline_corners import outline_corners
from loadplan.statics.passage import Passage, Seen, solve_in_passing
from loadplan.statics.pull_factor import pulled
from loadplan.statics.pushed_between import is_limited
from loadplan.statics.resting_state import Settings, Solved
from loadplan.statics.saddle_friction import grips, highest_part
from loadplan.statics.settlement import drops, free_bodies, spots
from loadplan.statics.sideways_push import TWICE
from loadplan.statics.sideways_resistance import Grip
from loadplan.statics.stage_figures import expected_motions, group_key, joint_forces, support_answers
from loadplan.statics.tipping_modes import work
from loadplan.statics.undoing_order import undoing, undoing_at_a_glance
from loadplan.statics.unloading_raise import unloadings
from loadplan.statics.unsolved import UNSOLVED, TooManyError, fault_of
from loadplan.statics.upset_between import Looks, is_upset_near, with_states_between

MOST_WORK = 25_000_000
"""Most work on the ways to go over (`tipping_modes.work`) for one job: five seconds where nothing else runs."""

MOST_ON_THE_WAY = 5_000_000
"""The same for all states between two stages."""


@dataclass(frozen=True, slots=True)
class Carried:
    """What one stage hands to the next.

    Attributes:
        touched: Gap [m] of each saddle that was brought up to touch.
        motions: Expected motion of each body whose group is balanced.
        reference: What gaps are measured from [m], None where no height was set yet.
        level: How far the lift is down; it stays there when the unit is parted [m].
    """

    touched: dict[str, float] = field(default_factory=dict)
    motions: Mapping[str, Motion] = field(default_factory=dict)
    reference: float | None = None
    level: float = 0.0

    def moved(self, against: float | None) -> float:
        """Return what a gap to the floor grows by [m] when it is measured from another reference."""
        return 0.0 if against is None or self.reference is None else self.reference - against


def solve_stages(job: Job, states: tuple[State, ...]) -> tuple[Statics, ...]:
    """Solve every stage of a job.

    Args:
        job: The job.
        states: Its states, in order.

    Returns:
        One record a stage. Groups that a stage leaves as they were are solved once.
    """
    return solve_stages_by(solve, job, states, lambda _: None)


def solve_stages_by(
    look: Callable[[Frame, Settings], Solved], job: Job, states: tuple[State, ...], after: Callable[[int], None]
) -> tuple[Statics, ...]:
    """Solve every stage of a job, each group by what is given.

    Args:
        look: Solves one group.
        job: The job.
        states: Its states, in order.
        after: Is told the number of each stage that was solved, from 0.

    Returns:
        One record a stage. Groups that a stage leaves as they were are solved once.
    """
    told = []
    for index, statics in enumerate(stages_in_turn(StageSolver(job, states, look))):
        told.append(statics)
        after(index)
    return tuple(told)


def stages_in_turn(solver: "StageSolver") -> Iterator[Statics]:
    """Solve the stages of a job one after the other, as far as somebody asks for the next.

    Args:
        solver: What solves them.

    Yields:
        One record a stage.
    """
    carried = Carried()
    for state in solver.states:
        statics, carried = solved_stage(solver, state, carried)
        yield statics


def solved_stage(solver: "StageSolver", state: State, carried: Carried) -> tuple[Statics, Carried]:
    """Solve one stage.

    Args:
        solver: What solves the stages of its job.
        state: The stage.
        carried: What the stage before hands on.

    Returns:
        The stage, and what the next one needs.

    Raises:
        InputError: If it cannot be computed, because there are too many stands under linked bodies, or because its
            figures lie too far apart.
    """
    try:
        return solver.stage(state, carried)
    except UNSOLVED as error:
        raise InputError(fault_of(solver.job, state, error)) from error


class StageSolver:
    """Solves stages of one job, and remembers in `solved` the groups that it has solved."""

    def __init__(
        self,
        job: Job,
        states: tuple[State, ...],
        look: Callable[[Frame, Settings], Solved],
        known: Mapping[object, Solved] = MappingProxyType({}),
    ) -> None:
        """Make ready to solve a job.

        Args:
            job: The job.
            states: Its states, in order.
            look: Solves one group.
            known: Groups that were solved already, in a job of the same vehicle with the same limits.
        """
        self.job = job
        self._look = look
        self._preload = mount_preload(job)
        self.states = states
        self._known = known
        self._coming = coming_down(job, states, self._preload, briefly=look in BRIEF)
        self.solved: dict[object, Solved] = {}
        self._passed: dict[object, Solved] = {}
        self._work, self._on_the_way = 0, 0

    def count_anew(self) -> None:
        """Count the work from here on as if nothing had been solved: what was may serve, and costs nothing more."""
        self._work, self._on_the_way = 0, 0

    def stage(self, state: State, carried: Carried) -> tuple[Statics, Carried]:
        """Return one stage solved, and what the next one needs."""
        made_of = lumps(self.job, state)
        groups = frames(state, made_of)
        against = reference(state)
        # A stage that sets no height goes on measuring from where the last one did.
        against = carried.reference if against is None else against
        touched = self._touched(state, carried, against)
        gaps, level = self._gaps((state, groups), carried, against, touched)
        holds = grips(self.job, state, against)
        solved = tuple(self._solve(state, frame, (gaps, holds)) for frame in groups)
        motions = expected_motions(groups, solved)
        idle = Load(0.0, LoadRange(0.0, 0.0, 0.0, 0.0) if self._look is solve else None)
        supports = support_answers(state, groups, solved, gaps, idle)
        bodies = body_answers(state, groups, solved, made_of)
        statics = Statics(
            groups=tuple(each.answer for each in solved),
            bodies=bodies,
            supports=supports,
            joints=joint_forces(state, groups, solved, self._preload),
            misses=misses(self.job, state, groups, motions),
            lift=lift_answer(self.job, state, made_of, supports),
            set_down=level.answer,
            pull=pulled(state.stage.pull, groups, solved, holds) if self._look is solve else None,
            grips=grip_angles(state, self.job.limits, bodies, supports),
            floor=against,
        )
        look = partial(self._between, (gaps, holds))
        statics = over_every_set(statics, tuple(map(look, states_between(self.job, state))))
        if state.may_be_on and self._look is solve:
            looks = Looks(look, partial(self._look_in_passing, against, gaps=gaps), holds)
            statics = with_states_between(self.job, state, (statics, self._preload), groups, looks)
        if self._look in {solve, glance_between}:
            statics = replace(statics, change=self._change(state, carried, against, (gaps, motions)))
        # After the joints, whose states on the way come first where not all can be looked at.
        if self._look is solve:
            statics = self._with_the_way_to(state, statics, carried, level.arms)
        return statics, Carried(touched, motions, against, level.arms)

    def _between(
        self, set_up: tuple[Mapping[str, float], Mapping[str, Grip]], state: State
    ) -> tuple[tuple[Frame, Solved], ...]:
        """Return the groups of a state in the middle of a stage, solved with saddles and lift where they are."""
        return tuple((each, self._solve(state, each, set_up)) for each in frames(state, lumps(self.job, state)))

    def _with_the_way_to(self, state: State, end: Statics, carried: Carried, arms: float) -> Statics:
        """Return a stage with the states through which its parts come off and go on as listed."""
        before = self.states[state.index - 1] if state.index else untouched(self.job)
        # What is taken away at the end of the stage stands until then as it was left.
        left = {each.name: self._left_gap(each, carried, end.floor) for each in before.supports}
        gaps = left | end.gaps | {each.name: arms for each in (*before.supports, *state.supports) if each.is_arm}
        look = partial(self._look_in_passing, end.floor, gaps=gaps)
        found: list[Between] = []
        for there in states_on_the_way(self.job, before, state):
            try:
                passed = self._passed_through(there, end, gaps)
                found.append(with_other_order(self.job, (before, state), passed, look))
            except TooManyError:
                return replace(end, on_the_way=tuple(found), too_many_on_the_way=True)
        return replace(end, on_the_way=tuple(found))

    def _passed_through(self, there: State, end: Statics, gaps: Mapping[str, float]) -> Between:
        """Return a state on the way solved: all of it where a mount may tear or it is pulled, else as a glance asks."""
        # Bolts are broken loose while a part is on; when it goes back on, they are tightened at the end.
        pull = there.stage.pull if self.job.stages[there.index].off and not there.stage.on else None
        holds = grips(self.job, there, end.floor)
        is_full = pull is not None or is_limited(there)
        seen = self._between((gaps, holds), there) if is_full else self._look_in_passing(end.floor, there, gaps)
        statics = statics_between(self.job, there, (end, self._preload), seen, gaps)
        if not is_full and is_upset_near(self.job, there, statics, tuple(frame for frame, _ in seen)):
            seen = self._between((gaps, holds), there)
            statics = statics_between(self.job, there, (end, self._preload), seen, gaps)
        groups, solved = tuple(frame for frame, _ in seen), tuple(each for _, each in seen)
        return Between(there, replace(statics, pull=pulled(pull, groups, solved, holds)))

    def standing(self, state: State, before: Carried) -> Mapping[str, Motion]:
        """Return how each body stands as a stage begins, while saddles are brought up to it."""
        if state.index:
            return before.motions
        return hung(self.job, self._preload, state.bearing, reference(state))

    def _touched(self, state: State, before: Carried, against: float | None) -> dict[str, float]:
        """Return the gap [m] of every saddle that was brought up to touch: as it was left, or brought up now."""
        touching = [each for each in state.supports if is_touching(each)]
        bodies = self.standing(state, before)
        # What was brought up once keeps its gap: nobody brings a saddle up again under load.
        gaps = {each.name: touch_gap(each, bodies) for each in touching} | before.touched
        moved = before.moved(against)
        # A saddle over the floor does not move when the reference does; one on another body moves with that.
        return {each.name: gaps[each.name] + (0.0 if each.on else moved) for each in touching}

    def _gaps(
        self,
        here: tuple[State, tuple[Frame, ...]],
        before: Carried,
        against: float | None,
        touched: dict[str, float],
    ) -> tuple[dict[str, float], Level]:
        """Return the gap [m] of every support, and where the lift is."""
        state, groups = here
        stands = [each for each in state.supports if not each.is_arm]
        set_ = {each.name: gap for each in stands if (gap := set_gap(each, against)) is not None}
        gaps = dict.fromkeys((each.name for each in stands), 0.0) | touched | set_
        # Last, since how far the lift comes down hangs on where all the others stand.
        level = self._coming.set_down(state, groups, gaps) if self._coming else None
        level = level or Level(before.level + before.moved(against), None)
        return gaps | dict.fromkeys((each.name for each in state.supports if each.is_arm), level.arms), level

    def _change(
        self,
        state: State,
        carried: Carried,
        against: float | None,
        here: tuple[Mapping[str, float], dict[str, Motion]],
    ) -> StepChange:
        """Return what happens between the state before and this one, whose gaps and motions are `here`."""
        gaps, motions = here
        before = self.states[state.index - 1] if state.index else untouched(self.job)
        stood, level = self._stood(before, state, carried, against)
        arms = {each.name: level for each in (*before.supports, *state.supports) if each.is_arm}
        cleared = {each.name: self._left_gap(each, carried, against) for each in before.supports}
        passage = Passage(
            job=self.job,
            before=before,
            after=state,
            stood=stood,
            stands=motions,
            gaps=cleared | dict(gaps) | arms,
            look=partial(self._look_in_passing, against),
        )
        try:
            undone = undoing(passage) if self._look is solve else undoing_at_a_glance(passage)
        except UNSOLVED:
            undone = None
        watched = spots(self.job, before, state)
        falls = drops(watched, stood, motions)
        return StepChange(
            drops=falls,
            undoing=undone,
            unloadings=unloadings(passage, self._preload),
            drop_cures=drop_cures(passage, watched, falls, self._preload),
        )

    def _stood(
        self, before: State, state: State, carried: Carried, against: float | None
    ) -> tuple[Mapping[str, Motion], float]:
        """Return how bodies stood before a stage and how far the arms were down, measured from its own reference."""
        stood = carried.motions if state.index else hung(self.job, self._preload, (), None)
        moving, down = set(stood), carried.moved(against)
        if carried.reference is None and against is not None:
            # What hangs on the lift comes down until the first set support touches it.
            moving = set(stood) - free_bodies(self.job, before)
            down = first_touch({name: stood[name] for name in moving}, state.supports, against)
        lowered = {name: replace(each, w=each.w - down) if name in moving else each for name, each in stood.items()}
        return lowered, carried.level + down

    def _left_gap(self, support: Support, carried: Carried, against: float | None) -> float:
        """Return the gap [m] at which a support stood in the state before, from the reference of this one."""
        if (gap := set_gap(support, against)) is not None:
            return gap
        return carried.touched.get(support.name, 0.0) + (0.0 if support.on else carried.moved(against))

    def _look_in_passing(self, against: float | None, state: State, gaps: Mapping[str, float]) -> Seen:
        """Return a state on the way solved, from memory where a stage or another such state had the same group.

        Raises:
            TooManyError: If all such groups together would take too long.
        """
        set_up = (gaps, grips(self.job, state, against))
        seen = []
        for frame in frames(state, lumps(self.job, state)):
            settings = self._settings(state, frame, set_up)
            key = group_key(frame, settings)
            if key not in self.solved and key not in self._passed:
                self._on_the_way += work(frame)
                if self._on_the_way > MOST_ON_THE_WAY:
                    raise TooManyError(len(frame.supports), len(frame.wholes))
                self._passed[key] = solve_in_passing(frame, settings, self.job.limits.rating_share)
            seen.append((frame, self.solved.get(key) or self._passed[key]))
        return tuple(seen)

    def _solve(self, state: State, frame: Frame, set_up: tuple[Mapping[str, float], Mapping[str, Grip]]) -> Solved:
        """Return a group solved, from memory where a stage before had the same.

        Raises:
            TooManyError: If all groups together would take too long.
        """
        settings = self._settings(state, frame, set_up)
        key = group_key(frame, settings)
        known = self.solved.get(key)
        if known is None:
            # Counted before it is solved: too many ways have to end in a sentence, not in an hour.
            self._work += work(frame)
            if self._work > MOST_WORK:
                raise TooManyError(len(frame.supports), len(frame.wholes))
            known = self.solved[key] = self._known.get(key) or self._look(frame, settings)
        return known

    def _settings(self, state: State, frame: Frame, set_up: tuple[Mapping[str, float], Mapping[str, Grip]]) -> Settings:
        """Return all on which the answer for a group hangs besides its frame."""
        gaps, holds = set_up
        limits = self.job.limits
        body = self.job.lift.body if self.job.lift else ""
        return Settings(
            gaps=tuple(gaps[support.name] for support in frame.supports),
            uneven=tuple(unevenness(support, limits) for support in frame.supports),
            preload=tuple((mount.name, self._preload.get(mount.name, 0.0)) for mount in frame.mounts),
            slope=limits.floor_slope,
            needs=off_before(self.job, frame.lumps),
            undone=tuple(joint for joint in state.undone if set(joint.between) & set(frame.bodies)),
            held=frozenset(name for names in frame.wholes if body in names for name in names),
            grips=tuple(holds[support.name] for support in frame.supports),
            pushed=tuple(highest_part(self.job, state, names) for names in frame.wholes),
            asked=TWICE * (limits.bar if state.stage.bar else limits.push),
            corners=tuple(outline_corners(self.job, state, names) for names in frame.wholes),
            came_off=tuple(
                part
                for part in self.job.vehicle.parts
                if part.name in state.stage.off and part.body in frame.bodies and part.name not in state.on
            ),
        )

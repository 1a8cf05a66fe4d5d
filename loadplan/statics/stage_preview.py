"""One stage looked at in passing, again and again, while a hand moves one of its supports."""

from collections.abc import Mapping
from dataclasses import replace

from loadplan.model.answer import Motion, Statics
from loadplan.model.job import Job, State, Support
from loadplan.statics.gaps import touch_gap
from loadplan.statics.group import glance, solve
from loadplan.statics.stage_sequence import Carried, StageSolver, solved_stage

MOST_REMEMBERED = 64
"""Most groups that are remembered while a stand is moved: a hand comes back to where it has just been."""


class StagePreview:
    """Looks at one stage in passing, again and again while one of its supports is being moved.

    The stages before are solved once. A saddle that was brought up to touch is taken to touch at its new place; what
    else its place would have changed in those stages is left for `solve_stages`.
    """

    def __init__(self, job: Job, states: tuple[State, ...], index: int) -> None:
        """Come up to a stage.

        Args:
            job: The job.
            states: Its states, in order.
            index: Number of the stage to look at, from 0.
        """
        self._solver = StageSolver(job, states, glance)
        self._state = states[index]
        self._carried = Carried()
        self._touched_by: dict[str, Mapping[str, Motion]] = {}
        for state in states[:index]:
            before = self._solver.standing(state, self._carried)
            _, self._carried = solved_stage(self._solver, state, self._carried)
            self._touched_by = {name: self._touched_by.get(name, before) for name in self._carried.touched}
        self._before = dict(self._solver.solved)

    def look(self, supports: tuple[Support, ...]) -> tuple[State, Statics]:
        """Look at the stage with its supports where they are now.

        Args:
            supports: Those of the stage, some of them at another place.

        Returns:
            The stage, and what `solve_stages` gives for it less what takes longest: loads have no range, and there
            are no lost or sunk supports, snags, sway, push, pull, and no window of a set-down.
        """
        # A long drag is no large job: each place is counted by itself, and of many only the last are remembered.
        self._solver.count_anew()
        if len(self._solver.solved) > len(self._before) + MOST_REMEMBERED:
            self._solver.solved = dict(self._before)
        # Only the stage itself is looked at with the stand moved; the stages before stay as they were solved.
        state = replace(self._state, supports=supports)
        shifts = {
            new.name: touch_gap(new, self._touched_by[new.name]) - touch_gap(old, self._touched_by[new.name])
            for old, new in zip(self._state.supports, supports, strict=True)
            if new.name in self._carried.touched
        }
        touched = {name: gap + shifts.get(name, 0.0) for name, gap in self._carried.touched.items()}
        return state, solved_stage(self._solver, state, replace(self._carried, touched=touched))[0]

    def in_full(self) -> Statics:
        """Solve the stage as it is.

        Returns:
            What `solve_stages` gives for it: what a stage takes from those before, a glance gives as well.
        """
        whole = StageSolver(self._solver.job, self._solver.states, solve)
        return solved_stage(whole, self._state, self._carried)[0]

"""Groups solved once for many jobs that differ by a few stands: what stands elsewhere is as it was."""

from collections.abc import Callable, Iterator
from contextlib import suppress
from types import MappingProxyType

from loadplan.errors import InputError
from loadplan.model.answer import Statics
from loadplan.model.job import Job, State
from loadplan.statics.equilibrium import Frame
from loadplan.statics.resting_state import Settings, Solved
from loadplan.statics.stage_sequence import StageSolver, stages_in_turn


class SolvedGroups:
    """The groups of one job as they were solved, for jobs that differ from it by a few stands."""

    def __init__(self, look: Callable[[Frame, Settings], Solved], job: Job, states: tuple[State, ...]) -> None:
        """Solve a job, as far as it can be computed.

        Args:
            look: Solves one group.
            job: The job.
            states: Its states, in order.
        """
        self._look = look
        solver = StageSolver(job, states, look)
        # Where it cannot be computed, what was solved before that still serves.
        with suppress(InputError):
            for _ in stages_in_turn(solver):
                pass
        self._known = MappingProxyType(solver.solved)

    def stages(self, job: Job, states: tuple[State, ...]) -> Iterator[Statics]:
        """Solve the stages of a job like that one.

        Args:
            job: The job: of the same vehicle, with the same limits.
            states: Its states, in order.

        Yields:
            One record a stage, solved when it is asked for.
        """
        yield from stages_in_turn(StageSolver(job, states, self._look, self._known))

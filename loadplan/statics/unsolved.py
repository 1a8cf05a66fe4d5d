"""What a stage that cannot be computed ends in; where the job is known it becomes an error of the user's input."""

import numpy as np

from loadplan.errors import Fault
from loadplan.model.job import Job, State


class UnsolvedError(Exception):
    """A stage could not be computed.

    Attributes:
        says: What is wrong, and what would be right, to stand behind the stage's name.
    """

    says = (
        "cannot be computed: its stiffnesses, weights, sizes or heights lie too far apart, or its stands almost in one "
        "line. Look for a figure in the wrong unit, and set a stand further out"
    )


class TooManyError(UnsolvedError):
    """There are more combinations than can be looked at in some seconds."""

    def __init__(self, supports: int, wholes: int) -> None:
        """Say what there is too much of.

        Args:
            supports: Number of supports of the group, arms too.
            wholes: Number of its assemblies; those bolted together count as one.
        """
        super().__init__()
        self.says = (
            f"has too many stands under too many linked assemblies: {supports} under {wholes}, with more ways to go "
            "over than can be looked at in some seconds. Use fewer stands, bolt assemblies together that are bolted, "
            "or leave out those that are carried elsewhere by naming the others in bodies"
        )


UNSOLVED = (UnsolvedError, np.linalg.LinAlgError)
"""What the statics raise where a stage cannot be computed."""


def fault_of(job: Job, state: State, error: Exception) -> Fault:
    """Make the fault that a user is told for a stage that cannot be computed.

    Args:
        job: The job.
        state: The stage.
        error: One of `UNSOLVED`.

    Returns:
        The fault, with file and stage.
    """
    says = error.says if isinstance(error, UnsolvedError) else UnsolvedError.says
    return Fault(job.source, f'stage {state.index + 1} "{state.name}"', "", says)

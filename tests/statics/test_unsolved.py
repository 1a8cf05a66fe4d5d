"""What a stage that cannot be computed ends in: the words that its user is told, with file and step."""

import numpy as np
import pytest

from loadplan.errors import Fault
from loadplan.model.job import Stage
from loadplan.stages import states
from loadplan.statics.unsolved import UNSOLVED, TooManyError, UnsolvedError, fault_of
from tests.statics import builders as make

NOT_COMPUTED = (
    "cannot be computed: its stiffnesses, weights, sizes or heights lie too far apart, or its stands almost in one "
    "line. Look for a figure in the wrong unit, and set a stand further out"
)
TOO_MANY = (
    "has too many stands under too many linked assemblies: 14 under 5, with more ways to go over than can be looked at "
    "in some seconds. Use fewer stands, bolt assemblies together that are bolted, or leave out those that are carried "
    "elsewhere by naming the others in bodies"
)


@pytest.mark.parametrize(
    ("kind", "of", "says"),
    [
        (UnsolvedError, (), NOT_COMPUTED),
        (UnsolvedError, ("of a solver's own",), NOT_COMPUTED),
        (np.linalg.LinAlgError, ("singular",), NOT_COMPUTED),
        (TooManyError, (14, 5), TOO_MANY),
    ],
)
def test_a_step_that_cannot_be_computed_is_told_with_its_file_number_and_name(
    kind: type[Exception], of: tuple[object, ...], says: str
) -> None:
    error = kind(*of)
    assert isinstance(error, UNSOLVED)
    job = make.job([make.part()], stages=[Stage("first"), Stage("lid off")])
    assert fault_of(job, states(job)[1], error) == Fault(job.source, 'stage 2 "lid off"', "", says)

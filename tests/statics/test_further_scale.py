"""Which scale to read next, by hand: the centre 0.2 m behind the front stands, of which only the place is doubtful."""

from math import sqrt

import numpy as np
import pytest

from loadplan.model.job import Job
from loadplan.model.learnt_weights import FurtherScale
from loadplan.statics.further_scale import further_scale
from loadplan.statics.load_response import load_response
from loadplan.statics.weight_update import fit_weights, rows_of
from tests.statics import builders as make
from tests.statics.learning import scale
from tests.statics.test_update_by_hand import THREE

X, Y = 1, 2
"""Numbers of the unknowns of the one part."""


def block(x: float = 0.3, *, pm: float = 0.02, mass_pm: float = 0.0) -> Job:
    return make.job([make.part((x, 0.0), mass_pm=mass_pm, at_pm=(pm, pm, 0.0))], make.stands(THREE))


def next_of(job: Job, *read: tuple[str, float, float], lower: float = 0.0) -> FurtherScale | None:
    """What is told after scales were read at supports, each with a load and a plus or minus [N]."""
    (statics,) = make.solved(job)
    state = make.state(job)
    of = load_response(job, state, statics)
    scales = tuple(scale(of, name, load, pm, lower) for name, load, pm in read)
    return further_scale(job, (state, statics), of, (fit_weights(of, scales), scales))


def test_the_rear_stand_tells_most_of_how_far_back_the_centre_is() -> None:
    """By hand: s = 10 mm. A bears 0.25 + x / 2 + y of 981 N, C 0.5 - x; each is read to 5 N (k = 1)."""
    found = next_of(block(), ("A", make.newton(100.0) * 0.4, 10.0))
    assert found is not None
    weight, s = make.newton(100.0), 0.01
    a = np.array([0.5, 1.0]) * weight * s / 5.0
    c = np.array([-1.0, 0.0]) * weight * s / 5.0
    after_a = np.linalg.inv(np.eye(2) + np.outer(a, a))
    after_both = np.linalg.inv(np.eye(2) + np.outer(a, a) + np.outer(c, c))
    assert found == FurtherScale(
        "C",
        pytest.approx(2 * s * sqrt(after_a[0, 0]), rel=1e-4),
        pytest.approx(2 * s * sqrt(after_both[0, 0]), rel=1e-4),
    )


def test_the_next_scale_is_taken_to_be_as_coarse_as_the_coarsest() -> None:
    one = next_of(block(), ("A", make.newton(100.0) * 0.4, 40.0))
    two = next_of(block(), ("A", make.newton(100.0) * 0.4, 40.0), ("B", make.newton(100.0) * 0.4, 1.0))
    assert one is not None
    assert two is not None
    job = block()
    (statics,) = make.solved(job)
    of = load_response(job, make.state(job), statics)
    c = rows_of(of, (scale(of, "C", 0.0, 40.0),), of.given)[0]
    assert c[X] == pytest.approx(-make.newton(100.0) * 0.01 / 20.0, rel=1e-5)
    known = 1 / (two.now / 0.02) ** 2
    assert 1 / (two.then / 0.02) ** 2 == pytest.approx(known + c[X] ** 2, rel=1e-4)


def test_a_stand_that_was_read_is_named_again_only_where_the_lift_stood_otherwise() -> None:
    read = ("C", make.newton(100.0) * 0.2, 10.0)
    again, other = next_of(block(), read), next_of(block(), read, lower=0.001)
    assert again is None or again.support != "C"
    assert other is not None
    assert other.support == "C"


@pytest.mark.parametrize(("pm", "helps"), [(25.0, True), (65.0, False)])
def test_a_scale_that_hardly_narrows_anything_is_not_asked_for(pm: float, *, helps: bool) -> None:
    """C tells 9.8 N of a spread of the place: over pm / 2, that leaves 0.79 or 0.96 of the plus or minus."""
    assert (next_of(block(), ("A", make.newton(100.0) * 0.4, pm)) is not None) is helps


def test_where_weight_is_in_doubt_as_well_the_margin_hangs_on_the_place_alone() -> None:
    """One part: heavier or lighter, its centre stays where it is."""
    known = next_of(block(), ("A", make.newton(100.0) * 0.4, 10.0))
    doubted = next_of(block(mass_pm=4.0), ("A", make.newton(100.0) * 0.4, 10.0))
    assert known is not None
    assert doubted is not None
    assert doubted.now > known.now
    assert doubted.now <= 0.02

"""The least ballast, by moments: a shell of a tonne on four pads 0.7 m off the middle each way."""

from collections.abc import Mapping
from dataclasses import replace
from math import ceil, inf

import pytest

from loadplan.model.job import Job, Stage
from loadplan.model.vehicle import Point
from loadplan.statics.least_ballast import MOST, Ballast, BallastQuestion, least_ballast
from tests.statics import builders as make

PADS = ((0.7, 0.7), (0.7, -0.7), (-0.7, 0.7), (-0.7, -0.7))

EASY = BallastQuestion(
    between=(-10.0, 10.0),
    arm=inf,
    total=inf,
    nothing=0.0,
    uneven={f"pad {n}": 0.0 for n in range(1, 5)},
    gaps={f"pad {n}": 0.0 for n in range(1, 5)},
)


def point(x: float, y: float = 0.0) -> Point:
    return Point(f"at {x} {y}", "shell", (x, y, 0.5), None, "")


NOSE, BUMPER = point(1.0), point(2.0)


def on_the_lift(x: float, y: float = 0.0, mass_pm: float = 0.0) -> Job:
    part = make.part((x, y), 1000.0, body="shell", mass_pm=mass_pm)
    return make.job([part], stages=[Stage("up")], lift=make.lift_use(PADS))


def found(job: Job, *points: Point, **asked: object) -> Ballast | None:
    return least_ballast(job, make.state(job), points, replace(EASY, **asked))  # type: ignore[arg-type]


def test_so_much_in_front_brings_the_centre_far_enough_forward() -> None:
    """M (b - x) / (p - b): 72 kg at the nose, 42 kg at the bumper, whichever is asked about first."""
    job, behind = on_the_lift(-0.5), (-0.4, 10.0)
    assert found(job, NOSE, between=behind) == Ballast(NOSE, ceil(100 / 1.4))
    for points in ((NOSE, BUMPER), (BUMPER, NOSE)):
        assert found(job, *points, between=behind) == Ballast(BUMPER, ceil(100 / 2.4))
    assert found(job, NOSE, between=(-0.5, 10.0)) is None
    assert found(job, between=behind) is None


def test_so_much_behind_brings_it_back() -> None:
    assert found(on_the_lift(0.5), point(-2.0), between=(-10.0, 0.4)) == Ballast(point(-2.0), ceil(100 / 2.4))


def test_of_two_places_that_take_as_much_the_first_is_told() -> None:
    left, right = point(1.0, 0.5), point(1.0, -0.5)
    assert found(on_the_lift(-0.5), left, right, between=(-0.4, 10.0)) == Ballast(left, 72.0)


@pytest.mark.parametrize(("need", "told"), [(MOST, True), (MOST + 1, False)])
def test_more_than_anybody_would_carry_is_not_looked_for(need: int, *, told: bool) -> None:
    """At p so far in front that M b = need (p - b), less a hair."""
    behind = 0.1
    place = point(behind + 1000.0 * behind / (need - 1e-6))
    assert found(on_the_lift(0.0), place, between=(behind, 10.0)) == (Ballast(place, float(need)) if told else None)


def test_what_lies_behind_its_pads_is_brought_over_them() -> None:
    """0.1 m behind the rear pads: 59 kg at the nose."""
    assert found(on_the_lift(-0.8), NOSE) == Ballast(NOSE, ceil(100 / 1.7))


@pytest.mark.parametrize(
    ("limits", "fits"),
    [
        ({"total": make.newton(1092.0)}, True),
        ({"total": make.newton(1091.9)}, False),
        ({"between": (-0.4, -0.39)}, True),
    ],
    ids=["as heavy as may be", "too heavy", "between"],
)
def test_what_it_does_to_the_rest_counts(limits: Mapping[str, object], *, fits: bool) -> None:
    """72 kg at the nose, with 20 kg of doubt about the shell."""
    asked = {"between": (-0.4, 10.0)} | limits
    assert found(on_the_lift(-0.5, mass_pm=20.0), NOSE, **asked) == (Ballast(NOSE, 72.0) if fits else None)


def corner(mass: float, at: tuple[float, float], x: float) -> float:
    """What the front left pad carries, by hand, of the shell and the ballast [N]."""
    return make.newton(1000.0 / 4 * (1 + x / 0.7) + mass / 4 * (1 + at[0] / 0.7 + at[1] / 0.7))


def test_an_arm_that_carries_too_little_is_given_more_and_none_too_much() -> None:
    """The front pads carry 250 (1 - 0.6 / 0.7) kg each; asked are 5 % of all there is, at the nose."""
    job, x = on_the_lift(-0.6), -0.6
    least = next(m for m in range(1, 99) if corner(m, (1.0, 0.0), x) > 0.05 * make.newton(1000.0 + m))
    assert least == 26
    assert found(job, NOSE, nothing=0.05) == Ballast(NOSE, float(least))
    assert found(job, NOSE, nothing=0.03) is None
    # The rear pads carry 464 kg each, and ballast behind the axle of the front ones takes off them.
    rear = make.newton(1000.0 / 4 * (1 + 0.6 / 0.7))
    off = next(m for m in range(1, 99) if rear + make.newton(m / 4 * (1 - 1.0 / 0.7)) <= 0.99 * rear)
    assert found(job, NOSE, arm=0.99 * rear) == Ballast(NOSE, float(off))
    assert found(job, NOSE, arm=rear + 1e-6) is None


def test_pads_that_may_be_off_their_height_carry_less_and_more() -> None:
    """By hand: one of four like springs off by e takes k e / 4, all four at worst k e."""
    uneven = {f"pad {n}": 0.001 for n in range(1, 5)}
    front = make.newton(250.0 * (1 - 0.3 / 0.7))
    share = (front - 400.0) / make.newton(1000.0)
    job = on_the_lift(-0.3)
    assert found(job, NOSE, nothing=share * 0.999, uneven=uneven) is None
    assert found(job, NOSE, nothing=share * 1.001, uneven=uneven) is not None
    gaps = {"pad 1": 0.001, "pad 2": 0.001, "pad 3": 0.0, "pad 4": 0.0}
    assert found(job, NOSE, nothing=front / make.newton(1000.0) * 0.999, gaps=gaps) is None

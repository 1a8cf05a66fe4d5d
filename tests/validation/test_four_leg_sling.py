"""Four legs count as three at most: how a stiff load shares itself out.

- EN 13414-1:2003, table 4, leg factors: what a sling of several equal legs may lift, in working loads of one leg. At
  0 to 45 degrees 1.4 for two legs, 2.1 for three and for four; at 45 to 60 degrees 1.0 and 1.5.
- Euler, De pressione ponderis in planum cui incumbit, 1773, as told by Garcia, Wood and Barrera-Mora, Reactions on
  rigid legs of rectangular tables, Applied Mathematics 6, 2015, 599-616, doi 10.4236/am.2015.63055: of four feet
  one may carry nothing.

A stand pushes where a leg pulls: the same statics upside down. A leg at an angle pulls its share / cos(angle).
"""

from math import cos, radians
from pathlib import Path

import pytest

from loadplan.model.verdict import StageAssessment
from tests.validation.cases import G, bounds, expected, lump, solved, stand_job

WEIGHT = 700.0
CORNERS = {"a": (500.0, 500.0), "b": (500.0, -500.0), "c": (-500.0, -500.0), "d": (-500.0, 500.0)}
THREE = {"a": (600.0, 0.0), "b": (-300.0, 519.615), "c": (-300.0, -519.615)}


def hung(
    spots: dict[str, tuple[float, float]], folder: Path, at: tuple[float, float] = (0, 0), **short: float
) -> StageAssessment:
    """Return the load on some places, its centre at one, some places lower by so many mm."""
    places = {name: [x, y, 200.0] for name, (x, y) in spots.items()}
    job = stand_job(places, [lump("load", WEIGHT, [*at, 700])])
    for support in job["support"]:
        support["height"] = 400 - short.get(support["name"], 0.0)
    return solved(job, folder)[0]


def factor(stage: StageAssessment, angle: float) -> float:
    """Return how many working loads of one leg may hang on a sling whose hardest pulled leg decides."""
    greatest = max(most for _, most in bounds(stage).values() if most is not None)
    return cos(radians(angle)) * WEIGHT * G / greatest


@pytest.mark.parametrize(("angle", "two", "three"), [(45, 1.4, 2.1), (60, 1.0, 1.5)])
def test_the_standards_factors_are_what_a_stiff_load_asks_for(
    angle: float, two: float, three: float, tmp_path: Path
) -> None:
    """Three legs are determinate, so table 4 holds as it is. Four may hang on two, and count as these.

    The standard counts three of four all the same, for legs that give; the program does not know that they do.
    """
    assert factor(hung(THREE, tmp_path), angle) == pytest.approx(three, abs=0.03)  # printed to 0.1
    assert factor(hung(CORNERS, tmp_path), angle) == pytest.approx(two, abs=0.03)


def test_four_legs_of_one_length_share_alike_but_may_carry_like_two(tmp_path: Path) -> None:
    """Counting four legs, each rated for its quarter, would be passed by as much as 100 %."""
    stage = hung(CORNERS, tmp_path)
    assert expected(stage) == pytest.approx(dict.fromkeys("abcd", WEIGHT * G / 4), abs=1e-8)
    for least, most in bounds(stage).values():
        assert (least, most) == pytest.approx((0, WEIGHT * G / 2), abs=1e-6)


def test_of_four_legs_three_count_where_one_is_long(tmp_path: Path) -> None:
    """The load hangs in the middle of three of the corners, the fourth leg is long: each of the three has its third."""
    centre = (500 / 3, 500 / 3)  # of the triangle a, b, d
    loads = expected(hung(CORNERS, tmp_path, centre, c=50.0))
    third = WEIGHT * G / 3
    assert loads == pytest.approx({"a": third, "b": third, "c": 0.0, "d": third}, abs=1e-6)


def test_a_pair_that_is_long_leaves_the_load_to_the_other(tmp_path: Path) -> None:
    """Derived: a diagonal longer by s moves k·s/2 a leg, until it carries nothing. Stands of 1000 N/mm."""
    quarter = WEIGHT * G / 4
    for long in (0.5, 3.0):
        loads = expected(hung(CORNERS, tmp_path, b=long, d=long))
        more = 1000 * long / 2
        assert loads == pytest.approx(
            {"a": quarter + more, "b": quarter - more, "c": quarter + more, "d": quarter - more}, abs=1e-6
        )

"""What readings told of weights: which figures count as known better, by hand. Made-up parts."""

from dataclasses import replace

import pytest

from loadplan.model.learnt_weights import PartUpdate
from loadplan.model.readings import Estimate
from loadplan.model.vehicle import Basis, Body, Part, Vehicle, Weighed
from loadplan.planning.weight_learning import BETTER, WEIGHED_SHARE, counts_as_weighed, narrowed, with_weights
from tests.checks import builders

PART = Part("block", "unit", 100.0, 10.0, (1.0, 2.0, 3.0), (0.1, 0.2, 0.3), (), Basis.GUESS)
WHOLE = Weighed(400.0, 40.0, (4.0, 5.0, 6.0), (0.4, 0.5, 0.6), None)
AS_GIVEN = PartUpdate(
    "unit", "block", Estimate(100.0, 10.0), (Estimate(1.0, 0.1), Estimate(2.0, 0.2), Estimate(3.0, 0.3))
)
WHOLE_AS_GIVEN = PartUpdate(
    "rig", "", Estimate(400.0, 40.0), (Estimate(4.0, 0.4), Estimate(5.0, 0.5), Estimate(6.0, 0.6))
)
VEHICLE = Vehicle(
    "made up",
    False,  # noqa: FBT003
    (Body("unit", (), None, None, Basis.GUESS, None), Body("rig", (), None, None, Basis.GUESS, WHOLE)),
    (PART, replace(PART, name="rig", body="rig", mass=7.0)),
    (),
    (),
)


def test_what_readings_told_nothing_of_is_left_out() -> None:
    assert narrowed((AS_GIVEN, WHOLE_AS_GIVEN), VEHICLE) == ()


@pytest.mark.parametrize("given", [AS_GIVEN, WHOLE_AS_GIVEN], ids=["part", "whole"])
@pytest.mark.parametrize("place", range(4))
def test_a_figure_that_is_known_better_is_told_and_the_others_stay_as_the_file_has_them(
    given: PartUpdate, place: int
) -> None:
    files = [given.mass, *given.cg]
    read = [
        Estimate(each.value + 0.01, each.pm * (0.5 if number == place else 1.0)) for number, each in enumerate(files)
    ]
    wanted = [*files]
    wanted[place] = read[place]
    new = PartUpdate(given.body, given.part, read[0], (read[1], read[2], read[3]))
    assert narrowed((new,), VEHICLE) == (
        PartUpdate(given.body, given.part, wanted[0], (wanted[1], wanted[2], wanted[3])),
    )


def test_a_figure_is_known_better_only_by_more_than_a_hundredth() -> None:
    for share, counts in ((BETTER * (1 + 1e-9), False), (BETTER * (1 - 1e-9), True)):
        told = narrowed((replace(AS_GIVEN, mass=Estimate(101.0, 10.0 * share)),), VEHICLE)
        assert bool(told) is counts


def test_a_mass_counts_as_weighed_up_to_a_share_of_it() -> None:
    assert counts_as_weighed(replace(AS_GIVEN, mass=Estimate(100.0, WEIGHED_SHARE * 100.0)))
    assert not counts_as_weighed(replace(AS_GIVEN, mass=Estimate(100.0, WEIGHED_SHARE * 100.0 * (1 + 1e-9))))


def with_part(mass: Estimate, basis: Basis = Basis.GUESS, mass_pm: float = 10.0) -> Part:
    job = replace(builders.job(), vehicle=replace(VEHICLE, parts=(replace(PART, basis=basis, mass_pm=mass_pm),)))
    cg = (Estimate(1.5, 0.01), Estimate(2.5, 0.02), Estimate(3.5, 0.03))
    (part,) = with_weights(job, (PartUpdate("unit", "block", mass, cg),)).vehicle.parts
    assert (part.at, part.at_pm) == ((1.5, 2.5, 3.5), (0.01, 0.02, 0.03))
    return part


def test_a_part_is_put_in_as_it_is_known_now_and_weighed_where_that_is_nearer_than_its_file() -> None:
    weighed = with_part(Estimate(100.0, 1.0))
    assert (weighed.mass, weighed.mass_pm, weighed.basis) == (100.0, 1.0, Basis.WEIGHED)
    assert with_part(Estimate(100.0, 5.0)).basis is Basis.GUESS
    assert with_part(Estimate(100.0, 1.0), mass_pm=1.0).basis is Basis.GUESS
    assert with_part(Estimate(100.0, 1.0), mass_pm=1.1, basis=Basis.DATA_SHEET).basis is Basis.WEIGHED


def test_only_a_whole_that_was_weighed_is_put_in_as_it_is_known_now() -> None:
    job = replace(builders.job(), vehicle=VEHICLE)
    cg = (Estimate(1.5, 0.01), Estimate(2.5, 0.02), Estimate(3.5, 0.03))
    known = (PartUpdate("rig", "", Estimate(401.0, 4.0), cg), PartUpdate("unit", "", Estimate(1.0, 1.0), cg))
    told = with_weights(job, known).vehicle
    assert told.parts == VEHICLE.parts
    assert told.bodies[0] == VEHICLE.bodies[0]
    whole = told.bodies[1].weighed
    assert whole == Weighed(401.0, 4.0, (1.5, 2.5, 3.5), (0.01, 0.02, 0.03), None)

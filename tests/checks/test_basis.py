"""Basis: a guess is a caution, once for the job, and a body is as good as nine tenths of its mass."""

from dataclasses import replace

import pytest

from loadplan.checks import basis
from loadplan.checks.case import Case
from loadplan.model.job import Stage
from loadplan.model.vehicle import Basis
from loadplan.model.verdict import CheckName, Finding, Measure, Verdict
from loadplan.model.weight_basis import body_basis, poorest_basis
from tests.checks.builders import case, part, support, words

GUESS, SHEET, SCALES = Basis.GUESS, Basis.DATA_SHEET, Basis.WEIGHED


def made_of(*masses: tuple[float, Basis], example: bool = False) -> Case:
    """One unit of parts of these masses, each as well known as said."""
    judged = case(support("A"))
    parts = tuple(
        replace(part(f"part {number}"), mass=mass, basis=known) for number, (mass, known) in enumerate(masses)
    )
    unit = next(body for body in judged.job.vehicle.bodies if body.name == "unit")
    vehicle = replace(judged.job.vehicle, example=example, bodies=(unit,), parts=parts)
    job = replace(judged.job, vehicle=vehicle, bodies=("unit",), stages=(Stage("one"), Stage("two")))
    return replace(judged, job=job, state=replace(judged.state, index=0))


def told(judged: Case) -> Finding:
    (finding,) = basis.check(judged)
    assert isinstance(finding, Finding)
    return finding


@pytest.mark.parametrize(
    ("masses", "wanted"),
    [
        (((90, SHEET), (10, GUESS)), SHEET),
        (((89.9, SHEET), (10.1, GUESS)), GUESS),
        (((50, SCALES), (40, SHEET), (10, GUESS)), SHEET),
        (((91, SCALES), (9, GUESS)), SCALES),
        (((60, SCALES), (40, SHEET)), SHEET),
        (((100, GUESS),), GUESS),
    ],
)
def test_a_body_is_as_good_as_nine_tenths_of_its_mass(masses: tuple[tuple[float, Basis], ...], wanted: Basis) -> None:
    judged = made_of(*masses)
    assert body_basis(judged.job.vehicle, judged.job.vehicle.bodies[0]) is wanted
    assert poorest_basis(judged.job) is wanted


WEIGH = (
    "a guess, and all loads and distances to tipping with it: weigh it, or take the maker's data, before it goes up."
)


def test_only_assemblies_in_use_whose_weight_is_a_guess_are_named() -> None:
    judged = made_of((100, GUESS))
    names = ("unit", "shell", "cradle", "pack")
    bodies = tuple(replace(judged.job.vehicle.bodies[0], name=name) for name in names)
    known = (GUESS, GUESS, SHEET, GUESS)
    parts = tuple(replace(part(f"{name} lump", name), basis=each) for name, each in zip(names, known, strict=True))
    vehicle = replace(judged.job.vehicle, bodies=bodies, parts=parts)
    finding = told(replace(judged, job=replace(judged.job, vehicle=vehicle, bodies=("unit", "shell", "cradle"))))
    assert finding.subject == "unit and shell"
    assert words(finding.says) == f"The weights of the unit and shell are {WEIGH}"


def test_where_no_weight_is_a_guess_it_is_told_what_they_are() -> None:
    finding = told(made_of((100, SHEET)))
    assert finding.subject == SHEET.words
    assert words(finding.says) == f"The weights are no guess: {SHEET.words}."


def test_a_job_that_is_only_rolled_is_told_nothing() -> None:
    judged = made_of((100, GUESS))
    rolled = replace(judged.job, stages=(Stage("rolled", moved=True),))
    assert basis.check(replace(judged, job=rolled)) == []


def test_a_guess_is_a_caution_and_names_the_assembly() -> None:
    finding = told(made_of((100, GUESS)))
    assert finding.verdict is Verdict.CAUTION
    assert (finding.check, finding.subject, finding.measure) == (CheckName.BASIS, "unit", Measure.MASS)
    assert words(finding.says) == f"The weight of the unit is {WEIGH}"
    assert told(made_of((100, SHEET))).verdict is Verdict.HOLDS
    assert told(made_of((100, SCALES))).verdict is Verdict.HOLDS


def test_invented_weights_are_no_caution() -> None:
    assert told(made_of((100, GUESS), example=True)).verdict is Verdict.HOLDS


def test_it_is_told_once_in_the_first_step_that_is_judged() -> None:
    judged = made_of((100, GUESS))
    second = replace(judged, state=replace(judged.state, index=1))
    assert basis.check(second) == []
    rolled = replace(judged.job, stages=(Stage("rolled", moved=True), Stage("two")))
    assert basis.check(replace(judged, job=rolled)) == []
    assert told(replace(second, job=rolled)).verdict is Verdict.CAUTION

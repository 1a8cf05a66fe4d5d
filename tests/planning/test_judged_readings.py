"""Readings of a step, judged: what is told of each, of the weights, and why nothing can be. Made-up findings."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from loadplan.assess import assess
from loadplan.checks import reading
from loadplan.errors import Fault, InputError
from loadplan.limits import GRAVITY
from loadplan.model.job import StageReading
from loadplan.model.learnt_weights import WeightUpdate
from loadplan.model.verdict import Assessment, CheckName, Finding, Measure, NotChecked, Quantity, Verdict
from loadplan.planning import weight_learning
from loadplan.planning.judged_readings import JudgedReadings, judge_stage_readings
from loadplan.planning.weight_learning import WeightLearning
from loadplan.statics.unsolved import TooManyError
from tests.planning.test_weight_learning import on_three

SCALE = StageReading("C", 200 * GRAVITY, 5 * GRAVITY)
HAND = StageReading("A", None, turns=False)
TOO_MANY = TooManyError(9, 5), "has too many stands under too many linked assemblies: 9 under 5"
READ = Quantity(1.0, Measure.LOAD)
FITS = Finding(CheckName.READING, Verdict.NOTE, "A", 1.0, 1.0, Measure.LOAD, ("A reads ", READ, " It fits."))


@pytest.fixture
def planned(tmp_path: Path) -> Assessment:
    return assess(on_three(tmp_path))


def judged(planned: Assessment, *readings: StageReading) -> JudgedReadings:
    """Judge the first step with such readings in it."""
    stage, *others = planned.job.stages
    job = replace(planned.job, stages=(replace(stage, readings=readings), *others))
    first = planned.stages[0]
    return judge_stage_readings(job, replace(first, state=replace(first.state, stage=job.stages[0])))


def learnt(planned: Assessment, *suspects: str, consistent: bool) -> WeightLearning:
    update = WeightUpdate((), consistent=consistent, suspects=suspects, stiffness=(), further=None, by_hand=())
    return WeightLearning("all", update, planned.job, (), planned)


def test_where_nothing_was_read_nothing_is_told(planned: Assessment) -> None:
    assert judged(planned) == JudgedReadings((), None, "", "")


def test_what_a_hand_found_is_held_against_the_plan_and_teaches_nothing(planned: Assessment) -> None:
    told = judged(planned, HAND)
    assert [(each.subject, each.verdict) for each in told.findings] == [("A", Verdict.NOTE)]
    assert (told.learnt, told.not_learnt, told.fault) == (None, "", "")


def test_a_scale_teaches_weights_beside_what_each_reading_comes_to(planned: Assessment) -> None:
    told = judged(planned, HAND, SCALE)
    assert [each.subject for each in told.findings] == ["A", "C"]
    assert told.learnt is not None
    assert (told.learnt.stage, told.not_learnt, told.fault) == (planned.stages[0].state.name, "", "")


def test_what_was_computed_of_the_step_is_not_computed_again(
    planned: Assessment, monkeypatch: pytest.MonkeyPatch
) -> None:
    def solve(*_: object) -> None:
        raise AssertionError

    monkeypatch.setattr(weight_learning, "solve_stages", solve)
    assert judged(planned, SCALE).learnt is not None


def test_why_nothing_is_learnt_is_told_beside_what_each_reading_comes_to(
    planned: Assessment, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = planned.stages[0].state.name
    refusals = (InputError(Fault("", "", "readings", "tell nothing")), "tell nothing"), (_singular(), first), TOO_MANY
    for error, why in refusals:

        def refuse(*_: object, error: Exception = error) -> None:
            raise error

        monkeypatch.setattr(weight_learning, "learn_weights", refuse)
        told = judged(planned, SCALE)
        assert [each.subject for each in told.findings] == ["C"]
        assert why in told.not_learnt
        assert (told.learnt, told.fault) == (None, "")


def _singular() -> np.linalg.LinAlgError:
    return np.linalg.LinAlgError("Singular matrix")


def test_why_nothing_can_be_held_against_the_plan_is_told_alone(
    planned: Assessment, monkeypatch: pytest.MonkeyPatch
) -> None:
    for error, why in ((InputError(Fault("a.toml", "", "readings", "tell nothing")), "a.toml, readings: tell nothing"),
                       (_singular(), planned.stages[0].state.name), TOO_MANY):  # fmt: skip

        def refuse(*_: object, error: Exception = error) -> None:
            raise error

        monkeypatch.setattr(reading, "check", refuse)
        told = judged(planned, SCALE)
        assert why in told.fault
        assert (told.told, told.learnt, told.not_learnt) == ((), None, "")


def test_a_reading_that_fits_worst_of_those_that_contradict_is_not_told_to_fit(planned: Assessment) -> None:
    other, unknown = replace(FITS, subject="B"), NotChecked(("C is not checked.",))
    doubted = JudgedReadings((FITS, unknown, other), learnt(planned, "A", consistent=False))
    first, second = doubted.findings
    assert first.says == (
        "A reads ",
        READ,
        " By itself it could be so; with all else that is known it does not fit.",
    )
    assert replace(first, says=FITS.says) == FITS
    assert second == other
    assert JudgedReadings((FITS, unknown, other), learnt(planned, "A", consistent=True)).findings == (FITS, other)
    assert JudgedReadings((FITS, unknown)).findings == (FITS,)

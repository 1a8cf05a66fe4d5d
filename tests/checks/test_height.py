"""Height: range and steps of what stands there."""

from dataclasses import replace

import pytest

from loadplan.checks import height
from loadplan.checks.phrases import length
from loadplan.model.job import Support
from loadplan.model.plan_cure import StandsRaised
from loadplan.model.shop import Heights
from loadplan.model.step_change import Raising
from loadplan.model.verdict import CheckName, Finding, Measure, Verdict
from tests.checks.builders import HOIST, STAND, about, case, not_checked, support, words

STEPLESS = replace(STAND, heights=Heights(0.29, 0.43, ()))


def set_to(metres: float, *, stepless: bool = False) -> Support:
    return replace(support("A", STEPLESS if stepless else STAND), height=metres)


def judge(stand: Support) -> Finding:
    return about(height.check(case(stand)), "A")


@pytest.mark.parametrize("metres", [0.29, 0.35, 0.43, 0.35009, 0.28991])
def test_a_step_within_a_tenth_of_a_millimetre_holds(metres: float) -> None:
    assert judge(set_to(metres)).verdict is Verdict.HOLDS


@pytest.mark.parametrize("metres", [0.28989, 0.43011, 0.355, 0.35011, 0.0])
def test_off_its_steps_or_its_range_it_stops(metres: float) -> None:
    assert judge(set_to(metres)).verdict is Verdict.STOP


@pytest.mark.parametrize(
    ("metres", "verdict"), [(0.355, Verdict.HOLDS), (0.4302, Verdict.STOP), (0.2898, Verdict.STOP)]
)
def test_without_steps_only_the_range_counts(metres: float, verdict: Verdict) -> None:
    assert judge(set_to(metres, stepless=True)).verdict is verdict


def test_it_names_the_steps_beside_it() -> None:
    assert words(judge(set_to(0.355)).says) == (
        "A cannot be set to 0.355 m: a stand stops at 0.35 m and 0.37 m. "
        "Plan it at 0.35 m with a shim for the other 0.005 m."
    )


def test_it_names_the_range() -> None:
    told = "A cannot be set to 0.5 m: a stand goes from 0.29 m to 0.43 m. Plan another stand there."
    assert words(judge(set_to(0.5)).says) == told
    assert words(judge(set_to(0.5, stepless=True)).says) == told


def test_above_its_last_step_but_inside_its_range_it_stops() -> None:
    short = replace(STAND, heights=Heights(0.29, 0.44, (0.29, 0.43)))
    assert judge(replace(support("A", short), height=0.436)).verdict is Verdict.STOP


def test_the_shim_is_no_part_of_the_setting() -> None:
    judged = replace(set_to(0.35), shim=None)
    assert judge(judged).value == 0.35


def test_without_heights_it_is_not_checked() -> None:
    told = height.check(case(support("A", replace(STAND, heights=None))))
    assert not_checked(told)[0].startswith("Whether a stand can be set to its height: not checked")


def test_a_height_left_out_is_not_checked_once_a_kind() -> None:
    touching = [replace(support(name), height=None) for name in ("A", "B")]
    assert len(not_checked(height.check(case(*touching)))) == 1
    assert height.check(case(replace(support("H", HOIST), height=None))) == []


def test_what_fits_is_told_as_it_is_and_what_does_not_is_raised_by_its_settings() -> None:
    fits, off = judge(set_to(0.35009)), judge(set_to(0.355))
    assert fits == Finding(
        *(CheckName.HEIGHT, Verdict.HOLDS, "A", 0.35009, pytest.approx(0.35), Measure.LENGTH),
        ("A can be set to ", length(0.35009), "."),
    )
    assert (off.check, off.subject, off.value, off.measure) == (CheckName.HEIGHT, "A", 0.355, Measure.LENGTH)
    assert off.cures == (StandsRaised((Raising("A", 0.0),)),)

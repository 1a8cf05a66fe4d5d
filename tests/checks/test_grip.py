"""Grip: tilt and slope against the friction angle, on its limits and in whole jobs."""

from dataclasses import replace
from math import atan, degrees, radians
from pathlib import Path

import pytest

from loadplan.checks import grip
from loadplan.checks.case import Case
from loadplan.model.answer import GripAnswer
from loadplan.model.verdict import CheckName, Finding, Measure, Verdict
from tests.checks.builders import STAND as BARE
from tests.checks.builders import about, case, lifted, support, words
from tests.checks.small_jobs import STAND, judged, unit_job
from tests.checks.small_jobs import found as found_in


def gripping(angle: float, *, said: bool = True) -> Case:
    """A on a saddle with a friction angle of 8 degrees, so steep [degrees]."""
    alone = case(support("A"))
    answer = GripAnswer("A", radians(angle), radians(8.0), said=said)
    return replace(alone, statics=replace(alone.statics, grips=(answer,)))


@pytest.mark.parametrize(
    ("steep", "verdict", "limit"),
    [(3.99, Verdict.HOLDS, 4.0), (4.01, Verdict.CAUTION, 4.0), (7.99, Verdict.CAUTION, 4.0), (8.01, Verdict.STOP, 8.0)],
)
def test_slope_is_held_against_half_the_friction_angle_and_the_whole(
    steep: float, verdict: Verdict, limit: float
) -> None:
    told = about(grip.check(gripping(steep)), "A")
    assert (told.verdict, told.value) == (verdict, radians(steep))
    assert told.limit is not None
    assert degrees(told.limit) == pytest.approx(limit)


def test_it_says_what_happens_and_what_would_help() -> None:
    holds, slips, slides = (words(about(grip.check(gripping(each)), "A").says) for each in (1.0, 5.0, 9.0))
    assert holds.endswith("rad.")
    assert "it may slide when knocked" in slips
    assert "it slides off" in slides
    assert slides.endswith("Do not touch A. Take the weight back first.")
    early = replace(gripping(9.0), before=None)
    assert words(about(grip.check(early), "A").says).endswith("put rubber or timber on the saddle of A.")


@pytest.mark.parametrize(("steep", "verdict"), [(0.25, Verdict.CAUTION), (0.5, Verdict.STOP)])
def test_on_half_the_friction_angle_a_knock_is_enough_and_on_the_whole_none_is_needed(
    steep: float, verdict: Verdict
) -> None:
    alone = gripping(1.0)
    answer = GripAnswer("A", steep, 0.5, said=True)
    assert about(grip.check(replace(alone, statics=replace(alone.statics, grips=(answer,)))), "A").verdict is verdict


@pytest.mark.parametrize(
    ("steep", "said", "hung", "ends"),
    [
        (0.1, True, False, "."),
        (0.1, False, False, " (assumed)."),
        (0.3, True, False, ": it may slide when knocked. Do not touch A. Take the weight back first."),
        (0.6, True, False, ": it slides off. Do not touch A. Take the weight back first."),
        (
            *(0.6, True, True),
            ": it slides off. Before unbolting: level it, or put rubber or timber on the saddle of A.",
        ),
    ],
)
def test_a_saddle_is_told_how_steep_it_comes_to_stand(steep: float, said: bool, hung: bool, ends: str) -> None:  # noqa: FBT001
    judged_ = lifted(support("A"), hung=hung)
    answer = GripAnswer("A", steep, 0.5, said=said)
    told = about(grip.check(replace(judged_, statics=replace(judged_.statics, grips=(answer,)))), "A")
    assert (told.check, told.subject, told.measure) == (CheckName.GRIP, "A", Measure.ANGLE)
    assert words(told.says) == (
        f"The unit on A may come to stand {steep} rad steep with the floor, "
        f"and friction there holds up to 0.5 rad{ends}"
    )


def test_rubber_is_told_only_where_the_saddle_can_take_it() -> None:
    early = replace(gripping(9.0), before=None)
    rolling = replace(early.state, supports=(support("A", replace(BARE, wheels=True)),))
    told = words(about(grip.check(replace(early, state=rolling)), "A").says)
    assert told.endswith("level it.")


def test_a_friction_that_nobody_wrote_is_told_as_assumed() -> None:
    assert "(assumed)" in words(about(grip.check(gripping(1.0, said=False)), "A").says)
    assert "(assumed)" not in words(about(grip.check(gripping(1.0)), "A").says)


SQUARE = {"A": [400, 300, 200], "B": [400, -300, 200], "C": [-400, 300, 200], "D": [-400, -300, 200]}


def found(folder: Path, **stand: object) -> list[Finding]:
    """Grip findings of a unit on four stands, the pair on the right 40 mm lower: 40 / 600, 3.8 degrees."""
    job = unit_job(SQUARE, equipment=[STAND | stand])
    for each in job["support"]:
        each["height"] = 400 if each["name"] in "AC" else 360
    return found_in(judged(job, folder).stages[0], "grip")


def test_a_whole_job_tells_its_tilt_with_the_slope_of_the_floor(tmp_path: Path) -> None:
    told = found(tmp_path, friction=0.3)
    assert [each.subject for each in told] == ["A", "B", "C", "D"]
    assert all(each.value == pytest.approx(40 / 600 + radians(0.6), rel=2e-2) for each in told)
    assert all(each.limit == pytest.approx(atan(0.3) / 2) for each in told)
    assert all(each.verdict is Verdict.HOLDS for each in told)


def test_oily_saddles_slide(tmp_path: Path) -> None:
    assert {each.verdict for each in found(tmp_path, friction=0.05)} == {Verdict.STOP}
    assert {each.verdict for each in found(tmp_path, friction=0.15)} == {Verdict.CAUTION}

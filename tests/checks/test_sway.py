"""Sway: the share by which a tilt makes itself worse, on its limits and by hand."""

from collections.abc import Callable
from dataclasses import replace
from math import nextafter
from pathlib import Path
from types import SimpleNamespace

import pytest

from loadplan.checks import sway
from loadplan.checks.moved_stand_cure import FurtherOut
from loadplan.model.answer import Tips
from loadplan.model.verdict import CheckName, Finding, FoundCure, Measure, SolvedCure, Verdict
from loadplan.statics.group import upright_in_full
from tests.checks.builders import about, case, group, lifted, support, with_group, words
from tests.checks.small_jobs import STAND, G, judged, part, the, unit_job


def swaying(share: float | None) -> Finding:
    return about(sway.check(with_group(case(support("A")), replace(group(("unit",), ("A",)), sway=share))), "unit")


@pytest.mark.parametrize(
    ("share", "verdict", "limit"),
    [
        (0.1, Verdict.HOLDS, 0.1),
        (nextafter(0.1, 1), Verdict.CAUTION, 0.1),
        (1 / 3, Verdict.CAUTION, 0.1),
        (nextafter(1 / 3, 1), Verdict.STOP, 1 / 3),
    ],
)
def test_the_share_is_held_against_both_limits(share: float, verdict: Verdict, limit: float) -> None:
    told = swaying(share)
    assert (told.verdict, told.value, told.limit) == (verdict, share, limit)


def test_each_verdict_has_its_words() -> None:
    assert words(swaying(0.05).says) == "A tilt of the unit makes itself 0.05 1 worse."
    assert "tall on soft supports." in words(swaying(0.3).says)
    assert "far too tall" in words(swaying(0.5).says)
    assert "leans further until it goes over" in words(swaying(None).says)
    assert all(words(swaying(each).says).endswith("Stiffer or lower ones help, too.") for each in (0.3, 0.5, None))


def test_what_balances_without_a_settled_state_is_a_stop() -> None:
    told = swaying(None)
    assert (told.verdict, told.value) == (Verdict.STOP, None)


def test_what_is_not_balanced_is_not_judged() -> None:
    """Its stop is that of its balance."""
    tips = replace(group(("unit",), ("A",)), proof=Tips(()), sway=None)
    assert sway.check(with_group(case(support("A")), tips)) == []


@pytest.mark.parametrize(
    ("stiffness", "verdict"),
    [(500, Verdict.HOLDS), (50, Verdict.CAUTION), (20, Verdict.STOP), (2, Verdict.STOP)],
)
def test_soft_stands_under_a_tall_unit(tmp_path: Path, stiffness: float, verdict: Verdict) -> None:
    """Four stands at (±400, ±300) mm: the softer way is across, 4 k · 0.3² against 400 kg · g · 1.0 m."""
    places = {"A": [400, 300, 200], "B": [400, -300, 200], "C": [-400, 300, 200], "D": [-400, -300, 200]}
    job = unit_job(
        places, part=[part("block", "unit", 400, [0, 0, 1200])], equipment=[STAND | {"stiffness": stiffness}]
    )
    told = the(judged(job, tmp_path).stages[0], "sway")
    assert told.verdict is verdict
    share = 400 * G * 1.0 / (4 * stiffness * 1e3 * 0.3**2)
    assert told.value == (pytest.approx(share, rel=1e-9) if share < 1 else None)


def test_what_is_too_tall_is_told_with_what_would_help() -> None:
    helps = (
        " Do not touch the stands. Take the weight back first. Then set a stand further out, or one more, off the line "
        "of the others. Stiffer or lower ones help, too."
    )
    tall = "A tilt of the unit makes itself 0.2 1 worse: tall on soft supports."
    assert words(swaying(0.2).says) == tall + helps
    far = "A tilt of the unit makes itself 0.5 1 worse: far too tall for supports that soft."
    assert words(swaying(0.5).says) == far + helps
    over = "The unit on A: too tall for what carries, it leans further until it goes over."
    assert words(swaying(None).says) == over + helps
    assert all((each.check, each.measure) == (CheckName.SWAY, Measure.SHARE) for each in (swaying(0.2), swaying(None)))


def test_all_stands_go_out_by_what_the_share_asks_of_their_reach(monkeypatch: pytest.MonkeyPatch) -> None:
    """Stiffness against a tilt goes with the square of the reach, which is 0.5 m about the middle of A and B."""
    asked: list[tuple[FurtherOut, Callable[[object], bool], str]] = []
    monkeypatch.setattr(sway, "further_out_cure", lambda *of: asked.append(of) or SolvedCure(FoundCure))
    places = {"A": (0.4, 0.4), "B": (-0.4, -0.2), "C": (9.0, 9.0)}
    made = case(*(support(name, at=at) for name, at in places.items()))
    judged_ = with_group(made, replace(group(("unit",), ("A", "B")), sway=0.4))
    assert about(sway.check(judged_), "unit").cure is not None
    ((out, met, then),) = asked
    assert (out.case, out.body, out.about, out.way, out.look) == (judged_, "unit", ("A", "B"), None, upright_in_full)
    # A share of 0.4 is four times what is asked for: twice as far out is enough.
    assert out.guess == pytest.approx(0.5)
    assert then == "a tilt makes itself a tenth worse at most"
    told = [SimpleNamespace(solved=SimpleNamespace(answer=SimpleNamespace(sway=each))) for each in (0.1, 0.11, None)]
    assert [met(each) for each in told] == [True, False, False]
    sway.check(with_group(made, replace(group(("unit",), ("A", "B")), sway=None)))
    assert asked[1][0].guess is None
    sway.check(with_group(made, replace(group(("unit",), ()), sway=0.4)))
    assert asked[2][0].guess == 0.0
    assert about(sway.check(with_group(made, replace(group(("unit",), ("A",)), sway=0.1))), "unit").cure is None
    assert len(asked) == 3


def test_what_the_lift_holds_too_has_no_cure_by_stands() -> None:
    held = lifted(support("A"))
    swings = replace(held.statics.groups[0], sway=0.4)
    assert about(sway.check(with_group(held, swings)), "unit, shell").cure is None

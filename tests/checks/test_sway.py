"""Sway: the share by which a tilt makes itself worse, on its limits and by hand."""

from dataclasses import replace
from math import nextafter
from pathlib import Path

import pytest

from loadplan.checks import sway
from loadplan.model.answer import Tips
from loadplan.model.verdict import Finding, Verdict
from tests.checks.builders import about, case, group, support, with_group, words
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

"""Past the limit: how bad a finding is beside others of its check, which orders what is told first. Made-up answers."""

from dataclasses import replace
from math import inf

import pytest

from loadplan.checks.past_limit import PastLimit, past_limit
from loadplan.model.answer import Loose, Motion, Statics
from loadplan.model.disturbance import LostSupport
from loadplan.model.verdict import CheckName, Finding, Measure, Verdict
from tests.checks.builders import case, lifted, support, with_group


def finding(value: float | None, limit: float | None, check: CheckName = CheckName.RATING, of: str = "A") -> Finding:
    return Finding(check, Verdict.STOP, of, value, limit, Measure.LOAD, ("so",))


STANDS = case(support("A"), support("B"))


@pytest.mark.parametrize(
    ("value", "limit", "times"),
    [
        (1500.0, 1000.0, 1.5),
        (1000.0, 1000.0, 1.0),
        (1004.0, 1000.0, 1.0),
        (1006.0, 1000.0, 1.01),
        # What has to be at least so much is past it by as many times as it falls short.
        (0.025, 0.05, 2.0),
        (0.0, 0.05, inf),
        (-0.01, 0.05, inf),
        (None, 0.05, inf),
        (None, None, 1.0),
        (None, 0.0, 1.0),
        (0.03, None, 1.0),
        (0.03, 0.0, 1.0),
        (0.0, 0.0, 1.0),
    ],
)
def test_how_many_times_a_figure_is_past_its_limit(value: float | None, limit: float | None, times: float) -> None:
    assert past_limit(STANDS.statics, finding(value, limit)) == PastLimit(falls=False, times=times)


def lost(*, balanced: bool) -> Statics:
    without = (LostSupport("A", balanced=balanced, turns_about=("B",)),)
    return with_group(STANDS, replace(STANDS.statics.groups[0], lost=without)).statics


def test_what_goes_over_without_the_jack_is_worse_than_what_stands() -> None:
    jack = finding(200.0, 0.0, CheckName.JACK_HOLDING)
    assert past_limit(lost(balanced=False), jack) == PastLimit(falls=True, times=1.0)
    assert past_limit(lost(balanced=True), jack) == PastLimit(falls=False, times=1.0)
    assert past_limit(lost(balanced=False), replace(jack, subject="B")) == PastLimit(falls=False, times=1.0)
    assert past_limit(lost(balanced=False), finding(None, 1.0)) == PastLimit(falls=False, times=inf)


def test_what_tips_as_it_is_given_is_worse_than_what_may_tip() -> None:
    tips = finding(None, None, CheckName.BALANCE, "unit")
    loose = with_group(
        STANDS, replace(STANDS.statics.groups[0], proof=Loose((("unit", Motion(0.0, 1.0, 0.0)),)))
    ).statics
    assert past_limit(loose, tips) == PastLimit(falls=True, times=1.0)
    assert past_limit(STANDS.statics, tips) == PastLimit(falls=False, times=1.0)
    both = lifted(support("A"))
    tied = with_group(both, replace(both.statics.groups[0], proof=Loose((("unit", Motion(0.0, 1.0, 0.0)),)))).statics
    assert past_limit(tied, replace(tips, subject="unit, shell")).falls
    assert past_limit(loose, replace(tips, subject="shell")) == PastLimit(falls=False, times=1.0)
    assert past_limit(loose, replace(tips, check=CheckName.SWAY)) == PastLimit(falls=False, times=1.0)

"""The least worst margin of a group, against what the stage itself is told to have."""

from dataclasses import replace

import pytest

from loadplan.limits import Limits
from loadplan.statics import wider_stance
from loadplan.statics.wider_stance import least_worst_margin
from tests.statics import builders as make

SEATS = ((0.3, 0.3), (0.3, -0.3), (-0.3, 0.1))


@pytest.mark.parametrize("body", ["unit", "cradle"])
def test_it_is_the_least_that_the_stage_tells_of_the_group(body: str) -> None:
    """A unit on stands of its own and on a mount to a cradle, on a floor that is neither level nor even."""
    job = replace(make.rider(*SEATS), limits=Limits())
    statics = make.solved(job)[-1]
    told = [each.worst_margin for each in statics.bodies if each.worst_margin is not None]
    assert len(told) == 2
    found = least_worst_margin(job, make.state(job), statics.gaps, body)
    assert found == pytest.approx(min(told), abs=1e-9)


def test_where_it_would_take_long_it_is_not_known(monkeypatch: pytest.MonkeyPatch) -> None:
    job = make.rider(*SEATS)
    gaps = make.solved(job)[-1].gaps
    monkeypatch.setattr(wider_stance, "MOST_WORK", 0)
    assert least_worst_margin(job, make.state(job), gaps, "unit") is None


def test_what_tips_has_none() -> None:
    job = make.job([make.part((2.0, 0.0))], make.stands(make.SQUARE))
    assert least_worst_margin(job, make.state(job), dict.fromkeys("ABCD", 0.0), "unit") is None

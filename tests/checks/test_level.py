"""Level: the whole tilt, not one axis of it."""

from dataclasses import replace
from math import cos, radians, sin

import pytest

from loadplan.checks import level
from loadplan.checks.case import Case
from loadplan.model.answer import Motion
from loadplan.model.plan_cure import StandsRaised
from loadplan.model.step_change import Raising
from loadplan.model.verdict import CheckName, Finding, Measure, Verdict
from loadplan.statics.levelling import Reset
from tests.checks.builders import about, body_answer, case, lifted, support, with_body, with_group, words


@pytest.mark.parametrize(
    ("tilt", "verdict"),
    [(0.999, Verdict.HOLDS), (1.001, Verdict.CAUTION), (4.999, Verdict.CAUTION), (5.001, Verdict.STOP)],
)
def test_the_whole_tilt_is_held_against_the_limit(tilt: float, verdict: Verdict) -> None:
    motion = Motion(0.0, radians(tilt) * cos(1.0), radians(tilt) * sin(1.0))
    found = about(level.check(with_body(case(), replace(body_answer("unit"), motion=motion))), "unit")
    assert (found.verdict, found.measure) == (verdict, Measure.ANGLE)
    assert found.value == pytest.approx(radians(tilt))


def test_on_the_limit_it_holds() -> None:
    motion = Motion(0.0, 0.0, radians(1))
    found = about(level.check(with_body(case(), replace(body_answer("unit"), motion=motion))), "unit")
    assert (found.verdict, found.limit) == (Verdict.HOLDS, radians(1))


def test_the_caution_names_the_low_side_and_a_cure_for_who_holds_the_weight() -> None:
    tilted = replace(body_answer("unit"), motion=Motion(0.0, -0.03, 0.0))
    free = with_body(case(), tilted)
    assert words(about(level.check(free), "unit").says) == (
        "The unit stands 0.03 rad out of level, left low. Do not touch the stands. Take the weight back first."
    )
    early = words(about(level.check(replace(free, before=None)), "unit").says)
    assert early.endswith("raise or shim the stands at the left.")
    hung = words(about(level.check(with_body(lifted(), tilted)), "unit").says)
    assert hung.endswith("Before lifting: pack the lift pads at the left.")
    set_down = words(about(level.check(with_body(lifted(support("A")), tilted)), "unit").says)
    assert set_down.endswith("Before unbolting: raise or shim the stands at the left.")


def test_what_is_not_balanced_has_no_tilt() -> None:
    answer = replace(body_answer("unit"), motion=Motion(0.0, 0.1, 0.0))
    assert level.check(with_body(case(), replace(answer, balanced=False))) == []
    assert level.check(with_body(case(), replace(answer, motion=None))) == []


LEANS = replace(body_answer("unit"), motion=Motion(0.0, -0.03, 0.0))


def with_reset(monkeypatch: pytest.MonkeyPatch, judged: Case, *, may: bool = True) -> Finding:
    """What is told of the unit where raising A by 10 mm leaves it 2 mm in a metre out."""

    def reset(*asked: object) -> Reset | None:
        assert asked == (judged.job, judged.state, judged.statics.gaps, "unit")
        return Reset(judged.stands[0], 0.01, 0.002) if may else None

    monkeypatch.setattr(level, "reset_for_level", reset)
    return about(level.check(judged), "unit")


def test_the_reset_that_levels_best_is_told_with_what_it_leaves(monkeypatch: pytest.MonkeyPatch) -> None:
    found = with_reset(monkeypatch, replace(with_body(case(support("A")), LEANS), before=None))
    assert words(found.says) == (
        "The unit stands 0.03 rad out of level, left low. Before the weight comes on: "
        "raise A by 0.01 m (set to 0.35 m, shim 0.01 m). That leaves 0.002 rad."
    )
    assert (found.check, found.limit, found.cures) == (
        *(CheckName.LEVEL, radians(1)),
        (StandsRaised((Raising("A", 0.01),)),),
    )
    assert with_reset(monkeypatch, with_body(case(support("A")), LEANS), may=False).cures == ()


def test_what_is_tied_to_it_and_may_lean_more_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    judged = with_body(lifted(support("A")), LEANS)
    found = with_reset(monkeypatch, judged)
    assert words(found.says).endswith("That leaves the worst of the unit and shell 0.002 rad out.")
    whole = with_body(judged, replace(LEANS, rigid_with=("shell",)))
    whole = with_body(whole, replace(body_answer("shell"), rigid_with=("unit",)))
    assert words(with_reset(monkeypatch, whole).says).endswith("That leaves 0.002 rad.")


def test_what_hangs_on_the_lift_alone_is_levelled_at_its_pads(monkeypatch: pytest.MonkeyPatch) -> None:
    """A stand under what is bolted to it can be set; then it is."""
    asked: list[object] = []
    monkeypatch.setattr(level, "reset_for_level", lambda *of: asked.append(of))
    hung = with_body(lifted(), LEANS)
    found = about(level.check(hung), "unit")
    assert words(found.says).endswith(", left low. Before lifting: pack the lift pads at the left.")
    assert (found.cures, asked) == ((), [])
    under = replace(support("S"), body="shell")
    tied = with_body(lifted(under), replace(LEANS, rigid_with=("shell",)))
    assert words(about(level.check(tied), "unit").says).endswith(
        " Before unbolting: raise or shim the stands at the left."
    )
    # One under another assembly does not count.
    loose = with_body(lifted(under), LEANS)
    assert words(about(level.check(loose), "unit").says).endswith("pack the lift pads at the left.")


@pytest.mark.parametrize(("tilt", "verdict"), [(0.03, Verdict.STOP), (0.017, Verdict.HOLDS)])
def test_a_link_that_it_cannot_do_without_makes_any_lean_a_stop(tilt: float, verdict: Verdict) -> None:
    judged = with_body(case(support("A")), replace(LEANS, motion=Motion(0.0, -tilt, 0.0)))
    judged = with_group(judged, replace(judged.statics.groups[0], needed_links=("roll rod",)))
    found = about(level.check(judged), "unit")
    assert (found.verdict, found.limit) == (verdict, radians(1))
    rod = ", left low. Without roll rod it goes over, and a rod holds the less the more it leans. Do not touch"
    assert (rod in words(found.says)) is (verdict is Verdict.STOP)


def test_what_is_level_is_told_without_a_cure() -> None:
    found = about(level.check(with_body(case(support("A")), replace(LEANS, motion=Motion(0.0, 0.0, 0.01)))), "unit")
    assert (words(found.says), found.cures) == ("The unit stands 0.01 rad out of level.", ())
    far = about(level.check(with_body(case(support("A")), replace(LEANS, motion=Motion(0.0, 0.0, 0.1)))), "unit")
    assert (far.verdict, far.limit) == (Verdict.STOP, radians(5))

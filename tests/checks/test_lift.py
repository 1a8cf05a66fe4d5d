"""Lift: total, balance and arms."""

from dataclasses import replace
from math import nextafter

import pytest

from loadplan.checks import lift
from loadplan.checks.case import NOTHING, Case
from loadplan.limits import GRAVITY
from loadplan.model.answer import Load, Tips
from loadplan.model.job import Stage
from loadplan.model.lowering import LiftAnswer, Lowering, SetDownAnswer
from loadplan.model.verdict import CheckName, Measure, Verdict
from tests.checks.builders import about, case, findings, lifted, load, support, with_group, words

UP = 1e9


def weighing(judged: Case, upper: float) -> Case:
    return replace(judged, statics=replace(judged.statics, lift=LiftAnswer(200.0, upper, (0.0, 0.0, 0.0), 0.0)))


def test_the_total_with_masses_at_upper_is_held_against_the_rating() -> None:
    judged = lifted()
    judged = replace(judged, job=replace(judged.job, lift=None))
    assert lift.check(judged) == []
    kilos = 1000.0
    use = lifted().job.lift
    assert use is not None
    for rating, verdict in ((kilos * GRAVITY, Verdict.HOLDS), (nextafter(kilos * GRAVITY, 0), Verdict.STOP)):
        rated = replace(use, lift=replace(use.lift, rating=rating))
        heavy = weighing(replace(lifted(), job=replace(lifted().job, lift=rated)), kilos)
        found = about(lift.check(heavy), "bay")
        assert (found.verdict, found.value, found.limit) == (verdict, kilos * GRAVITY, rating)
        assert ("too much" in words(found.says)) is (verdict is Verdict.STOP)


@pytest.mark.parametrize(
    ("high", "verdict"),
    [
        (2700.0, Verdict.HOLDS),
        (nextafter(2700.0, UP), Verdict.CAUTION),
        (3000.0, Verdict.CAUTION),
        (nextafter(3000.0, UP), Verdict.STOP),
    ],
)
def test_an_arm_is_held_against_its_rating_and_its_share(high: float, verdict: Verdict) -> None:
    found = about(lift.check(lifted(loads={"pad 2": load(900.0, 500.0, high)})), "pad 2")
    assert (found.verdict, found.value, found.limit) == (verdict, high, 3000.0)


@pytest.mark.parametrize(("low", "verdict"), [(1.0, Verdict.CAUTION), (1.001, Verdict.HOLDS)])
def test_an_arm_that_may_come_off_its_pad_is_a_caution(low: float, verdict: Verdict) -> None:
    hair = low * NOTHING * 200.0 * GRAVITY
    assert about(lift.check(lifted(loads={"pad 2": load(900.0, hair)})), "pad 2").verdict is verdict


def test_what_is_not_balanced_on_the_lift_stops() -> None:
    judged = lifted(support("A"), hung=False)
    assert about(lift.check(judged), "shell").verdict is Verdict.HOLDS
    shell = judged.statics.groups[1]
    for changed in (replace(shell, proof=Tips(())), replace(shell, robust=False)):
        found = about(lift.check(with_group(judged, changed)), "shell")
        assert found.verdict is Verdict.STOP
        assert words(found.says).startswith("bay does not hold the shell for certain")
    assert words(about(lift.check(judged), "shell").says) == "The shell on bay stays where put."
    assert words(about(lift.check(lifted()), "shell").says) == "The unit and shell on bay stay where put."
    unit = replace(judged.statics.groups[0], proof=Tips(()))
    assert about(lift.check(with_group(judged, unit)), "shell").verdict is Verdict.HOLDS


def test_without_loads_total_balance_and_centre_are_still_told() -> None:
    judged = lifted(loads=dict.fromkeys(["pad 1", "pad 2", "pad 3", "pad 4"]))
    subjects = [each.subject for each in findings(lift.check(judged))]
    assert subjects == ["bay", "shell", "rear pads", "posts", "heavy end"]


def test_a_lift_that_is_away_says_nothing() -> None:
    judged = lifted(support("A"))
    away = replace(judged, state=replace(judged.state, supports=judged.stands))
    assert lift.check(away) == lift.check(case(support("A"))) == []
    bare = replace(judged, statics=replace(judged.statics, lift=None))
    assert "bay" not in [each.subject for each in findings(lift.check(bare))]


def test_each_arm_is_told_in_words() -> None:
    told = words(about(lift.check(lifted(loads={"pad 1": load(900.0, 800.0, 3100.0)})), "pad 1").says)
    assert told == (
        "The arm at pad 1 carries 900 N, told as mass, at most 3100 N, told as mass of the 3000 N, told as mass "
        "that one arm may: too much. Set the pads so that the arms share better, or take weight off."
    )


CARRIES = (
    "The arm at pad 1 carries 900 N, told as mass, at most {} N, told as mass "
    "of the 3000 N, told as mass that one arm may"
)


@pytest.mark.parametrize(
    ("high", "says"),
    [
        (2700.0, "."),
        (2800.0, ", above the 0.9 1 asked for. Set the pads so that the arms share better."),
        (3100.0, ": too much. Set the pads so that the arms share better, or take weight off."),
    ],
)
def test_what_an_arm_carries_is_told_beside_what_it_may(high: float, says: str) -> None:
    found = about(lift.check(lifted(loads={"pad 1": load(900.0, 800.0, high)})), "pad 1")
    assert (found.check, found.measure) == (CheckName.LIFT, Measure.LOAD)
    assert words(found.says) == f"{CARRIES.format(f'{high:.0f}')}{says}"


def test_an_arm_that_may_come_off_its_pad_is_told_what_puts_load_back(monkeypatch: pytest.MonkeyPatch) -> None:
    """Before set-down it is the other end of the vehicle that is heavy; while stands take the weight, too much is."""
    monkeypatch.setattr(lift, "prop_place", lambda _, pads, heavy: f"the {heavy} end" if pads else "")

    def told(judged: Case, pad: str) -> str:
        return words(about(lift.check(judged), pad).says).partition("; it may come off its pad. ")[2]

    for pad, heavy in (("pad 1", "rear"), ("pad 3", "front")):
        judged = lifted(loads={pad: load(900.0, 0.0, 900.0)})
        assert told(judged, pad) == f"Set a prop to just touch under the {heavy} end before that."
    light = lifted(support("A"), loads={"pad 1": load(900.0, 0.0, 900.0)})
    lowering = Lowering((0.0,), ("A",), ((0.0,),))
    down = SetDownAnswer(("unit",), 1000.0, 0.004, 0.01, 0.006, given=True, drop=None, lowering=lowering)
    down_ = replace(light, statics=replace(light.statics, set_down=down))
    assert told(down_, "pad 1") == "Lower less."
    up = replace(down_, job=replace(down_.job, stages=(Stage("up", raised=0.006), Stage("later"))))
    assert told(up, "pad 1") == "Bring the stands up less."
    row = tuple(replace(each, at=(-0.5, *each.at[1:])) for each in light.arms)
    in_line = replace(light, state=replace(light.state, supports=(*light.stands, *row)))
    assert told(in_line, "pad 1") == "Put a prop under the end that grows heavy."


def test_what_the_lift_holds_is_told_beside_what_it_may_lift() -> None:
    for kilos, ends in ((1000.0, "."), (1300.0, ": too much. Take parts off before lifting, or use a stronger lift.")):
        found = about(lift.check(weighing(lifted(), kilos)), "bay")
        assert (found.check, found.measure) == (CheckName.LIFT, Measure.LOAD)
        held = (
            f"bay holds at most {kilos * GRAVITY:.4g} N, told as mass of the 1.2e+04 N, told as mass that it may lift"
        )
        assert words(found.says) == f"{held}{ends}"
    found = about(lift.check(lifted()), "shell")
    assert (found.check, found.value, found.limit, found.measure) == (CheckName.LIFT, None, None, Measure.LENGTH)


def test_at_a_glance_no_arm_is_judged() -> None:
    judged = lifted(loads={"pad 1": Load(9000.0, None)})
    assert "pad 1" not in [each.subject for each in findings(lift.check(judged))]

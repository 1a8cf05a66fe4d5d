"""Jack holding: oil and chain brakes, attended and not."""

from dataclasses import replace

import pytest

from loadplan.checks import jack_holding
from loadplan.checks.case import Case
from loadplan.model.answer import Load
from loadplan.model.disturbance import LostSupport, Sunk
from loadplan.model.verdict import CheckName, Finding, Measure, Verdict
from tests.checks.builders import (
    HOIST,
    JACK,
    STAGE,
    about,
    case,
    in_stage,
    lifted,
    load,
    support,
    with_group,
    words,
)

GOES = LostSupport("J", balanced=False, turns_about=("A", "B"))


def on_jack(carried: Load | None = None, *, unattended: bool = False, sunk: Sunk | None = None) -> Case:
    judged = case(support("J", JACK), support("A"), loads={"J": carried or load(300.0)})
    changed = replace(
        judged.statics.groups[0],
        lost=(GOES,),
        sunk=(sunk,) if sunk else (),
    )
    return in_stage(with_group(judged, changed), replace(STAGE, unattended=unattended))


def judge(judged: Case) -> Finding:
    return about(jack_holding.check(judged), "J")


def test_oil_that_carries_is_a_caution_and_overnight_a_stop() -> None:
    assert (judge(on_jack()).verdict, judge(on_jack()).value) == (Verdict.CAUTION, 300.0)
    assert judge(on_jack(unattended=True)).verdict is Verdict.STOP
    told = judge(on_jack())
    assert (told.check, told.subject, told.limit, told.measure) == (CheckName.JACK_HOLDING, "J", 0.0, Measure.LOAD)


def test_at_a_glance_the_most_it_carries_is_not_told() -> None:
    found = judge(on_jack(Load(300.0, None)))
    assert (found.verdict, found.value) == (Verdict.CAUTION, None)


@pytest.mark.parametrize("unattended", [False, True])
def test_oil_that_carries_nothing_on_any_floor_holds(unattended: bool) -> None:  # noqa: FBT001
    found = judge(on_jack(load(0.0), unattended=unattended))
    assert (found.verdict, found.value) == (Verdict.HOLDS, 0.0)
    assert words(found.says) == "J is held by oil but carries nothing."


def test_oil_that_carries_only_on_an_uneven_floor_counts() -> None:
    assert judge(on_jack(load(0.0, 0.0, 20.0))).verdict is Verdict.CAUTION


def test_a_stand_with_locks_is_not_looked_at() -> None:
    assert [each.subject for each in jack_holding.check(on_jack()) if isinstance(each, Finding)] == ["J"]


def test_a_lift_without_locks_is_told_elsewhere() -> None:
    assert jack_holding.check(lifted(support("A"))) == []


def test_without_a_load_it_says_nothing() -> None:
    assert jack_holding.check(case(support("J", JACK), loads={"J": None})) == []


def test_it_says_what_happens_when_it_goes() -> None:
    told = words(judge(on_jack()).says)
    assert told == (
        "Only oil holds J: without it the unit goes over, turning about A and B. "
        "Do not touch J. Take the weight back first."
    )
    judged = on_jack()
    kept = with_group(judged, replace(judged.statics.groups[0], lost=(replace(GOES, balanced=True),)))
    assert "without it the unit still stands." in words(judge(kept).says)
    unknown = with_group(judged, replace(judged.statics.groups[0], lost=()))
    free = "Do not touch J. Take the weight back first."
    assert words(judge(unknown).says) == f"Only oil holds J: what happens without it was not computed. {free}"
    left = words(judge(on_jack(unattended=True)).says)
    assert left == (
        f"Only oil holds J overnight, left alone: without it the unit goes over, turning about A and B. {free}"
    )


def test_a_hoist_hangs_on_its_chain_brake() -> None:
    told = about(jack_holding.check(case(support("H", HOIST))), "H")
    assert words(told.says).startswith("Only its chain brake holds H: ")


def test_sunk_by_10_mm_it_names_what_passes_a_rating_a_limit_or_level() -> None:
    passing = Sunk("J", (("J", 0.0), ("A", 1100.0)), (("unit", 0.02),))
    told = words(judge(on_jack(sunk=passing)).says)
    assert "; sunk by 0.01 m A carries 1100 N, told as mass of 1000 N, told as mass, the place at A takes 1100" in told
    assert "the unit stands 0.02 rad out of level." in told


def test_sunk_by_10_mm_on_every_limit_it_passes_none() -> None:
    limits = on_jack().job.limits
    on_limit = Sunk("J", (("J", 500.0), ("A", 500.0)), (("unit", limits.level),))
    judged = on_jack(sunk=Sunk("J", (("J", 500.0), ("A", 1000.0)), ()))
    bare = replace(judged.state, supports=(judged.state.supports[0], replace(support("A"), limit=None)))
    assert "nothing is overloaded" in words(judge(replace(judged, state=bare)).says)
    assert "sunk by 0.01 m nothing is overloaded or out of level" in words(judge(on_jack(sunk=on_limit)).says)


def test_sunk_the_supports_of_one_piece_add_up() -> None:
    table = [replace(support(name), piece="table", limit=None) for name in ("A", "B")]
    judged = case(support("J", JACK), *table)
    sunk = Sunk("J", (("J", 0.0), ("A", 600.0), ("B", 401.0)), ())
    judged = with_group(judged, replace(judged.statics.groups[0], sunk=(sunk,)))
    assert "sunk by 0.01 m table carries 1001 N" in words(judge(judged).says)

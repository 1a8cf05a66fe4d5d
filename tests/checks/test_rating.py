"""Rating, on each of its thresholds."""

from dataclasses import replace
from math import nextafter

import pytest

from loadplan.checks import rating
from loadplan.checks.case import Case
from loadplan.limits import GRAVITY
from loadplan.model.answer import Load, LoadRange
from loadplan.model.plan_cure import OtherEquipment, PlanCure
from loadplan.model.shop import Equipment, EquipmentKind, Heights, RatedFor
from loadplan.model.verdict import CheckName, Finding, Measure, Verdict
from tests.checks.builders import (
    ARMS,
    STAND,
    about,
    bounded,
    case,
    findings,
    lifted,
    load,
    support,
    with_group,
    words,
)

UP = 1e9


def judge(carried: Load) -> Finding:
    return about(rating.check(case(support("A"), loads={"A": carried})), "A")


@pytest.mark.parametrize(
    ("high", "verdict"),
    [
        (750.0, Verdict.HOLDS),
        (nextafter(750.0, UP), Verdict.CAUTION),
        (1000.0, Verdict.CAUTION),
        (nextafter(1000.0, UP), Verdict.STOP),
    ],
)
def test_the_highest_load_is_held_against_the_rating_and_its_share(high: float, verdict: Verdict) -> None:
    found = judge(load(300.0, 100.0, high))
    assert (found.verdict, found.value, found.limit, found.measure) == (verdict, high, 1000.0, Measure.LOAD)


@pytest.mark.parametrize(
    ("most", "verdict"), [(1000.0, Verdict.HOLDS), (nextafter(1000.0, UP), Verdict.CAUTION), (None, Verdict.CAUTION)]
)
def test_the_most_it_could_ever_carry_is_a_caution_above_the_rating(most: float | None, verdict: Verdict) -> None:
    assert judge(bounded(load(300.0), most)).verdict is verdict


FREE = "Do not touch A. Take the weight back first."


@pytest.mark.parametrize(
    ("high", "most", "told"),
    [
        (700.0, 700.0, "700 N, told as mass, 0.7 1 {}."),
        (760.0, 760.0, f"760 N, told as mass, 0.76 1 {{}}, above the 0.75 1 that is asked for. {FREE}"),
        (1001.0, 1001.0, f"1001 N, told as mass, 1.001 1 {{}}: too much. {FREE}"),
        (700.0, None, f"700 N, told as mass, 0.7 1 {{}}; on another floor nothing limits what it could carry. {FREE}"),
        (
            *(700.0, 1001.0),
            "700 N, told as mass, 0.7 1 {}; the most it could ever carry, 1001 N, told as mass, is above that. " + FREE,
        ),
    ],
)
def test_what_a_stand_carries_is_told_beside_its_rating(high: float, most: float | None, told: str) -> None:
    says = words(judge(bounded(load(300.0, 100.0, high), most)).says)
    of_it = told.format("of the 1000 N, told as mass that one stand may carry")
    assert says == f"A carries 300 N, told as mass, most on this floor {of_it}"


def test_a_bound_unknown_because_tolerance_may_tip_it_says_nothing() -> None:
    judged = case(support("A"), loads={"A": Load(300.0, LoadRange(300.0, 300.0, None, None))})
    shaky = with_group(judged, replace(judged.statics.groups[0], robust=False))
    assert about(rating.check(shaky), "A").verdict is Verdict.HOLDS


def test_a_rating_for_a_pair_is_halved() -> None:
    pair = replace(STAND, rated_for=RatedFor.PAIR)
    found = about(rating.check(case(support("A", pair), loads={"A": load(501.0)})), "A")
    assert (found.verdict, found.limit) == (Verdict.STOP, 500.0)


def test_a_rating_not_said_to_be_for_one_is_noted_once_and_halved() -> None:
    unsaid = replace(STAND, rated_for=RatedFor.UNSAID)
    told = rating.check(case(support("A", unsaid), support("B", unsaid)))
    noted = about(told, "stand")
    assert (noted.check, noted.verdict, noted.value) == (CheckName.RATING, Verdict.NOTE, None)
    assert (noted.limit, noted.measure) == (500.0, Measure.LOAD)
    assert words(noted.says) == (
        "stand: not said whether its rating is for one or for a pair, so half is taken, 500 N, told as mass. "
        "Look at its plate and write rated_for."
    )
    assert about(told, "A").limit == 500.0


def test_a_marked_rating_is_not_noted() -> None:
    assert [each.subject for each in findings(rating.check(case(support("A"))))] == ["A"]


TABLE = replace(STAND, name="table", rating=500.0)
TOPS = tuple(replace(support(name, TABLE), piece="table 1") for name in ("A", "B"))


def test_supports_of_one_piece_add_up_against_one_rating() -> None:
    loads = {"A": load(200.0, 200.0, 300.0), "B": load(150.0, 150.0, 201.0)}
    told = rating.check(case(*TOPS, support("C"), loads=loads))
    found = about(told, "table 1")
    assert (found.verdict, found.value) == (Verdict.STOP, 501.0)
    assert words(found.says) == (
        "table 1 (A and B) carries 350 N, told as mass, most on this floor 501 N, told as mass, "
        "1.002 1 of the 500 N, told as mass that one table may carry: too much. Do not touch table 1. "
        "Take the weight back first."
    )
    assert about(told, "C").verdict is Verdict.HOLDS


def test_one_piece_carries_no_more_than_all_that_stands_on_it_weighs() -> None:
    strong = [replace(each, equipment=replace(TABLE, rating=1700.0)) for each in TOPS]
    loads = {"A": load(400.0, 0.0, 900.0), "B": bounded(load(400.0, 0.0, 900.0), None)}
    found = about(rating.check(case(*strong, loads=loads)), "table 1")
    # The unit is 100 kg ± 1 kg.
    assert found.verdict is Verdict.HOLDS
    assert found.value == pytest.approx(101 * GRAVITY)
    on_wings = [replace(each, on="shell") for each in strong]
    for judged in (case(*on_wings, loads=loads), lifted(*strong, loads=loads)):
        found = about(rating.check(judged), "table 1")
        assert (found.verdict, found.value) == (Verdict.STOP, 1800.0)


def test_the_most_that_one_piece_could_ever_carry_adds_up_to_its_weight_too() -> None:
    loads = {"A": bounded(load(100.0), 300.0), "B": bounded(load(100.0), 200.0)}
    assert about(rating.check(case(*TOPS, loads=loads)), "table 1").verdict is Verdict.HOLDS
    loads["B"] = bounded(load(100.0), 200.1)
    assert about(rating.check(case(*TOPS, loads=loads)), "table 1").verdict is Verdict.CAUTION
    loads["B"] = bounded(load(100.0), None)
    told = about(rating.check(case(*TOPS, loads=loads)), "table 1")
    assert "the most it could ever carry, 990.5 N, told as mass, is above that." in words(told.says)


def test_what_nothing_limits_is_told_so() -> None:
    told = words(judge(bounded(load(300.0), None)).says)
    assert told.startswith("A carries 300 N, told as mass, most on this floor 300 N")
    assert "; on another floor nothing limits what it could carry." in told


def test_arms_belong_to_the_lift() -> None:
    judged = lifted(support("A"), loads={each.name: load(9000.0) for each in ARMS})
    assert [each.subject for each in findings(rating.check(judged))] == ["A"]


def test_without_loads_it_says_nothing() -> None:
    assert rating.check(case(support("A"), loads={"A": None})) == []


@pytest.mark.parametrize(("lowest", "offered"), [(0.30, True), (0.399, True), (0.401, False)])
def test_a_stronger_kind_is_offered_where_a_shim_makes_up_its_height(lowest: float, offered: bool) -> None:  # noqa: FBT001
    """The saddle is set to 350 mm; up to 50 mm may be made up."""
    strong = replace(STAND, name="strong", rating=9000.0, heights=Heights(lowest, 0.9, ()))
    judged = case(replace(support("A"), height=0.35), loads={"A": load(800.0)})
    shop = replace(judged.job.shop, equipment=(STAND, strong))
    found = about(rating.check(replace(judged, job=replace(judged.job, shop=shop), before=None)), "A")
    assert found.verdict is Verdict.CAUTION
    assert found.cures == ((OtherEquipment("A", "strong"),) if offered else ())


def test_the_cure_waits_until_the_weight_is_taken() -> None:
    judged = case(support("A"), loads={"A": load(800.0)})

    def told(judged: Case) -> str:
        return words(about(rating.check(judged), "A").says)

    assert told(judged).endswith("Do not touch A. Take the weight back first.")
    assert told(replace(judged, before=None)).endswith("use a stronger stand at A, or set one more beside it.")


@pytest.mark.parametrize(("height", "heights"), [(None, Heights(0.8, 0.9, ())), (0.35, None)])
def test_a_stronger_kind_is_offered_where_one_of_the_heights_is_not_known(
    height: float | None, heights: Heights | None
) -> None:
    strong = replace(STAND, name="strong", rating=9000.0, heights=heights)
    judged = case(replace(support("A"), height=height), loads={"A": load(800.0)})
    shop = replace(judged.job.shop, equipment=(STAND, strong))
    found = about(rating.check(replace(judged, job=replace(judged.job, shop=shop), before=None)), "A")
    assert found.cures == (OtherEquipment("A", "strong"),)


def offered(judged: Case, *kinds: Equipment) -> tuple[PlanCure, ...]:
    shop = replace(judged.job.shop, equipment=(STAND, *kinds))
    told = findings(rating.check(replace(judged, job=replace(judged.job, shop=shop))))
    return told[0].cures


STRONG = replace(STAND, name="strong", rating=1200.0)


@pytest.mark.parametrize(
    ("kinds", "name"),
    [
        ([STRONG], "strong"),
        ([replace(STRONG, rating=nextafter(1200.0, 0))], None),
        (
            [replace(STRONG, name="stronger", rating=5000.0), STRONG, replace(STRONG, name="last", rating=9000.0)],
            "strong",
        ),
        ([replace(STRONG, count=1, tags=(), out_of_use=())], "strong"),
        ([replace(STRONG, count=1, tags=("S9",), out_of_use=("S9",))], None),
        ([replace(STRONG, kind=EquipmentKind.JACK)], None),
    ],
)
def test_the_weakest_kind_that_may_carry_it_with_room_to_spare_is_offered(
    kinds: list[Equipment], name: str | None
) -> None:
    """900 N over three quarters is 1200 N."""
    cures = offered(case(support("A"), loads={"A": load(900.0)}), *kinds)
    assert cures == (() if name is None else (OtherEquipment("A", name),))


def test_nothing_is_offered_where_it_holds_or_for_one_of_several_saddles() -> None:
    assert offered(case(support("A"), loads={"A": load(200.0)}), STRONG) == ()
    strong = replace(TABLE, name="strong", rating=9000.0)
    assert offered(case(*TOPS, loads={"A": load(400.0), "B": load(400.0)}), strong) == ()
    assert offered(case(TOPS[0], loads={"A": load(400.0)}), strong) == (OtherEquipment("A", "stand"),)


@pytest.mark.parametrize("order", [("unit", "shell"), ("shell", "unit")])
def test_a_table_under_two_bodies_is_not_changed_once_either_is_free(order: tuple[str, str]) -> None:
    """The unit is free, the shell hangs on the lift; the table is under both."""
    tops = [replace(each, body=body) for each, body in zip(TOPS, order, strict=True)]
    loads = {"A": load(400.0), "B": load(400.0)}
    told = {
        hung: words(about(rating.check(lifted(*tops, loads=loads, hung=hung)), "table 1").says)
        for hung in (True, False)
    }
    assert "Before unbolting: use a stronger" in told[True]
    assert told[False].endswith(": too much. Do not touch table 1. Take the weight back first.")

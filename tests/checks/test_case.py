"""What the checks look up in a stage."""

from dataclasses import replace

import pytest

from loadplan.checks import rating
from loadplan.checks.case import NOTHING, first_of_wholes
from loadplan.checks.check_table import judge
from loadplan.limits import GRAVITY
from loadplan.model.verdict import Verdict
from loadplan.stages import joined
from tests.checks.builders import (
    ARMS,
    BOLTS,
    STAND,
    about,
    body_answer,
    case,
    lifted,
    load,
    not_checked,
    support,
    words,
)


def test_a_load_is_nothing_up_to_a_millionth_of_the_weight_of_its_group() -> None:
    judged = case(support("A"))
    limit = NOTHING * 100.0 * GRAVITY
    assert judged.is_nothing(limit, "unit")
    assert not judged.is_nothing(limit * 1.001, "unit")


def test_the_weight_is_that_of_all_bodies_of_the_group() -> None:
    assert case(support("A")).weight("unit") == pytest.approx(100 * GRAVITY)
    assert lifted(support("A")).weight("unit") == pytest.approx(200 * GRAVITY)


def test_a_body_hangs_on_the_lift_through_any_number_of_joints() -> None:
    chain = [replace(BOLTS, between=pair) for pair in (("c", "b"), ("d", "e"), ("b", "a"))]
    assert joined(chain, "a") == {"a", "b", "c"}
    assert lifted(support("A")).on_lift("unit")
    assert not lifted(support("A"), hung=False).on_lift("unit")


def test_nothing_hangs_on_a_lift_that_is_away() -> None:
    judged = lifted(support("A"))
    away = replace(judged, state=replace(judged.state, supports=(support("A"),)))
    assert not away.on_lift("unit")


def test_a_unit_is_already_free_only_when_it_was_free_before_and_still_is() -> None:
    hung, free = lifted(support("A")), lifted(support("A"), hung=False)
    assert replace(free, before=free.state).already_free("unit")
    assert not replace(free, before=hung.state).already_free("unit")
    assert not replace(hung, before=free.state).already_free("unit")
    assert not replace(free, before=None).already_free("unit")


def test_a_support_may_carry_when_only_an_uneven_floor_loads_it() -> None:
    judged = case(
        support("A"), support("B"), support("C"), loads={"A": load(0.0, 0.0, 50.0), "B": load(0.0), "C": None}
    )
    assert [judged.may_carry(each) for each in judged.stands] == [True, False, False]


def test_a_rigid_whole_is_told_by_its_first_body() -> None:
    judged = lifted(support("A"))
    rigid = (replace(body_answer("unit"), rigid_with=("shell",)), replace(body_answer("shell"), rigid_with=("unit",)))
    tied = replace(judged, statics=replace(judged.statics, bodies=rigid))
    assert [each.name for each in first_of_wholes(tied)] == ["unit"]
    assert [each.name for each in first_of_wholes(judged)] == ["unit", "shell"]


def test_stands_and_arms_are_told_apart() -> None:
    judged = lifted(support("A"))
    assert [each.name for each in judged.stands] == ["A"]
    assert judged.arms == ARMS


def test_a_good_stage_holds_in_every_check_and_makes_each_of_them() -> None:
    jack = replace(STAND, name="jack", locks=False, wheels=True)
    judged = lifted(
        *(support(name, STAND, (x, y)) for name, x, y in (("A", 0.4, 0.4), ("B", -0.4, 0.4), ("C", 0.0, -0.4))),
        support("J", jack),
        loads={"J": load(0.0)},
    )
    found, missing = judge(judged)
    assert {each.verdict for each in found} == {Verdict.HOLDS}
    made = list(dict.fromkeys(each.check for each in found))
    told = "balance, sway, grip, lift, rating, point, jack holding, margin, idle support, level, height, count"
    listed = ["bearing", *told.split(", "), "inspection", "overlap", "lift lock", "wheels"]
    assert made == listed, "a new check that finds something in a good stage is listed here"
    (set_down,) = not_checked(list(missing))
    assert set_down.endswith("is not checked, no later step parts the unit from the shell.")


def test_what_cannot_be_checked_is_told_once() -> None:
    bare = replace(STAND, base=None, saddle=None)
    _, missing = judge(case(support("A", bare), support("B", bare, (1.0, 1.0))))
    assert len(missing) == len(set(missing)) == 2


def test_a_stage_that_is_not_balanced_is_judged_without_its_loads() -> None:
    supports = [support("A"), support("B", replace(STAND, name="jack", locks=False, wheels=True), (0.4, 0.4))]
    found, _ = judge(lifted(*supports, loads=dict.fromkeys(["A", "B", *(each.name for each in ARMS)])))
    assert {"rating", "idle support", "jack holding", "wheels"}.isdisjoint(each.check for each in found)


def test_a_cure_names_the_time_when_the_weight_is_still_held() -> None:
    hung = lifted(support("A"), loads={"A": load(1001.0)})
    back = replace(hung, state=replace(hung.state, index=2))
    alone = replace(case(support("A"), loads={"A": load(1001.0)}), before=None)
    told = [words(about(rating.check(each), "A").says) for each in (hung, back, alone)]
    assert "Before unbolting: use" in told[0]
    assert "While the lift holds the weight: use" in told[1]
    assert "Before the weight comes on: use" in told[2]

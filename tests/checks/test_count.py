"""Count: pieces, tags and shims against what the shop owns."""

from dataclasses import replace

import pytest

from loadplan.checks import count
from loadplan.checks.case import Case
from loadplan.model.job import Stack
from loadplan.model.plan_cure import OtherPiece
from loadplan.model.shop import Shim
from loadplan.model.verdict import CheckName, Finding, Measure, NotChecked, Verdict
from tests.checks.builders import STAND, about, case, findings, not_checked, shim, support, words


def stands(many: int) -> Case:
    return case(*(support(f"s{number}") for number in range(many)))


@pytest.mark.parametrize(("many", "verdict"), [(5, Verdict.HOLDS), (6, Verdict.STOP)])
def test_what_is_out_of_use_does_not_count(many: int, verdict: Verdict) -> None:
    found = about(count.check(stands(many)), "stand")
    assert (found.verdict, found.value, found.limit) == (verdict, float(many), 5.0)
    assert ("Plan other equipment" in words(found.says)) is (verdict is Verdict.STOP)


def test_it_says_how_many_are_out_of_use() -> None:
    told = words(about(count.check(stands(6)), "stand").says)
    assert told == (
        "Of stand the plan uses 6; the shop has 5, 1 of the 6 being out of use. Plan other equipment for the rest."
    )


def test_a_piece_with_several_supports_counts_once() -> None:
    table = replace(STAND, name="table", count=1, tags=(), out_of_use=())
    supports = [replace(support(name, table), piece="table 1") for name in ("A", "B", "C")]
    assert about(count.check(case(*supports)), "table").value == 1.0


def test_a_count_left_out_is_not_checked() -> None:
    told = count.check(case(support("A", replace(STAND, count=None))))
    assert findings(told) == []
    assert not_checked(told) == ["How many there are of stand: not checked, the shop file does not say."]


def test_more_out_of_use_than_owned_leaves_none() -> None:
    broken = replace(STAND, count=1, out_of_use=("S1", "S2"))
    assert about(count.check(case(support("A", broken))), "stand").limit == 0.0


def tagged(*tags: str, piece: str = "") -> list[Finding | NotChecked]:
    return count.check(case(*(replace(support(f"s{n}"), tag=tag, piece=piece) for n, tag in enumerate(tags))))


def test_a_tag_used_once_holds_and_twice_stops() -> None:
    assert about(tagged("S1", "S2"), "S1").verdict is Verdict.HOLDS
    assert about(tagged("S1", "S1"), "S1").verdict is Verdict.STOP


def test_another_tag_is_offered_only_where_one_cannot_be_used_as_planned() -> None:
    """S2 is used nowhere, and not out of use."""
    assert about(tagged("S1", "S2"), "S1").cures == ()
    assert about(tagged("S1", "S1"), "S1").cures == (OtherPiece("s1", "S2"),)


def test_a_tag_out_of_use_stops() -> None:
    assert about(tagged("S4"), "S4") == Finding(
        *(CheckName.COUNT, Verdict.STOP, "S4", 1.0, 1.0, Measure.COUNT),
        ("S4 (stand) is out of use but is used at s0. Take another.",),
        (OtherPiece("s0", "S1"),),
    )


def test_a_tag_is_told_with_where_it_is_used() -> None:
    held = (CheckName.COUNT, Verdict.HOLDS, "S1", 1.0, 1.0, Measure.COUNT, ("S1 is used once, at s0.",))
    assert about(tagged("S1", "S2"), "S1") == Finding(*held)
    assert about(tagged("S1", "S1"), "S1") == Finding(
        *(CheckName.COUNT, Verdict.STOP, "S1", 2.0, 1.0, Measure.COUNT),
        ("S1 is one stand but is used at s0 and s1. Give each its own tag.",),
        (OtherPiece("s1", "S2"),),
    )


def test_where_no_tag_is_free_none_is_offered() -> None:
    assert about(tagged("S1", "S1", "S2", "S3"), "S1").cures == ()


def test_one_piece_may_bear_its_tag_at_every_place() -> None:
    assert about(tagged("S1", "S1", piece="table 1"), "S1").verdict is Verdict.HOLDS


def test_the_same_tag_on_another_kind_is_another_piece() -> None:
    other = replace(support("B", replace(STAND, name="other")), tag="S1")
    told = count.check(case(replace(support("A"), tag="S1"), other))
    assert [each.verdict for each in findings(told) if each.subject == "S1"] == [Verdict.HOLDS, Verdict.HOLDS]


def shims(owned: tuple[Shim, ...], *used: Stack) -> list[Finding | NotChecked]:
    judged = case(*(replace(support(f"s{n}"), shim=each) for n, each in enumerate(used)))
    told = count.check(replace(judged, job=replace(judged.job, shop=replace(judged.job.shop, shims=owned))))
    return [each for each in told if not (isinstance(each, Finding) and each.subject == "stand")]


OAK, PINE = Shim(0.012, "oak", 1), Shim(0.012, "pine", 2)


def test_as_many_shims_as_owned_hold_and_one_more_stops() -> None:
    assert [each.verdict for each in findings(shims((OAK,), shim(wood="oak")))] == [Verdict.HOLDS]
    over = findings(shims((OAK, PINE), shim(wood="oak"), shim(wood="oak")))
    assert [(each.verdict, each.subject, each.value, each.limit) for each in over] == [
        (Verdict.STOP, "s0, s1", 2.0, 1.0)
    ]


def test_a_shim_whose_wood_is_not_said_may_be_any_of_its_height() -> None:
    def worst(*woods: str) -> Verdict:
        return max(each.verdict for each in findings(shims((OAK, PINE), *(shim(wood=wood) for wood in woods))))

    assert worst("", "", "") is Verdict.HOLDS
    assert worst("oak", "", "") is Verdict.HOLDS
    assert worst("oak", "", "", "") is Verdict.STOP
    assert worst("oak", "oak", "") is Verdict.STOP


@pytest.mark.parametrize("used", [shim(0.025), shim(wood="steel"), shim(0.0122)])
def test_a_shim_that_the_shop_does_not_list_is_a_note(used: Stack) -> None:
    assert [each.verdict for each in findings(shims((OAK, PINE), used))] == [Verdict.NOTE]


def test_shims_are_told_with_how_many_there_are() -> None:
    (oak,) = shims((OAK, PINE), shim(wood="Oak"))
    assert isinstance(oak, Finding)
    assert words(oak.says) == "1 shim of 0.012 m oak, at s0; the shop has 1."
    (any_wood,) = shims((OAK, PINE), shim(), shim())
    assert isinstance(any_wood, Finding)
    assert words(any_wood.says) == "2 shims of 0.012 m, at s0 and s1; the shop has 3."
    told = (any_wood.check, any_wood.verdict, any_wood.subject, any_wood.value, any_wood.limit, any_wood.measure)
    assert told == (CheckName.COUNT, Verdict.HOLDS, "s0, s1", 2.0, 3.0, Measure.COUNT)


def test_a_shim_that_is_not_listed_is_told_with_where_it_is_used() -> None:
    (told,) = shims((OAK, PINE), shim(wood="steel"), shim(wood="steel"))
    assert isinstance(told, Finding)
    assert words(told.says) == (
        "The shop's list has no shim of 0.012 m steel as used at s0 and s1. Look for one first."
    )
    assert (told.check, told.verdict, told.subject, told.value, told.limit, told.measure) == (
        *(CheckName.COUNT, Verdict.NOTE, "s0, s1"),
        *(2.0, None, Measure.COUNT),
    )


def test_shims_of_an_unknown_number_are_not_checked() -> None:
    told = shims((OAK, replace(PINE, count=None)), shim())
    assert not_checked(told) == ["How many shims of 0.012 m there are: not checked, the shop file does not say."]

"""Timber: pressed too hard across the grain, or stacked high without being crosswise."""

from dataclasses import replace
from math import nextafter, pi

import pytest

from loadplan.checks import timber
from loadplan.checks.case import Case, Told
from loadplan.model.job import Stack
from loadplan.model.shop import Circle, Shim, Square
from loadplan.model.verdict import CheckName, Finding, Measure, NotChecked, Verdict
from tests.checks.builders import HOIST, STAND, case, findings, lifted, load, not_checked, support, words

AREA = 0.09 * 0.09
UP = 1e12


def on(stack: Stack | None, high: float | None = 1000.0) -> Case:
    stood = replace(support("A"), shim=stack)
    return case(stood, loads={"A": None if high is None else load(100.0, 50.0, high)})


def block(height: float = 0.05, wood: str = "hem-fir", *, crib: bool = False) -> Stack:
    return Stack(height, wood, crib)


def only(told: list[Told]) -> Finding:
    (one,) = told
    assert isinstance(one, Finding)
    return one


@pytest.mark.parametrize(
    ("wood", "psi", "megapascals"),
    [
        ("Douglas fir-larch", 625, 4.31),
        ("southern pine", 565, 3.90),
        ("spruce-pine-fir", 425, 2.93),
        ("hem-fir", 405, 2.79),
        ("red oak", 820, 5.65),
        ("white oak", 800, 5.52),
        ("mixed oak", 800, 5.52),
    ],
)
def test_the_strengths_are_those_of_the_specification(wood: str, psi: int, megapascals: float) -> None:
    """NDS Supplement 2018, tables 4A and 4B, Fc⊥."""
    told = only(timber.check(on(block(wood=wood))))
    assert told.limit == pytest.approx(psi * 4.4482216152605 / 0.0254**2)
    assert told.limit == pytest.approx(megapascals * 1e6, abs=5e3)
    assert "(NDS Supplement 2018)" in words(told.says)


STRENGTH = 405 * 4.4482216152605 / 0.0254**2
FULL, ALLOWED = STRENGTH * AREA, 0.75 * STRENGTH * AREA


@pytest.mark.parametrize(
    ("high", "verdict", "limit"),
    [
        (ALLOWED * (1 - 1e-12), Verdict.HOLDS, STRENGTH),
        (ALLOWED * (1 + 1e-12), Verdict.CAUTION, 0.75 * STRENGTH),
        (FULL * (1 - 1e-12), Verdict.CAUTION, 0.75 * STRENGTH),
        (FULL * (1 + 1e-12), Verdict.STOP, STRENGTH),
    ],
)
def test_the_most_on_this_floor_over_the_saddle_is_held_against_it(high: float, verdict: Verdict, limit: float) -> None:
    told = only(timber.check(on(block(), high)))
    assert (told.verdict, told.subject, told.measure) == (verdict, "A", Measure.STRESS)
    assert told.value == pytest.approx(high / AREA)
    assert told.limit == pytest.approx(limit)


@pytest.mark.parametrize(("share", "verdict"), [(0.75, Verdict.HOLDS), (1.0, Verdict.CAUTION)])
def test_what_is_just_allowed_is_allowed(share: float, verdict: Verdict) -> None:
    """On a square metre what presses is what is carried, to the last bit."""
    judged = on(block(), share * STRENGTH)
    wide = replace(judged.stands[0], equipment=replace(STAND, saddle=Square(1.0, 1.0)))
    assert only(timber.check(replace(judged, state=replace(judged.state, supports=(wide,))))).verdict is verdict


def test_while_the_unit_hangs_what_would_help_can_be_done() -> None:
    stood = replace(support("A"), shim=block(0.1))
    pressed, high = findings(timber.check(lifted(stood, loads={"A": load(1.1 * FULL)})))
    assert words(pressed.says).endswith(
        ": too much for it. Before unbolting: use a larger saddle at A, or a steel plate between saddle and timber."
    )
    assert words(high.says).endswith(" Before unbolting: build it crosswise, or use a taller stand at A.")


def test_a_stand_without_a_shim_does_not_end_the_look() -> None:
    stands = (support("A"), replace(support("B"), shim=block(0.1, crib=True)))
    assert [each.subject for each in findings(timber.check(case(*stands)))] == ["B", "B"]


def test_a_round_saddle_presses_on_its_disc() -> None:
    judged = on(block())
    round_ = replace(judged.stands[0], equipment=replace(STAND, saddle=Circle(0.05)))
    told = only(timber.check(replace(judged, state=replace(judged.state, supports=(round_,)))))
    assert told.value == pytest.approx(1000.0 / (pi * 0.05**2 / 4))
    oblong = replace(judged.stands[0], equipment=replace(STAND, saddle=Square(0.2, 0.1)))
    told = only(timber.check(replace(judged, state=replace(judged.state, supports=(oblong,)))))
    assert told.value == pytest.approx(1000.0 / 0.02)


def test_each_verdict_has_its_words() -> None:
    caution, stop = (words(only(timber.check(on(block(), high))).says) for high in (0.8 * FULL, 1.1 * FULL))
    assert "that is asked for; wet wood takes 0.67 of it." in caution
    assert "across the grain (NDS Supplement 2018): too much for it." in stop
    assert stop.endswith("too much for it. Do not touch A. Take the weight back first.")
    held = replace(on(block(), 1.1 * FULL), before=None)
    assert "use a larger saddle at A, or a steel plate between saddle and timber." in words(
        only(timber.check(held)).says
    )


FREE = "Do not touch A. Take the weight back first."


@pytest.mark.parametrize(
    ("share", "told"),
    [
        (0.5, "1.396e+06 Pa by the saddle, {}."),
        (
            0.8,
            f"2.234e+06 Pa by the saddle, {{}}, above the 0.75 1 that is asked for; wet wood takes 0.67 of it. {FREE}",
        ),
        (1.1, f"3.072e+06 Pa by the saddle, {{}}: too much for it. {FREE}"),
    ],
)
def test_what_is_pressed_is_told_with_what_the_wood_may_take(share: float, told: str) -> None:
    of_it = "of the 2.792e+06 Pa that dry hem-fir may take across the grain (NDS Supplement 2018)"
    says = words(only(timber.check(on(block(), share * FULL))).says)
    assert says == f"The timber on A is pressed with at most {told.format(of_it)}"


def test_a_high_stack_is_told_by_its_height_and_what_would_help() -> None:
    held = "Before the weight comes on: build it crosswise, or use a taller stand at A."
    for crib, free, told in (
        (True, True, " and built crosswise."),
        (False, True, f" and not crosswise: it may lean over. {FREE}"),
        (False, False, f" and not crosswise: it may lean over. {held}"),
    ):
        judged = on(block(0.1, crib=crib), None)
        found = only(timber.check(judged if free else replace(judged, before=None)))
        assert (found.check, found.subject) == (CheckName.TIMBER, "A")
        assert words(found.says) == f"The timber on A is 0.1 m high{told}"


@pytest.mark.parametrize(
    ("height", "crib", "verdict"),
    [
        (0.1, False, Verdict.CAUTION),
        (0.1, True, Verdict.HOLDS),
        (nextafter(0.1, 0), False, None),
    ],
)
def test_a_high_stack_is_built_crosswise(height: float, crib: bool, verdict: Verdict | None) -> None:  # noqa: FBT001
    told = [each for each in findings(timber.check(on(block(height, crib=crib)))) if each.measure is Measure.LENGTH]
    assert [each.verdict for each in told] == ([] if verdict is None else [verdict])
    for each in told:
        assert (each.value, each.limit) == (height, 0.1)
        assert ("it may lean over" in words(each.says)) is (verdict is Verdict.CAUTION)


def test_rubber_and_steel_and_bare_saddles_are_not_timber() -> None:
    for stack in (block(wood="rubber"), block(0.2, "Steel"), None):
        assert timber.check(on(stack)) == []
    hung = replace(on(block()).stands[0], equipment=HOIST)
    assert timber.check(replace(on(block()), state=replace(on(block()).state, supports=(hung,)))) == []


@pytest.mark.parametrize(
    ("stack", "why"),
    [
        (block(wood=""), "what wood it is, is not given"),
        (block(wood="balsa"), "what balsa may take across the grain is not at hand"),
    ],
)
def test_unknown_wood_is_not_checked_but_its_height_is(stack: Stack, why: str) -> None:
    assert not_checked(timber.check(on(stack))) == [f"Whether the timber on A is pressed too hard: not checked, {why}."]
    tall = timber.check(on(replace(stack, height=0.12)))
    assert [each.verdict for each in findings(tall)] == [Verdict.CAUTION]


def test_without_a_saddle_it_is_not_checked() -> None:
    judged = on(block())
    bare = replace(judged.stands[0], equipment=replace(STAND, saddle=None))
    (told,) = timber.check(replace(judged, state=replace(judged.state, supports=(bare,))))
    assert isinstance(told, NotChecked)
    assert words(told.says).endswith("the shop file gives no saddle for a stand.")


def test_where_the_load_is_not_known_only_the_height_is_judged() -> None:
    assert timber.check(on(block(), None)) == []
    assert only(timber.check(on(block(0.3), None))).verdict is Verdict.CAUTION


def test_the_shops_blocks_of_that_height_tell_the_wood_where_they_agree() -> None:
    judged = on(block(0.012, ""))
    fir, pine = Shim(0.012, "hem-fir", 8), Shim(0.012, "southern pine", 8)
    for shims, known in (((fir,), True), ((fir, pine), False), ((replace(fir, height=0.013),), False)):
        shop = replace(judged.job.shop, shims=shims)
        told = timber.check(replace(judged, job=replace(judged.job, shop=shop)))
        assert bool(findings(told)) is known

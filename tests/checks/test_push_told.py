"""What is told of a push: verdict, limit, words and cures, by small records, on each bound and past it."""

from dataclasses import replace
from math import cos, inf, pi, sin
from types import SimpleNamespace
from typing import Any

import pytest

from loadplan.checks import push
from loadplan.checks.case import Case
from loadplan.checks.moved_stand_cure import FurtherOut
from loadplan.limits import GRAVITY
from loadplan.model.disturbance import PushAnswer
from loadplan.model.job import Stage, Support
from loadplan.model.plan_cure import LessPull
from loadplan.model.verdict import CheckName, Finding, Measure, SolvedCure, Verdict
from tests.checks.builders import (
    STAND,
    body_answer,
    case,
    findings,
    group,
    in_stage,
    lifted,
    support,
    with_body,
    with_group,
    words,
)

PUSHED = PushAnswer(300.0, 0.0, "unit", (0.0, 0.0, 0.4), "slides", ("A", "B"), inf, 5000.0)
"""The unit is pushed at its lump, which is the highest part; it slides on A and B, on which 5000 N stand."""

FREE = " Do not touch the stands. Take the weight back first. Break tight bolts loose before lifting."


def newtons(force: float) -> str:
    return f"{force:.4g} N ({force:.4g} N, told as mass)"


def pushed(*pushes: PushAnswer, **more: object) -> Case:
    """The unit on A and B, and pushes on it; PUSHED with changes where none are given."""
    answers = pushes or (replace(PUSHED, **more),)  # type: ignore[arg-type]
    return with_group(case(support("A"), support("B")), replace(group(("unit",), ("A", "B")), pushes=answers))


def of_bodies(judged: Case, *bodies: str) -> Case:
    """The same with its only group made of those bodies, none of them rigid with another."""
    groups = (replace(judged.statics.groups[0], bodies=bodies),)
    statics = replace(judged.statics, bodies=tuple(map(body_answer, bodies)), groups=groups)
    return replace(judged, state=replace(judged.state, bodies=bodies), statics=statics)


def told(judged: Case) -> Finding:
    (one,) = findings(push.check(judged))
    return one


@pytest.mark.parametrize(
    ("force", "oiled", "borne", "verdict", "limit", "says"),
    [
        (224.0, inf, 5000.0, Verdict.STOP, 225.0, f"less than {newtons(225)} of one person's push"),
        (225.0, inf, 5000.0, Verdict.CAUTION, 450.0, f"less than twice the {newtons(225)} of one person's push"),
        (449.0, inf, 5000.0, Verdict.CAUTION, 450.0, f"less than twice the {newtons(225)} of one person's push"),
        # A tenth of 2250 N is as much as one push, and is told as that.
        (449.0, inf, 2250.0, Verdict.CAUTION, 450.0, f"less than twice the {newtons(225)} of one person's push"),
        (99.0, inf, 1000.0, Verdict.STOP, 100.0, f"less than a tenth of the weight on its supports, {newtons(100)}"),
        (
            *(199.0, inf, 1000.0, Verdict.CAUTION, 200.0),
            f"less than twice a tenth of the weight on its supports, {newtons(100)}",
        ),
    ],
)
def test_a_push_that_is_less_than_asked_says_what_is_asked(
    force: float, oiled: float, borne: float, verdict: Verdict, limit: float, says: str
) -> None:
    found = told(pushed(force=force, oiled=oiled, borne=borne))
    assert (found.check, found.subject, found.measure) == (CheckName.PUSH, "unit", Measure.FORCE)
    assert (found.verdict, found.value, found.limit) == (verdict, force, limit)
    assert words(found.says) == (
        f"The unit stands a sideways push of at most {newtons(force)} at lump, the highest part on; "
        f"weakest towards the front: it slides on A and B, {says}, and friction may let go sooner.{FREE}"
    )


@pytest.mark.parametrize(
    ("force", "oiled", "borne", "twice"),
    [
        (450.0, 449.0, 5000.0, f"twice the {newtons(225)} of one person's push"),
        (200.0, 199.0, 1000.0, f"twice a tenth of the weight on its supports, {newtons(100)}"),
    ],
)
def test_what_oil_would_leave_is_told_where_that_is_too_little(
    force: float, oiled: float, borne: float, twice: str
) -> None:
    found = told(pushed(force=force, oiled=oiled, borne=borne))
    assert found.verdict is Verdict.CAUTION
    assert words(found.says).endswith(
        f": it slides on A and B. Nobody says the friction of its saddles: with oil on them it would stand "
        f"{newtons(oiled)}, less than {twice}.{FREE}"
    )
    on_shell = replace(support("B"), on="shell")
    judged = pushed(force=force, oiled=oiled, borne=borne)
    stacked = replace(judged, state=replace(judged.state, supports=(support("A"), on_shell)))
    assert "the friction of its saddles and feet: with oil" in words(told(stacked).says)


def test_what_is_stood_twice_holds_without_a_cure() -> None:
    found = told(in_stage(pushed(force=1000.0), Stage("step", bar=True)))
    assert (found.verdict, found.limit, found.cures, found.cure) == (Verdict.HOLDS, 1000.0, (), None)
    assert words(found.says).endswith(": it slides on A and B. Friction may let go sooner.")


def test_in_a_step_with_hard_pulls_less_pull_is_a_cure_and_in_others_it_is_not() -> None:
    bar = told(in_stage(pushed(force=999.0), Stage("step", bar=True)))
    assert (bar.verdict, bar.cures) == (Verdict.CAUTION, (LessPull(None),))
    assert f"less than twice the {newtons(500)} of a braced pull on a bar, and" in words(bar.says)
    assert told(pushed(force=449.0)).cures == ()


def test_what_no_push_moves_holds() -> None:
    found = told(pushed(force=inf, first="holds", about=()))
    assert found.verdict is Verdict.HOLDS
    assert words(found.says).startswith("No sideways push moves the unit. Friction may let go sooner.")


@pytest.mark.parametrize("first", ["tips", "stand"])
def test_a_share_of_the_weight_is_asked_only_of_what_slides(first: str) -> None:
    found = told(pushed(force=224.0, first=first, borne=1000.0))
    assert (found.verdict, found.limit) == (Verdict.STOP, 225.0)
    assert f", less than {newtons(225)} of one person's push, and" in words(found.says)


@pytest.mark.parametrize(
    ("first", "goes"),
    [
        ("slides", "it slides on A and B"),
        ("tips", "it tips, turning about A and B"),
        ("stand", "A and B go over"),
    ],
)
def test_each_end_has_its_words(first: str, goes: str) -> None:
    assert f"weakest towards the front left: {goes}, less than" in words(
        told(pushed(first=first, direction=pi / 4)).says
    )
    assert push.first_to_go(case(support("A")), "stand", ("A",)) == "A goes over"


def test_a_piece_of_several_supports_goes_over_as_what_it_is() -> None:
    table = replace(STAND, name="table")
    judged = case(*(replace(support(name, table), piece="T") for name in "AB"), support("C"))
    assert push.first_to_go(judged, "stand", ("A", "B")) == "the table goes over"
    assert push.first_to_go(judged, "stand", ("A", "B", "C")) == "the table and C go over"


def test_several_bodies_that_move_as_one_are_named_together() -> None:
    judged = lifted(support("A"))
    judged = with_body(judged, replace(body_answer("unit"), rigid_with=("shell",)))
    answer = replace(PUSHED, about=("A",))
    judged = with_group(judged, replace(judged.statics.groups[0], pushes=(answer,)))
    found = told(judged)
    assert found.subject == "unit, shell"
    says = words(found.says)
    assert says.startswith("The unit and shell stand a sideways push of at most")
    # What is tied to the lift is not free yet.
    assert " Before unbolting: put rubber or timber on the saddles. Break tight bolts" in says
    alone = lifted(support("A"), hung=False)
    alone = with_group(alone, replace(alone.statics.groups[0], pushes=(answer,)))
    assert words(told(alone).says).endswith(FREE)


def test_the_highest_part_is_one_of_that_body_that_is_on() -> None:
    """The roof of the shell is as high as the lump of the unit."""

    def where(judged: Case, *on: str) -> str:
        state = replace(judged.state, on=frozenset(on))
        return words(told(replace(judged, state=state)).says).partition(" at ")[2].partition("at ")[2].partition(";")[0]

    assert where(pushed(), "lump", "roof") == "lump, the highest part on"
    assert where(pushed(), "roof") == "the middle of the unit"
    assert where(pushed(at=(0.0, 0.0, 0.5)), "lump", "roof") == "the middle of the unit"
    assert where(pushed(still_on=("lump",)), "roof") == "lump, the highest part on"
    known = pushed()
    known = replace(known, statics=replace(known.statics, floor=0.15))
    assert where(known, "lump") == "lump, the highest part on, 0.25 m over the floor"


def test_what_may_still_be_on_is_named_and_gets_no_solved_cure() -> None:
    found = told(pushed(still_on=("roof", "lid")))
    assert words(found.says).startswith(
        "With roof and lid still on, of what comes off in any order, the unit stands a sideways push"
    )
    assert (found.verdict, found.cure) == (Verdict.CAUTION, None)


def test_the_least_push_is_told_first() -> None:
    judged = pushed(*(replace(PUSHED, force=force) for force in (400.0, 300.0, 350.0)))
    assert [each.value for each in findings(push.check(judged))] == [300.0, 350.0, 400.0]


# ---- what would help ------------------------------------------------------------------------------------

FOUND = SolvedCure(lambda: NotImplemented)


def moved(*pushes: PushAnswer) -> SimpleNamespace:
    """A group with stands elsewhere, and the pushes on it then."""
    return SimpleNamespace(solved=SimpleNamespace(answer=SimpleNamespace(pushes=pushes)))


def test_what_slides_asks_for_friction_what_tips_for_stands_further_out_and_what_falls_for_neither(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked: list[Any] = []
    monkeypatch.setattr(push, "grip_cure", lambda *told: asked.append(told) or FOUND)
    monkeypatch.setattr(push, "further_out_cure", lambda *told: asked.append(told) or FOUND)
    judged = pushed()
    assert told(judged).cure is FOUND
    of, slides, stood = asked.pop()
    assert (of, slides) == (judged, PUSHED)
    assert stood(moved(replace(PUSHED, force=450.0)))
    assert not stood(moved(replace(PUSHED, force=449.0)))
    assert told(pushed(first="stand")).cure is None
    assert not asked
    # 150 N are lacking, at 0.2 m over the saddles, of a weight of 100 kg.
    tips = pushed(first="tips", direction=2.0)
    assert told(tips).cure is FOUND
    ((out, _, then),) = asked
    assert (out.case, out.body, out.about, out.way) == (tips, "unit", ("A", "B"), (cos(2.0), sin(2.0)))
    assert out.guess == pytest.approx(150.0 * 0.2 / (100.0 * GRAVITY))
    assert then == "it stands that"


def test_how_far_out_is_guessed_over_the_lowest_saddle_that_it_turns_about(monkeypatch: pytest.MonkeyPatch) -> None:
    guesses: list[float | None] = []

    def found(out: FurtherOut, *_: object) -> SolvedCure:
        guesses.append(out.guess)
        return FOUND

    monkeypatch.setattr(push, "further_out_cure", found)
    low, lower = replace(support("B"), at=(0.0, 0.0, 0.1)), replace(support("C"), at=(0.0, 0.0, 0.05))
    for about_ in (("A", "B"), ("A",), ("mount",)):
        judged = pushed(first="tips", about=about_)
        told(replace(judged, state=replace(judged.state, supports=(support("A"), low, lower))))
    assert guesses == pytest.approx([each * 150.0 / (100.0 * GRAVITY) for each in (0.3, 0.2, 0.0)])


@pytest.mark.parametrize(
    ("own", "other", "verdicts"),
    [
        (450.0, 300.0, "met"),
        (449.0, 300.0, "not met"),
        (None, 300.0, "not met"),
        (450.0, 225.0, "met"),
        (450.0, 224.0, "not met"),
        (450.0, 500.0, "met"),
        (450.0, None, "met"),
    ],
)
def test_stands_further_out_do_where_the_push_is_stood_and_no_other_gets_worse(
    own: float | None, other: float | None, verdicts: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Before, the unit stood 300 N and the shell 301 N, of the 450 N that are asked of each."""
    asked: list[Any] = []
    monkeypatch.setattr(push, "further_out_cure", lambda *given: asked.append(given) or FOUND)
    unit = replace(PUSHED, first="tips")
    judged = of_bodies(pushed(unit, replace(unit, body="shell", force=301.0)), "unit", "shell")
    push.check(judged)
    then = [replace(unit, body=body, force=force) for body, force in (("unit", own), ("shell", other)) if force]
    assert asked[0][1](moved(*then)) is (verdicts == "met")


# ---- what stands on the floor and on an assembly at once ---------------------------------------------------


def stacked(*supports: Support, body: str) -> str:
    """What is told of a push on a body where unit, shell and axle stand as given."""
    judged = of_bodies(pushed(replace(PUSHED, body=body)), "unit", "shell", "axle")
    return words(told(replace(judged, state=replace(judged.state, supports=supports))).says).rpartition("lifting.")[2]


def under(body: str, on: str = "", name: str = "A") -> Support:
    return replace(support(name), body=body, on=on)


def test_what_stands_on_the_floor_and_on_an_assembly_is_told_with_care() -> None:
    care = " Told with care: the shell does not stand on one assembly alone, and ties what it stands on."
    both = under("unit"), under("shell", name="B"), under("shell", "unit", name="C")
    assert stacked(*both, body="shell") == care
    assert stacked(*both, body="unit") == care
    assert stacked(*both, body="axle") == ""
    assert stacked(under("unit"), under("shell", "unit", "B"), under("shell", "unit", "C"), body="shell") == ""
    # What is gone bears nothing: what stood on it stands on the floor.
    gone = under("unit"), under("shell", name="B"), under("shell", "hub", name="C")
    assert stacked(*gone, body="shell") == ""
    two = under("unit"), under("shell", "unit", "B"), under("shell", "axle", "C")
    assert stacked(*two, body="axle") == care

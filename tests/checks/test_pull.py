"""Pull: a known pull or torque against what the unit stands."""

from dataclasses import replace
from math import nextafter
from pathlib import Path

import pytest

from loadplan.checks import pull
from loadplan.checks.case import Case
from loadplan.model.disturbance import PullAnswer
from loadplan.model.plan_cure import LessPull
from loadplan.model.vehicle import Place
from loadplan.model.verdict import Finding, Measure, Verdict
from tests.checks.builders import about, case, lifted, support, words
from tests.checks.small_jobs import STAND, G, judged, said, the, unit_job

PLACES = {"A": [500, 500, 200], "B": [500, -500, 200], "C": [-500, 500, 200], "D": [-500, -500, 200]}


def pulled(factor: float | None, towards: Place = (1.0, 0.0, 0.0)) -> Case:
    free = case(support("A"), support("B"))
    answer = PullAnswer("unit", factor, 400.0, towards, "tips", ("A", "B"), factor)
    return replace(free, statics=replace(free.statics, pull=answer))


@pytest.mark.parametrize(
    ("factor", "verdict", "limit"),
    [
        (nextafter(1.0, 0), Verdict.STOP, 1.0),
        (1.0, Verdict.CAUTION, 1.5),
        (nextafter(1.5, 0), Verdict.CAUTION, 1.5),
        (1.5, Verdict.HOLDS, 1.5),
        (None, Verdict.HOLDS, 1.5),
    ],
)
def test_the_pull_is_stood_once_and_half_as_much_again(factor: float | None, verdict: Verdict, limit: float) -> None:
    told = about(pull.check(pulled(factor)), "unit")
    assert (told.verdict, told.value, told.limit, told.measure) == (verdict, factor, limit, Measure.SHARE)


def test_without_a_pull_nothing_is_said() -> None:
    assert pull.check(case(support("A"))) == []


@pytest.mark.parametrize(
    ("towards", "told"),
    [
        ((1.0, 0.0, 0.0), "towards the front,"),
        ((-0.6, -0.6, 0.529), "towards the back right and up,"),
        ((0.0, 0.9, -0.436), "towards the left and down,"),
        ((0.0, 0.0, 1.0), "straight up,"),
        ((0.1, 0.0, -0.995), "straight down,"),
    ],
)
def test_its_way_is_told_as_one_sees_it(towards: Place, told: str) -> None:
    assert told in words(about(pull.check(pulled(1.2, towards)), "unit").says)


def test_each_verdict_has_its_words() -> None:
    stop, caution, holds, endless = (
        words(about(pull.check(pulled(each)), "unit").says) for each in (0.9, 1.2, 2.0, None)
    )
    assert stop.startswith(
        "The pull on the unit, 400 N (400 N, told as mass) towards the front, is stood up to 0.9 1 of it"
    )
    assert "Do not pull like this. Do not touch the stands." in stop
    assert "1.5 1 is asked for." in caution
    early = words(about(pull.check(replace(pulled(0.9), before=None)), "unit").says)
    assert "set the stands further out" in early
    assert holds.endswith("then it tips, turning about A and B. Friction may let go sooner.")
    assert endless.endswith("moves nothing however hard it is.")


def test_a_torque_on_a_bar_is_a_force_at_its_end(tmp_path: Path) -> None:
    """300 N·m on a bar of 0.6 m is 500 N sideways: arithmetic of a wrench (OpenStax University Physics 1, 12.1).

    Upright axis, the bar reaching from the middle; the unit of 400 kg on friction 0.5 would slide at 1961 N and turn
    where it stands sooner: the factor is what friction stands as force and couple together.
    """
    turn = {"body": "unit", "at": [0, 0, 500], "torque": 300, "about": [0, 0, 1], "bar": 600}
    job = unit_job(PLACES, stage=[{"name": "torqued", "in_place": list(PLACES), "pull": turn}])
    (stage,) = judged(job, tmp_path).stages
    answer = stage.statics.pull
    assert answer is not None
    assert answer.force == pytest.approx(500)
    assert answer.factor is not None
    assert 1.5 < answer.factor < 0.5 * 400 * G / 500
    assert "500 N (51 kg)" in said(the(stage, "pull"))


def test_a_pull_straight_down_in_the_middle_moves_nothing(tmp_path: Path) -> None:
    down = {"body": "unit", "at": [0, 0, 500], "force": 400, "towards": [0, 0, -1]}
    job = unit_job(PLACES, stage=[{"name": "pressed", "in_place": list(PLACES), "pull": down}])
    told = the(judged(job, tmp_path).stages[0], "pull")
    assert (told.verdict, told.value) == (Verdict.HOLDS, None)


def test_a_level_pull_slides_at_friction_times_weight(tmp_path: Path) -> None:
    """At the height of the saddles nothing tips: 0.5 · 400 kg · g over 1000 N."""
    level = {"body": "unit", "at": [0, 0, 200], "force": 1000, "towards": [0, -1, 0]}
    job = unit_job(PLACES, stage=[{"name": "pulled", "in_place": list(PLACES), "pull": level}])
    told = the(judged(job, tmp_path).stages[0], "pull")
    assert told.value == pytest.approx(0.5 * 400 * G / 1000, rel=1e-6)  # square to a face of the cone
    assert "towards the right" in said(told)
    assert "it slides on" in said(told)


@pytest.mark.parametrize(
    ("factor", "oiled", "less"),
    # With half as much again to spare, rounded down to a twentieth: 1.25 / 1.5 is 0.83, 1.4 / 1.5 is 0.93.
    [(1.25, 1.25, 0.8), (1.4, 1.4, 0.9), (1.4, 1.25, 0.8), (0.5, 0.5, 0.3), (0.07, 0.07, None), (1.6, 1.6, None)],
)
def test_how_much_of_it_may_be_pulled_leaves_room(factor: float, oiled: float, less: float | None) -> None:
    judged = pulled(factor)
    assert judged.statics.pull is not None
    answer = replace(judged.statics.pull, oiled=oiled)
    told = about(pull.check(replace(judged, statics=replace(judged.statics, pull=answer))), "unit")
    assert told.cures == (() if less is None else (LessPull(pytest.approx(less)),))


def held_by_bolts(first: str, factor: float = 0.9) -> Case:
    """The unit still bolted to a shell on the lift."""
    answer = PullAnswer("unit", factor, 400.0, (1.0, 0.0, 0.0), first, ("A", "B"), factor)
    hung = lifted(support("A"), support("B"))
    return replace(hung, statics=replace(hung.statics, pull=answer))


@pytest.mark.parametrize(
    ("first", "act"),
    [
        ("slides", "put rubber or timber on the saddles"),
        ("stand", "set the stands lower, or use some with a wider base"),
        ("tips", "set the stands further out"),
    ],
)
def test_what_steadies_it_goes_with_what_happens_first_and_comes_before_unbolting(first: str, act: str) -> None:
    told = about(pull.check(held_by_bolts(first)), "unit")
    assert words(told.says).endswith(f"Before unbolting: {act}. Break tight bolts loose before lifting.")
    assert (told.cure is not None) == (first == "tips")


def test_where_all_is_stood_nothing_is_to_be_changed() -> None:
    told = about(pull.check(held_by_bolts("tips", 1.6)), "unit")
    assert (told.cures, told.cure) == ((), None)


def test_with_parts_still_on_no_stand_is_moved_for_it() -> None:
    judged = held_by_bolts("tips")
    assert judged.statics.pull is not None
    answer = replace(judged.statics.pull, still_on=("head",))
    told = about(pull.check(replace(judged, statics=replace(judged.statics, pull=answer))), "unit")
    assert told.cure is None


def oiled(factor: float | None, left: float | None, *, hung: bool = False) -> Finding:
    """What is found where that much is stood, and that much with oil on the saddles."""
    judged = held_by_bolts("tips") if hung else pulled(factor)
    assert judged.statics.pull is not None
    answer = replace(judged.statics.pull, factor=factor, oiled=left)
    if factor is None:
        answer = replace(answer, first="holds", about=())
    return about(pull.check(replace(judged, statics=replace(judged.statics, pull=answer))), "unit")


PULL = "The pull on the unit, 400 N (400 N, told as mass) towards the front, "
TIPS = "is stood up to {} 1 of it: then it tips, turning about A and B"
OIL = ". Nobody says the friction of its saddles: with oil on them it would stand 1.2 1 of it, less than 1.5 1."
FREE = " Do not touch the stands. Take the weight back first."
LAST = " Break tight bolts loose before lifting."


@pytest.mark.parametrize(
    ("factor", "left", "verdict", "says"),
    [
        (
            0.9,
            0.9,
            Verdict.STOP,
            f"{TIPS.format(0.9)}, and friction may let go sooner. Do not pull like this.{FREE}{LAST}",
        ),
        (
            *(1.2, 1.2, Verdict.CAUTION),
            f"{TIPS.format(1.2)}, and friction may let go sooner: 1.5 1 is asked for.{FREE}{LAST}",
        ),
        (2.0, 1.2, Verdict.CAUTION, f"{TIPS.format(2)}{OIL}{FREE}{LAST}"),
        (2.0, 1.5, Verdict.HOLDS, f"{TIPS.format(2)}. Friction may let go sooner."),
        (2.0, None, Verdict.HOLDS, f"{TIPS.format(2)}. Friction may let go sooner."),
        (None, None, Verdict.HOLDS, "moves nothing however hard it is."),
        (None, 1.5, Verdict.HOLDS, "moves nothing however hard it is."),
        (None, 1.2, Verdict.CAUTION, f"moves nothing however hard it is{OIL}{FREE}{LAST}"),
    ],
)
def test_what_a_pull_does_is_told_with_what_oil_would_leave(
    factor: float | None, left: float | None, verdict: Verdict, says: str
) -> None:
    told = oiled(factor, left)
    assert told.verdict is verdict
    assert words(told.says) == f"{PULL}{says}"


def test_a_pull_that_friction_alone_stands_is_told_what_keeps_it_from_sliding() -> None:
    told = oiled(None, 1.2, hung=True)
    assert words(told.says).endswith(
        f"{OIL} Before unbolting: put rubber or timber on the saddles. Break tight bolts loose before lifting."
    )
    assert told.cure is None


def test_a_pull_pressed_down_between_dry_and_oiled_friction_is_a_caution_for_the_oil(tmp_path: Path) -> None:
    """It slants by 0.12: steel that nobody says anything of holds it, and oiled steel (0.05) does not."""
    down = {"body": "unit", "at": [0, 0, 300], "force": 5000, "towards": [0.12, 0, -1]}
    steel = {key: value for key, value in STAND.items() if key != "friction"}
    stage = {"name": "pressed", "in_place": list(PLACES), "pull": down}
    told = the(judged(unit_job(PLACES, equipment=[steel], stage=[stage]), tmp_path).stages[0], "pull")
    assert (told.verdict, told.value) == (Verdict.CAUTION, None)
    assert "moves nothing however hard it is. Nobody says the friction of its saddles: with oil on them" in said(told)


@pytest.mark.parametrize(
    ("up", "told"),
    [
        (0.92, "straight up, "),
        (0.9199, "towards the front and up, "),
        (0.38, "towards the front and up, "),
        (0.3799, "towards the front, "),
        (-0.38, "towards the front and down, "),
        (-0.92, "straight down, "),
    ],
)
def test_from_which_slant_a_pull_goes_up_or_down(up: float, told: str) -> None:
    says = words(about(pull.check(pulled(1.2, (1.0, 0.0, up))), "unit").says)
    assert f"(400 N, told as mass) {told}is stood" in says


@pytest.mark.parametrize(("up", "told"), [(0.9199, True), (0.92, False), (-0.92, False)])
def test_for_a_pull_straight_up_or_down_no_stand_is_moved(up: float, told: bool) -> None:  # noqa: FBT001
    judged = held_by_bolts("tips")
    assert judged.statics.pull is not None
    answer = replace(judged.statics.pull, towards=(1.0, 0.0, up))
    found = about(pull.check(replace(judged, statics=replace(judged.statics, pull=answer))), "unit")
    assert (found.cure is not None) is told

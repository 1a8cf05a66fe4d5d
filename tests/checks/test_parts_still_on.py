"""Parts that come off in any order: what arms and stands carry on the way, with some of the parts still on.

A beam on two supports, by hand: 800 kg in the middle of four pads 2 m apart; 100 kg at each of the ends 1 m outside.
With all on an arm carries 300 kg, with all off 200, with one end off (500 + 200) / 2 = 350. Made-up jobs.
"""

from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.checks.case import Case, Told
from loadplan.checks.parts_still_on import left_out_on_the_way, worst_with_parts_on
from loadplan.checks.phrases import names
from loadplan.limits import GRAVITY
from loadplan.model.answer import Between
from loadplan.model.job import State
from loadplan.model.verdict import (
    CheckName,
    Finding,
    FoundCure,
    Measure,
    NotChecked,
    SolvedCure,
    StageAssessment,
    Verdict,
)
from tests.checks.builders import case, findings, support, words
from tests.checks.small_jobs import STAND, Raw, found, judged, part, said, the

PADS: dict[str, list[float]] = {
    "FL": [1000, 500, 200],
    "FR": [1000, -500, 200],
    "RL": [-1000, 500, 200],
    "RR": [-1000, -500, 200],
}
EXACT = {"uneven": 0, "uneven_touch": 0, "floor_slope": 0}
TWO = [part("front", "shell", 200, [2000, 0, 600]), part("rear", "shell", 200, [-2000, 0, 600])]
FOUR = [
    part(f"{end} {side}", "shell", 100, [x, y, 600])
    for end, x in (("front", 2000), ("rear", -2000))
    for side, y in (("left", 400), ("right", -400))
]


def on_the_lift(parts: list[Raw], arm_rating: float, **of_step: object) -> Raw:
    """The shell on the lift, then its ends off in any order."""
    lift = {"name": "bay", "rating": 9000, "arms": 4, "arm_rating": arm_rating}
    step = {"name": "ends off", "off": [each["name"] for each in parts], "any_order": True}
    return {
        "body": [{"name": "shell"}],
        "part": [part("rest", "shell", 800, [0, 0, 600]), *parts],
        "point": [{"name": name, "body": "shell", "at": at} for name, at in PADS.items()],
        "shop": {"lift": [lift], "equipment": [STAND]},
        "lift": {"use": "bay", "body": "shell", "pads": list(PADS), "columns": 0},
        "limits": EXACT,
        "stage": [{"name": "lifted"}, step | of_step],
    }


def on_stands(rating: float) -> Raw:
    """The same on stands under the places of the pads."""
    job = on_the_lift(TWO, 9000)
    del job["lift"]
    job["shop"] = {"equipment": [STAND | {"rating": rating}]}
    job["support"] = [{"name": name, "use": STAND["name"], "under": name} for name in PADS]
    job["stage"][0] |= {"in_place": list(PADS)}
    return job


def last(raw: Raw, folder: Path) -> StageAssessment:
    return judged(raw, folder).stages[-1]


@pytest.mark.parametrize("parts", [TWO, FOUR], ids=["every set", "sets that load one arm most"])
def test_an_arm_that_is_overloaded_only_on_the_way_is_a_stop(parts: list[Raw], tmp_path: Path) -> None:
    told = the(last(on_the_lift(parts, 340), tmp_path), "lift", "FL")
    assert told.verdict is Verdict.STOP
    assert told.value == pytest.approx(350 * GRAVITY, rel=1e-3)
    front = " and ".join(each["name"] for each in parts if each["name"].startswith("front"))
    assert said(told).startswith(f"With {front} still on, of what comes off in any order: The arm at FL carries 350 kg")


def test_the_same_ends_off_one_after_the_other_say_so_in_their_own_step(tmp_path: Path) -> None:
    raw = on_the_lift(TWO, 340)
    raw["stage"][1:] = [{"name": "rear off", "off": ["rear"]}, {"name": "front off", "off": ["front"]}]
    middle, end = judged(raw, tmp_path).stages[1:]
    assert the(middle, "lift", "FL").verdict is Verdict.STOP
    assert the(end, "lift", "FL").verdict is Verdict.HOLDS


def test_a_stand_that_is_overloaded_only_on_the_way_is_a_stop(tmp_path: Path) -> None:
    told = [the(last(on_stands(340), tmp_path), "rating", name) for name in PADS]
    assert {each.verdict for each in told} == {Verdict.STOP}
    assert {said(each).split(",")[0] for each in told} == {"With front still on", "With rear still on"}


def test_what_its_parts_come_off_in_an_order_is_judged_in_that(tmp_path: Path) -> None:
    """The front comes off only after the rear: never the front alone, so that no rear arm is overloaded."""
    parts = [TWO[0] | {"after": ["rear"]}, TWO[1]]
    stage = last(on_the_lift(parts, 340), tmp_path)
    assert the(stage, "lift", "FL").verdict is Verdict.STOP
    assert the(stage, "lift", "RL").verdict is Verdict.HOLDS


def test_a_heavy_end_on_the_way_is_told_once(tmp_path: Path) -> None:
    """One end off moves the centre by 400 / 1000 m."""
    stage = last(on_the_lift(TWO, 290), tmp_path)
    assert len(found(stage, "lift", "heavy end")) == 1
    told = the(stage, "lift", "heavy end")
    assert told.verdict is Verdict.CAUTION
    assert told.value == pytest.approx(0.4, rel=1e-6)


def test_only_parts_in_any_order_have_a_middle_and_all_on_is_the_step_before(tmp_path: Path) -> None:
    assert not last(on_the_lift(TWO, 340, any_order=False), tmp_path).statics.between
    assert not last(on_the_lift(TWO[:1], 340), tmp_path).statics.between
    assert len(last(on_the_lift(TWO, 340), tmp_path).statics.between) == 2


@pytest.mark.parametrize(("parts", "says"), [(TWO, ""), (FOUR, "of up to 14 sets")], ids=["two", "four"])
def test_of_more_than_three_parts_it_says_how_many_sets_were_looked_at(
    parts: list[Raw], says: str, tmp_path: Path
) -> None:
    """Of four: each alone, both in front and both behind; not one and two, nor one in front with one behind."""
    told = judged(on_the_lift(parts, 340), tmp_path).not_checked
    about = [each for each in told if "looked at for loads" in str(each)]
    assert len(about) == (1 if says else 0)
    for each in about:
        assert says in str(each)
        assert "6 were looked at" in str(each)


# ---- a check that is made up, over two states on the way --------------------------------------------------


def told_of(subject: str, verdict: Verdict, value: float = 1.0) -> Finding:
    return Finding(
        *(CheckName.RATING, verdict, subject, value, 1.0, Measure.SHARE, ("so.",)),
        cure=SolvedCure(FoundCure),
    )


def test_of_the_states_on_the_way_the_worst_is_told_where_it_is_worse_than_the_end() -> None:
    end = [
        told_of("worse on the way", Verdict.HOLDS),
        told_of("bad at the end", Verdict.STOP, 1.5),
        NotChecked(("not looked at",)),
        told_of("noted on the way", Verdict.HOLDS),
    ]
    first = [
        told_of("worse on the way", Verdict.CAUTION, 0.9),
        told_of("bad at the end", Verdict.STOP, 9.0),
        NotChecked(("on the way neither",)),
        told_of("noted on the way", Verdict.NOTE),
        told_of("only on the way", Verdict.CAUTION, 2.0),
    ]
    second = [told_of("worse on the way", Verdict.STOP, 1.1), told_of("only on the way", Verdict.CAUTION, 1.5)]
    judged_ = case(support("A"))
    state = replace(judged_.state, may_be_on=("head", "tail"))
    here = [replace(state, on=frozenset({"head"})), replace(state, on=frozenset({"head", "tail"}))]
    # Numbers tell the two apart, as what was computed of each would.
    statics = [replace(judged_.statics, floor=float(number)) for number in (1, 2)]
    between = tuple(Between(*each) for each in zip(here, statics, strict=True))
    judged_ = replace(judged_, state=state, statics=replace(judged_.statics, between=between))
    looked: list[tuple[State, float | None]] = []

    def look(there: Case) -> list[Told]:
        looked.append((there.state, there.statics.floor))
        return [*(first if there.statics.floor == 1.0 else second)]

    found_ = worst_with_parts_on(judged_, between, look, [*end], hangs_on_order=False)
    assert looked == [(here[0], 1.0), (here[1], 2.0)]
    assert found_[:3] == end[1:]
    assert [(each.subject, each.verdict, each.value, words(each.says), each.cure) for each in findings(found_[3:])] == [
        (
            *("worse on the way", Verdict.STOP, 1.1),
            *("With head and tail still on, of what comes off in any order: so.", None),
        ),
        ("only on the way", Verdict.CAUTION, 2.0, "With head still on, of what comes off in any order: so.", None),
    ]


def test_what_would_take_too_long_on_the_way_is_told_as_not_checked() -> None:
    judged_ = case(support("A"))
    statics = replace(judged_.statics, too_many_on_the_way=True)
    (told,) = left_out_on_the_way(replace(judged_, statics=statics))
    assert words(told.says) == (
        f"{judged_.state.name}: it is not judged after each of the parts that come off or go on one after the other, "
        "as there are too many ways to go over. Write a step for each part."
    )
    assert left_out_on_the_way(judged_) == []


MANY = tuple(f"part {number}" for number in range(1, 41))


@pytest.mark.parametrize(
    ("on", "says"),
    [
        (MANY[:2], "With part 1 and part 2 still on, of what comes off in any order: "),
        (MANY[:20], "With part 1, part 2, part 3 and 17 more still on, of what comes off in any order: "),
        (MANY[:39], "With all but part 40 still on, of what comes off in any order: "),
    ],
)
def test_of_many_parts_in_any_order_the_few_are_named(on: tuple[str, ...], says: str) -> None:
    """Of forty names nobody reads the last: what is told is told in as few words as say which parts they are."""
    made = case(support("A"))
    end = replace(made.state, on=frozenset(), may_be_on=MANY, stage=replace(made.state.stage, off=MANY))
    there = replace(end, on=frozenset(on))
    assert beginning(replace(made, state=end), there) == says


@pytest.mark.parametrize(
    ("on", "says"),
    [
        (MANY[34:], f"With {names(MANY[34:])} still on, and part 1, part 2, part 3 and 31 more off: "),
        (MANY[1:], "With part 2, part 3, part 4 and 36 more still on, and part 1 off: "),
    ],
)
def test_of_many_parts_as_listed_the_next_ones_are_named(on: tuple[str, ...], says: str) -> None:
    made = case(support("A"))
    end = replace(made.state, on=frozenset(), stage=replace(made.state.stage, off=MANY))
    assert beginning(replace(made, state=end), replace(end, on=frozenset(on))) == says


def beginning(end: Case, there: State) -> str:
    """Return how a stop that is found on the way begins."""

    def look(looked: Case) -> list[Told]:
        if looked.state.on != there.on:
            return []
        return [Finding(CheckName.RATING, Verdict.STOP, "A", 2.0, 1.0, Measure.SHARE, ("so",))]

    (found,) = worst_with_parts_on(end, (Between(there, end.statics),), look, [], hangs_on_order=False)
    assert isinstance(found, Finding)
    return str(found.says[0])

"""Parts that come off, or go on, one after the other as listed: each state on the way has to hold, not only the end.

By hand, a beam on two lines of stands at y = ±250 mm: 400 kg in the middle, 300 kg at each of y = ±1000 mm. With both
ends on, or both off, its centre is in the middle; with one off it is at 300·1000/700 = 429 mm, outside. Made-up jobs.
"""

from pathlib import Path

import pytest

from loadplan.model.verdict import StageAssessment, Verdict
from loadplan.report.sheet.sheet_band import worst_case
from loadplan.report.words.nearest_to_tipping import nearest_in_job
from loadplan.report.words.vocabulary import Reader
from loadplan.units import System
from tests.checks.small_jobs import TAIL, Raw, found, heavy_tail, judged, part, said, stands, the, unit_job

PLACES: dict[str, list[float]] = {
    "A": [400, 250, 200],
    "B": [400, -250, 200],
    "C": [-400, 250, 200],
    "D": [-400, -250, 200],
}
MIDDLE = part("middle", "unit", 400, [0, 0, 300])
LEFT, RIGHT = part("left", "unit", 300, [0, 1000, 300]), part("right", "unit", 300, [0, -1000, 300])
NEAR = [part("near left", "unit", 300, [0, 240, 300]), part("near right", "unit", 300, [0, -240, 300])]


def beam(ends: list[Raw], *steps: Raw) -> Raw:
    """The beam on its four stands, and steps after that."""
    first = {"name": "on stands", "in_place": list(PLACES)}
    return unit_job(PLACES, part=[MIDDLE, *ends], stage=[first, *steps])


def steps(raw: Raw, folder: Path) -> tuple[StageAssessment, ...]:
    return judged(raw, folder).stages


OFF = {"name": "ends off", "off": ["left", "right"]}


def test_what_goes_over_with_one_of_two_ends_off_is_a_stop_though_the_step_ends_well(tmp_path: Path) -> None:
    balance = the(steps(beam([LEFT, RIGHT], OFF), tmp_path)[1], "balance")
    assert balance.verdict is Verdict.STOP
    assert said(balance).startswith("With right still on, and left off: The unit tips to the right")
    assert "Another order" not in said(balance), "left off it goes to the right, right off to the left"


HALVES = [part(f"right {number}", "unit", 150, [0, -1000, 300]) for number in (1, 2)]


@pytest.mark.parametrize(
    ("listed", "after", "helps"),
    [
        (["left", "right 1", "right 2"], [], True),
        (["left", "right 1", "right 2"], ["left"], False),
        (["right 1", "right 2", "left"], [], False),
    ],
    ids=["the heavy one first", "nothing else may come off first", "of the last two either one tips it"],
)
def test_another_order_is_spoken_of_only_where_one_would_be_better(
    listed: list[str], after: list[str], *, helps: bool, tmp_path: Path
) -> None:
    """By hand: half of the right end off takes the centre to 150·1000/850 = 176 mm, inside; the left one to 429 mm.

    With the left one alone still on it is at 300·1000/700 = 429 mm, with half of the right alone at 150·1000/550 = 273.
    """
    halves = [each | {"after": after} for each in HALVES]
    balance = the(steps(beam([LEFT, *halves], {"name": "off", "off": listed}), tmp_path)[1], "balance")
    assert balance.verdict is Verdict.STOP
    assert said(balance).endswith("Another order of the parts may hold: loadplan order looks for one.") is helps


def test_with_all_parts_still_on_no_order_is_another(tmp_path: Path) -> None:
    """The stand that goes first lets the unit down before any part is off, whichever comes off then."""
    state = steps(beam([LEFT, *HALVES], {"name": "off", "off": ["left", "right 1", "right 2"], "bar": True}), tmp_path)
    assert [each.other_order for each in state[1].statics.on_the_way] == [False, True, False]


def test_the_same_parts_in_the_other_order_go_over_to_the_other_side(tmp_path: Path) -> None:
    balance = the(steps(beam([LEFT, RIGHT], {"name": "off", "off": ["right", "left"]}), tmp_path)[1], "balance")
    assert said(balance).startswith("With left still on, and right off: The unit tips to the left")


def test_what_goes_over_with_one_of_two_ends_back_on_is_a_stop(tmp_path: Path) -> None:
    one_by_one = [{"name": f"{name} off", "off": [name]} for name in ("left", "right")]
    back = steps(beam([LEFT, RIGHT], *one_by_one, {"name": "back", "on": ["left", "right"]}), tmp_path)[-1]
    assert said(the(back, "balance")).startswith("With left on, and right not yet: The unit tips to the left")
    assert the(back, "balance").verdict is Verdict.STOP


@pytest.mark.parametrize("ends", [[LEFT, RIGHT], NEAR], ids=["goes over", "stands"])
def test_a_step_that_lists_its_parts_is_as_bad_as_the_worst_of_a_step_for_each(ends: list[Raw], tmp_path: Path) -> None:
    listed = [each["name"] for each in ends]
    together = steps(beam(ends, {"name": "off", "off": listed}), tmp_path)[1]
    apart = steps(beam(ends, *({"name": f"{name} off", "off": [name]} for name in listed)), tmp_path)[1:]
    for check in ("balance", "margin", "rating", "push", "laid on", "level", "sway", "grip"):
        worst = max((each.verdict for stage in apart for each in found(stage, check)), default=Verdict.HOLDS)
        assert max((each.verdict for each in found(together, check)), default=Verdict.HOLDS) == worst, check


def test_any_order_says_with_what_on_it_goes_over_as_given(tmp_path: Path) -> None:
    balance = the(steps(beam([LEFT, RIGHT], OFF | {"any_order": True}), tmp_path)[1], "balance")
    assert balance.verdict is Verdict.STOP
    assert "still on, of what comes off in any order: The unit tips to the " in said(balance)
    assert "Another order" not in said(balance)


def test_a_stand_that_the_step_takes_away_stands_until_the_parts_are_off(tmp_path: Path) -> None:
    """With the end on, the stand under it is needed; with it off, it is not: the plan is a good one."""
    places = PLACES | {"F": [0, 1000, 200]}
    first = {"name": "on stands", "in_place": list(places)}
    taken = {"name": "end off, and its stand", "off": ["left", "cover"], "cleared": ["F"]}
    cover = part("cover", "unit", 1, [0, 0, 300])
    raw = unit_job(places, part=[MIDDLE, LEFT, cover], stage=[first, taken])
    raw["support"] = stands(places, "unit", 300)
    last = steps(raw, tmp_path)[1]
    assert the(last, "balance").verdict is Verdict.HOLDS
    on_the_way = last.statics.on_the_way
    assert [sorted(each.state.on) for each in on_the_way] == [["cover", "middle"]]
    assert [each.name for each in on_the_way[0].state.supports] == list(places)
    assert [each.verdict for each in found(last, "idle support") if each.verdict > Verdict.NOTE] == []


def test_a_hard_pull_is_judged_with_the_part_still_on_that_it_breaks_loose(tmp_path: Path) -> None:
    """By hand: at the tall end, 1 m up, the bar's 500 N tip 400 + 300 kg whose centre is 40 mm inside the stands."""
    tall = part("left", "unit", 300, [0, 490, 1200])
    loosened = {"name": "end off", "off": ["left"]}
    calm = steps(beam([tall], loosened), tmp_path)[1]
    hard = steps(beam([tall], loosened | {"bar": True}), tmp_path)[1]
    assert calm.statics.on_the_way == ()
    assert [sorted(each.state.on) for each in hard.statics.on_the_way] == [["left", "middle"]]
    assert the(hard, "push").verdict is Verdict.STOP
    assert said(the(hard, "push")).startswith("With left still on: The unit stands a sideways push of at most ")


def test_a_known_pull_is_judged_with_the_part_still_on(tmp_path: Path) -> None:
    tall = part("left", "unit", 300, [0, 490, 1200])
    pull = {"body": "unit", "at": [0, 490, 1200], "force": 400, "towards": [0, 1, 0]}
    judged_with = the(steps(beam([tall], {"name": "off", "off": ["left"], "pull": pull}), tmp_path)[1], "pull")
    without = the(steps(beam([], {"name": "pulled", "pull": pull}), tmp_path)[1], "pull")
    assert judged_with.verdict > without.verdict
    assert said(judged_with).startswith("With left still on: ")


TOP = [part("case", "gearbox", 60, [0, 800, 300]), part("gears", "gearbox", 40, [0, 900, 300])]
BOLTS = {"name": "bolts", "kind": "bolted", "between": ["unit", "gearbox"], "at": [[0, 500, 300]]}


def with_gearbox(*more: Raw) -> Raw:
    """The beam with a second body bolted on that hangs over its left side."""
    raw = beam([], *more)
    return raw | {"body": [{"name": "unit"}, {"name": "gearbox"}], "part": [MIDDLE, *TOP], "joint": [BOLTS]}


def test_what_comes_off_and_back_on_as_a_whole_is_tied_until_its_last_part_is_off_and_once_all_of_it_is_on(
    tmp_path: Path,
) -> None:
    off = {"name": "off", "off": ["gears", "case"], "undone": ["bolts"]}
    back = {"name": "back", "on": ["case", "gears"], "done_up": ["bolts"]}
    _, away, again = steps(with_gearbox(off, back), tmp_path)
    for stage in (away, again):
        assert {each.verdict for each in found(stage, "balance")} == {Verdict.HOLDS}
        for each in stage.statics.on_the_way:
            tied = {name for joint in each.state.done_up for name in joint.between}
            assert "gearbox" not in each.state.bodies or "gearbox" in tied
    parts = [sorted(each.state.on) for each in away.statics.on_the_way]
    assert parts == [["case", "gears", "middle"], ["case", "middle"]]
    assert [sorted(each.state.on) for each in again.statics.on_the_way] == [["middle"], ["case", "gears", "middle"]]


def test_a_joint_that_the_step_tightens_is_loose_until_its_parts_are_on(tmp_path: Path) -> None:
    """The bracket goes on, then its bolts: until these are tight only two stands hold the second body."""
    stands_under = {"E": [300, 1000, 200], "F": [-300, 1000, 200]}
    raw = with_gearbox({"name": "bolts out, cover off", "undone": ["bolts"], "off": ["cover"]})
    raw["part"] = [MIDDLE, part("case", "gearbox", 60, [0, 1000, 300]), part("cover", "gearbox", 5, [0, 1000, 300])]
    raw["support"] = [*stands(PLACES, "unit"), *stands(stands_under, "gearbox")]
    raw["stage"][0]["in_place"] = [*PLACES, *stands_under]
    raw["stage"].append({"name": "back", "on": ["cover"], "done_up": ["bolts"]})
    back = steps(raw, tmp_path)[2]
    # The state with nothing on yet is the one that the step before ended with.
    assert [(sorted(each.state.on), each.state.done_up) for each in back.statics.on_the_way] == [
        (["case", "cover", "middle"], ())
    ]
    told = [said(each) for each in found(back, "balance") if each.verdict is Verdict.STOP]
    assert [each.partition(":")[0] for each in told] == ["Before tightening bolts"]


def test_a_step_that_is_rolled_is_not_judged_on_the_way(tmp_path: Path) -> None:
    assert steps(beam([LEFT, RIGHT], OFF | {"moved": True}), tmp_path)[1].statics.on_the_way == ()


@pytest.mark.parametrize(
    "step",
    [{"off": ["left"]}, {"off": ["left", "right"], "any_order": True}, {"bar": True}, {"unattended": True}],
    ids=["one part", "any order", "no part, bar", "no part"],
)
def test_where_nothing_is_between_two_steps_there_are_no_states_on_the_way(step: Raw, tmp_path: Path) -> None:
    assert steps(beam([LEFT, RIGHT], {"name": "step"} | step), tmp_path)[1].statics.on_the_way == ()


def test_the_sheet_says_that_its_number_is_of_half_way_and_its_drawing_of_the_end(tmp_path: Path) -> None:
    assessment = judged(beam([LEFT, RIGHT], OFF), tmp_path)
    near = nearest_in_job(assessment)
    assert near is not None
    (large, _), (small, _) = worst_case(near, assessment.job, Reader(System.METRIC, frozenset()))
    assert large == "Step 2: the unit (half way) goes over"
    assert small == "Half way: while parts of the step come off or go on. Drawing and loads are those of its end."
    standing = judged(beam(NEAR, {"name": "off", "off": ["near left", "near right"]}), tmp_path)
    nearest = nearest_in_job(standing)
    assert nearest is not None
    assert nearest.on_the_way
    assert [text for text, _ in worst_case(nearest, standing.job, Reader(System.METRIC, frozenset()))][2:] == [small]


def test_what_stood_under_the_vehicle_on_the_lift_is_away_before_a_part_comes_off(tmp_path: Path) -> None:
    """The lift moves on, so a prop under the tail is no help while the parts come off."""
    raw = heavy_tail(-1400.0, TAIL)
    raw["part"].append(part("cover", "shell", 5, [900, 0, 600]))
    raw["support"] = [{"name": "prop", "use": "stand", "under": "tail", "height": 250}]
    raw["stage"] = [
        {"name": "up", "in_place": ["prop"], "lift_locked": True},
        {"name": "engine out", "off": ["engine", "cover"], "cleared": ["prop"]},
    ]
    on_the_way = steps(raw, tmp_path)[1].statics.on_the_way
    assert [sorted(each.state.on) for each in on_the_way] == [["cover", "engine", "shell"], ["cover", "shell"]]
    assert all("prop" not in {each.name for each in between.state.supports} for between in on_the_way)
    raw["part"][1] = part("engine", "shell", 400, [-4000, 0, 600])
    (tips,) = found(steps(raw, tmp_path)[1], "balance")
    assert said(tips).startswith("With engine and cover still on, and prop away: The shell tips to the back")


@pytest.mark.parametrize("any_order", [True, False])
def test_a_body_that_comes_apart_in_any_order_is_judged_with_each_of_its_parts_on(
    any_order: bool,  # noqa: FBT001 - a row
    tmp_path: Path,
) -> None:
    """By hand: 100 kg in the middle and 100 kg at either end, 700 mm out, on stands 300 mm out; one end: 350 mm."""
    places: dict[str, list[float]] = {"A": [300, 300, 200], "B": [300, -300, 200], "C": [-300, 0, 200]}
    ends = [part(name, "rack", 100, [x, 0, 300]) for name, x in (("front", 700), ("rear", -700))]
    off = {"name": "rack off", "off": ["front", "rear"], "undone": ["bolts"], "any_order": any_order}
    raw = unit_job(places, part=[part("core", "unit", 100, [0, 0, 300]), *ends])
    raw |= {"body": [{"name": "unit"}, {"name": "rack"}], "joint": [BOLTS | {"between": ["unit", "rack"]}]}
    raw["stage"] = [{"name": "on stands", "in_place": list(places)}, off]
    last = steps(raw, tmp_path)[1]
    told = [said(each) for each in found(last, "balance") if each.verdict is Verdict.STOP]
    assert len(told) == 1
    assert " still on" in told[0]
    on = [sorted(each.state.on & {"front", "rear"}) for each in last.statics.on_the_way]
    assert on == [["front", "rear"], *([["rear"], ["front"]] if any_order else [["rear"]])]

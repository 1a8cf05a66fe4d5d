"""Set-down: the window by hand, each verdict on its limit, and what is said of less and of more."""

from dataclasses import replace
from pathlib import Path

import pytest

from loadplan import read_job
from loadplan.assess import assess
from loadplan.checks import set_down
from loadplan.checks.case import Case
from loadplan.files import shipped_folder
from loadplan.model.job import Stack, Stage
from loadplan.model.lowering import Lowering, SetDownAnswer
from loadplan.model.verdict import Finding, Verdict
from tests.checks.builders import about, case, lifted, not_checked, support, words
from tests.checks.small_jobs import STAND, G, found, judged, lifted_job, said, stands, the

# By hand: 1200 kg on four arms of 400 N/mm, 400 kg of it the unit, over four stands of 2500 N/mm, all of it centred.
# Lowered by L, the vehicle sinks by L·ka/(ka + ks): the stands carry 4·ks·ka/(ka + ks)·L.
ARM, STIFF = 400e3, 2500e3
GAIN = 4 * STIFF * ARM / (STIFF + ARM)  # N of stands' load a metre lowered
START, END = 0.9 * 400 * G / GAIN, 0.8 * 1200 * G / GAIN

LEVELS = (0.0, 0.002, 0.006, 0.010, 0.012)
ARMS_LOSE = {"pad 1": (1000.0, 900.0, 500.0, 200.0, 0.0), "pad 2": (1000.0, 950.0, 700.0, 400.0, 250.0)}


def coming_down(lowered: float, start: float | None = 0.004, end: float | None = 0.010, *, given: bool = True) -> Case:
    """A unit of 100 kg on one stand; pad 1 has a fifth of its load left at 10 mm."""
    loads = {"A": (0.0, 400.0, 950.0, 1300.0, 1500.0), **ARMS_LOSE, "pad 3": (0.0,) * 5, "pad 4": (500.0,) * 5}
    lowering = Lowering(LEVELS, tuple(loads), tuple(loads.values()))
    answer = SetDownAnswer(("unit",), 980.665, start, end, lowered, given=given, drop=0.003, lowering=lowering)
    hung = lifted(support("A"))
    return replace(hung, statics=replace(hung.statics, set_down=answer))


def told(judged: Case) -> Finding:
    return about(set_down.check(judged), "unit")


@pytest.mark.parametrize(
    ("lowered", "verdict", "limit"),
    [
        (0.002, Verdict.CAUTION, 0.004),
        (0.004, Verdict.HOLDS, 0.004),
        (0.006, Verdict.HOLDS, 0.004),
        (0.010, Verdict.HOLDS, 0.004),
        (0.01001, Verdict.STOP, 0.010),
        (0.012, Verdict.STOP, 0.010),
    ],
)
def test_inside_its_window_it_holds_before_it_is_a_caution_after_it_a_stop(
    lowered: float, verdict: Verdict, limit: float
) -> None:
    found = told(coming_down(lowered))
    assert (found.verdict, found.value, found.limit) == (verdict, lowered, limit)


def test_an_arm_below_a_fifth_stops_whatever_the_window_says() -> None:
    assert told(coming_down(0.012, end=None)).verdict is Verdict.STOP
    assert told(coming_down(0.010, end=None)).verdict is Verdict.HOLDS


def guessed(judged: Case) -> Case:
    use = judged.job.lift
    assert use is not None
    lift = replace(use.lift, stiffness_assumed=True)
    return replace(judged, job=replace(judged.job, lift=replace(use, lift=lift)))


def test_where_the_arms_stiffness_is_assumed_too_far_is_a_caution_unless_an_arm_is_empty() -> None:
    nearly = told(guessed(coming_down(0.010, end=0.009)))
    assert nearly.verdict is Verdict.CAUTION
    assert "How far an arm gives was assumed: measure it under load." in words(nearly.says)
    assert told(guessed(coming_down(0.012))).verdict is Verdict.STOP


def test_no_window_is_a_caution_and_a_stop_past_its_end() -> None:
    for lowered, verdict in ((0.002, Verdict.CAUTION), (0.006, Verdict.CAUTION), (0.0101, Verdict.STOP)):
        found = told(coming_down(lowered, start=0.011))
        assert found.verdict is verdict
        assert "Set it down in two goes, or bring the stands up." in words(found.says)
        assert words(found.says).startswith(
            "Lower 0.011 m past first touch for the stands to carry 0.9 1, but an arm of the lift is nearly empty from "
            "0.01 m on;"
        )
        assert found.cures == ()
    never = told(coming_down(0.006, start=None))
    assert never.verdict is Verdict.CAUTION
    assert words(never.says).startswith("Lower as far as it goes, and the stands do not carry 0.9 1;")


def test_how_far_left_out_is_a_note_and_never_hides_more() -> None:
    found = told(coming_down(0.006, given=False))
    assert found.verdict is Verdict.NOTE
    assert "0.006 m is taken, since the job does not say how far." in words(found.says)
    assert told(coming_down(0.0, start=0.011, given=False)).verdict is Verdict.CAUTION


def test_the_sentence_names_both_ends_and_what_less_and_more_do() -> None:
    assert words(told(coming_down(0.006)).says) == (
        "Lower at least 0.004 m past first touch, at most 0.01 m; 0.006 m is planned. "
        "Less, and the unit drops when unbolted; more, and the vehicle comes off its pads, first at pad 1."
    )
    assert words(told(coming_down(0.002)).says).endswith(
        "That is too little: the stands carry less than 0.9 1 of the unit, and it drops by 0.003 m when unbolted. "
        "Lower further before unbolting."
    )
    assert words(told(coming_down(0.012)).says).endswith(
        "That is too far: the vehicle comes off its pads, first at pad 1. Stop lowering before that."
    )


def test_both_ends_are_rounded_into_the_window() -> None:
    assert "at least 0.005 m past first touch, at most 0.009 m;" in words(told(coming_down(0.006, 0.0041, 0.0099)).says)
    assert "at least 0.004 m past first touch, at most 0.01 m;" in words(told(coming_down(0.006)).says)
    assert "at least 0.0041 m past first touch, at most 0.0049 m;" in words(
        told(coming_down(0.0045, 0.0041, 0.0049)).says
    )
    assert "at least 0.005 m past first touch;" in words(told(coming_down(0.006, 0.0041, None)).says)


def test_stands_brought_up_are_worded_so_until_the_lift_goes_down_again() -> None:
    up, down, later = Stage("up", raised=0.006), Stage("down", lowered=0.006), Stage("later")
    for stages, act in (((up, later), "Bring the stands up"), ((up, down, later), "Lower"), ((down, up), "Bring")):
        coming = coming_down(0.006)
        state = replace(coming.state, index=len(stages) - 1)
        found = told(replace(coming, state=state, job=replace(coming.job, stages=stages)))
        assert words(found.says).startswith(act)


def test_a_unit_that_does_not_stand_alone_is_said_so() -> None:
    coming = coming_down(0.002)
    assert coming.statics.set_down is not None
    rocking = replace(coming.statics.set_down, drop=None)
    found = told(replace(coming, statics=replace(coming.statics, set_down=rocking)))
    assert "and it does not stand on them alone." in words(found.says)


def test_what_no_later_step_parts_is_not_checked() -> None:
    (text,) = not_checked(set_down.check(lifted(support("A"))))
    assert text.startswith("step: how far the lift may and must go down is not checked")
    assert set_down.check(lifted()) == set_down.check(case(support("A"))) == []
    prop = replace(support("P"), body="shell")
    assert set_down.check(lifted(prop)) == set_down.check(lifted(support("A"), hung=False)) == []


# ---- whole jobs ----------------------------------------------------------------------------------


def at(folder: Path, lowered: float | None, **lift: object) -> Finding:
    job = lifted_job()
    job["lift"] |= lift
    job["stage"][0] |= {"lowered": lowered * 1000} if lowered is not None else {}
    if lowered is None:
        del job["stage"][0]["lowered"]
    return the(judged(job, folder).stages[0], "set-down", "unit")


@pytest.mark.parametrize(
    ("lowered", "verdict"),
    [
        (START - 1e-6, Verdict.CAUTION),
        (START + 1e-6, Verdict.HOLDS),
        (END - 1e-6, Verdict.HOLDS),
        (END + 1e-6, Verdict.STOP),
        (None, Verdict.NOTE),
    ],
)
def test_the_window_is_the_one_by_hand(tmp_path: Path, lowered: float | None, verdict: Verdict) -> None:
    found = at(tmp_path, lowered)
    assert found.verdict is verdict
    assert found.value == pytest.approx((START + END) / 2 if lowered is None else lowered, abs=1e-12)
    assert "Lower at least 3 mm past first touch, at most 6 mm" in said(found)


def test_with_arms_of_assumed_stiffness_past_the_end_is_a_caution_until_they_are_empty(tmp_path: Path) -> None:
    job = lifted_job()
    del job["lift"]["stiffness"]  # 400 N/mm is assumed
    for lowered, verdict in ((END * 1.1, Verdict.CAUTION), (END * 1.3, Verdict.STOP)):
        job["stage"][0]["lowered"] = lowered * 1000
        assert the(judged(job, tmp_path).stages[0], "set-down").verdict is verdict


def test_soft_stands_drop_by_what_they_still_give(tmp_path: Path) -> None:
    """At first touch: 400 kg over four stands of 100 N/mm, 9.8 mm; lowered by L less than that by L·ka/(ka + ks)."""
    job = lifted_job(equipment=[STAND | {"stiffness": 100}])
    for lowered in (0.0, 5.0):
        job["stage"][0]["lowered"] = lowered
        (stage, _) = judged(job, tmp_path).stages
        answer = stage.statics.set_down
        assert answer is not None
        assert answer.drop == pytest.approx(400 * G / 400e3 - lowered / 1000 * 400 / 500, abs=1e-12)
        found = the(stage, "set-down")
        assert found.verdict is Verdict.CAUTION
        assert f"it drops by {answer.drop * 1000:.0f} mm when unbolted" in said(found)


@pytest.mark.parametrize("lowered", [4.0, 16.0])
def test_the_drop_is_the_way_down_to_where_the_next_step_finds_the_unit(lowered: float) -> None:
    """The demo's front unit, on mounts and at set heights: solved again as the step in which it is parted."""
    job = read_job(shipped_folder("demo") / "front-unit.toml")
    first = replace(job.stages[0], lowered=lowered / 1000)
    high = tuple(
        replace(each, shim=Stack(0.015, "steel", crib=False)) if each.name == "F" else each for each in job.supports
    )
    bolted, free = assess(replace(job, supports=high, stages=(first, job.stages[1]))).stages
    before, after = ({each.name: each.motion for each in stage.statics.bodies} for stage in (bolted, free))
    places = [(each.body, each.at) for each in job.supports[:6]]
    places += [
        (body, at)
        for joint in job.vehicle.joints
        if joint.name in job.stages[1].undone
        for body in joint.between
        if body != "shell"
        for at in joint.at
    ]
    answer = bolted.statics.set_down
    assert answer is not None
    falls: dict[str, float] = {}
    for body, at in places:
        up, down = before[body], after[body]
        assert up is not None
        assert down is not None
        falls[body] = max(up.up_at(*at[:2]) - down.up_at(*at[:2]), falls.get(body, -1.0))
    assert answer.drop == pytest.approx(max(*falls.values(), 0.0), abs=1e-9)
    assert {each.name: each.drop for each in answer.parted} == pytest.approx(falls, abs=1e-9)


def test_what_stands_carry_and_joints_hold_is_the_weight_of_the_unit() -> None:
    """The demo's front unit: bolts under the subframe, mounts under the powertrain, one mount between the two."""
    answer = assess(read_job(shipped_folder("demo") / "front-unit.toml")).stages[0].statics.set_down
    assert answer is not None
    assert len(answer.parted) > 1
    assert sum(each.carried + (each.held or 0.0) for each in answer.parted) == pytest.approx(answer.weight)


@pytest.mark.parametrize("lowered", [0.0, 2.0, 6.0])
def test_of_each_body_it_is_told_what_its_stands_carry_and_its_bolts_hold(tmp_path: Path, lowered: float) -> None:
    """Four stands carry GAIN a metre lowered, the bolts the rest of 400 kg; parted, the stands give by that rest."""
    job = lifted_job()
    job["stage"][0]["lowered"] = lowered
    (stage, _) = judged(job, tmp_path).stages
    answer = stage.statics.set_down
    assert answer is not None
    (unit,) = answer.parted
    carried = GAIN * lowered / 1000
    assert (unit.name, unit.joints) == ("unit", ("bolts",))
    assert unit.carried == pytest.approx(carried, abs=1e-6)
    assert unit.held == pytest.approx(400 * G - carried, abs=1e-6)
    assert unit.drop == pytest.approx((400 * G - carried) / (4 * STIFF), abs=1e-12)
    assert f"Unit: its stands carry {carried / G:.0f} kg, bolts " in said(the(stage, "set-down"))


def test_two_stands_and_a_mount_share_a_unit_by_moments(tmp_path: Path) -> None:
    """400 kg, the centre 0.4 m behind two mounts over two stands, a third mount 1 m behind: 40 % hang from that one.

    However far the lift goes down, stands and mounts at the front carry 60 % together.
    """
    hangers = {"left": [-750, 300, 500], "right": [-750, -300, 500], "rear": [-1750, 0, 500]}
    job = lifted_job(
        joint=[{"name": name, "kind": "mount", "between": ["unit", "shell"], "at": at} for name, at in hangers.items()],
        support=stands({"A": [-750, 300, 200], "B": [-750, -300, 200], "C": [-1750, 0, 200]}, "unit"),
    )
    job["part"][1]["at"] = [-1150, 0, 450]
    weight = 400 * G
    for lowered in (0, 1, 2):
        job["stage"] = [
            {"name": "down", "in_place": ["A", "B"], "lowered": lowered, "lift_locked": True},
            {"name": "off", "in_place": ["C"], "undone": list(hangers)},
        ]
        statics = judged(job, tmp_path).stages[0].statics
        assert statics.set_down is not None
        (unit,) = statics.set_down.parted
        assert statics.joint_force("rear") == pytest.approx(0.4 * weight)
        front = [statics.joint_force(name) or 0.0 for name in ("left", "right")]
        assert unit.carried + sum(front) == pytest.approx(0.6 * weight)
        assert unit.held == pytest.approx(0.4 * weight + sum(front))
        assert (unit.carried > 1.0) is (lowered > 0)
        assert unit.drop is None


@pytest.mark.parametrize(
    ("step", "verdict"), [(END - START - 1e-6, Verdict.HOLDS), (END - START + 1e-6, Verdict.CAUTION)]
)
def test_locks_wider_apart_than_the_window_are_a_caution(tmp_path: Path, step: float, verdict: Verdict) -> None:
    job = lifted_job()
    job["lift"]["lock_step"] = step * 1000
    job["stage"][0]["lowered"] = 1000 * (START + END) / 2
    found = the(judged(job, tmp_path).stages[0], "set-down")
    assert found.verdict is verdict
    assert ("bring the stands up" in said(found)) is (verdict is Verdict.CAUTION)
    del job["stage"][0]["lift_locked"]
    assert the(judged(job, tmp_path).stages[0], "set-down").verdict is Verdict.HOLDS


def test_stands_that_are_brought_up_ask_for_no_lock_between(tmp_path: Path) -> None:
    job = lifted_job()
    job["lift"]["lock_step"] = 90
    job["stage"][0]["raised"] = 1000 * (START + END) / 2
    del job["stage"][0]["lowered"]
    assert the(judged(job, tmp_path).stages[0], "set-down").verdict is Verdict.HOLDS


def test_the_loads_over_the_lowering_are_those_by_hand(tmp_path: Path) -> None:
    answer = judged(lifted_job(), tmp_path).stages[0].statics.set_down
    assert answer is not None
    lowering = answer.lowering
    assert lowering.levels[0] == 0.0
    assert lowering.levels[-1] > max(answer.lowered, END)
    assert {answer.start, answer.end, answer.lowered} <= set(lowering.levels)
    assert (answer.start, answer.end) == pytest.approx((START, END), abs=1e-12)
    for level in lowering.levels:
        stands = min(GAIN * level, 1200 * G)
        assert sum(lowering.at(name, level) for name in "ABCD") == pytest.approx(stands, abs=1e-6)
        assert lowering.at("FL", level) == pytest.approx((1200 * G - stands) / 4, abs=1e-6)


def test_a_step_that_parts_nothing_later_is_listed(tmp_path: Path) -> None:
    job = lifted_job()
    job["stage"] = [job["stage"][0]]
    assessment = judged(job, tmp_path)
    assert found(assessment.stages[0], "set-down") == []
    assert "set down: how far the lift may and must go down is not checked" in "".join(
        str(piece) for says in assessment.not_checked for piece in says
    )


def test_a_unit_on_two_stands_is_said_to_not_stand_alone(tmp_path: Path) -> None:
    job = lifted_job()
    job["stage"][0] |= {"in_place": ["A", "D"], "lowered": 0.5}
    told = the(judged(job, tmp_path).stages[0], "set-down")
    assert told.verdict is Verdict.CAUTION
    assert "it does not stand on them alone" in said(told)

"""The stages: what is on, done up and in place after each step."""

from dataclasses import replace

import pytest

from loadplan.model.job import Job, SetAnew, Stage, State
from loadplan.stages import bodies_left, joined, states, untouched
from tests.statics import builders as make
from tests.statics.lifted import MOUNTS, PADS, lifted

PARTS = (
    make.part(name="block"),
    make.part(name="lid"),
    make.part(name="rail", body="cradle"),
    make.part(name="tray", body="cradle"),
)
JOINTS = (make.bolts("bolts"), make.mount("mount", (0.0, 0.0)))


def after(*stages: Stage, **changes: object) -> tuple[State, ...]:
    supports = (*make.stands(make.SQUARE), make.support("E", (0.0, 0.0), body="cradle"))
    return states(make.job(PARTS, supports, joints=JOINTS, stages=stages, **changes))  # type: ignore[arg-type]


def names(items: tuple[object, ...]) -> list[str]:
    return [each.name for each in items]  # type: ignore[attr-defined]


def test_before_the_first_stage_all_is_on_and_nothing_stands() -> None:
    (first,) = after(Stage("first"))
    assert first.on == {"block", "lid", "rail", "tray"}
    assert (names(first.done_up), first.undone, first.supports) == (["bolts", "mount"], (), ())
    assert (first.index, first.name, first.lowered, first.lift_locked) == (0, "first", None, False)


def test_what_a_stage_changes_holds_until_a_later_one_changes_it() -> None:
    told = after(
        Stage("one", in_place=("A", "B"), undone=("bolts",), off=("lid",)),
        Stage("two", in_place=("C",)),
        Stage("three", cleared=("A",), done_up=("bolts",), on=("lid",)),
    )
    assert [names(each.supports) for each in told] == [["A", "B"], ["A", "B", "C"], ["B", "C"]]
    assert [names(each.done_up) for each in told] == [["mount"], ["mount"], ["bolts", "mount"]]
    assert [names(each.undone) for each in told] == [["bolts"], ["bolts"], []]
    assert ["lid" in each.on for each in told] == [False, False, True]
    assert [each.index for each in told] == [0, 1, 2]


def test_supports_are_told_in_the_jobs_order_whatever_the_stages_say() -> None:
    assert names(after(Stage("one", in_place=("C", "A")))[0].supports) == ["A", "C"]


def test_only_a_stage_in_any_order_may_have_its_parts_either_way() -> None:
    told = after(Stage("one", off=("lid",), any_order=True), Stage("two", off=("tray",)), Stage("three"))
    assert [each.may_be_on for each in told] == [("lid",), (), ()]


def test_a_body_whose_parts_are_all_off_is_gone_with_its_joints() -> None:
    told = after(Stage("one", off=("rail",)), Stage("two", off=("tray",)))
    assert [each.bodies for each in told] == [("unit", "cradle"), ("unit",)]
    assert (told[1].done_up, told[1].undone) == ((), ())


def test_its_joints_stay_undone_when_it_comes_back() -> None:
    """Parts can be laid back on before a bolt is in: until then nothing ties them."""
    told = after(
        Stage("off", off=("rail", "tray")),
        Stage("on", on=("rail", "tray")),
        Stage("tight", done_up=("bolts",)),
    )
    assert [names(each.undone) for each in told] == [[], ["bolts", "mount"], ["mount"]]
    assert [names(each.done_up) for each in told] == [[], [], ["bolts"]]


def test_a_weighed_body_without_its_listed_parts_is_still_there() -> None:
    """Unless they make up its weight: 20 kg of 100 do not; 100 kg do."""
    whole = {"cradle": make.weighed(100.0, (0.0, 0.0, 0.3), mass_pm=2.0)}
    light = [make.part(name="rail", body="cradle", mass=20.0, mass_pm=1.0)]
    heavy = [make.part(name="rail", body="cradle", mass=99.0, mass_pm=1.0)]
    for parts, there in ((light, True), (heavy, False)):
        job = make.job([make.part(), *parts], whole=whole, stages=[Stage("off", off=("rail",))])
        assert ("cradle" in states(job)[0].bodies) == there
        assert ("cradle" in bodies_left(job, frozenset())) == there


def test_a_body_left_out_is_not_there_and_its_joints_tie_nothing() -> None:
    (told,) = after(Stage("one"), bodies=("unit",))
    assert (told.bodies, told.on, told.done_up, told.undone) == (("unit",), {"block", "lid"}, (), ())


def test_the_lift_comes_and_goes_as_a_whole() -> None:
    told = states(lifted([Stage("up"), Stage("gone", cleared=("bay",)), Stage("back", in_place=("bay", "A"))]))
    pads = ["pad 1", "pad 2", "pad 3", "pad 4"]
    assert [names(each.supports) for each in told] == [pads, [], ["A", *pads]]


def test_a_lift_that_is_not_there_at_first_holds_nothing() -> None:
    job = replace(lifted([Stage("one"), Stage("two", in_place=("bay",))]), lift=make.lift_use(PADS, in_place=False))
    assert [len(each.supports) for each in states(job)] == [0, 4]
    assert untouched(job).supports == ()


def test_lowered_raised_and_locked_hold_on() -> None:
    told = states(
        lifted([
            Stage("none"),
            Stage("down", lowered=0.009, lift_locked=True),
            Stage("same"),
            Stage("raised", raised=0.004, lift_locked=False),
            Stage("zero", lowered=0.0),
        ])
    )
    assert [each.lowered for each in told] == [None, 0.009, 0.009, 0.004, 0.0]
    assert [each.lift_locked for each in told] == [False, True, True, False, False]


def test_a_saddle_keeps_the_height_that_it_was_set_to_last() -> None:
    """A stays at 300 mm while B is set; what no stage sets stays as the job has it."""
    supports = [make.support(name, (0.1 * number, 0.0), height=0.2) for number, name in enumerate("ABC")]
    stages = (
        Stage("one", in_place=("A", "B", "C")),
        Stage("two", set_anew=(SetAnew("A", 0.3),)),
        Stage("three", set_anew=(SetAnew("B", 0.4),)),
        Stage("four", set_anew=(SetAnew("A", 0.5),)),
    )
    told = states(make.job(PARTS, supports, joints=JOINTS, stages=stages))
    heights = [[each.height for each in state.supports] for state in told]
    assert heights == [[0.2, 0.2, 0.2], [0.3, 0.2, 0.2], [0.3, 0.4, 0.2], [0.5, 0.4, 0.2]]


@pytest.mark.parametrize(
    ("stages", "gone"),
    [
        ((Stage("rail off", off=("rail",)),), ["bracket"]),
        ((Stage("none off"),), []),
        ((Stage("tray off", off=("tray",)),), []),
        ((Stage("first", undone=("bracket",)), Stage("then", off=("rail",))), []),
        ((Stage("both at once", undone=("bracket",), off=("rail",)),), []),
    ],
)
def test_a_tight_joint_on_a_bracket_goes_with_it(stages: tuple[Stage, ...], gone: list[str]) -> None:
    joints = (*JOINTS, replace(make.bolts("bracket"), part="rail"))
    told = states(make.job(PARTS, make.stands(make.SQUARE), joints=joints, stages=stages))
    assert names(told[-1].gone_with_parts) == gone


def test_untouched_is_the_job_before_its_first_stage() -> None:
    job = lifted([Stage("off", off=("unit",), undone=("mount 0",))])
    start = untouched(job)
    assert (start.stage, start.lift_locked, start.lowered) == (Stage(""), False, None)
    assert (start.index, start.bodies, start.on) == (-1, ("unit", "shell"), {"unit", "shell"})
    assert (start.done_up, start.undone) == (MOUNTS, ())
    assert start.supports == (job.lift.arms if job.lift else ())


def test_without_a_lift_nothing_stands_at_first() -> None:
    job: Job = make.job(PARTS, make.stands(make.SQUARE), joints=JOINTS)
    assert untouched(job).supports == ()


@pytest.mark.parametrize(
    ("pairs", "reached"),
    [([], "a"), (["ab"], "ab"), (["bc"], "a"), (["bc", "ab"], "abc"), (["cd", "bc", "ab", "ef"], "abcd")],
)
def test_joined_goes_from_body_to_body(pairs: list[str], reached: str) -> None:
    joints = tuple(make.bolts(pair, (pair[0], pair[1])) for pair in pairs)
    assert joined(joints, "a") == set(reached)


def test_a_name_in_both_lists_counts_as_what_holds_or_weighs() -> None:
    """The reader refuses such a stage; a job put together in code is followed by the same rule as the reader's."""
    both = after(Stage("one", off=("lid",), on=("lid",), undone=("bolts",), done_up=("bolts",), in_place=("A",)))[0]
    assert "lid" in both.on
    assert "bolts" in names(both.done_up)
    gone = after(Stage("one", in_place=("A",), cleared=("A",)))[0]
    assert names(gone.supports) == []

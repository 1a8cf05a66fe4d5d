"""How far down the lift is."""

from dataclasses import replace

import pytest

from loadplan.model.answer import Statics
from loadplan.model.job import Stage
from loadplan.stages import states
from loadplan.statics.lift_level import coming_down, hung
from loadplan.statics.mount_preload import mount_preload
from tests.statics import builders as make
from tests.statics.lifted import BOLTS, CORNERS, MOUNTS, PADS, PARTED, lifted

IN = tuple("ABCD")


def levels(*stages: Stage, **changes: object) -> list[float]:
    """Level of the arms after each stage [m]."""
    return [next(each.gap for each in told.supports if each.name == "pad 1") for told in told_of(*stages, **changes)]


def told_of(*stages: Stage, **changes: object) -> tuple[Statics, ...]:
    return make.solved(lifted(stages, **changes))  # type: ignore[arg-type]


def test_before_anything_stands_the_arms_are_in_the_files_attitude() -> None:
    assert levels(Stage("up")) == [0.0]


def test_lowered_is_counted_from_first_touch() -> None:
    none, more = levels(Stage("touch", IN, lowered=0.0), PARTED)[0], levels(Stage("down", IN, lowered=0.009), PARTED)[0]
    assert more - none == pytest.approx(0.009)


def test_raised_stands_act_as_a_lowered_lift() -> None:
    lowered, raised = (told_of(Stage("down", IN, **{key: 0.006}), PARTED)[0] for key in ("lowered", "raised"))
    assert [each.load for each in raised.supports] == [each.load for each in lowered.supports]


def test_the_lift_stays_where_it_is_when_the_unit_is_parted() -> None:
    down, parted, more = levels(Stage("down", IN, lowered=0.006), PARTED, Stage("more", lowered=0.02))
    assert down == parted == more


def test_left_out_the_middle_of_the_window_is_taken_and_said() -> None:
    told = told_of(Stage("down", IN), PARTED)[0].set_down
    assert told is not None
    assert told.start is not None
    assert told.end is not None
    assert told.lowered == pytest.approx((told.start + told.end) / 2)
    assert not told.given
    assert (told.bodies, told.weight) == (("unit",), pytest.approx(make.newton(300.0)))


def test_what_no_later_stage_parts_comes_down_but_has_no_window() -> None:
    told = told_of(Stage("down", IN, lowered=0.003))[0]
    assert told.set_down is None
    assert levels(Stage("down", IN, lowered=0.003)) == pytest.approx([
        level + 0.003 for level in levels(Stage("touch", IN))
    ])


def test_parted_and_tied_again_it_counts_as_parted() -> None:
    """What a later stage parts, whatever comes after."""
    again = Stage("again", done_up=PARTED.undone)
    told = told_of(Stage("down", IN, lowered=0.005), PARTED, again)
    assert [each.set_down is None for each in told] == [False, True, True]


def test_only_what_is_tied_by_joints_comes_down() -> None:
    """A prop under the shell takes nothing down."""
    prop = make.support("P", (-2.3, 0.0), body="shell")
    assert levels(Stage("prop", ("P",)), supports=[prop]) == [0.0]


def test_where_the_arms_alone_would_not_hold_it_nothing_is_let_down() -> None:
    """The weight 8 m forward: the stands hold it, the arms do not."""
    far = [make.support(name, at) for name, at in zip("ABCD", [(9, 1), (9, -1), (3, -1), (3, 1)], strict=True)]
    told = told_of(Stage("down", IN, lowered=0.005), PARTED, supports=far, joints=BOLTS, at=(8.0, 0.0))[0]
    assert told.set_down is None
    assert told.groups[0].balanced


def test_kept_are_the_bodies_that_every_later_stage_leaves_tied() -> None:
    job = lifted([Stage("down", IN), PARTED, Stage("again", done_up=PARTED.undone)])
    found = coming_down(job, states(job), {})
    assert found is not None
    assert found.kept == (frozenset({"shell"}), frozenset({"unit", "shell"}), frozenset({"unit", "shell"}))
    assert coming_down(replace(job, lift=None), (), {}) is None


def test_before_the_first_stage_the_unit_hangs_until_the_first_set_saddle_touches() -> None:
    """Saddles 0.350 and 0.345 m under places of equal height: the first touches, the others just wait for the body."""
    supports = [
        make.support("A", CORNERS[0], height=0.350),
        make.support("B", CORNERS[1], height=0.345),
        make.support("C", CORNERS[2]),
        make.support("D", CORNERS[3]),
    ]
    job = lifted([Stage("down", IN)], supports=supports)
    against = 0.2 - 0.350
    motions = hung(job, mount_preload(job), job.supports, against)
    over = [motions["unit"].up_at(*at) for at in CORNERS[:2]]
    assert min(over[0] - 0.0, over[1] + 0.005) == pytest.approx(0.0, abs=1e-12)
    free = hung(job, mount_preload(job), (), against)
    assert free["unit"].rx == motions["unit"].rx
    assert free["shell"].w != motions["shell"].w


def test_it_hangs_as_it_was_before_the_first_stage() -> None:
    """The stage undoes the mounts: its stands are brought up under a unit that still hung."""
    tied, parted = (
        told_of(Stage("down", IN, undone=undone))[0].supports[:4]
        for undone in ((), tuple(each.name for each in MOUNTS))
    )
    assert [each.gap for each in parted] == [each.gap for each in tied]
    assert tied[0].gap != tied[2].gap


@pytest.mark.parametrize(
    "job",
    [
        replace(lifted([Stage("any")]), lift=None),
        replace(lifted([Stage("any")]), lift=make.lift_use(PADS, in_place=False)),
        lifted([Stage("any")], joints=BOLTS, at=(8.0, 0.0)),
    ],
    ids=["no lift", "not yet in place", "not held by its arms"],
)
def test_where_nothing_hangs_bodies_are_in_the_files_attitude(job: make.Job) -> None:
    assert hung(job, {}, (), None) == {}


def test_first_touch_counts_how_low_each_saddle_was_set() -> None:
    """At first touch none carries; 10 µm further down one does, and it is not the lowest."""
    heights = zip(IN, CORNERS, (0.350, 0.347, 0.344, 0.348), strict=True)
    supports = [make.support(name, at, height=height) for name, at, height in heights]
    for lowered, carries in ((0.0, False), (1e-5, True)):
        told = told_of(Stage("down", IN, lowered=lowered), PARTED, supports=supports)[0]
        loads = [each.load.expected for each in told.supports[:4] if each.load]
        assert (max(loads) > 1e-3) == carries
        assert loads[2] == pytest.approx(0.0, abs=1e-6)


def test_lowered_to_the_start_of_the_window_the_stands_carry_nine_tenths() -> None:
    """With saddles set to different heights: the window is that of the stage itself."""
    heights = zip(IN, CORNERS, (0.350, 0.347, 0.344, 0.348), strict=True)
    supports = [make.support(name, at, height=height) for name, at, height in heights]
    first = told_of(Stage("down", IN), PARTED, supports=supports)[0].set_down
    assert first is not None
    assert first.start is not None
    told = told_of(Stage("down", IN, lowered=first.start), PARTED, supports=supports)[0]
    carried = sum(each.load.expected for each in told.supports[:4] if each.load)
    assert carried == pytest.approx(0.9 * make.newton(300.0))

"""What each group of a stage is solved with, and what is told of the way from the stage before, by hand."""

from dataclasses import replace

import numpy as np
import pytest

from loadplan.errors import InputError
from loadplan.limits import Limits
from loadplan.model.answer import Load, Motion, Statics
from loadplan.model.job import Job, Pull, Stage, State
from loadplan.model.step_change import UNCHANGED, StepChange, Unloading
from loadplan.stages import states
from loadplan.statics import stage_sequence as sequence
from loadplan.statics.any_order import over_every_set
from loadplan.statics.equilibrium import Frame
from loadplan.statics.group import glance, glance_between
from loadplan.statics.mount_preload import mount_preload
from loadplan.statics.resting_state import Settings, Solved
from loadplan.statics.sideways_resistance import Grip
from loadplan.statics.stage_sequence import Carried, StageSolver
from loadplan.statics.upset_between import Looks
from tests.statics import builders as make
from tests.statics.lifted import CORNERS, MOUNTS, PADS, PARTED, lifted
from tests.statics.test_stage_sequence import IN, gaps, loads, set_stands


def looked_at(job: Job) -> list[tuple[Frame, Settings]]:
    """Each group that is solved anew, stage after stage, and what it is solved with."""
    seen: list[tuple[Frame, Settings]] = []

    def look(frame: Frame, settings: Settings) -> Solved:
        seen.append((frame, settings))
        return glance(frame, settings)

    sequence.solve_stages_by(look, job, states(job), lambda _: None)
    return seen


def test_a_group_is_solved_with_what_the_step_leaves_of_it() -> None:
    """A unit set down from a lift, parted with a bar, and relieved of a lid and what lies under that in any order."""
    rim = ((0.4, 0.1), (0.4, -0.1), (0.2, 0.0))
    parts = [
        make.part((0.02, 0.01, 0.5), 300.0),
        replace(make.part((0.3, 0.0, 0.9), 20.0, name="lid"), outline=rim),
        make.part((0.2, 0.1, 0.7), 3.0, name="cap", after=("lid",)),
        make.part((-1.3, 0.0, 0.6), 900.0, name="shell", body="shell"),
    ]
    off = Stage("off", off=("lid", "cap"), any_order=True)
    limits = replace(Limits(), uneven=0.003, uneven_touch=0.001, floor_slope=0.01, push=200.0, bar=450.0, friction=0.2)
    standing = [make.support("A", (0.3, 0.4), height=0.2), *make.stands(((0, 0), (0.3, -0.4), (-0.3, -0.4)))[1:]]
    standing.append(make.support("D", (-0.3, 0.4), friction=0.4))
    job = make.job(
        parts,
        standing,
        joints=MOUNTS,
        stages=[Stage("down", IN, lowered=0.006), replace(PARTED, bar=True), off],
        lift=make.lift_use(PADS),
        limits=limits,
    )
    (whole, down), (unit, alone), (shell, held), (bare, relieved), _ = looked_at(job)
    assert [each.bodies for each in (whole, unit, shell, bare)] == [("unit", "shell"), ("unit",), ("shell",), ("unit",)]

    assert dict(down.preload) == pytest.approx(mount_preload(job))
    assert sum(dict(down.preload).values()) == pytest.approx(make.newton(323.0))
    assert (alone.preload, held.preload) == ((), ())
    assert [each.slope for each in (down, alone, held, relieved)] == [0.01] * 4
    assert alone.uneven == relieved.uneven == (0.003, 0.001, 0.001, 0.001)
    assert down.uneven == (*alone.uneven, *[0.001] * 4)
    assert [each.asked for each in (down, alone, held, relieved)] == [400.0, 900.0, 900.0, 400.0]
    assert [tuple(joint.name for joint in each.undone) for each in (down, alone, held)] == [
        (),
        PARTED.undone,
        PARTED.undone,
    ]
    assert [each.held for each in (down, alone, held)] == [{"shell"}, frozenset(), {"shell"}]
    assert down.grips == (*[Grip(0.2, np.inf, said=False)] * 3, Grip(0.4, np.inf), *[Grip(0.2, np.inf, said=False)] * 4)
    assert alone.grips == down.grips[:4]
    lid = ("unit", (0.3, 0.0, 0.9))
    assert down.pushed == (lid, ("shell", (-1.3, 0.0, 0.6)))
    assert (alone.pushed, relieved.pushed) == ((lid,), (("unit", (0.02, 0.01, 0.5)),))
    corners = tuple(("unit", each) for each in rim)
    assert (down.corners, alone.corners, relieved.corners) == ((corners, ()), (corners,), ((),))
    assert [each.came_off for each in (down, alone, held)] == [(), (), ()]
    assert [part.name for part in relieved.came_off] == ["lid", "cap"]
    names = [lump.part for lump in bare.lumps]
    assert (alone.needs, relieved.needs) == ((), ((names.index("cap"), names.index("lid")),))
    # Nothing moves when it is parted: each stands as high, and the shell hangs as low, as before.
    assert down.gaps == (*alone.gaps, *held.gaps)
    assert alone.gaps == relieved.gaps
    assert alone.gaps[0] == 0.0


def down_and_parted(*stages: Stage, heights: float | None = None) -> tuple[Statics, ...]:
    """A unit of 300 kg bolted under a shell of 900 kg on four arms, all about one middle; four stands, and a fifth."""
    parts = [
        make.part((0.0, 0.0), 300.0, name="unit"),
        make.part((0.0, 0.0), 20.0, name="lid"),
        make.part(mass=900.0, name="s", body="shell"),
    ]
    bolts = [make.bolts("bolts", ("unit", "shell"), ((0.1, 0.1, 0.4),))]
    standing = [make.support(name, at, height=heights) for name, at in zip(IN, make.SQUARE, strict=True)]
    standing.append(make.support("M", (0.0, 0.0), height=heights))
    job = make.job(parts, standing, joints=bolts, stages=stages, lift=make.lift_use(make.SQUARE))
    return sequence.solve_stages_by(glance_between, job, states(job), lambda _: None)


def test_what_the_lift_lets_go_sinks_by_what_the_stands_had_not_taken_yet() -> None:
    """By hand: 1 mm past first touch the stands carry d / (1 / ks + 1 / ka); parted, all of the unit."""
    told = down_and_parted(Stage("down", (*IN, "M"), lowered=0.001), Stage("parted", undone=("bolts",)))
    carried = 0.001 / (1 / 5e6 + 1 / 1.6e6)
    assert [loads(told[0])[name] for name in IN] == pytest.approx([carried / 5] * 4)
    assert loads(told[0])["pad 1"] == pytest.approx((make.newton(1220.0) - carried) / 4)
    assert told[0].lift is not None
    assert told[0].lift.mass == pytest.approx(1220.0)
    assert told[0].change.drops == ()
    sinks = (make.newton(320.0) - carried) / 5e6
    drops = {each.place: each.fall for each in told[1].change.drops}
    assert drops == pytest.approx(dict.fromkeys((*IN, "M", "bolts"), sinks))
    assert told[1].lift is not None
    assert told[1].lift.mass == pytest.approx(900.0)
    assert gaps(told[1])["pad 1"] == gaps(told[0])["pad 1"]
    assert told[0].floor is None


@pytest.mark.parametrize("before", [(), (Stage("up"),)], ids=["first step", "later step"])
@pytest.mark.parametrize("height", [None, 0.18], ids=["brought up", "set"])
def test_what_is_let_down_and_let_go_in_one_step_sinks_onto_its_stands(
    before: tuple[Stage, ...], height: float | None
) -> None:
    """From first touch it takes all of its weight; set 20 mm lower, the lift first comes down so far."""
    at_once = Stage("at once", (*IN, "M"), undone=("bolts",))
    told = down_and_parted(*before, at_once, heights=height)[-1]
    falls = {each.place: each.fall for each in told.change.drops}
    assert falls == pytest.approx(dict.fromkeys((*IN, "M", "bolts"), make.newton(320.0) / 5e6))
    assert told.floor == (None if height is None else pytest.approx(0.02))


def taken_away() -> tuple[Unloading, ...]:
    down, parted = Stage("down", (*IN, "M"), lowered=0.001), Stage("parted", undone=("bolts",))
    told = down_and_parted(down, parted, Stage("out", cleared=("M",), off=("lid",)))
    assert [each.change.unloadings for each in told[:2]] == [(), ()]
    return told[2].change.unloadings


def test_what_is_taken_away_carries_its_share_until_another_is_raised_by_it() -> None:
    """By hand: of five a fifth; and a corner raised by M g / k lifts all off the one in the middle."""
    (out,) = taken_away()
    assert (out.support, out.load) == ("M", pytest.approx(make.newton(300.0) / 5))
    assert [each.by for each in out.raisings] == pytest.approx([make.newton(300.0) / 1e6] * 4)


def test_with_too_many_ways_to_go_over_on_the_way_it_is_not_told_what_is_carried(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Ten pairs of five stands, nine to each."""
    monkeypatch.setattr(sequence, "MOST_ON_THE_WAY", 90)
    assert taken_away()[0].load is not None
    monkeypatch.setattr(sequence, "MOST_ON_THE_WAY", 89)
    assert taken_away() == (Unloading("M", None, None),)


def test_a_pull_is_judged_where_all_is_looked_at_and_not_at_a_glance() -> None:
    """By hand: 100 kg with 0.15 of friction slide at 147 N."""
    pull = Pull("unit", (0.0, 0.0, 0.5), 100.0, (1.0, 0.0, 0.0), None, 0.0)
    job = make.job([make.part()], make.stands(make.SQUARE), stages=[Stage("pull", IN, pull=pull)])
    (told,) = make.solved(job)
    assert told.pull is not None
    assert told.pull.factor == pytest.approx(0.15 * make.newton(100.0) / 100.0)
    assert [each.support for each in told.grips] == [*IN]
    (glanced,) = sequence.solve_stages_by(glance, job, states(job), lambda _: None)
    assert glanced.pull is None
    assert (glanced.change, told.change) == (UNCHANGED, StepChange())


def test_a_support_inside_one_whole_has_a_range_only_where_all_is_looked_at() -> None:
    parts = [make.part(), make.part(name="c", body="cradle")]
    inside = make.support("inside", (0.0, 0.0), on="cradle")
    job = make.job(parts, [*make.stands(make.SQUARE), inside], joints=[make.bolts("bolts")])
    (told,) = sequence.solve_stages_by(glance, job, states(job), lambda _: None)
    assert next(each.load for each in told.supports if each.name == "inside") == Load(0.0, None)


def test_who_asks_is_told_of_every_step_that_is_done() -> None:
    done: list[int] = []
    stages = [Stage("four", IN), Stage("same"), Stage("fifth", ("M",))]
    job = make.job([make.part()], [*set_stands([0.35] * 4), make.support("M", (0.0, 0.0))], stages=stages)
    sequence.solve_stages_by(glance, job, states(job), done.append)
    assert done == [0, 1, 2]


def test_what_was_solved_in_another_job_serves_and_a_new_count_begins_where_it_is_asked_for(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Four stands: 6 pairs times 9; five: 10."""
    stages = [Stage("four", IN), Stage("five", ("M",))]
    job = make.job([make.part()], [*set_stands([0.35] * 4), make.support("M", (0.0, 0.0))], stages=stages)
    monkeypatch.setattr(sequence, "MOST_WORK", 10 * 9)
    first = StageSolver(job, states(job), glance)
    _, carried = sequence.solved_stage(first, states(job)[0], Carried())
    with pytest.raises(InputError):
        sequence.solved_stage(first, states(job)[1], carried)
    first.count_anew()
    told, _ = sequence.solved_stage(first, states(job)[1], carried)

    def never(_frame: Frame, _settings: Settings) -> Solved:
        raise AssertionError

    again = StageSolver(job, states(job), never, first.solved)
    assert sequence.solved_stage(again, states(job)[1], carried)[0].groups == told.groups


def test_a_gap_grows_by_how_much_the_reference_has_gone_down() -> None:
    assert Carried(reference=0.05).moved(0.02) == pytest.approx(0.03)
    assert Carried(reference=0.05).moved(None) == 0.0
    assert Carried().moved(0.02) == 0.0


def test_before_the_first_step_bodies_hang_on_the_lift_and_later_as_the_step_before_has_left_them() -> None:
    job = lifted(
        [Stage("down", IN), PARTED],
        supports=[make.support(n, at, height=0.19) for n, at in zip(IN, CORNERS, strict=True)],
    )
    solver, (down, parted) = StageSolver(job, states(job), glance), states(job)
    hung = solver.standing(down, Carried())
    # Lowered until the first of the set saddles touches.
    assert min(hung["unit"].up_at(*at) for at in CORNERS) == pytest.approx(0.0, abs=1e-12)
    assert min(hung["unit"].w, hung["shell"].w) > 1e-3
    before = Carried(motions={"unit": Motion(0.1, 0.0, 0.0)})
    assert solver.standing(parted, before) is before.motions


def test_states_between_are_solved_with_saddles_where_they_are_and_their_worst_counts(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A stand under a lid that comes off in any order: with it on it holds, with it off it does not."""
    parts = [make.part(), make.part((0.4, 0.0), 5.0, name="lid"), make.part(name="box", mass=2.0)]
    under = replace(make.support("L", (0.9, 0.0)), part="lid")
    off = Stage("off", off=("lid", "box"), any_order=True)
    job = make.job(parts, [*set_stands([0.35] * 4), under], stages=[Stage("down", (*IN, "L")), off])
    seen: list[tuple[tuple[tuple[Frame, Solved], ...], ...]] = []

    def worst(told: Statics, between: tuple[tuple[tuple[Frame, Solved], ...], ...]) -> Statics:
        seen.append(between)
        return over_every_set(told, between)

    monkeypatch.setattr(sequence, "over_every_set", worst)
    _, end = sequence.solve_stages_by(glance, job, states(job), lambda _: None)
    none, (without, with_it) = seen
    assert none == ()
    for ((frame, solved),), names in ((without, IN), (with_it, (*IN, "L"))):
        assert tuple(each.name for each in frame.supports) == names == solved.answer.supports
        assert {lump.part: (lump.counts, lump.optional) for lump in frame.lumps}["box"] == (False, True)
    assert "lid" in {lump.part for lump in with_it[0][0].lumps}
    assert "lid" not in {lump.part for lump in without[0][0].lumps}
    margins = [each[0][1].worst_margins[0] for each in (without, with_it)]
    assert end.body("unit").worst_margin == min(margin for margin in margins if margin is not None)


def test_of_parts_in_any_order_the_middle_is_looked_at_only_where_all_is(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is handed on: how the stage ends, its groups, and how states in the middle are solved, in full and less."""
    parts = [make.part(), make.part((0.4, 0.0), 5.0, name="lid"), make.part(name="box", mass=2.0)]
    off = Stage("off", off=("lid", "box"), any_order=True)
    job = make.job(parts, make.stands(make.SQUARE), stages=[Stage("down", IN), off])
    handed: list[str] = []

    def between(
        job_: Job, state: State, end: tuple[Statics, dict[str, float]], groups: tuple[Frame, ...], looks: Looks
    ) -> Statics:
        handed.append(state.name)
        assert job_ is job
        assert end[1] == {}
        assert [each.bodies for each in groups] == [("unit",)] == [each.bodies for each in end[0].groups]
        for look in (looks.full, looks.passing):
            ((frame, solved),) = look(replace(state, on=frozenset({"lump", "lid"}), may_be_on=()))
            assert frame.weight == pytest.approx(make.newton(105.0))
            assert sum(each.expected for each in solved.loads or ()) == pytest.approx(frame.weight)
        assert looks.full(state)[0][1].stance is not None
        assert looks.holds["A"] == Grip(0.15, np.inf, said=False)
        return replace(end[0], floor=0.7)

    monkeypatch.setattr(sequence, "with_states_between", between)
    before, end = make.solved(job)
    assert (before.floor, end.floor, handed) == (None, 0.7, ["off"])
    sequence.solve_stages_by(glance, job, states(job), lambda _: None)
    assert handed == ["off"]


def test_holes_out_of_line_and_the_set_down_are_told() -> None:
    """Bolts over the middle of a unit that sits 4 mm crooked over a metre: 0.1 m from the middle 0.4 mm out."""
    parts = [make.part((0.0, 0.0), 300.0), make.part(mass=900.0, name="s", body="shell")]
    bolts = [make.bolts("bolts", ("unit", "shell"), ((0.1, 0.0, 0.2), (-0.1, 0.0, 0.2)))]
    heights = [0.202, 0.202, 0.198, 0.198]
    standing = [make.support(n, at, height=z) for n, at, z in zip(IN, make.SQUARE, heights, strict=True)]
    stages = [Stage("down", IN, lowered=0.003), Stage("parted", undone=("bolts",))]
    job = make.job(parts, standing, joints=bolts, stages=stages, lift=make.lift_use(make.SQUARE))
    down, parted = make.solved(job)
    assert down.set_down is not None
    assert (down.set_down.bodies, down.set_down.lowered, parted.set_down) == (("unit",), 0.003, None)
    (miss,) = parted.misses
    assert (miss.joint, miss.miss) == ("bolts", pytest.approx(0.0004, abs=2e-5))

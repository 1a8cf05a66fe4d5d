"""The stages one after another: what stays where it was, what is brought up, and what cannot be solved."""

import itertools
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from loadplan.errors import InputError
from loadplan.limits import Limits
from loadplan.model.answer import Load, LoadRange, Statics
from loadplan.model.job import Job, Stage, Support
from loadplan.stages import states
from loadplan.statics import contact_loads as contact
from loadplan.statics import simplex
from loadplan.statics import stage_sequence as sequence
from loadplan.statics.stage_sequence import solve_stages
from loadplan.statics.tipping_modes import work
from tests.statics import builders as make
from tests.statics.lifted import MOUNTS, PADS, PARTED, lifted

SOFT = replace(make.STAND, stiffness=1e5)
IN = tuple("ABCD")


def gaps(told: Statics) -> dict[str, float]:
    return {each.name: each.gap for each in told.supports}


def loads(told: Statics) -> dict[str, float]:
    return {each.name: each.load.expected for each in told.supports if each.load}


def set_stands(heights: Sequence[float | None]) -> list[Support]:
    """Soft stands under the corners of a square, set to some heights or brought up to touch."""
    return [
        make.support(name, at, use=SOFT, height=height)
        for name, at, height in zip(IN, make.SQUARE, heights, strict=True)
    ]


def test_set_saddles_are_measured_from_the_highest() -> None:
    told = make.solved(make.job([make.part()], set_stands([0.350, 0.348, 0.345, 0.350])))[0]
    assert gaps(told) == pytest.approx({"A": 0.0, "B": 0.002, "C": 0.005, "D": 0.0})


def test_a_stand_brought_up_later_touches_the_body_as_it_stands() -> None:
    """Carries nothing until the load changes: then it takes its share."""
    middle = make.support("M", (0.0, 0.0), use=SOFT)
    stages = [Stage("four", IN), Stage("fifth", ("M",)), Stage("lighter", off=("lid",))]
    parts = [make.part(mass=100.0), make.part(mass=60.0, name="lid")]
    told = make.solved(make.job(parts, [*set_stands([0.35] * 4), middle], stages=stages))
    sunk = make.newton(160.0) / 4e5
    assert gaps(told[1])["M"] == pytest.approx(sunk)
    assert loads(told[1])["M"] == pytest.approx(0.0, abs=1e-6)
    assert loads(told[1])["A"] == pytest.approx(loads(told[0])["A"])
    assert loads(told[2])["M"] == pytest.approx(0.0, abs=1e-6)


def test_a_stand_that_was_cleared_is_brought_up_anew() -> None:
    middle = make.support("M", (0.0, 0.0), use=SOFT)
    parts = [make.part(mass=100.0), make.part(mass=60.0, name="lid")]
    stages = [
        Stage("four", IN),
        Stage("fifth", ("M",)),
        Stage("out", cleared=("M",)),
        Stage("lighter", off=("lid",)),
        Stage("in", ("M",)),
    ]
    told = make.solved(make.job(parts, [*set_stands([0.35] * 4), middle], stages=stages))
    assert gaps(told[1])["M"] == pytest.approx(make.newton(160.0) / 4e5)
    assert gaps(told[4])["M"] == pytest.approx(make.newton(100.0) / 4e5)


def test_beside_a_body_that_does_not_stand_saddles_touch_in_the_files_attitude() -> None:
    """Two stands let it fall; the third and fourth come where the file says."""
    stages = [Stage("two", ("A", "B")), Stage("four", ("C", "D"))]
    told = make.solved(make.job([make.part()], set_stands([None] * 4), stages=stages))
    assert loads(told[0]) == {}
    assert gaps(told[1]) == pytest.approx(dict.fromkeys(IN, 0.0), abs=1e-12)
    assert told[1].groups[0].balanced


def moving_reference(*more: Support, first: Stage) -> tuple[Statics, ...]:
    """A set saddle 10 mm higher comes in and goes out again, beside what stands under the same body or another."""
    far = [
        make.support("high", (3.0, 0.0), body="other", height=0.36),
        *(make.support(f"low {n}", at, body="other", height=0.35) for n, at in enumerate([(2, 1), (2, -1), (4, 0)])),
    ]
    parts = [make.part(), make.part((2.8, 0.0), body="other", name="o")]
    stages = [
        replace(first, in_place=(*first.in_place, "low 0", "low 1", "low 2")),
        Stage("high in", ("high",)),
        Stage("high out", cleared=("high",)),
    ]
    return make.solved(make.job(parts, [*more, *far], stages=stages))


def test_nothing_moves_when_the_reference_does() -> None:
    """Saddles brought up to touch keep their loads while a higher one is set elsewhere, and their gaps grow alike."""
    told = moving_reference(*set_stands([0.35, 0.349, None, None]), first=Stage("all", IN))
    assert loads(told[1])["C"] == pytest.approx(loads(told[0])["C"])
    assert [loads(each)[name] for each in told for name in IN] == pytest.approx(
        [loads(told[0])[name] for name in IN] * 3
    )
    rise = {name: gaps(told[1])[name] - gaps(told[0])[name] for name in IN}
    assert rise == pytest.approx(dict.fromkeys(IN, 0.010))
    assert gaps(told[2]) == pytest.approx(gaps(told[0]))


def test_a_stand_brought_up_in_the_stage_in_which_the_reference_moves_touches_too() -> None:
    stages = [Stage("three", ("A", "B", "C")), Stage("high in", ("D", "high"))]
    parts = [make.part((0.0, 0.1)), make.part((2.8, 0.0), body="other", name="o")]
    far = [make.support("high", (3.0, 0.0), body="other", height=0.36)]
    supports = [*set_stands([0.35, 0.35, 0.35, None]), *far]
    three = [replace(supports[2], at=(-0.5, 0.0, 0.2))]
    job = make.job(parts, [*supports[:2], *three, *supports[3:]], stages=stages)
    told = make.solved(job)
    assert loads(told[1])["D"] == pytest.approx(0.0, abs=1e-6)


def test_a_saddle_touched_before_any_height_was_set_is_anchored_by_the_first() -> None:
    """Touched, then a set one elsewhere, then a higher one: it stays beside the first."""
    far = [make.support(f"far {n}", (3.0, n), body="other", height=0.35 + 0.01 * n) for n in range(2)]
    stages = [Stage("touch", IN), Stage("set", ("far 0",)), Stage("higher", ("far 1",))]
    parts = [make.part(), make.part((3.0, 0.0), body="other", name="o")]
    told = make.solved(make.job(parts, [*set_stands([None] * 4), *far], stages=stages))
    assert [gaps(each)["A"] for each in told] == pytest.approx([0.0, 0.0, 0.01])
    assert loads(told[2])["A"] == pytest.approx(loads(told[0])["A"])


def test_a_hoist_hangs_at_gap_zero_in_every_stage() -> None:
    hoist = make.support("H", (0.0, 0.0, 0.9), use=make.HOIST, height=0.5)
    told = moving_reference(*set_stands([0.35] * 4), hoist, first=Stage("all", (*IN, "H")))
    assert [gaps(each)["H"] for each in told] == pytest.approx([0.0, 0.0, 0.0], abs=1e-12)


def test_what_stands_on_another_body_moves_with_that_and_not_with_the_reference() -> None:
    on = [
        make.support(f"on {n}", at, body="rider", on="unit")
        for n, at in enumerate([(0.2, 0.2), (0.2, -0.2), (-0.2, 0.0)])
    ]
    parts = [make.part(), make.part((2.8, 0.0), body="other", name="o"), make.part(body="rider", name="r", mass=20.0)]
    far = [make.support("far 0", (3.0, 0.0), body="other", height=0.36)]
    stages = [Stage("all", (*IN, *(each.name for each in on))), Stage("higher", ("far 0",))]
    told = make.solved(make.job(parts, [*set_stands([0.35] * 4), *on, *far], stages=stages))
    assert [gaps(each)["on 0"] for each in told] == pytest.approx([0.0, 0.0], abs=1e-12)
    assert loads(told[1])["on 0"] == pytest.approx(loads(told[0])["on 0"])


def test_the_lift_stays_where_it_is_when_the_reference_moves() -> None:
    """A set prop shares the shell with the arms: its load stays when a higher stand leaves."""
    prop = make.support("P", (-2.3, 0.0), body="shell", height=0.345, use=SOFT)
    supports = [
        *(make.support(n, at, height=0.35) for n, at in zip("BCD", [(0.3, 0.4), (-0.3, 0.4), (0.0, -0.5)], strict=True))
    ]
    high = make.support("A", (0.3, -0.4), height=0.352)
    stages = [
        Stage("down", ("B", "C", "D", "A"), lowered=0.01),
        PARTED,
        Stage("prop", ("P",)),
        Stage("out", cleared=("A",)),
    ]
    told = make.solved(lifted(stages, supports=[*supports, high, prop]))
    assert gaps(told[3])["pad 1"] == pytest.approx(gaps(told[2])["pad 1"] - 0.002)
    assert gaps(told[3])["P"] == pytest.approx(gaps(told[2])["P"] - 0.002)
    assert loads(told[3])["P"] == pytest.approx(loads(told[2])["P"])


def test_groups_that_a_stage_leaves_as_they_were_are_solved_once() -> None:
    parts = [
        make.part(),
        make.part((3.0, 0.0), body="other", name="o"),
        make.part((3.0, 0.0), body="other", name="lid"),
    ]
    far = [make.support(f"f{n}", at, body="other", height=0.35) for n, at in enumerate([(2, 1), (2, -1), (4, 0)])]
    stages = [Stage("all", (*IN, "f0", "f1", "f2")), Stage("lid off", off=("lid",))]
    told = make.solved(make.job(parts, [*set_stands([0.35] * 4), *far], stages=stages))
    assert told[0].groups[0] is told[1].groups[0]
    assert told[0].groups[1] is not told[1].groups[1]


def test_mounts_between_wholes_tell_their_force_and_others_none() -> None:
    joints = [*MOUNTS, make.bolts("bolts", ("trim", "unit")), make.mount("inner", (0.0, 0.0), ("trim", "unit"))]
    job = lifted([Stage("up")], joints=joints)
    trim = make.part((0.0, 0.0, 0.6), 5.0, name="trim", body="trim")
    vehicle = make.job([*job.vehicle.parts, trim], joints=joints).vehicle
    job = replace(job, vehicle=vehicle, bodies=("unit", "shell", "trim"))
    forces = {each.name: each.force for each in make.solved(job)[0].joints}
    assert forces["bolts"] is forces["inner"] is None
    assert sum(forces[each.name] or 0.0 for each in MOUNTS) == pytest.approx(make.newton(305.0))


def test_a_support_inside_one_whole_carries_nothing() -> None:
    parts = [make.part(), make.part(name="c", body="cradle")]
    inside = make.support("inside", (0.0, 0.0), on="cradle")
    job = make.job(parts, [*make.stands(make.SQUARE), inside], joints=[make.bolts("bolts")])
    told = make.solved(job)[0]
    load = next(each.load for each in told.supports if each.name == "inside")
    assert load is not None
    assert load == Load(0.0, LoadRange(0.0, 0.0, 0.0, 0.0))
    assert "inside" not in told.groups[0].supports


def test_what_the_lift_holds_is_not_pushed_and_snags_at_the_free_body_only() -> None:
    placed = [replace(each, at=((0.0, 0.0, 0.4),)) for each in MOUNTS]
    told = make.solved(lifted([Stage("down", IN, lowered=0.009), PARTED], joints=placed))[1]
    unit, shell = told.groups
    assert (len(unit.pushes), len(shell.pushes)) == (1, 0)
    assert {each.body for each in unit.snags} == {"unit"}
    assert shell.snags == ()


def test_supports_are_told_in_the_jobs_order_and_then_the_arms() -> None:
    told = make.solved(lifted([Stage("down", IN, lowered=0.009), PARTED]))[0]
    assert [each.name for each in told.supports] == [*IN, "pad 1", "pad 2", "pad 3", "pad 4"]


@pytest.mark.parametrize(("height", "off"), [(None, 0.001), (0.35, 0.003)])
def test_a_set_saddle_is_as_uneven_as_the_floor_and_a_touched_one_less(height: float | None, off: float) -> None:
    """By hand: one of four off by e changes each load by k e / 4; all four at worst by k e."""
    limits = replace(Limits(), uneven=0.003, uneven_touch=0.001, floor_slope=0.0)
    told = make.solved(make.job([make.part(mass=1000.0)], set_stands([height] * 4), limits=limits))[0]
    load = told.supports[0].load
    assert load is not None
    assert load.at_most - load.expected == pytest.approx(1e5 * off)


def linked(count: int) -> Job:
    """Stands in a ring under four bodies, each tied to the next by two mounts: six motions are left."""
    names = [f"body {number}" for number in range(4)]
    parts = [make.part((0.2 * number, 0.0), body=name, name=name) for number, name in enumerate(names)]
    joints = [
        make.mount(f"mount {number} {side}", (0.2 * number + 0.1, 0.1 * side), (names[number], names[number + 1]))
        for number in range(3)
        for side in (0, 1)
    ]
    around = [(float(np.cos(angle)), float(np.sin(angle))) for angle in np.linspace(0, 6, count)]
    supports = [
        make.support(f"s{n}", (0.2 * (n % 4) + x / 2, y / 2), body=names[n % 4]) for n, (x, y) in enumerate(around)
    ]
    return make.job(parts, supports, joints=joints)


def refused(job: Job) -> str:
    with pytest.raises(InputError) as error:
        solve_stages(job, states(job))
    fault = error.value.faults[0]
    assert (fault.file, fault.table, fault.key) == ("job.toml", 'stage 1 "all"', "")
    return fault.message


def test_sixty_stands_under_four_linked_bodies_are_refused_and_not_tried() -> None:
    """Five of sixty: 5.5 million subsets."""
    assert "too many stands" in refused(linked(60))


def chained(assemblies: int, stands: int) -> Job:
    """Assemblies in a row, each on one mount to the next, with as many stands under each."""
    names = [f"b{number}" for number in range(assemblies)]
    parts = [make.part((float(number), 0.0), name=f"p{number}", body=body) for number, body in enumerate(names)]
    under = [
        make.support(
            f"s{number}", (number % assemblies + 0.1 * (number // assemblies), 0.2), body=names[number % assemblies]
        )
        for number in range(stands)
    ]
    pairs = enumerate(itertools.pairwise(names))
    mounts = [make.mount(f"m{number}", (number + 0.5, 0.0), between) for number, between in pairs]
    return make.job(parts, under, joints=mounts)


@pytest.mark.parametrize(
    ("assemblies", "stands", "within"), [(4, 20, True), (2, 60, True), (5, 20, True), (8, 24, False), (6, 24, False)]
)
def test_what_is_refused_is_known_before_it_is_tried(assemblies: int, stands: int, *, within: bool) -> None:
    job = chained(assemblies, stands)
    assert (work(make.frame(job)) <= sequence.MOST_WORK) == within
    if not within:
        assert f"{stands} under {assemblies}, with more ways to go over than can be looked at" in refused(job)


def test_the_subsets_of_all_stages_count_together(monkeypatch: pytest.MonkeyPatch) -> None:
    """Four stands: 6 pairs; five: 10. A group that a stage leaves as it was is not counted again."""
    stages = [Stage("four", IN), Stage("same"), Stage("five", ("M",))]
    job = make.job([make.part()], [*set_stands([0.35] * 4), make.support("M", (0.0, 0.0))], stages=stages)
    monkeypatch.setattr(sequence, "MOST_WORK", 16 * 9)
    assert len(make.solved(job)) == 3
    monkeypatch.setattr(sequence, "MOST_WORK", 16 * 9 - 1)
    with pytest.raises(InputError) as error:
        make.solved(job)
    assert error.value.table == 'stage 3 "five"'


def test_a_dozen_stands_under_four_linked_bodies_are_no_trouble() -> None:
    assert make.solved(linked(12))[0].groups[0].bodies == ("body 0", "body 1", "body 2", "body 3")


def test_figures_too_far_apart_are_refused() -> None:
    """On springs of 1 N/m what a rod of 1e12 N/m carries beside the centre would be rounding."""
    soft, hard = (replace(make.STAND, stiffness=each) for each in (1.0, 1e12))
    supports = [*make.stands(make.SQUARE, use=soft), make.support("rod", (0.3, 0.1), use=hard)]
    assert "too far apart" in refused(make.job([make.part((0.2, 0.1))], supports))


@pytest.mark.parametrize("module", [contact, simplex])
def test_a_search_that_does_not_end_is_refused(module: object, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever goes wrong inside, the user reads which stage it is."""
    monkeypatch.setattr(contact, "LEAPS", 0)
    monkeypatch.setattr(module, "STEPS" if module is contact else "ROUNDS", 0)
    assert "cannot be computed" in refused(make.job([make.part()], make.stands(make.SQUARE)))


def test_a_matrix_that_cannot_be_inverted_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(*_: object) -> None:
        raise np.linalg.LinAlgError

    monkeypatch.setattr(sequence, "solve", fails)
    assert "cannot be computed" in refused(make.job([make.part()], make.stands(make.SQUARE)))


def test_a_lift_that_never_comes_may_hold_a_body_that_is_left_out() -> None:
    job = replace(lifted([Stage("down", IN)]), bodies=("unit",), lift=make.lift_use(PADS, in_place=False))
    assert make.solved(job)[0].groups[0].balanced


def test_the_same_group_is_solved_anew_where_only_what_it_is_solved_with_has_changed() -> None:
    """Nothing comes or goes between the two steps but 4 mm of lift: the stands under the unit carry more."""
    down = Stage("down", in_place=tuple("ABCD"), lowered=0.004)
    first, second = make.solved(lifted([down, Stage("further down", lowered=0.008)]))
    carried = [
        sum(each.load.expected for each in stage.supports if each.load and each.name in "ABCD")
        for stage in (first, second)
    ]
    assert carried[1] > 1.2 * carried[0] > 0

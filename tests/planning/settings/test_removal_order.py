"""The order of parts: against every order, judged as a job whose parts come off one after another.

All jobs are small and made up.
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import permutations
from math import inf, radians
from random import Random

import numpy as np
import pytest

import loadplan
from loadplan.errors import InputError
from loadplan.limits import Limits
from loadplan.model.job import Job, Stage
from loadplan.model.vehicle import Part
from loadplan.planning.settings.removal_order import OrderPlan, plan_order
from loadplan.planning.settings.removal_states import Course, course, part_way
from loadplan.statics.subset_paths import closed
from tests.statics.builders import STAND, job, lift_use, mount, part, stands, support, weighed

SLOPING = replace(Limits(), floor_slope=radians(0.6), uneven=0.0, uneven_touch=0.0)
AGREED = 5e-5
"""Agreed difference of worst margins [m]."""


def rigid(made: Job) -> Job:
    """A job on stands and mounts so stiff that nothing leans: so that sets can be judged apart from each other."""
    joints = tuple(replace(each, stiffness=1e11) for each in made.vehicle.joints)
    supports = tuple(replace(each, equipment=replace(each.equipment, stiffness=1e10)) for each in made.supports)
    return replace(made, vehicle=replace(made.vehicle, joints=joints), supports=supports)


def with_off(made: Job, off: frozenset[str]) -> Job:
    """The job up to its last stage, with only these of that stage's parts off."""
    *before, last = made.stages
    some = tuple(name for name in last.off if name in off)
    return replace(made, stages=(*before, replace(last, off=some, any_order=False)))


def one_by_one(made: Job, order: tuple[str, ...]) -> Job:
    """The job up to its last stage, with that stage's parts off one after another."""
    *before, last = made.stages
    first = replace(last, off=order[:1], any_order=False)
    return replace(made, stages=(*before, first, *(Stage(f"then {name}", off=(name,)) for name in order[1:])))


def margins(made: Job) -> list[float]:
    """The least worst margin over the bodies in each stage, as `check` tells it."""
    return [_least(stage["bodies"]) for stage in loadplan.check(made).to_dict()["stages"]]


def _least(bodies: list[dict[str, float | None]]) -> float:
    if not all(body["balanced"] for body in bodies):
        return -inf
    return min((body["worst_margin_mm"] / 1000 for body in bodies if body["worst_margin_mm"] is not None), default=inf)


def orders(made: Job) -> Iterator[tuple[str, ...]]:
    off = made.stages[-1].off
    after = {each.name: set(each.after) & set(off) for each in made.vehicle.parts}
    for order in permutations(off):
        if all(after[name] <= set(order[:number]) for number, name in enumerate(order)):
            yield order


def widest(made: Job) -> tuple[str, ...]:
    """The first order, in the order of the list, that keeps the smallest margin greatest."""
    known: dict[frozenset[str], float] = {}

    def narrowest(order: tuple[str, ...]) -> float:
        sets = [frozenset(order[: number + 1]) for number in range(len(order))]
        for off in sets:
            if off not in known:
                known[off] = margins(with_off(made, off))[-1]
        return min(known[off] for off in sets)

    found = [(order, narrowest(order)) for order in orders(made)]
    greatest = max(least for _, least in found)
    return next(order for order, least in found if least >= greatest - 1e-9)


def told(plan: OrderPlan) -> list[float]:
    return [(inf if step.balanced else -inf) if step.worst_margin is None else step.worst_margin for step in plan.steps]


def made_up(random: Random) -> Job:
    """A unit, or two linked by a mount, on stands; up to four parts come off, some after others."""
    linked = random.random() < 0.5
    names = ["unit", "cradle"] if linked else ["unit"]
    parts: list[Part] = []
    for number in range(random.randint(3, 8)):
        at = (random.uniform(-0.5, 0.5), random.uniform(-0.5, 0.5), random.uniform(0.1, 0.9))
        mass = random.uniform(3, 40)
        spread = tuple(random.uniform(0, 0.02) for _ in range(3))
        earlier = [each.name for each in parts if random.random() < 0.15]
        parts.append(
            part(
                at,
                mass,
                name=f"p{number}",
                body=names[number % len(names)],
                mass_pm=mass * random.uniform(0, 0.2),
                at_pm=(spread[0], spread[1], spread[2]),
                after=tuple(earlier),
            )
        )
    base = [
        part((random.uniform(-0.1, 0.1), 0.0), random.uniform(30, 90), name=f"base {name}", body=name) for name in names
    ]
    whole = {"unit": weighed(400.0, (0.02, -0.03, 0.5), mass_pm=4.0, cg_pm=(0.01, 0.01, 0.02))}
    places = [(0.5, 0.5), (0.5, -0.5), (-0.5, -0.4), (-0.4, 0.5)]
    under = [random.choice(names) for _ in places]
    supports = [replace(stand, body=body) for stand, body in zip(stands(places), under, strict=True)]
    supports += [support("E", (0.3, 0.0), body="unit"), support("F", (-0.3, 0.1), body=names[-1])]
    off = [each.name for each in parts]
    random.shuffle(off)
    off = [name for name in off[:4] if _ready(parts, name, off[:4])] or [next(e.name for e in parts if not e.after)]
    return rigid(
        job(
            [*parts, *base],
            supports,
            joints=[mount("link", (0.1, -0.3), between=("unit", "cradle"))] if linked else [],
            whole=whole if random.random() < 0.3 else None,
            stages=[Stage("off", in_place=tuple(each.name for each in supports), off=tuple(off))],
            limits=SLOPING,
        )
    )


def _ready(parts: list[Part], name: str, off: list[str]) -> bool:
    """Whether all that must be off before a part, and before that, comes off in the same stage."""
    after = next(each.after for each in parts if each.name == name)
    return all(other in off and _ready(parts, other, off) for other in after)


@pytest.mark.parametrize("number", range(24))
def test_the_order_is_that_of_trying_every_order(number: int) -> None:
    made = made_up(Random(number))
    plan = plan_order(made, 0)
    order = widest(made)
    assert plan.proven
    assert tuple(step.part for step in plan.steps) == order
    assert told(plan) == pytest.approx(margins(one_by_one(made, order)), abs=AGREED)


def test_the_sample_is_not_all_of_one_kind() -> None:
    made = [made_up(Random(number)) for number in range(24)]
    plans = [plan_order(each, 0) for each in made]
    orders_found = [tuple(step.part for step in plan.steps) for plan in plans]
    assert sum(order != each.stages[-1].off for order, each in zip(orders_found, made, strict=True)) > 5
    assert any(not step.balanced for plan in plans for step in plan.steps)
    assert sum(0 < plan.narrowest < inf for plan in plans) > 5
    assert any(each.after for one in made for each in one.vehicle.parts)
    assert any(body.weighed for one in made for body in one.vehicle.bodies)


# ---- what a stage changes besides ----------------------------------------------------------------


def on_a_cradle(**changes: object) -> Job:
    """A unit of two parts bolted on a cradle; the unit comes off, and its own stand E with it."""
    parts = [
        part((0.0, 0.0), 60.0, name="frame", body="cradle"),
        part((0.35, 0.1), 40.0, name="front half", mass_pm=2.0),
        part((-0.2, -0.3), 50.0, name="rear half", mass_pm=2.0),
    ]
    places = [(0.4, 0.4), (0.4, -0.4), (-0.4, -0.4), (-0.4, 0.4)]
    supports = [*stands(places, body="cradle"), support("E", (0.35, 0.0), body="unit")]
    names = tuple(each.name for each in supports)
    last = Stage("apart", off=("front half", "rear half"), **changes)  # type: ignore[arg-type]
    made = job(
        parts,
        supports,
        joints=[mount("link", (0.0, 0.0)), mount("other link", (-0.1, 0.3)), mount("third link", (-0.1, -0.3))],
        bodies=("cradle", "unit"),
        stages=[Stage("standing", in_place=names), last],
        limits=SLOPING,
    )
    return rigid(made)


def side_by_side() -> Job:
    """A frame that stays beside a unit on stands of its own, which go with it."""
    made = on_a_cradle(cleared=("E", "F", "G"))
    more = (support("F", (-0.4, 0.35), body="unit"), support("G", (-0.4, -0.35), body="unit"))
    first, last = made.stages
    standing = replace(first, in_place=(*first.in_place, "F", "G"))
    vehicle = replace(made.vehicle, joints=())
    return replace(made, vehicle=vehicle, supports=(*made.supports, *more), stages=(standing, last))


def test_what_goes_with_an_emptied_assembly_stays_until_it_is_gone() -> None:
    made = on_a_cradle(cleared=("E",))
    half_way = part_way(made, 1, frozenset({"front half"}))
    assert [each.name for each in half_way.supports] == ["A", "B", "C", "D", "E"]
    assert half_way.bodies == ("cradle", "unit")
    done = part_way(made, 1, frozenset({"front half", "rear half"}))
    assert [each.name for each in done.supports] == ["A", "B", "C", "D"]
    assert done.bodies == ("cradle",)


def test_mounts_of_an_emptied_assembly_hold_until_it_is_gone() -> None:
    made = on_a_cradle(cleared=("E",), undone=("link", "other link", "third link"))
    half_way = part_way(made, 1, frozenset({"rear half"}))
    assert [each.name for each in half_way.done_up] == ["link", "other link", "third link"]


def test_an_emptied_assembly_is_judged_like_a_job_that_clears_its_stand_with_the_last_part() -> None:
    made = on_a_cradle(cleared=("E",))
    plan = plan_order(made, 1)
    standing, last = made.stages
    by_hand = {}
    for first, then in permutations(last.off):
        stages = (standing, Stage("first", off=(first,)), Stage("then", off=(then,), cleared=("E",)))
        by_hand[first, then] = margins(replace(made, stages=stages))[1:]
    widest_order = max(by_hand, key=lambda order: min(by_hand[order]))
    assert tuple(step.part for step in plan.steps) == widest_order
    assert told(plan) == pytest.approx(by_hand[widest_order], abs=AGREED)


def test_a_stand_taken_from_an_assembly_that_stays_is_away_from_the_start() -> None:
    made = on_a_cradle(cleared=("D",))
    kept = replace(made, stages=(made.stages[0], replace(made.stages[1], off=("front half",))))
    assert [each.name for each in part_way(kept, 1, frozenset()).supports] == ["A", "B", "C", "E"]


def test_the_vehicle_on_the_lift_counts_among_the_bodies() -> None:
    """Its own margin is the least, and the same whatever comes off: all orders tie, and the list decides."""
    parts = [
        part((0.0, 0.0, 0.9), 900.0, name="hull", body="shell"),
        part((0.0, 0.0), 80.0, name="block"),
        part((0.1, 0.0), 9.0, name="right"),
        part((-0.1, 0.0), 9.0, name="left"),
    ]
    lift = lift_use([(0.05, 0.6), (0.05, -0.6), (-0.9, 0.6), (-0.9, -0.6)])
    supports = stands([(0.4, 0.4), (0.4, -0.4), (-0.4, -0.4), (-0.4, 0.4)])
    names = tuple(each.name for each in supports)
    made = job(parts, supports, lift=lift, stages=[Stage("off", in_place=names, off=("left", "right"))], limits=SLOPING)
    plan = plan_order(made, 0)
    assert [step.part for step in plan.steps] == ["left", "right"]
    assert told(plan) == pytest.approx([plan.narrowest, plan.narrowest])
    assert plan.narrowest == pytest.approx(min(margins(one_by_one(made, ("left", "right")))), abs=AGREED)


def test_in_any_order_makes_no_difference() -> None:
    made = made_up(Random(3))
    stage = replace(made.stages[0], any_order=True)
    assert plan_order(replace(made, stages=(stage,)), 0) == plan_order(made, 0)


# ---- nothing to choose, nothing that holds -------------------------------------------------------


def test_where_everything_tips_the_list_decides_and_no_margin_is_told() -> None:
    beside = [part((1.0, 0.0), 60.0, name=name) for name in ("z", "a", "m")]
    made = job([part((0.9, 0.0), 300.0, name="base"), *beside], stands([(0.2, 0.2), (0.2, -0.2), (-0.2, 0.0)]))
    made = replace(made, stages=(replace(made.stages[0], off=("z", "a", "m")),))
    plan = plan_order(made, 0)
    assert [step.part for step in plan.steps] == ["z", "a", "m"]
    assert [(step.balanced, step.worst_margin) for step in plan.steps] == [(False, None)] * 3
    assert plan.narrowest == -inf
    assert plan.proven


def test_what_stands_before_and_after_but_not_between_takes_the_way_round() -> None:
    """The weights at both ends come off in turn: two from one side would take it over."""
    ends = [part((side * 0.9, 0.0), 50.0, name=name) for side, name in ((1, "f1"), (1, "f2"), (-1, "r1"), (-1, "r2"))]
    made = job(
        [part((0.0, 0.0), 200.0, name="base"), *ends], stands([(0.3, 0.3), (0.3, -0.3), (-0.3, -0.3), (-0.3, 0.3)])
    )
    made = replace(made, stages=(replace(made.stages[0], off=("f1", "f2", "r1", "r2")),))
    plan = plan_order(made, 0)
    assert [step.part for step in plan.steps] == ["f1", "r1", "f2", "r2"]
    assert plan.narrowest == pytest.approx(0.3 - 0.9 * 50 / 250, abs=1e-9)  # by hand: one end left


def test_a_stage_that_takes_nothing_off_is_an_error() -> None:
    made = job([part()], stands([(0.2, 0.2), (0.2, -0.2), (-0.2, 0.0)]))
    with pytest.raises(InputError, match=r'stage 1 "all", off: takes no part off'):
        plan_order(made, 0)


# ---- many parts ----------------------------------------------------------------------------------


def at_both_ends(count: int, random: Random) -> Job:
    parts = [part((0.0, 0.0), 60.0, name="base")]
    for number in range(count):
        side = 1 if number % 2 else -1
        at = (side * random.uniform(0.3, 0.9), random.uniform(-0.3, 0.3) + 0.2 * side, random.uniform(0.1, 0.9))
        parts.append(part(at, random.uniform(20, 50), name=f"p{number}", mass_pm=1.0, at_pm=(0.02, 0.02, 0.02)))
    made = job(parts, stands([(0.3, 0.3), (0.3, -0.3), (-0.3, -0.3), (-0.3, 0.3)]), limits=SLOPING)
    return replace(made, stages=(replace(made.stages[0], off=tuple(each.name for each in parts[1:])),))


def test_with_eighteen_parts_it_is_proven_and_no_exchange_of_neighbours_is_better() -> None:
    made = at_both_ends(18, Random(4))
    plan = plan_order(made, 0)
    assert plan.proven
    order = [step.part for step in plan.steps]
    parts = course(made, 0)
    for number in range(len(order) - 1):
        swapped = [*order[:number], order[number + 1], order[number], *order[number + 2 :]]
        assert _narrowest(parts, swapped) <= plan.narrowest + 1e-9


def test_beyond_twenty_parts_it_says_that_it_is_not_proven_and_how_much_may_be_missing() -> None:
    made = at_both_ends(24, Random(7))
    plan = plan_order(made, 0)
    assert not plan.proven
    assert 0 < plan.narrowest < plan.ceiling
    assert sorted(step.part for step in plan.steps) == sorted(made.stages[0].off)
    assert plan.narrowest == pytest.approx(min(told(plan)))
    assert told(plan)[-1] == pytest.approx(margins(with_off(made, frozenset(made.stages[0].off)))[-1], abs=AGREED)


def test_beyond_twenty_parts_it_is_proven_where_nothing_could_keep_more() -> None:
    parts = [part((0.0, 0.0), 300.0, name="base"), *(part((0.01, 0.0), 1.0, name=f"p{number}") for number in range(22))]
    made = job(parts, stands([(0.3, 0.3), (0.3, -0.3), (-0.3, -0.3), (-0.3, 0.3)]), limits=SLOPING)
    plan = plan_order(replace(made, stages=(replace(made.stages[0], off=tuple(f"p{n}" for n in range(22))),)), 0)
    assert plan.proven


def _narrowest(parts: Course, order: list[str]) -> float:
    off = np.zeros((len(order), len(order)), dtype=np.bool_)
    for number, name in enumerate(order):
        off[number:, parts.parts.index(name)] = True
    return float(parts.margins(off).min())


@pytest.mark.parametrize("number", range(7))
def test_all_sets_at_once_are_judged_as_each_by_itself(number: int) -> None:
    made = made_up(Random(100 + number)) if number else side_by_side()
    parts = course(made, len(made.stages) - 1)
    count = len(parts.parts)
    off = np.array([[bool(bits >> part & 1) for part in range(count)] for bits in range(1 << count)])
    found = parts.margins(off)
    for margin in (-0.05, 0.0, 0.03, 0.08, 0.15, 0.3):
        whole = closed(parts.needs)
        assert parts.keeping(margin).tolist() == (whole & (found >= margin)).tolist()


@pytest.mark.parametrize("soft", [2e5, 1e6])
def test_lean_is_that_of_both_ends_whichever_hurts_more(soft: float) -> None:
    """The least margin of any set is what `check` tells of the stage with its parts off in any order."""
    parts = [
        part((0.0, 0.0), 200.0, name="base", at_pm=(0.01, 0.01, 0.02)),
        part((0.35, 0.1, 1.1), 40.0, name="front", mass_pm=2.0),
        part((-0.3, 0.2, 0.9), 30.0, name="rear", mass_pm=3.0),
    ]
    use = replace(STAND, stiffness=soft)
    under = stands([(0.4, 0.4), (0.4, -0.4), (-0.4, -0.4), (-0.4, 0.4)], use=use)
    stages = [Stage("on", in_place=tuple("ABCD")), Stage("off", off=("front", "rear"), any_order=True)]
    made = job(parts, under, stages=stages, limits=Limits())
    every = np.array([[False, False], [True, False], [False, True], [True, True]])
    assert course(made, 1).margins(every).min() == pytest.approx(margins(made)[1], abs=1e-9)
    level = replace(made, supports=rigid(made).supports, limits=SLOPING)
    assert course(made, 1).margins(every).min() < course(level, 1).margins(every).min() - 1e-3

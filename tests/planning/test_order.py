"""The order of parts: against every order, judged as a job whose parts come off one after another.

All jobs are small and made up.
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import permutations
from math import inf, radians
from random import Random

import pytest

import loadplan
from loadplan.limits import Limits
from loadplan.model.job import Job, Stage
from loadplan.model.vehicle import Part
from loadplan.planning.order import OrderPlan, plan_order
from tests.statics.builders import job, mount, part, stands, support, weighed

SLOPING = replace(Limits(), floor_slope=radians(0.6))
AGREED = 5e-5
"""Agreed difference of worst margins [m]."""


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
    return job(
        [*parts, *base],
        supports,
        joints=[mount("link", (0.1, -0.3), between=("unit", "cradle"))] if linked else [],
        whole=whole if random.random() < 0.3 else None,
        stages=[Stage("off", in_place=tuple(each.name for each in supports), off=tuple(off))],
        limits=SLOPING,
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

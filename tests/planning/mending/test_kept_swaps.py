"""Swaps of stands, step by step with what each changes in the plan, held against kept texts."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

import pytest

from loadplan.model.job import Job, SetAnew, Stage
from loadplan.model.shop import Equipment
from loadplan.planning.mending.stand_swap import StandSwap, swap
from tests.kept_text import assert_kept
from tests.planning.mending.plans import JACK, RATCHET, SCREW, but, plan, stand, steel
from tests.planning.mending.written import differences, sentence, stage

KEPT = Path(__file__).parent / "kept"
PLENTY = replace(SCREW, count=6, tags=())
UNCOUNTED = replace(SCREW, count=None, tags=())

PLACES = frozenset(("front left", "front right", "rear left", "rear right", "middle left", "middle right", "box tail"))
"""Where something may stand: at each that is free somebody could help."""


class Asked(NamedTuple):
    """A swap that is asked for.

    Attributes:
        job: The plan.
        index: Number of the step in which the stand stands.
        name: The stand that goes.
        incoming: What comes, None for nothing.
    """

    job: Job
    index: int
    name: str
    incoming: Equipment | None


def _five() -> Job:
    """Four stands and a fifth that turns: no single one is missed; in the end all are taken away."""
    job = plan(*but(), stand("E", "middle left", SCREW), shop=(RATCHET, SCREW, JACK))
    away = Stage("Away", cleared=("A", "B", "C", "D", "E"), set_anew=(SetAnew("E", 0.3),))
    return replace(job, stages=(*job.stages, away))


def _named(job: Job) -> Job:
    """The same, in which two names that a new stand would take are taken."""
    twin = replace(stand("D", "bracket"), name="D2", tag="", standby=True)
    return replace(job, supports=(*job.supports, twin), us_units=True)


def _low() -> Job:
    """The same with D so low that it carries nothing."""
    return plan(*but(stand("D", "rear right", height=0.31)), stand("E", "middle right"))


def _with_a_shim() -> Job:
    """D stands on a plate; what turns is not tagged."""
    return plan(*but()[:3], replace(stand("D", "rear right", height=0.31), shim=steel(0.012)), shop=(RATCHET, PLENTY))


def _uncounted() -> Job:
    """Four stands that turn, of which nobody counts how many there are."""
    return plan(*(replace(each, equipment=UNCOUNTED, tag="") for each in but()), shop=(UNCOUNTED,))


def _soft() -> Job:
    """Stands that give way by millimetres under what they carry; D is only brought up to touch."""
    soft = replace(SCREW, stiffness=1.5e5, count=6, tags=())
    stands = [replace(each, equipment=soft, tag="") for each in but()]
    return plan(*stands[:3], replace(stands[3], height=None), shop=(soft,))


SWAPS: Mapping[str, Asked] = {
    "touching-on-soft-stands": Asked(_soft(), 1, "D", RATCHET),
    "for-another-piece": Asked(_five(), 1, "D", RATCHET),
    "for-a-jack-in-inches": Asked(_named(_five()), 1, "D", JACK),
    "one-that-turns-for-nothing": Asked(_five(), 1, "E", None),
    "idle-for-another": Asked(_low(), 1, "D", SCREW),
    "idle-for-nothing": Asked(_low(), 1, "D", None),
    "one-with-a-shim": Asked(_with_a_shim(), 2, "D", RATCHET),
    "uncounted": Asked(_uncounted(), 1, "A", UNCOUNTED),
    "no-way": Asked(plan(*but(), shop=(RATCHET,)), 1, "D", RATCHET),
}


def _written(found: StandSwap, before: Job) -> Iterator[str]:
    yield f"{found.stage}: {found.stand}, moving {', '.join(found.moving)}; {found.considered} considered"
    yield f"{found.verdict.name}, {'clean' if found.clean else 'not clean'}"
    for step in found.steps:
        yield f"{step.verdict.name} {step.worst_margin:.4f}: {sentence(step.says)}"
    yield from (f"    {line}" for line in differences(before, found.job))
    yield from (stage(each) for each in found.job.stages)
    yield from (f"{each.state.name}: {each.verdict.name}" for each in found.stages)


SLOW = ("for-another-piece", "one-with-a-shim", "uncounted")


@pytest.mark.parametrize("name", [pytest.param(each, marks=[pytest.mark.slow] * (each in SLOW)) for each in SWAPS])
def test_a_swap_is_planned_as_it_is_kept(name: str) -> None:
    asked = SWAPS[name]
    few = tuple(each for each in asked.job.vehicle.points if each.name in PLACES)
    job = replace(asked.job, vehicle=replace(asked.job.vehicle, points=few))
    found = swap(job, asked.index, asked.name, asked.incoming)
    assert_kept(KEPT / f"swap-{name}.txt", "\n".join([*_written(found, job), ""]))

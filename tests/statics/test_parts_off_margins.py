"""A group from which parts come off: every set at once is what each set of them is by itself."""

from dataclasses import replace
from itertools import product
from math import inf, radians
from random import Random

import numpy as np
import pytest

from loadplan.model.job import Job, Stage
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.mass import lumps
from loadplan.statics.parts_off_margins import Shrinking, shrinking
from loadplan.statics.tipping_modes import rays
from loadplan.statics.worst_margin import worst
from tests.statics import builders as make

SLOPE = radians(0.6)
OFF = ("p0", "p1", "p2", "p3", "p4")


def made(seed: int, *, weighed: bool = False, cradle: bool = False) -> Job:
    """A made-up unit of which five parts can come off, some far out so that it tips without others."""
    random = Random(seed)
    spread = {"mass_pm": 3.0, "at_pm": (0.02, 0.01, 0.03)}
    parts = [make.part((random.uniform(-0.1, 0.1), 0.0, 0.5), 60.0, name="block", **spread)]  # type: ignore[arg-type]
    parts += [
        make.part(
            (random.uniform(-1.2, 1.2), random.uniform(-1.2, 1.2), random.uniform(0.3, 1.2)),
            random.uniform(10, 60), name=name, mass_pm=random.uniform(0, 5),
            at_pm=(random.uniform(0, 0.05), random.uniform(0, 0.05), 0.02),
        )
        for name in OFF
    ]  # fmt: skip
    whole = {}
    if weighed:
        total = sum(each.mass for each in parts)
        cg = tuple(sum(each.mass * each.at[axis] for each in parts) / total for axis in range(3))
        whole["unit"] = make.weighed(total, cg, mass_pm=4.0, cg_pm=(0.01, 0.02, 0.02))  # type: ignore[arg-type]
    stands = make.stands(make.SQUARE)
    if not cradle:
        return make.job(parts, stands, whole=whole)
    parts.append(make.part((0.0, 0.0), 80.0, name="c", body="cradle"))
    own = [make.support(f"e{number}", at) for number, at in enumerate([(0.4, 0.4), (0.4, -0.4), (-0.5, 0.1)])]
    links = [make.mount("link", (-0.2, 0.0))]
    return make.job(parts, [*make.stands(make.SQUARE, body="cradle"), *own], joints=links, whole=whole)


def together(job: Job) -> Shrinking:
    state = make.state(job)
    union = lumps(job, replace(state, on=state.on - set(OFF), may_be_on=OFF))
    (frame,) = frames(state, lumps(job, state))
    return shrinking(frame, tuple(union), OFF, make.floor(frame, SLOPE))


def alone(job: Job, off: tuple[str, ...]) -> tuple[Frame, float]:
    """The group without some parts, and its least worst margin: −inf where it is not balanced."""
    first = Stage("all", in_place=tuple(each.name for each in job.supports))
    frame = make.frame(replace(job, stages=(first, Stage("less", off=off)) if off else (first,)))
    solved = make.solve(frame, make.settings(frame, slope=SLOPE))
    if not solved.answer.balanced:
        return frame, -inf
    return frame, float(worst(frame, rays(frame), make.floor(frame, SLOPE), ()).margins.min())


CASES = [(seed, kind) for kind in ("plain", "weighed", "cradle") for seed in range(4)]


@pytest.mark.parametrize(("seed", "kind"), CASES)
def test_every_set_of_parts_is_what_it_is_by_itself(seed: int, kind: str) -> None:
    job = made(seed, weighed=kind == "weighed", cradle=kind == "cradle")
    shrunk = together(job)
    sets = list(product((False, True), repeat=len(OFF)))
    expected = [alone(job, tuple(name for name, off in zip(OFF, each, strict=True) if off))[1] for each in sets]
    margins = shrunk.margins(np.array(sets))
    assert margins == pytest.approx(expected, abs=1e-6)
    number = [sum(off << place for place, off in enumerate(each)) for each in sets]
    balanced = shrunk.balanced()[number]
    assert balanced.tolist() == [each > -inf for each in expected]
    for margin in sorted({each for each in expected if each > -inf}):
        for nudge in (-1e-5, 1e-5):
            kept = shrunk.keeps(margin + nudge)[number]
            assert [bool(a and b) for a, b in zip(kept, balanced, strict=True)] == [
                each >= margin + nudge for each in expected
            ]


def test_within_a_thousandth_of_a_millimetre_of_an_edge_it_tips() -> None:
    for off_edge, stands in ((5e-7, False), (2e-6, True)):
        parts = [make.part((0.5 - off_edge, 0.0), 60.0, name="block")]
        parts += [make.part((0.0, 0.0), 10.0, name=name) for name in OFF]
        shrunk = together(make.job(parts, make.stands(make.SQUARE)))
        balanced = shrunk.balanced()
        assert balanced[:-1].all()
        assert balanced[-1] == stands
        assert (shrunk.margins(np.ones((1, len(OFF)), dtype=np.bool_))[0] > -inf) == stands

"""Hand-made assessments for the reports' tests: a front unit on six stands. Every number here is made up."""

from dataclasses import replace
from itertools import combinations
from typing import TypeAlias

import numpy as np

from loadplan.limits import GRAVITY
from loadplan.model.answer import (
    Balanced,
    BodyAnswer,
    GroupAnswer,
    JointForce,
    Load,
    LoadRange,
    Loose,
    Miss,
    Mode,
    Motion,
    Statics,
    SupportAnswer,
    Tips,
)
from loadplan.model.disturbance import LostSupport, PushAnswer
from loadplan.model.job import Job, State, Support
from loadplan.model.lowering import LiftAnswer, Lowering, SetDownAnswer
from loadplan.model.vehicle import Basis, Joint, JointKind, Place
from loadplan.model.verdict import Assessment, Finding, Measure, Quantity, Sentence, StageAssessment, Verdict
from tests.report.plans import CG_PM, CGS, MASSES, job

__all__ = ["CGS", "MASSES", "ROCKS", "TIPS", "assessment", "finding", "job", "state"]

Ties: TypeAlias = tuple[list[Support], list[Joint]]

ROCKS, TIPS = 3, 4
LOADS = {"A": 20.0, "B": 20.0, "C": 48.0, "D": 47.0, "E": 173.0, "F": 120.0}


def state(plan: Job, index: int) -> State:
    bolted = index == 0
    letters = "ABCD" if index == ROCKS else "ABCDEF"
    joints = plan.vehicle.joints
    return State(
        index=index,
        stage=plan.stages[index],
        bodies=plan.bodies,
        on=frozenset(part.name for part in plan.vehicle.parts),
        may_be_on=(),
        done_up=joints if bolted else joints[:1],
        undone=() if bolted else joints[1:],
        supports=(*(each for each in plan.supports if each.name in letters), *plan.lift.arms),
        lowered=0.012,
        lift_locked=True,
    )


def wholes(bodies: tuple[str, ...], joints: tuple[Joint, ...]) -> list[tuple[str, ...]]:
    """Put the bodies tied by bolted joints together."""
    sets = [{each} for each in bodies]
    for joint in joints:
        if joint.kind is JointKind.BOLTED and set(joint.between) <= set(bodies):
            tied = [each for each in sets if each & set(joint.between)]
            sets = [each for each in sets if each not in tied] + [set().union(*tied)]
    return [
        tuple(each for each in bodies if each in tied)
        for tied in sorted(sets, key=lambda s: bodies.index(min(s, key=bodies.index)))
    ]


def row(at: Place, place: int, size: int) -> np.ndarray:
    values = np.zeros(3 * size)
    values[3 * place : 3 * place + 3] = [1.0, at[1], -at[0]]
    return values


PUSH = PushAnswer(590.0, 3.7, "powertrain", (0.1, 0.0, 0.8), "slides", ("C", "D"), 590.0, 4200.0)
SET_DOWN = SetDownAnswer(
    bodies=("subframe", "powertrain"),
    weight=4200.0,
    start=0.007,
    end=0.0125,
    lowered=0.009,
    given=True,
    drop=0.002,
    lowering=Lowering((0.0, 0.009), ("A", "sill front left"), ((0.0, 200.0), (4000.0, 3000.0))),
)


def cg_of(name: str, here: State) -> Place:
    x, y, z = CGS[name]
    return (0.28, y, z) if here.index == TIPS and name == "powertrain" else (x, y, z)


def modes(bodies: tuple[str, ...], here: State) -> tuple[Mode, ...]:
    """List the extreme ways to go over, by trying every set of supports that may stay loaded."""
    rigid = wholes(bodies, here.done_up)
    where = {each: place for place, tied in enumerate(rigid) for each in tied}
    stands = [each for each in here.supports if each.body in bodies]
    mounts = [
        joint
        for joint in here.done_up
        if set(joint.between) <= set(bodies) and where[joint.between[0]] != where[joint.between[1]]
    ]
    size = len(rigid)
    rows = [row(each.at, where[each.body], size) for each in stands]
    ties = [row(m.at[0], where[m.between[0]], size) - row(m.at[0], where[m.between[1]], size) for m in mounts]
    found = []
    for chosen in combinations(range(len(rows)), 3 * size - 1 - len(ties)):
        matrix = np.array(ties + [rows[place] for place in chosen])
        _, values, vectors = np.linalg.svd(matrix)
        if len(values) == 3 * size - 1 and values[-1] < 1e-9:
            continue
        for sign in (1, -1):
            motion = sign * vectors[-1]
            if all(np.dot(each, motion) > -1e-9 for each in rows):
                motion = motion / np.abs(motion).max()
                if not any(np.allclose(motion, other) for other in found):
                    found.append(motion)
    told = [mode(here, rigid, (stands, mounts), motion) for motion in found]
    return tuple(sorted(told, key=lambda each: min(margin for _, margin in each.margins)))


def mode(here: State, rigid: list[tuple[str, ...]], ties: Ties, motion: np.ndarray) -> Mode:
    stands, mounts = ties
    where = {each: place for place, tied in enumerate(rigid) for each in tied}
    bodies = tuple(each for tied in rigid for each in tied)
    own = {each: Motion(*map(float, motion[3 * where[each] : 3 * where[each] + 3])) for each in bodies}
    work = sum(MASSES[each] * GRAVITY * own[each].up_at(*cg_of(each, here)[:2]) for each in bodies)
    margins = []
    for each in bodies:
        turn = np.hypot(own[each].rx, own[each].ry)
        if turn > 1e-9:
            weight = sum(MASSES[other] for other in rigid[where[each]]) * GRAVITY
            margins.append((each, float(work / (weight * turn))))
    moving = tuple(each for each in bodies if max(abs(own[each].w), abs(own[each].rx), abs(own[each].ry)) > 1e-9)
    about = [each.name for each in stands if each.body in moving and abs(own[each.body].up_at(*each.at[:2])) < 1e-9]
    hinges = [m.name for m in mounts if all(abs(own[b].up_at(*m.at[0][:2])) < 1e-9 for b in m.between)]
    return Mode(tuple(about + hinges), moving, tuple(own.items()), float(work), tuple(margins))


def group(bodies: tuple[str, ...], here: State) -> GroupAnswer:
    ways = modes(bodies, here)
    stands = tuple(each.name for each in here.supports if each.body in bodies)
    gone = [each for each in ways if each.work <= 0]
    proof = (
        Tips(gone[0].motions)
        if gone
        else Balanced(tuple((each, LOADS.get(each, 300.0) * GRAVITY) for each in stands), (("rear roll link", 400.0),))
    )
    lost = tuple(
        LostSupport(each, each not in "EF", () if each not in "EF" else ("A", "B")) for each in stands if len(each) == 1
    )
    return GroupAnswer(
        bodies=bodies,
        supports=stands,
        proof=proof,
        robust=not gone,
        modes=ways,
        snags=(),
        lost=() if gone else lost,
        sunk=(),
        simplified=False,
        sway=0.01,
        pushes=(PUSH,) if "powertrain" in bodies and here.index else (),
        laid_on=(),
    )


def loose_group(bodies: tuple[str, ...], here: State) -> GroupAnswer:
    stands = tuple(each.name for each in here.supports if each.body in bodies)
    still = tuple((each, Motion(0.0, 0.0, 0.0)) for each in bodies)
    free = Loose((*still[:-1], (bodies[-1], Motion(-0.27, 0.0, 1.0))))
    return GroupAnswer(
        bodies=bodies,
        supports=stands,
        proof=free,
        robust=False,
        modes=(),
        snags=(),
        lost=(),
        sunk=(),
        simplified=False,
        sway=None,
        pushes=(),
        laid_on=(),
    )


def statics(plan: Job, index: int) -> Statics:
    here = state(plan, index)
    if index == 0:
        return answers(here, (group(plan.bodies, here),))
    unit = ("subframe", "powertrain")
    return answers(here, (group(("shell",), here), (loose_group if index == ROCKS else group)(unit, here)))


def answers(here: State, groups: tuple[GroupAnswer, ...]) -> Statics:
    bodies = []
    for name in here.bodies:
        own = next(each for each in groups if name in each.bodies)
        rigid = next(each for each in wholes(own.bodies, here.done_up) if name in each)
        margins = [dict(each.margins)[name] for each in own.modes if name in dict(each.margins)]
        margin = min(margins, default=None) if own.balanced else None
        bodies.append(
            BodyAnswer(
                name=name,
                rigid_with=tuple(each for each in rigid if each != name),
                mass=MASSES[name],
                cg=cg_of(name, here),
                cg_pm=CG_PM[name],
                balanced=own.balanced,
                margin=margin,
                worst_margin=None if margin is None else margin - 0.035,
                tip_angle=None if margin is None else float(np.arctan(margin / 0.3)),
                motion=Motion(0.0, 0.002, 0.003) if own.balanced else None,
            )
        )
    supports = []
    for each in here.supports:
        own = next(one for one in groups if each.body in one.bodies)
        carried = LOADS.get(each.name, 300.0) * GRAVITY
        span = LoadRange(max(0.0, carried - 250), carried + 300, max(0.0, carried - 300), carried + 450)
        load = Load(carried, span)
        supports.append(SupportAnswer(each.name, 0.001, load if own.balanced else None))
    return Statics(
        groups=groups,
        bodies=tuple(bodies),
        supports=tuple(supports),
        joints=tuple(JointForce(each.name, 412.0 if each.name == "rear roll link" else None) for each in here.done_up),
        misses=tuple(Miss(each.name, 0.0012, (0.001, 0.0, 0.0006)) for each in here.undone),
        lift=LiftAnswer(1150.0, 1207.5, CGS["shell"], 0.012),
        set_down=None if here.index else SET_DOWN,
        pull=None,
    )


def finding(
    check: str,
    verdict: Verdict,
    subject: str,
    says: Sentence,
    value: float | None = None,
    limit: float | None = None,
    measure: Measure = Measure.LENGTH,
) -> Finding:
    return Finding(check, verdict, subject, value, limit, measure, says)


FINDINGS = (
    (
        finding("balance", Verdict.HOLDS, "subframe, powertrain", ("It stays where put.",)),
        finding("margin", Verdict.HOLDS, "powertrain", ("Far enough.",), 0.061, 0.05),
        finding("lost support", Verdict.NOTE, "E", ("If E goes, the powertrain goes over, turning about A and B.",)),
        finding("lost support", Verdict.NOTE, "F", ("If F goes, the powertrain goes over, turning about A and B.",)),
    ),
    (
        finding("balance", Verdict.HOLDS, "subframe, powertrain", ("It stays where put.",)),
        finding("lost support", Verdict.NOTE, "E", ("If E goes, the powertrain goes over, turning about A and B.",)),
        finding("lost support", Verdict.NOTE, "F", ("If F goes, the powertrain goes over, turning about A and B.",)),
        finding(
            "margin",
            Verdict.CAUTION,
            "powertrain",
            (
                "The powertrain is only ",
                Quantity(0.0496, Measure.LENGTH),
                " from tipping in the worst case (asked for: ",
                Quantity(0.05, Measure.LENGTH),
                "). Do not touch the stands. Take the weight back first.",
            ),
            0.0496,
            0.05,
        ),
    ),
    (
        finding(
            "jack holding",
            Verdict.CAUTION,
            "E",
            ("E holds the gearbox by oil: put a stand beside it.",),
            1700.0,
            0.0,
            Measure.LOAD,
        ),
    ),
    (finding("balance", Verdict.STOP, "subframe, powertrain", ("The powertrain is free to rock.",)),),
    (finding("balance", Verdict.STOP, "subframe, powertrain", ("The powertrain tips to the front.",)),),
)


def assessment(*, us_units: bool = False, basis: Basis = Basis.DATA_SHEET) -> Assessment:
    plan = job(us_units=us_units)
    stages = tuple(
        StageAssessment(state(plan, k), statics(plan, k), FINDINGS[k], max(each.verdict for each in FINDINGS[k]))
        for k in range(len(plan.stages))
    )
    stages = tuple(replace(each, verdict=Verdict.HOLDS) if each.verdict is Verdict.NOTE else each for each in stages)
    return Assessment(
        job=plan,
        verdict=max(each.verdict for each in stages),
        basis=basis,
        assumed=plan.assumed,
        not_checked=(("Sideways push: not built yet.",),),
        stages=stages,
        narrowest=None,
    )

"""Holds an assessment against the judge, figure by figure; as a script, over many seeds.

python -m tests.reference.compare 0 400        # seeds from, to
"""

import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from itertools import pairwise
from math import radians
from pathlib import Path
from typing import Any

import numpy as np

from loadplan import read_job
from loadplan.assess import assess
from loadplan.model.answer import Balanced, BodyAnswer, GroupAnswer, Loose, Motion, Statics, Tips
from tests.reference.elastic import Array
from tests.reference.exact import Frame
from tests.reference.figures import EVERYTHING, Asked, Figures
from tests.reference.group import EDGE
from tests.reference.random_jobs import FAMILIES, random_job, write_job
from tests.reference.solver import judge

LENGTH = 1e-6
"""Margins, worst margins, gaps and misses may differ by this [mm]; a worst margin is bisected to 1e-9."""
SHARE = 1e-8
"""Loads may differ by this share of the group's weight: what HiGHS keeps of a programme of size 1."""
ANGLE = 1e-9
"""Angles may differ by this [rad]; large motions (of a body that hangs from soft springs) by 1e-7 of themselves."""
PROOF = 1e-9
"""What a proof may leave over, as a share of the weight or of the motion."""


def differences(job: dict[str, Any], folder: Path, asked: Asked = EVERYTHING) -> list[str]:
    """Return every figure of a job in which loadplan and the judge differ, a line each."""
    assessment = assess(read_job(write_job(job, folder)))
    told = []
    for figures, stage in zip(judge(job, asked), assessment.stages, strict=True):
        told += [f"{figures.name}: {line}" for line in stage_differences(figures, stage.statics)]
    return told


def stage_differences(figures: Figures, statics: Statics) -> Iterator[str]:
    """Yield what differs in one stage."""
    yield from _bodies(figures, statics)
    yield from _supports(figures, statics)
    yield from _rest(figures, statics)
    groups = {frozenset(group.bodies): group for group in statics.groups}
    if set(groups) != {frozenset(names) for names in figures.groups}:
        yield f"groups {sorted(map(sorted, groups))}, judge {figures.groups}"
        return
    for names in figures.groups:
        yield from _group(figures, names, groups[frozenset(names)])


def _near(what: str, ours: float | None, theirs: float | None, within: float) -> Iterator[str]:
    if (ours is None) != (theirs is None) or (ours is not None and not abs(ours - (theirs or 0.0)) <= within):
        yield f"{what}: {ours}, judge {theirs}"


def _scaled(value: float | None, factor: float) -> float | None:
    return None if value is None else value * factor


def _bodies(figures: Figures, statics: Statics) -> Iterator[str]:
    if {body.name for body in statics.bodies} != set(figures.balanced):
        yield f"bodies {[body.name for body in statics.bodies]}, judge {list(figures.balanced)}"
        return
    for body in statics.bodies:
        name = body.name
        if body.balanced != figures.balanced[name]:
            yield f"{name} balanced {body.balanced}, judge {figures.balanced[name]}"
        yield from _near(f"{name} margin", _scaled(body.margin, 1e3), figures.margin.get(name), LENGTH)
        if figures.sure.get(name, True):
            yield from _followed(figures, body)
        for axis, lean in enumerate(figures.lean.get(name, ())):
            yield from _near(f"{name} lean", _scaled(body.lean[axis] if body.lean else None, 1e3), lean, LENGTH)
        if figures.motion_unique.get(name, True):
            yield from _motion(name, body.motion, figures.motion.get(name))


def _followed(figures: Figures, body: BodyAnswer) -> Iterator[str]:
    """Yield what differs in what hangs on how a body's group gives way."""
    name, worst = body.name, figures.worst_margin.get(body.name)
    if figures.every_corner.get(name, True) or worst is None or body.worst_margin is None:
        yield from _near(f"{name} worst margin", _scaled(body.worst_margin, 1e3), worst, LENGTH)
    elif body.worst_margin * 1e3 > worst + LENGTH:
        yield f"{name} worst margin: {body.worst_margin * 1e3}, at most {worst}"
    yield from _near(f"{name} tip angle", body.tip_angle, _scaled(figures.tip_angle.get(name), radians(1)), ANGLE)


def _motion(name: str, ours: Motion | None, theirs: Array | None) -> Iterator[str]:
    for axis, scale, within in (("w", 1e3, LENGTH), ("rx", 1.0, ANGLE), ("ry", 1.0, ANGLE)):
        mine = None if ours is None else scale * getattr(ours, axis)
        other = None if theirs is None else float(theirs[("w", "rx", "ry").index(axis)])
        yield from _near(f"{name} {axis}", mine, other, within * (1 + 100 * abs(other or 0.0)))


def _supports(figures: Figures, statics: Statics) -> Iterator[str]:
    in_air = {support.name for support in statics.supports if support.load is None} - {
        seat.name for frame in figures.frames.values() for seat in frame.seats
    }
    if {support.name for support in statics.supports} - in_air != set(figures.gap) - in_air:
        yield f"supports {[support.name for support in statics.supports]}, judge {list(figures.gap)}"
        return
    weight = {
        seat.name: float(figures.weights[names][0::3].sum())
        for names, frame in figures.frames.items()
        for seat in frame.seats
    }
    for support in (each for each in statics.supports if each.name not in in_air):
        name, load = support.name, support.load
        span = load.range if load else None
        within = SHARE * max(weight.get(name, 1.0), 1.0)
        yield from _near(f"{name} gap", support.gap * 1e3, figures.gap[name], LENGTH)
        yield from _near(f"{name} expected", load.expected if load else None, figures.expected.get(name), within)
        if name in figures.low:
            yield from _near(f"{name} low", span.low if span else None, figures.low[name], within)
            yield from _near(f"{name} high", span.high if span else None, figures.high[name], within)
        yield from _near(f"{name} least", span.least if span else None, figures.least.get(name), within)
        yield from _near(f"{name} most", span.most if span else None, figures.most.get(name), within)


def _rest(figures: Figures, statics: Statics) -> Iterator[str]:
    weight = max(sum(float(weights[0::3].sum()) for weights in figures.weights.values()), 1.0)
    ours = {joint.name: joint.force for joint in statics.joints if joint.force is not None}
    for name in {*ours, *figures.force}:
        theirs = figures.force.get(name)
        yield from _near(f"{name} force", ours.get(name), theirs, SHARE * max(weight, abs(theirs or 0.0)))
    yield from _lowering(figures, statics)
    drops = {drop.place: drop.fall * 1e3 for drop in statics.change.drops}
    for name in {*drops, *figures.drop}:
        if figures.drop_unique.get(name, True):
            theirs = figures.drop.get(name)
            yield from _near(f"{name} drop", drops.get(name), theirs, LENGTH * (1 + 100 * abs(theirs or 0.0)))
    misses = {miss.joint: miss.miss * 1e3 for miss in statics.misses}
    for name in {*misses, *figures.miss}:
        yield from _near(f"{name} miss", misses.get(name), figures.miss.get(name), LENGTH)
    for miss in statics.misses:
        for ours_along, theirs_along in zip(miss.offset, figures.offset.get(miss.joint, miss.offset), strict=True):
            yield from _near(f"{miss.joint} offset", ours_along * 1e3, float(theirs_along), LENGTH)


def _lowering(figures: Figures, statics: Statics) -> Iterator[str]:
    ours, theirs = statics.set_down, figures.set_down
    if (ours is None) != (theirs is None or not theirs.parted):
        yield f"set-down {ours}, judge {theirs}"
    elif ours is not None:
        yield from _near("window from", _scaled(ours.start, 1e3), theirs.start, 1e-5)
        yield from _near("window to", _scaled(ours.end, 1e3), theirs.end, 1e-5)
        yield from _near("lowered", _scaled(ours.lowered, 1e3), theirs.lowered, 1e-5)
        for each in ours.parted:
            yield from _near(f"{each.name} carried", each.carried, figures.carried.get(each.name), SHARE * ours.weight)
            if each.name in figures.parted_drop:
                theirs_drop = figures.parted_drop[each.name]
                within = 1e-5 * (1 + abs(theirs_drop))
                yield from _near(f"{each.name} parted drop", _scaled(each.drop, 1e3), theirs_drop, within)


def _group(figures: Figures, names: tuple[str, ...], group: GroupAnswer) -> Iterator[str]:
    frame, rays = figures.frames[names], figures.rays[names]
    yield from _near(f"{names} sway", group.sway, figures.sway.get(names[0]), 1e-8)
    yield from proof_faults(frame, figures.weights[names], group)
    judged = figures.balanced[names[0]] and figures.sure.get(names[0], True)
    if judged and group.robust != figures.robust[names[0]]:
        yield f"{names} robust {group.robust}, judge {figures.robust[names[0]]}"
    if rays or group.modes:
        yield from _modes(frame, [np.array(ray.motion) for ray in rays], group)
    for lost in group.lost:
        if lost.balanced != figures.lost[lost.support]:
            yield f"without {lost.support} balanced {lost.balanced}, judge {figures.lost[lost.support]}"
    there = {seat.name for seat in frame.seats if not seat.arm and figures.balanced[names[0]]}
    if {lost.support for lost in group.lost} != there:
        yield f"lost supports {[lost.support for lost in group.lost]}"
    if figures.balanced[names[0]]:
        snags = {(snag.joint, snag.body): snag.pull for snag in group.snags if snag.pull is not None}
        theirs = {key: value for key, value in figures.snag.items() if key[1] in names}
        for key in {*snags, *theirs}:
            yield from _near(f"snag {key}", snags.get(key), theirs.get(key), 1e-6 * figures.weights[names][0])


def _vector(frame: Frame, motions: tuple[tuple[str, Motion], ...]) -> Array:
    """Return a proof's or mode's motion in the judge's form: (w [mm], rx, ry) a whole."""
    by_body = dict(motions)
    rows = [by_body[frame.scene.wholes[whole][0]] for whole in frame.wholes]
    return np.array([value for motion in rows for value in (motion.w * 1e3, motion.rx, motion.ry)])


def _unit(vector: Array) -> Array:
    sized = vector * np.tile([1.0, 1e3, 1e3], len(vector) // 3)
    unit: Array = sized / np.abs(sized).max()
    return unit


def _modes(frame: Frame, rays: list[Array], group: GroupAnswer) -> Iterator[str]:
    ours = [_unit(_vector(frame, mode.motions)) for mode in group.modes]
    theirs = _distinct([_unit(ray) for ray in rays])
    if len(ours) != len(theirs):
        yield f"{group.bodies}: {len(ours)} modes, judge {len(theirs)}"
    for ray in theirs:
        if not any(np.abs(ray - mode).max() < 1e-7 for mode in ours):
            yield f"{group.bodies}: mode missing {ray}"
    margins = [min((margin for _, margin in mode.margins), default=np.inf) for mode in group.modes]
    if any(one > other + 1e-12 for one, other in pairwise(margins)):
        yield f"{group.bodies}: modes not by margin {margins}"


def _distinct(rays: list[Array]) -> list[Array]:
    """Leave out rays that only their exact fractions tell apart."""
    kept: list[Array] = []
    for ray in rays:
        if not any(np.abs(ray - other).max() < 1e-7 for other in kept):
            kept.append(ray)
    return kept


def proof_faults(frame: Frame, weights: Array, group: GroupAnswer) -> Iterator[str]:
    """Yield what is wrong with a group's proof, by the rows of the judge."""
    seats = np.array([[float(v) for v in row] for row in frame.seat_rows]).reshape(-1, frame.size)
    ties = np.array([[float(v) for v in row] for row in frame.tie_rows]).reshape(-1, frame.size)
    total = float(np.abs(weights[0::3]).sum())
    span = np.tile([1.0, 1e3, 1e3], len(frame.wholes))
    match group.proof:
        case Balanced(supports, joints):
            loads, forces = dict(supports), dict(joints)
            left = seats.T @ np.array([loads[seat.name] for seat in frame.seats]) - weights
            left += ties.T @ np.array([forces[tie.name] for tie in frame.ties]).reshape(-1)
            worst = np.abs(left / span).max() / total
            if worst > PROOF or min(loads.values()) < 0:
                yield f"{group.bodies}: balance leaves {worst} of the weight, least load {min(loads.values())}"
        case Tips(motions):
            yield from _motion_faults(group, _vector(frame, motions), (-(seats @ _vector(frame, motions)), ties))
            if float(weights @ _vector(frame, motions)) / total > EDGE * np.abs(_vector(frame, motions)).max():
                yield f"{group.bodies}: the motion raises the weight"
        case Loose(motions):
            yield from _motion_faults(group, _vector(frame, motions), (np.abs(seats @ _vector(frame, motions)), ties))


def _motion_faults(group: GroupAnswer, motion: Array, rows: tuple[Array, Array]) -> Iterator[str]:
    """Yield what a motion does that it must not: `rows` holds how far it goes wrong at seats, and the mounts' rows."""
    wrong, ties = rows
    size = np.abs(motion * np.tile([1.0, 1e3, 1e3], len(motion) // 3)).max()
    fault = max(wrong.max(initial=0.0), np.abs(ties @ motion).max(initial=0.0))
    if not size or fault > PROOF * size:
        yield f"{group.bodies}: not such a motion: {fault} of {size}"


def main(first: int, last: int) -> int:
    """Compare a range of seeds, print what differs, return how many jobs did."""
    wrong: Counter[str] = Counter()
    names = list(FAMILIES)
    for seed in range(first, last):
        with tempfile.TemporaryDirectory() as folder:
            told = differences(random_job(seed), Path(folder))
        for line in told[:6]:
            print(f"seed {seed} ({names[seed % len(names)]}): {line}")  # noqa: T201
        wrong[names[seed % len(names)]] += bool(told)
    print(f"{last - first} jobs, with differences: {dict(wrong)}")  # noqa: T201
    return sum(wrong.values())


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]), int(sys.argv[2])) > 0)

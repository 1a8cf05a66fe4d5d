"""The judge: a raw job dict (metric) -> the figures of every stage, by plain and slow means.

>>> from tests.reference.solver import judge
>>> stand = {"name": "stand", "kind": "stand", "rating": 3000, "rated_for": "each", "stiffness": 1000}
>>> places = {"A": [400, 300, 200], "B": [400, -300, 200], "C": [-400, -300, 200], "D": [-400, 300, 200]}
>>> job = {
...     "body": [{"name": "unit"}],
...     "part": [{"name": "unit", "body": "unit", "mass": 240, "at": [100, 60, 500]}],
...     "equipment": [stand],
...     "support": [{"name": n, "use": "stand", "body": "unit", "at": at} for n, at in places.items()],
...     "stage": [{"name": "stands", "in_place": list(places)}],
... }
>>> stage = judge(job)[0]
>>> round(stage.margin["unit"], 6), [round(stage.expected[name] / 9.80665, 6) for name in "ABCD"]
(240.0, [87.0, 63.0, 33.0, 57.0])
"""

from dataclasses import replace
from itertools import product
from math import atan, degrees, inf, radians, tan
from typing import Any

import numpy as np

from tests.reference import elastic, exact, scenes, tolerance
from tests.reference.elastic import Array
from tests.reference.exact import Frame, Ray
from tests.reference.figures import EVERYTHING, Asked, Figures, keep_motion, rise, stood
from tests.reference.giving_way import Ground, corners_of, ground_of, least_margins, slope_shares
from tests.reference.group import (
    EDGE,
    balance_of,
    base_of,
    level_weights,
    no_gaps,
    ray_margins,
    settle_group,
    springs_of,
    weights_of,
)
from tests.reference.holes import find_misses, find_snags
from tests.reference.leaning import Lean, lean_of, lowest_of, lumps_before, tip_angle, upright, weights_before
from tests.reference.lowering import set_down
from tests.reference.scenes import Plan, Scene
from tests.reference.sinking import Earlier, find_drops, find_parted
from tests.reference.tolerance import Floor, worst_ratio


def judge(job: dict[str, Any], asked: Asked = EVERYTHING) -> list[Figures]:
    """Compute every stage of a job (as its TOML reads, metric; `shop` may be the shop's tables)."""
    plan = scenes.read_plan(job)
    hung = scenes.hung_scene(plan)
    f0 = _forces_at_rest(plan)
    before = _settled_hung(hung, plan, f0)
    stages, touched, datum, level = [], dict[str, float](), None, 0.0
    everyone = scenes.all_scenes(job, plan)
    earlier = Earlier(hung, before, None)
    for number, scene in enumerate(everyone):
        standing = {seat.name for seat in (*scene.seats, *scene.air) if seat.value is None}
        touched = {name: gap for name, gap in touched.items() if name in standing}
        touched |= _touch(scene, before, first=number == 0)
        datum, moved = _datum(scene, datum, first=number == 0)
        touched = {name: gap + moved for name, gap in touched.items()}
        level += moved
        later = everyone[number + 1 :]
        stages.append(_stage((scene, later), plan, (f0, touched, level), asked))
        between = [_stage((each, later), plan, (f0, touched, level), asked) for each in scenes.between(scene)]
        if between:
            _least_of(stages[-1], between)
        before, level = stages[-1], stages[-1].level
        find_drops(before, scene, plan, earlier, (datum, moved))
        earlier = Earlier(scene, before, datum)
    return stages


# --- gaps ------------------------------------------------------------------------------------------------------------


def _set_gaps(scene: Scene) -> dict[str, float]:
    values = {seat.name: seat.value for seat in scene.seats if seat.value is not None and not seat.on}
    stacked = {seat.name: seat.value for seat in scene.seats if seat.value is not None and seat.on}
    return {name: value - min(values.values()) for name, value in values.items()} | stacked


def _datum(scene: Scene, before: float | None, *, first: bool) -> tuple[float | None, float]:
    """Return the smallest value of the stage's set supports, and how much lower that is than the one before [mm].

    Gaps are told against it; a saddle that was brought up to touch does not move when it changes, so its gap does.
    """
    now = min((seat.value for seat in scene.seats if seat.value is not None and not seat.on), default=before)
    return now, 0.0 if first or now is None or before is None else before - now


def _touch(scene: Scene, before: Figures | None, *, first: bool) -> dict[str, float]:
    """Return the gaps of supports that this stage brings up to touch."""
    everyone = (*scene.seats, *scene.air)
    new = [seat for seat in everyone if seat.name in scene.new and seat.value is None]
    new = [seat for seat in new if not (seat.arm or seat.hoist)]
    down = 0.0
    if first and before is not None:
        set_gaps = _set_gaps(scene)
        heights = [
            rise(before, seat) + set_gaps[seat.name]
            for seat in scene.seats
            if seat.name in set_gaps and seat.body in before.motion
        ]
        down = min(heights, default=0.0)
    standing = before if before is not None else Figures("nothing stood")
    return {seat.name: down - rise(standing, seat) if stood(standing, seat) else 0.0 for seat in new}


# --- hung on the lift -------------------------------------------------------------------------------------------------


def _forces_at_rest(plan: Plan) -> dict[str, float]:
    """Return each mount's force at the file's attitude [N]: what it carries with the lift's body held still."""
    none = {tie.name: 0.0 for tie in plan.ties}
    if not plan.lift_name or plan.lift_body not in plan.bodies:
        return none
    scene = scenes._linked(scenes._scene_of(plan, {"name": ""}, scenes._Now(plan)))
    held = scene.whole_of(plan.lift_body)
    every = tuple(range(len(scene.wholes)))
    frame = exact.frame_of(scene, every)
    keep = [3 * whole + i for whole in every if whole != held for i in range(3)]
    rows = [tuple(row[i] for i in keep) for row in frame.tie_rows]
    if not keep or exact.null_space(rows, len(keep)):
        return none
    columns = np.array([[float(value) for value in row] for row in rows]).T
    weights = np.array([float(v) for v in exact.weight_row(frame, list(scene.lumps))])[keep]
    forces = elastic.least_energy_forces(columns, np.array([tie.stiffness for tie in frame.ties]), weights)
    return none | {tie.name: float(force) for tie, force in zip(frame.ties, forces, strict=True)}


def _settled_hung(hung: Scene | None, plan: Plan, f0: dict[str, float]) -> Figures | None:
    if hung is None:
        return None
    figures = Figures("hung")
    group = hung.group_of(plan.lift_body)
    frame = exact.frame_of(hung, group)
    weights = weights_of(frame)
    if balance_of(frame)[0]:
        keep_motion(figures, frame, settle_group(frame, no_gaps(frame), weights, f0))
    return figures


# --- one stage --------------------------------------------------------------------------------------------------------


def _stage(
    here: tuple[Scene, list[Scene]], plan: Plan, springs: tuple[dict[str, float], dict[str, float], float], asked: Asked
) -> Figures:
    scene, (f0, touched, level) = here[0], springs
    figures = Figures(scene.name)
    gaps = {seat.name: 0.0 for seat in scene.seats} | touched | _set_gaps(scene)
    figures.set_down = set_down(here, plan, f0, gaps)
    figures.level = figures.set_down.level if figures.set_down else level
    gaps |= {seat.name: figures.level for seat in scene.seats if seat.arm}
    figures.gap = gaps
    for group in scene.groups:
        frame = exact.frame_of(scene, group)
        names = tuple(body for body in scene.bodies if scene.whole_of(body) in group)
        figures.groups.append(names)
        figures.frames[names] = frame
        figures.weights[names] = weights_of(frame)
        balanced, rays = balance_of(frame)
        figures.rays[names] = rays
        figures.balanced |= dict.fromkeys(names, balanced)
        if balanced:
            for seat in frame.seats:
                if not seat.arm:
                    figures.lost[seat.name] = balance_of(_without(scene, seat.name, group))[0]
            uneven = _loads(figures, frame, plan, (gaps, f0), asked)
            lean = lean_of(frame, gaps, f0, uneven)
            _margins(figures, frame, rays, (plan, lean))
            if lean is not None and (ground := ground_of(frame, gaps, f0, lean)) is not None:
                _give_way(figures, ground, rays, (plan, lean))
            if asked.bounds and figures.stands_flat[names[0]]:
                for seat, (least, greatest) in zip(frame.seats, tolerance.load_bounds(frame), strict=True):
                    figures.least[seat.name], figures.most[seat.name] = least, greatest
    find_parted(figures, scene, f0)
    find_misses(figures, scene, plan)
    find_snags(figures, scene, plan)
    return figures


def _least_of(figures: Figures, between: list[Figures]) -> None:
    """Put the worst of the states in the middle of a stage in place of what was told with nothing holding."""
    for names in figures.groups:
        if not figures.balanced[names[0]]:
            continue
        robust = all(each.robust.get(body, False) for each in between for body in names)
        figures.robust |= dict.fromkeys(names, robust)
        figures.sure |= {name: all(each.sure.get(name, True) for each in [figures, *between]) for name in names}
        for body in names:
            margins = [margin for each in between if (margin := _margin_between(each, body)) is not None]
            figures.worst_margin.pop(body, None)
            if margins:
                figures.worst_margin[body] = min(margins)


def _margin_between(figures: Figures, body: str) -> float | None:
    """Return the worst margin of a body in one such state: below 0 where it tips, 0 where it is free to move."""
    if figures.balanced[body]:
        return figures.worst_margin.get(body)
    names = next(each for each in figures.groups if body in each)
    frame, rays = figures.frames[names], figures.rays[names]
    if exact.free_motions(frame):
        return 0.0
    place = frame.wholes.index(frame.scene.whole_of(body))
    margins = [margin for ray in rays if (margin := ray_margins(frame, ray)[place]) is not None]
    return min((float(margin) for margin in margins), default=None)


def _without(scene: Scene, name: str, group: tuple[int, ...]) -> Frame:
    rest = tuple(seat for seat in scene.seats if seat.name != name)
    return exact.frame_of(replace(scene, seats=rest), group)


def _margins(figures: Figures, frame: Frame, rays: list[Ray], given: tuple[Plan, Lean | None]) -> None:
    plan, lean = given
    bases = {whole: base_of(frame, whole) or 0.0 for whole in frame.wholes}
    flat = {whole: worst_ratio(frame, rays, whole, Floor(plan.slope, bases, upright(frame))) for whole in frame.wholes}
    worst = (
        flat
        if lean is None
        else {whole: worst_ratio(frame, rays, whole, Floor(plan.slope, bases, lean)) for whole in frame.wholes}
    )
    for place, whole in enumerate(frame.wholes):
        margins = [(ray_margins(frame, ray)[place], ray) for ray in rays if ray.turns[place]]
        for body in frame.scene.wholes[whole]:
            figures.stands_flat[body] = all(value is None or value > EDGE for value in flat.values())
            figures.robust[body] = lean is not None and all(value is None or value > EDGE for value in worst.values())
            figures.sway[body] = None if lean is None else lean.sway
            if lean is not None:
                _lean(figures, frame, body, lean)
            if margins:
                figures.margin[body] = float(min(margin for margin, _ in margins if margin is not None))
            if margins and lean is not None:
                figures.tip_angle[body] = min(tip_angle(frame, ray, lean) for _, ray in margins)
                value = worst[whole]
                assert value is not None
                figures.worst_margin[body] = value


def _give_way(figures: Figures, ground: Ground, rays: list[Ray], given: tuple[Plan, Lean]) -> None:
    """Lower tip angles and worst margins by what a group on soft supports gives way."""
    plan, lean = given
    frame = ground.frame
    slopes = [tan(radians(tip_angle(frame, ray, lean))) for ray in rays]
    shares = slope_shares(ground, rays, slopes)
    bases = {whole: base_of(frame, whole) or 0.0 for whole in frame.wholes}
    uneven = np.array([plan.uneven_touch if seat.value is None else plan.uneven for seat in frame.seats])
    corners = corners_of(ground, rays, Floor(plan.slope, bases, lean), uneven)
    left = least_margins(frame, corners)
    stands = all(corner.margins is not None for corner in corners)
    figures.corners += corners
    for place, whole in enumerate(frame.wholes):
        for body in frame.scene.wholes[whole]:
            figures.sure[body] = shares is not None and all(corner.sure for corner in corners)
            figures.robust[body] = figures.robust[body] and stands and all(margin > EDGE for margin in left.values())
            if body in figures.tip_angle:
                told = [
                    slope * share
                    for slope, share, ray in zip(slopes, shares or slopes, rays, strict=True)
                    if ray.turns[place]
                ]
                figures.tip_angle[body] = degrees(atan(min(told)))
                figures.worst_margin[body] = min(figures.worst_margin[body], left.get(whole, inf))


def _lean(figures: Figures, frame: Frame, body: str, lean: Lean) -> None:
    own = [lump for lump in frame.scene.lumps if lump.there and lump.body == body]
    mass = sum(lump.sign * lump.mass for lump in own)
    whole = frame.scene.whole_of(body)
    rx, ry = (float(each) for each in lean.settled[0][frame.wholes.index(whole)])
    height = sum(lump.sign * lump.mass * lump.at[2] for lump in own) / mass - lowest_of(frame, whole)
    figures.lean[body] = (height * ry, -height * rx)


# --- loads ------------------------------------------------------------------------------------------------------------


def _loads(
    figures: Figures, frame: Frame, plan: Plan, given: tuple[dict[str, float], dict[str, float]], asked: Asked
) -> tuple[list[Array], list[Array]]:
    """Tell the loads; return the motions on an uneven floor, as the stage leaves it and with what came off on."""
    gaps, f0 = given
    settled = settle_group(frame, gaps, weights_of(frame), f0)
    keep_motion(figures, frame, settled)
    names = [seat.name for seat in frame.seats]
    figures.expected |= dict(zip(names, settled.loads.tolist(), strict=True))
    figures.force |= {tie.name: float(force) for tie, force in zip(frame.ties, settled.forces, strict=True)}
    every = len(names) <= asked.corners_up_to
    figures.every_corner |= dict.fromkeys((body for whole in frame.wholes for body in frame.scene.wholes[whole]), every)
    levels = [level_weights(frame, level) for level in (-1, 0, 1)]
    uneven = _every_corner(frame, plan, (gaps, f0), levels if every else [])
    if every:
        figures.low |= dict(zip(names, np.min([each.loads for each in uneven], axis=0).tolist(), strict=True))
        figures.high |= dict(zip(names, np.max([each.loads for each in uneven], axis=0).tolist(), strict=True))
    heavy = [weights_before(frame)] if len(lumps_before(frame)) > len([x for x in frame.scene.lumps if x.there]) else []
    before = _every_corner(frame, plan, (gaps, f0), heavy) if every else []
    if heavy and not every and _stands(frame, heavy[0]):
        before = [settle_group(frame, gaps, heavy[0], f0)]
    return [each.motion for each in uneven], [each.motion for each in before]


def _stands(frame: Frame, weights: Array) -> bool:
    return all(float(np.dot(weights, ray.motion)) > 0 for ray in balance_of(frame)[1])


def _every_corner(
    frame: Frame, plan: Plan, given: tuple[dict[str, float], dict[str, float]], levels: list[Array]
) -> list[elastic.Settled]:
    """Settle the group with every saddle off by its unevenness up or down, and as set, at some mass levels.

    A mass level at which the group tips (all masses at their lower, centres as given, can do that) is left out.
    """
    gaps, f0 = given
    springs = springs_of(frame, f0)
    set_gaps = np.array([gaps[seat.name] for seat in frame.seats])
    off = np.array([plan.uneven_touch if seat.value is None else plan.uneven for seat in frame.seats])
    corners = [np.zeros(len(off)), *(np.array(c) * off for c in product((-1.0, 1.0), repeat=len(off)))]
    answers = []
    for weights in levels:
        if _stands(frame, weights):
            answers += [elastic.settle(springs, set_gaps + corner, weights) for corner in corners]
    return answers

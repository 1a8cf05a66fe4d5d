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

from dataclasses import dataclass, field
from itertools import product
from math import atan, degrees, hypot
from typing import Any

import numpy as np

from tests.reference import elastic, exact, scenes, tolerance
from tests.reference.elastic import Array
from tests.reference.exact import GRAVITY, Frame, Ray
from tests.reference.scenes import Place, Plan, Scene, Seat, Tie

EDGE = 0.001
"""A margin up to this counts as tipping [mm]."""


@dataclass
class Figures:
    """One stage. Bodies and supports are keys; what is not defined is absent. mm, N, degrees."""

    name: str
    groups: list[tuple[str, ...]] = field(default_factory=list)
    balanced: dict[str, bool] = field(default_factory=dict)
    robust: dict[str, bool] = field(default_factory=dict)
    frames: dict[tuple[str, ...], Frame] = field(default_factory=dict)
    rays: dict[tuple[str, ...], list[Ray]] = field(default_factory=dict)
    weights: dict[tuple[str, ...], Array] = field(default_factory=dict)
    margin: dict[str, float] = field(default_factory=dict)
    worst_margin: dict[str, float] = field(default_factory=dict)
    tip_angle: dict[str, float] = field(default_factory=dict)
    gap: dict[str, float] = field(default_factory=dict)
    expected: dict[str, float] = field(default_factory=dict)
    force: dict[str, float] = field(default_factory=dict)
    motion: dict[str, Array] = field(default_factory=dict)
    motion_unique: dict[str, bool] = field(default_factory=dict)
    low: dict[str, float] = field(default_factory=dict)
    high: dict[str, float] = field(default_factory=dict)
    least: dict[str, float] = field(default_factory=dict)
    most: dict[str, float | None] = field(default_factory=dict)
    miss: dict[str, float] = field(default_factory=dict)
    snag: dict[tuple[str, str], float] = field(default_factory=dict)
    lost: dict[str, bool] = field(default_factory=dict)
    level: float = 0.0
    """How far the lift's arms are down from the file's attitude [mm]: 0 but in a set-down."""


@dataclass(frozen=True)
class Asked:
    """How much is computed of the two slow figures.

    Attributes:
        corners_up_to: Most supports of a group for which every corner of unevenness is solved; above, no low and high.
        bounds: Whether the load bounds are computed.
    """

    corners_up_to: int = 7
    bounds: bool = True


EVERYTHING = Asked()
QUICK = Asked(corners_up_to=0, bounds=False)


def judge(job: dict[str, Any], asked: Asked = EVERYTHING) -> list[Figures]:
    """Compute every stage of a job (as its TOML reads, metric; `shop` may be the shop's tables)."""
    plan = scenes.read_plan(job)
    hung = scenes.hung_scene(plan)
    f0 = _forces_at_rest(plan)
    before = _settled_hung(hung, plan, f0)
    stages, touched = [], dict[str, float]()
    for number, scene in enumerate(scenes.all_scenes(job, plan)):
        touched = {name: gap for name, gap in touched.items() if any(s.name == name for s in scene.seats)}
        touched |= _touch(scene, before, first=number == 0)
        stages.append(_stage(scene, plan, f0, touched, asked))
        before = stages[-1]
    return stages


# --- gaps ------------------------------------------------------------------------------------------------------------


def _set_gaps(scene: Scene) -> dict[str, float]:
    values = {seat.name: seat.value for seat in scene.seats if seat.value is not None}
    return {name: value - min(values.values()) for name, value in values.items()}


def _touch(scene: Scene, before: Figures | None, *, first: bool) -> dict[str, float]:
    """Return the gaps of supports that this stage brings up to touch."""
    new = [seat for seat in scene.seats if seat.name in scene.new and seat.value is None]
    new = [seat for seat in new if not (seat.arm or seat.hoist)]
    down = 0.0
    if first and before is not None:
        set_gaps = _set_gaps(scene)
        heights = [
            _rise(before, seat) + set_gaps[seat.name]
            for seat in scene.seats
            if seat.name in set_gaps and seat.body in before.motion
        ]
        down = min(heights, default=0.0)
    return {seat.name: down - _rise(before, seat) if _stood(before, seat) else 0.0 for seat in new}


def _stood(before: Figures | None, seat: Seat) -> bool:
    return before is not None and seat.body in before.motion and (not seat.on or seat.on in before.motion)


def _rise(figures: Figures, seat: Seat) -> float:
    """Return how far a seat's place stands above the file's attitude, less that of what it stands on [mm]."""
    rise = rise_at(figures.motion[seat.body], seat.at)
    return rise - rise_at(figures.motion[seat.on], seat.at) if seat.on else rise


def rise_at(motion: Array, at: Place) -> float:
    """Return w + rx·y − ry·x."""
    return float(motion[0] + motion[1] * at[1] - motion[2] * at[0])


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
    weights = _weights(frame)
    if _balance(frame)[0]:
        _keep_motion(figures, frame, _settle(frame, _no_gaps(frame), weights, f0))
    return figures


def _no_gaps(frame: Frame) -> dict[str, float]:
    return {seat.name: 0.0 for seat in frame.seats}


def _keep_motion(figures: Figures, frame: Frame, settled: elastic.Settled) -> None:
    for place, whole in enumerate(frame.wholes):
        for body in frame.scene.wholes[whole]:
            figures.motion[body] = settled.motion[3 * place : 3 * place + 3]
            figures.motion_unique[body] = settled.unique


# --- one stage --------------------------------------------------------------------------------------------------------


def _stage(scene: Scene, plan: Plan, f0: dict[str, float], touched: dict[str, float], asked: Asked) -> Figures:
    figures = Figures(scene.name)
    gaps = {seat.name: 0.0 for seat in scene.seats} | touched | _set_gaps(scene)
    figures.level = _lift_level(scene, plan, f0, gaps)
    gaps |= {seat.name: figures.level for seat in scene.seats if seat.arm}
    figures.gap = gaps
    for group in scene.groups:
        frame = exact.frame_of(scene, group)
        names = tuple(body for body in scene.bodies if scene.whole_of(body) in group)
        figures.groups.append(names)
        figures.frames[names] = frame
        figures.weights[names] = _weights(frame)
        balanced, rays = _balance(frame)
        figures.rays[names] = rays
        figures.balanced |= dict.fromkeys(names, balanced)
        for seat in frame.seats:
            if not seat.arm:
                figures.lost[seat.name] = _balance(_without(scene, seat.name, group))[0]
        if balanced:
            _margins(figures, frame, rays, plan)
            _loads(figures, frame, plan, (gaps, f0), asked)
    _misses(figures, scene, plan)
    _snags(figures, scene)
    return figures


def _without(scene: Scene, name: str, group: tuple[int, ...]) -> Frame:
    rest = tuple(seat for seat in scene.seats if seat.name != name)
    return exact.frame_of(scenes._replace(scene, seats=rest), group)


def _weights(frame: Frame) -> Array:
    here = [lump for lump in frame.scene.lumps if lump.there]
    return np.array([float(value) for value in exact.weight_row(frame, here)])


def _balance(frame: Frame) -> tuple[bool, list[Ray]]:
    """Return whether the group is balanced with masses as given, and its rays (none where it is free to move)."""
    if exact.free_motions(frame):
        return False, []
    here = [lump for lump in frame.scene.lumps if lump.there]
    rays = exact.rays_of(frame, exact.weight_row(frame, here))
    return all(_holds(frame, ray) for ray in rays), rays


def _holds(frame: Frame, ray: Ray) -> bool:
    margins = [margin for margin in _ray_margins(frame, ray) if margin is not None]
    return ray.work > 0 and all(margin > EDGE for margin in margins)


def _ray_margins(frame: Frame, ray: Ray) -> list[float | None]:
    weights = _weights(frame)[0::3]
    return [
        ray.work / (weight * turn) if turn else None for weight, turn in zip(weights, ray.turns, strict=True)
    ]


def base_of(frame: Frame, whole: int) -> float | None:
    """Return the height over which a whole's centre of gravity counts: its lowest saddle, or lowest mount [mm]."""
    names = frame.scene.wholes[whole]
    saddles = [seat.at[2] for seat in frame.seats if seat.body in names]
    mounts = [tie.places[0][2] for tie in frame.ties if tie.first in names or tie.second in names]
    return min(saddles or mounts, default=None)


def _margins(figures: Figures, frame: Frame, rays: list[Ray], plan: Plan) -> None:
    bases = {whole: base_of(frame, whole) or 0.0 for whole in frame.wholes}
    over = [
        sum(
            lump.sign * lump.mass * GRAVITY * (lump.at[2] - bases[whole])
            for lump in frame.scene.lumps
            if lump.there and frame.scene.whole_of(lump.body) == whole
        )
        for whole in frame.wholes
    ]
    worst = {whole: tolerance.worst_ratio(frame, rays, whole, plan.slope, bases) for whole in frame.wholes}
    robust = all(value is None or value > EDGE for value in worst.values())
    for place, whole in enumerate(frame.wholes):
        margins = [(_ray_margins(frame, ray)[place], ray) for ray in rays if ray.turns[place]]
        for body in frame.scene.wholes[whole]:
            figures.robust[body] = robust
            if margins:
                figures.margin[body] = float(min(margin for margin, _ in margins if margin is not None))
                figures.tip_angle[body] = min(_tip_angle(ray, over) for _, ray in margins)
                value = worst[whole]
                assert value is not None
                figures.worst_margin[body] = value


def _tip_angle(ray: Ray, over: list[float]) -> float:
    arm = sum(abs(moment) * turn for moment, turn in zip(over, ray.turns, strict=True))
    return degrees(atan(ray.work / arm)) if arm else 90.0


# --- loads ------------------------------------------------------------------------------------------------------------


def _springs(frame: Frame, f0: dict[str, float]) -> elastic.Springs:
    return elastic.Springs(
        seats=np.array([[float(value) for value in row] for row in frame.seat_rows]).T,
        ties=np.array([[float(v) for v in row] for row in frame.tie_rows]).reshape(-1, frame.size).T,
        seat_k=np.array([seat.stiffness for seat in frame.seats]),
        tie_k=np.array([tie.stiffness for tie in frame.ties]),
        tie_f0=np.array([f0[tie.name] for tie in frame.ties]),
    )


def _settle(frame: Frame, gaps: dict[str, float], weights: Array, f0: dict[str, float]) -> elastic.Settled:
    return elastic.settle(_springs(frame, f0), np.array([gaps[seat.name] for seat in frame.seats]), weights)


def _loads(
    figures: Figures, frame: Frame, plan: Plan, given: tuple[dict[str, float], dict[str, float]], asked: Asked
) -> None:
    gaps, f0 = given
    settled = _settle(frame, gaps, _weights(frame), f0)
    _keep_motion(figures, frame, settled)
    names = [seat.name for seat in frame.seats]
    figures.expected |= dict(zip(names, settled.loads.tolist(), strict=True))
    figures.force |= {tie.name: float(force) for tie, force in zip(frame.ties, settled.forces, strict=True)}
    if len(names) <= asked.corners_up_to:
        loads = [each.loads for each in _every_corner(frame, plan, gaps, f0)]
        figures.low |= dict(zip(names, np.min(loads, axis=0).tolist(), strict=True))
        figures.high |= dict(zip(names, np.max(loads, axis=0).tolist(), strict=True))
    if asked.bounds and figures.robust[frame.scene.wholes[frame.wholes[0]][0]]:
        for name, (least, greatest) in zip(names, tolerance.load_bounds(frame), strict=True):
            figures.least[name], figures.most[name] = least, greatest


def _every_corner(frame: Frame, plan: Plan, gaps: dict[str, float], f0: dict[str, float]) -> list[elastic.Settled]:
    """Settle the group with every saddle off by its unevenness up or down, and as set, at three mass levels.

    A mass level at which the group tips (all masses at their lower, centres as given, can do that) is left out.
    """
    springs, rays = _springs(frame, f0), _balance(frame)[1]
    set_gaps = np.array([gaps[seat.name] for seat in frame.seats])
    off = np.array([plan.uneven_touch if seat.value is None else plan.uneven for seat in frame.seats])
    corners = [np.zeros(len(off)), *(np.array(c) * off for c in product((-1.0, 1.0), repeat=len(off)))]
    answers = []
    for level in (-1, 0, 1):
        weights = level_weights(frame, level)
        if all(float(np.dot(weights, ray.motion)) > 0 for ray in rays):
            answers += [elastic.settle(springs, set_gaps + corner, weights) for corner in corners]
    return answers


def level_weights(frame: Frame, level: int) -> Array:
    """Return the weights with every mass at its lower (-1), given (0) or upper (1) tolerance."""
    lumps = [
        scenes._replace(lump, mass=lump.mass + level * lump.mass_pm) for lump in frame.scene.lumps if lump.there
    ]
    return np.array([float(value) for value in exact.weight_row(frame, lumps)])


# --- set-down ---------------------------------------------------------------------------------------------------------


def _lift_level(scene: Scene, plan: Plan, f0: dict[str, float], gaps: dict[str, float]) -> float:
    """Return how far the arms are down in a set-down: first touch and `lowered`; 0 in other stages."""
    if not any(seat.arm for seat in scene.seats):
        return 0.0
    joined = scenes.joined_by_ties(scene, plan.lift_body)
    bearing = [seat for seat in scene.seats if not seat.arm and seat.body in joined and seat.body != plan.lift_body]
    touch = first_touch(scene, plan, f0, gaps) if bearing else None
    return touch + (scene.lowered or 0.0) if touch is not None else 0.0


def first_touch(scene: Scene, plan: Plan, f0: dict[str, float], gaps: dict[str, float]) -> float | None:
    """Return the level at which the first support takes load, coming down; None where it does not hang in balance."""
    alone = scenes.on_arms_alone(scene)
    frame = exact.frame_of(alone, alone.group_of(plan.lift_body))
    if not _balance(frame)[0]:
        return None
    hung = Figures("")
    _keep_motion(hung, frame, _settle(frame, _no_gaps(frame), _weights(frame), f0))
    below = [seat for seat in scene.seats if not seat.arm and _stood(hung, seat)]
    return min(_rise(hung, seat) + gaps[seat.name] for seat in below)


# --- holes that have to line up again, and hoses left on ----------------------------------------------------------------


def _misses(figures: Figures, scene: Scene, plan: Plan) -> None:
    held = scene.wholes[scene.whole_of(plan.lift_body)] if plan.lift_body in scene.bodies else ()
    offsets: dict[str, list[Array]] = {}
    fixed: dict[str, int] = {}
    for tie in scene.undone:
        moves = [_shift(figures, scene, held, body, tie) for body in (tie.first, tie.second)]
        if tie.places and all(move is not None for move in moves):
            offsets[tie.name] = [np.subtract(one, other) for one, other in zip(*moves, strict=True)]
            still = [body in held or body not in scene.bodies for body in (tie.first, tie.second)]
            if any(still):
                fixed[tie.name] = -1 if still[0] else 1
    drops = [sign * float(np.mean([o[2] for o in offsets[name]])) for name, sign in fixed.items()]
    level = float(np.mean(drops)) if drops else 0.0
    for name, places in offsets.items():
        down = np.array([0.0, 0.0, level * fixed.get(name, 0)])
        figures.miss[name] = max(float(np.linalg.norm(place - down)) for place in places)


def _shift(figures: Figures, scene: Scene, held: tuple[str, ...], body: str, tie: Tie) -> list[Array] | None:
    if body in held or body not in scene.bodies:
        return [np.zeros(3) for _ in tie.places]
    if body not in figures.motion:
        return None
    whole = scene.wholes[scene.whole_of(body)]
    heights = [seat.at[2] for seat in scene.seats if seat.body in whole] or [
        other.places[0][2] for other in scene.ties if not other.bolted and {other.first, other.second} & set(whole)
    ]
    motion, middle = figures.motion[body], float(np.mean(heights))
    return [
        np.array([motion[2] * (at[2] - middle), -motion[1] * (at[2] - middle), rise_at(motion, at)])
        for at in tie.places
    ]


def _snags(figures: Figures, scene: Scene) -> None:
    for tie in scene.undone:
        for body in (tie.first, tie.second):
            if body in scene.bodies and figures.balanced[body]:
                group = next(names for names in figures.groups if body in names)
                pulls = [_pull(figures.frames[group], ray, body, at) for ray in figures.rays[group] for at in tie.places]
                pulls = [pull for pull in pulls if pull is not None]
                if pulls:
                    figures.snag[tie.name, body] = min(pulls)


def _pull(frame: Frame, ray: Ray, body: str, at: Place) -> float | None:
    first = 3 * frame.wholes.index(frame.scene.whole_of(body))
    rise = rise_at(np.array(ray.motion[first : first + 3]), at)
    return ray.work / rise if rise > 1e-12 * hypot(1, *at) else None

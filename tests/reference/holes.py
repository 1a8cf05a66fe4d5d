"""At undone joints: how far the holes are out, and the least pull that tips."""

from math import hypot

import numpy as np

from tests.reference.elastic import Array
from tests.reference.exact import Frame, Ray
from tests.reference.figures import Figures, rise_at
from tests.reference.scenes import Place, Plan, Scene, Tie


def find_misses(figures: Figures, scene: Scene, plan: Plan) -> None:
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
        figures.offset[name] = max((place - down for place in places), key=lambda place: float(np.linalg.norm(place)))
        figures.miss[name] = float(np.linalg.norm(figures.offset[name]))


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


def find_snags(figures: Figures, scene: Scene, plan: Plan) -> None:
    held = scene.wholes[scene.whole_of(plan.lift_body)] if plan.lift_body in scene.bodies else ()
    for tie in scene.undone:
        for body in {tie.first, tie.second} if {tie.first, tie.second} <= set(scene.bodies) else ():
            if body not in held and figures.balanced[body]:
                group = next(names for names in figures.groups if body in names)
                pulls = [
                    _pull(figures.frames[group], ray, body, at) for ray in figures.rays[group] for at in tie.places
                ]
                known = [pull for pull in pulls if pull is not None]
                if known:
                    figures.snag[tie.name, body] = min(known)


def _pull(frame: Frame, ray: Ray, body: str, at: Place) -> float | None:
    first = 3 * frame.wholes.index(frame.scene.whole_of(body))
    rise = rise_at(np.array(ray.motion[first : first + 3]), at)
    return ray.work / rise if rise > 1e-12 * hypot(1, *at) else None

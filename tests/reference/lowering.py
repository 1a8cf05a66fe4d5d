"""Set-down: the level of the lift's arms, first touch, and the window between too little and too much."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from tests.reference import exact, scenes
from tests.reference.elastic import Array
from tests.reference.exact import GRAVITY
from tests.reference.figures import Figures, keep_motion, rise
from tests.reference.group import balance_of, no_gaps, settle_group, weights_of
from tests.reference.scenes import Plan, Scene, Seat

DEEPEST = 500.0
"""Nothing is looked for beyond this [mm]."""


@dataclass(frozen=True)
class SetDown:
    """A set-down: first touch, window and how far the lift went past first touch [mm]; None where there is none."""

    touch: float
    start: float | None
    end: float | None
    lowered: float
    parted: tuple[str, ...]

    @property
    def level(self) -> float:
        """How far the arms are down from the file's attitude."""
        return self.touch + self.lowered


def set_down(
    here: tuple[Scene, list[Scene]], plan: Plan, f0: dict[str, float], gaps: dict[str, float]
) -> SetDown | None:
    """Return what is set down in a stage, given the stages that follow it; None in other stages."""
    scene, later = here
    if not any(seat.arm for seat in scene.seats) or not bearing(scene, plan):
        return None
    touch = first_touch(scene, plan, f0, gaps)
    if touch is None:
        return None
    joined = scenes.joined_by_ties(scene, plan.lift_body)
    parted = tuple(
        body
        for body in joined
        if body != plan.lift_body and any(body not in scenes.joined_by_ties(each, plan.lift_body) for each in later)
    )
    if not parted:
        return SetDown(touch, None, None, scene.lowered or 0.0, ())
    start, end = _window(scene, plan, (f0, gaps, touch), parted)
    middle = (start + end) / 2 if start is not None and end is not None and start <= end else 0.0
    return SetDown(touch, start, end, middle if scene.lowered is None else scene.lowered, parted)


def bearing(scene: Scene, plan: Plan) -> list[Seat]:
    """Return the supports under bodies that joints still link to the lift's body, its own aside."""
    joined = scenes.joined_by_ties(scene, plan.lift_body)
    return [seat for seat in scene.seats if not seat.arm and seat.body in joined and seat.body != plan.lift_body]


def first_touch(scene: Scene, plan: Plan, f0: dict[str, float], gaps: dict[str, float]) -> float | None:
    """Return the level at which the first support takes load, coming down; None where it does not hang in balance."""
    alone = scenes.on_arms_alone(scene)
    frame = exact.frame_of(alone, alone.group_of(plan.lift_body))
    if not balance_of(frame)[0]:
        return None
    hung = Figures("")
    keep_motion(hung, frame, settle_group(frame, no_gaps(frame), weights_of(frame), f0))
    return min(rise(hung, seat) + gaps[seat.name] for seat in bearing(scene, plan))


def _window(
    scene: Scene, plan: Plan, given: tuple[dict[str, float], dict[str, float], float], parted: tuple[str, ...]
) -> tuple[float | None, float | None]:
    f0, gaps, touch = given
    frame = exact.frame_of(scene, scene.group_of(plan.lift_body))
    weights = weights_of(frame)
    carrying = np.array([seat in bearing(scene, plan) for seat in frame.seats])
    arms = np.array([seat.arm for seat in frame.seats])
    own = [lump for lump in scene.lumps if lump.there and lump.body in parted]
    wanted = 0.9 * GRAVITY * sum(lump.sign * lump.mass for lump in own)

    def loads(lowered: float) -> Array:
        down = gaps | {seat.name: touch + lowered for seat in frame.seats if seat.arm}
        return settle_group(frame, down, weights, f0).loads

    before = loads(0.0)
    counted = arms & (before > 1e-9 * weights[0::3].sum())
    start = _first(lambda lowered: float(loads(lowered)[carrying].sum()) - wanted)
    end = _first(lambda lowered: float((0.2 * before - loads(lowered))[counted].max(initial=-np.inf)))
    return start, end


def _first(excess: Callable[[float], float]) -> float | None:
    """Return the least lowering at which an excess is reached: half-millimetre steps, then bisection."""
    low, high = 0.0, 0.5
    if excess(0.0) >= 0:
        return 0.0
    while excess(high) < 0:
        low, high = high, high + max(0.5, 0.02 * high)
        if low > DEEPEST:
            return None
    while high - low > 1e-10:
        middle = (low + high) / 2
        low, high = (middle, high) if excess(middle) < 0 else (low, middle)
    return high

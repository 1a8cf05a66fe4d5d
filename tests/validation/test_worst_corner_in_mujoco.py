"""A corner of the tolerance at which a unit is told to go over: let down in mujoco (Apache licence) it falls there.

So a stop for what weights, saddles and floor may come to together is no more careful than it has to be. Which corners
they are comes from the slow reference computation, which agrees with ours.
"""

from dataclasses import replace
from math import atan, atan2
from random import Random

import pytest

from tests.proofs.held_as_it_settles import with_tolerance
from tests.reference.giving_way import Corner
from tests.reference.scenes import Plan, Scene, all_scenes, read_plan
from tests.reference.solver import judge
from tests.validation.simulated import Simulated, Tilt
from tests.validation.six_families import FAMILIES


@pytest.mark.parametrize("seed", [5, 16, 25, 41])
def test_what_goes_over_at_a_corner_falls_there_in_the_simulator(seed: int) -> None:
    raw = with_tolerance(FAMILIES["tall on soft stands"](Random(seed)))
    plan = read_plan(raw)
    (scene,), (stage,) = all_scenes(raw, plan), judge(raw)
    over = [corner for corner in stage.corners if corner.margins is None]
    assert over
    assert stage.stands_flat["unit"]
    assert any(_falls(scene, plan, corner) for corner in over)


@pytest.mark.parametrize("seed", [6, 14])
def test_what_stands_at_all_corners_stands_there_in_the_simulator(seed: int) -> None:
    raw = with_tolerance(FAMILIES["tall on soft stands"](Random(seed)))
    plan = read_plan(raw)
    (scene,), (stage,) = all_scenes(raw, plan), judge(raw)
    assert len(stage.corners) >= 6
    assert not any(corner.margins is None for corner in stage.corners)
    assert not any(_falls(scene, plan, corner) for corner in stage.corners)


def _falls(scene: Scene, plan: Plan, corner: Corner) -> bool:
    """Tell whether a unit let down at a corner falls, on a level floor or on one that slopes the way that hurts."""
    lowered = [
        replace(seat, value=(seat.value or 0.0) + float(low))
        for seat, low in zip(scene.seats, corner.lowered, strict=True)
    ]
    simulated = Simulated(replace(scene, lumps=tuple(corner.lumps), seats=tuple(lowered)), {})
    _, rx, ry = corner.ray.motion
    return simulated.fell or simulated.falls_under(Tilt(atan(plan.slope), atan2(-rx, ry)))

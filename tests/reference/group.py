"""One group by itself: its weights, whether it stands, its springs."""

from dataclasses import replace

import numpy as np

from tests.reference import elastic, exact
from tests.reference.elastic import Array
from tests.reference.exact import Frame, Ray

EDGE = 0.001
"""A margin up to this counts as tipping [mm]."""


def weights_of(frame: Frame) -> Array:
    here = [lump for lump in frame.scene.lumps if lump.there]
    return np.array([float(value) for value in exact.weight_row(frame, here)])


def level_weights(frame: Frame, level: int) -> Array:
    """Return the weights with every mass at its lower (-1), given (0) or upper (1) tolerance."""
    lumps = [replace(lump, mass=lump.mass + level * lump.mass_pm) for lump in frame.scene.lumps if lump.there]
    return np.array([float(value) for value in exact.weight_row(frame, lumps)])


def balance_of(frame: Frame) -> tuple[bool, list[Ray]]:
    """Return whether the group is balanced with masses as given, and its rays (none where it is free to move)."""
    if exact.free_motions(frame):
        return False, []
    here = [lump for lump in frame.scene.lumps if lump.there]
    rays = exact.rays_of(frame, exact.weight_row(frame, here))
    return all(_holds(frame, ray) for ray in rays), rays


def _holds(frame: Frame, ray: Ray) -> bool:
    margins = [margin for margin in ray_margins(frame, ray) if margin is not None]
    return ray.work > 0 and all(margin > EDGE for margin in margins)


def ray_margins(frame: Frame, ray: Ray) -> list[float | None]:
    weights = weights_of(frame)[0::3]
    return [ray.work / (weight * turn) if turn else None for weight, turn in zip(weights, ray.turns, strict=True)]


def base_of(frame: Frame, whole: int) -> float | None:
    """Return the height over which a whole's centre of gravity counts: its lowest saddle, or lowest mount [mm]."""
    names = frame.scene.wholes[whole]
    saddles = [seat.at[2] for seat in frame.seats if seat.body in names]
    mounts = [tie.places[0][2] for tie in frame.ties if tie.first in names or tie.second in names]
    return min(saddles or mounts, default=None)


def springs_of(frame: Frame, f0: dict[str, float]) -> elastic.Springs:
    return elastic.Springs(
        seats=np.array([[float(value) for value in row] for row in frame.seat_rows]).T,
        ties=np.array([[float(v) for v in row] for row in frame.tie_rows]).reshape(-1, frame.size).T,
        seat_k=np.array([seat.stiffness for seat in frame.seats]),
        tie_k=np.array([tie.stiffness for tie in frame.ties]),
        tie_f0=np.array([f0[tie.name] for tie in frame.ties]),
    )


def settle_group(frame: Frame, gaps: dict[str, float], weights: Array, f0: dict[str, float]) -> elastic.Settled:
    return elastic.settle(springs_of(frame, f0), np.array([gaps[seat.name] for seat in frame.seats]), weights)


def no_gaps(frame: Frame) -> dict[str, float]:
    return {seat.name: 0.0 for seat in frame.seats}

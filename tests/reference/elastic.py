"""Loads of rigid wholes on push-only springs, as a quadratic programme in the forces, solved by quadprog.

The dual of the energy: minimise Σ r²/2k + Σ r·gap + Σ (f − f0)²/2k over the forces that balance the weights, r >= 0.
Its solution is the contact state: r = k·max(0, −u − gap), f = f0 − k·stretch.
"""

from dataclasses import dataclass

import numpy as np
import quadprog
from numpy.typing import NDArray

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True)
class Springs:
    """One group: columns of S and M (mm), stiffness (N/mm), the mounts' forces at the file's attitude (N)."""

    seats: Array
    ties: Array
    seat_k: Array
    tie_k: Array
    tie_f0: Array


@dataclass(frozen=True)
class Settled:
    """Forces [N] and motions (w [mm], rx, ry a whole); `unique` is False where the contact leaves a motion free."""

    loads: Array
    forces: Array
    motion: Array
    unique: bool


def settle(springs: Springs, gaps: Array, weights: Array) -> Settled:
    """Solve the contact of one group that is balanced."""
    count = springs.seats.shape[1]
    scale = _scale(springs, weights)
    columns = np.hstack([springs.seats, springs.ties]) * scale[:, None]
    total = float(np.abs(weights[0::3]).sum())
    stiffness = np.concatenate([springs.seat_k, springs.tie_k])
    hardest = stiffness.max()
    linear = np.concatenate([gaps * hardest / total, -springs.tie_f0 / total * hardest / springs.tie_k])
    limits = np.hstack([columns.T, np.eye(len(stiffness))[:, :count]])
    right = np.concatenate([weights * scale / total, np.zeros(count)])
    answer = quadprog.solve_qp(np.diag(hardest / stiffness), -linear, limits, right, len(weights))
    return _polish(springs, gaps, weights, answer[0][:count] > 1e-10)


def _scale(springs: Springs, weights: Array) -> Array:
    """Divide moments by the span, so that all rows are of one size."""
    span = max(np.abs(springs.seats).max(), 1.0)
    return np.tile([1.0, 1 / span, 1 / span], len(weights) // 3)


def _polish(springs: Springs, gaps: Array, weights: Array, touching: Flags) -> Settled:
    """Solve the linear springs that touch, and check that no other touches and none pulls."""
    weight = float(np.abs(weights[0::3]).sum())
    for _ in range(4 * len(gaps) + 4):
        settled = _linear(springs, gaps, weights, touching)
        pulls = settled.loads < -1e-9 * weight
        closed = ~touching & (springs.seat_k * (-(springs.seats.T @ settled.motion) - gaps) > 1e-9 * weight)
        if not (pulls.any() or closed.any()) or not settled.unique:
            return settled
        touching = (touching & ~pulls) | closed
    message = "the contact state of quadprog does not satisfy its own conditions"
    raise AssertionError(message)


def _linear(springs: Springs, gaps: Array, weights: Array, touching: Flags) -> Settled:
    scale = _scale(springs, weights)
    seats = springs.seats[:, touching] * scale[:, None]
    ties = springs.ties * scale[:, None]
    matrix = (seats * springs.seat_k[touching]) @ seats.T + (ties * springs.tie_k) @ ties.T
    right = -(weights * scale) - seats @ (springs.seat_k[touching] * gaps[touching]) + ties @ springs.tie_f0
    motion, _, rank, _ = np.linalg.lstsq(matrix, right, rcond=1e-13)
    motion = motion + np.linalg.lstsq(matrix, right - matrix @ motion, rcond=1e-13)[0]
    loads = np.zeros(len(gaps))
    loads[touching] = -springs.seat_k[touching] * (seats.T @ motion + gaps[touching])
    forces = springs.tie_f0 - springs.tie_k * (ties.T @ motion)
    return Settled(loads, forces, motion * scale, bool(rank == len(weights)))


def least_energy_forces(ties: Array, tie_k: Array, weights: Array) -> Array:
    """Return the mount forces that hang the weights with the smallest Σ f²/k; columns are of full row rank."""
    scale = np.tile([1.0, 1e-3, 1e-3], len(weights) // 3)
    columns = ties * scale[:, None]
    flexible = (columns * tie_k) @ columns.T
    forces: Array = tie_k * (columns.T @ np.linalg.solve(flexible, weights * scale))
    return forces

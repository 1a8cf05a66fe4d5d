"""Sway: by how much the tilt of a tall load on soft supports makes itself worse."""

import numpy as np

from loadplan.statics.contact_loads import Springs
from loadplan.statics.mass import Array

SLACK = 1e-12
"""Stiffness, as a share of the total, that stands for none: what rocks freely gets a huge sway."""


def sway(held: Springs, loads: Array, levers: Array) -> float:
    """Compare the moment that a small tilt adds with the moment that resists it.

    For one body: weight × height / rocking stiffness, heave let free, the larger over both axes. For linked
    bodies: the largest eigenvalue of the same over all their rotations about one axis.

    Args:
        held: Springs of the group; n supports, q rigid wholes.
        loads: Expected loads (n): those above 0 are in touch.
        levers: Weight times height over the saddles of each whole (q), scaled; what hangs counts as 0.

    Returns:
        The share by which a tilt grows; from 1 on the load goes over.
    """
    touching = held.stiffness * (loads > 0)
    stiffness = held.up.T @ (touching[:, None] * held.up)
    stiffness += held.stretch.T @ (held.mount_stiffness[:, None] * held.stretch)
    flexibility = np.linalg.inv(stiffness + SLACK * np.trace(stiffness) * np.eye(len(stiffness)))
    roots = np.sqrt(np.maximum(levers, 0.0))
    return max(
        float(np.linalg.eigvalsh(roots[:, None] * flexibility[axis::3, axis::3] * roots).max()) for axis in (1, 2)
    )

"""Laid on: the least weight that, laid on or leant on at a corner of a unit, takes its group out of balance.

Work against weight: along a mode the weights do the work W, and what is laid on gives back its own weight times the
drop of its place. The group goes over by the mode and at the corner for which W / drop is least. What stands on springs
gives way under the weight and leans further, so that a share of it, the sway, is taken off.
"""

import numpy as np

from loadplan.model.disturbance import LaidOn
from loadplan.statics.equilibrium import Frame
from loadplan.statics.mass import Array
from loadplan.statics.mode_axes import still
from loadplan.statics.outline_corners import Corner
from loadplan.statics.stance import Stance
from loadplan.statics.tipping_modes import STILL

SAME = 1e-9
"""Share by which two least weights differ through rounding alone: the corner that comes first is told."""


def weights_laid_on(
    frame: Frame, motions: Array, stance: Stance, corners: tuple[tuple[Corner, ...], ...]
) -> tuple[LaidOn, ...]:
    """Find the least weight that takes a group out of balance, laid on each of its rigid wholes.

    Args:
        frame: The group, balanced.
        motions: Its scaled modes (k, 3 q).
        stance: How it stands.
        corners: Of each whole (q) where a weight may be laid on.

    Returns:
        One record a whole.
    """
    return tuple(_on_whole(frame, motions, stance, (whole, corners[whole])) for whole in range(len(frame.wholes)))


def _on_whole(frame: Frame, motions: Array, stance: Stance, on: tuple[int, tuple[Corner, ...]]) -> LaidOn:
    """Return the least weight laid on one whole, at its worst corner."""
    whole, corners = on
    work = (motions @ stance.loads.T).min(axis=1)
    places = np.array([place for _, place in corners]).reshape(-1, 2)
    x, y = ((places - frame.middle) / frame.span).T
    heave, rx, ry = (each[:, None] for each in motions[:, 3 * whole : 3 * whole + 3].T)
    drop = -(heave + rx * y - ry * x)
    needed = np.where(drop > STILL, np.maximum(work, 0.0)[:, None] / np.where(drop > STILL, drop, 1.0), np.inf)
    if not np.isfinite(needed).any():
        return LaidOn(frame.wholes[whole][0], None, None, (), known=bool(corners))
    least = needed.min() * (1 + SAME)
    mode, corner = divmod(int((needed <= least).argmax()), len(corners))
    body, at = corners[corner]
    weight = float(needed[mode, corner]) * frame.weight * stance.kept
    return LaidOn(body, at, weight, still(frame, motions[mode]), known=True)

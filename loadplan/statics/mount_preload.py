"""What the mounts carry while the vehicle is whole: their forces in the file's attitude."""

from dataclasses import dataclass

import numpy as np

from loadplan.model.job import Job
from loadplan.stages import untouched
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.mass import Array, lumps
from loadplan.statics.null_space import SINGULAR


@dataclass(frozen=True, slots=True)
class PreloadRule:
    """How the mount forces on the whole vehicle follow from its weights.

    Attributes:
        frame: The whole vehicle, all parts on, all joints done up.
        forces: Matrix (m, 3 q): forces in the mounts, as shares of its weight, for each of its scaled weights.
    """

    frame: Frame
    forces: Array

    def at(self, load: Array) -> Array:
        """Return the mount forces (c, m) [N] for scaled weights (c, 3 q)."""
        forces: Array = load @ self.forces.T * self.frame.weight
        return forces


def mount_preload(job: Job) -> dict[str, float]:
    """Find the mount forces with the lift's body held still, all parts on, all joints done up.

    Where the mounts are more than balance asks for, the forces are those with the smallest Σ f² / k.

    Args:
        job: The job.

    Returns:
        Force [N] by mount, positive pulling its first body up; empty without a lift, or where the mounts
        alone do not hold every body to the lift's.
    """
    rule = preload_rule(job)
    if rule is None:
        return {}
    forces = rule.at(rule.frame.load)
    return {mount.name: float(force) for mount, force in zip(rule.frame.mounts, forces, strict=True)}


def preload_rule(job: Job) -> PreloadRule | None:
    """Find how the same forces follow from the weights, which may be off.

    Args:
        job: The job.

    Returns:
        The rule; None where `mount_preload` is empty.
    """
    if job.lift is None:
        return None
    whole = untouched(job)
    groups = frames(whole, lumps(job, whole))
    # A second group hangs on nothing that the file knows: what holds it cannot be guessed.
    if len(groups) != 1 or job.lift.body not in groups[0].bodies:
        return None
    return _rule(groups[0], groups[0].whole(job.lift.body))


def _rule(frame: Frame, held: int) -> PreloadRule | None:
    """Return the rule with one whole held still; None where the mounts do not hold all the others."""
    free = np.ones(frame.load.size, dtype=bool)
    free[3 * held : 3 * held + 3] = False
    if not frame.mounts or not free.any():
        return None
    stiff = np.sqrt([mount.stiffness for mount in frame.mounts])
    # By the stiffest, so that the test below means the same for rubber and for steel.
    stiff /= stiff.max()
    columns = (frame.stretch[:, free] * stiff[:, None]).T
    sizes = np.linalg.svd(columns, compute_uv=False)
    # Mounts that leave a motion free cannot have carried everything; no preload is better than an invented one.
    if sizes.size < free.sum() or sizes[-1] <= SINGULAR * sizes[0]:
        return None
    # The pseudoinverse takes least squares; in forces over √k these are the energy of the mounts.
    forces = np.zeros((len(frame.mounts), frame.load.size))
    forces[:, free] = stiff[:, None] * np.linalg.pinv(columns)
    return PreloadRule(frame, forces)

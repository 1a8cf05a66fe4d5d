"""What the mounts carry while the vehicle is whole: their forces in the file's attitude."""

import numpy as np

from loadplan.model.job import Job
from loadplan.stages import untouched
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.mass import lumps
from loadplan.statics.null_space import SINGULAR


def mount_preload(job: Job) -> dict[str, float]:
    """Find the mount forces with the lift's body held still, all parts on, all joints done up.

    Where the mounts are more than balance asks for, the forces are those with the smallest Σ f² / k.

    Args:
        job: The job.

    Returns:
        Force [N] by mount, positive pulling its first body up; empty without a lift, or where the mounts
        alone do not hold every body to the lift's.
    """
    if job.lift is None:
        return {}
    whole = untouched(job)
    groups = frames(whole, lumps(job, whole))
    # A second group hangs on nothing that the file knows: what holds it cannot be guessed.
    if len(groups) != 1 or job.lift.body not in groups[0].bodies:
        return {}
    return _forces(groups[0], groups[0].whole(job.lift.body))


def _forces(frame: Frame, held: int) -> dict[str, float]:
    """Return the mount forces [N] with one whole held still; empty where the mounts do not hold all the others."""
    free = np.ones(frame.load.size, dtype=bool)
    free[3 * held : 3 * held + 3] = False
    if not frame.mounts or not free.any():
        return {}
    stiff = np.sqrt([mount.stiffness for mount in frame.mounts])
    # By the stiffest, so that the test below means the same for rubber and for steel.
    stiff /= stiff.max()
    columns = (frame.stretch[:, free] * stiff[:, None]).T
    sizes = np.linalg.svd(columns, compute_uv=False)
    # Mounts that leave a motion free cannot have carried everything; no preload is better than an invented one.
    if sizes.size < free.sum() or sizes[-1] <= SINGULAR * sizes[0]:
        return {}
    # The pseudoinverse takes least squares; in forces over √k these are the energy of the mounts.
    forces = stiff * (np.linalg.pinv(columns) @ frame.load[free]) * frame.weight
    return {mount.name: float(force) for mount, force in zip(frame.mounts, forces, strict=True)}

"""A made-up vehicle on a lift: the shell on four arms, a unit of 300 kg on mounts or bolts under its front."""

from collections.abc import Sequence

from loadplan.limits import Limits
from loadplan.model.job import Job, Stage, Support
from loadplan.model.vehicle import Joint
from tests.statics import builders as make

PADS = ((-0.7, 0.7), (-0.7, -0.7), (-2.1, 0.7), (-2.1, -0.7))
CORNERS = ((0.3, 0.4), (0.3, -0.4), (-0.3, -0.4), (-0.3, 0.4))
HANGERS = ((0.2, 0.35), (0.2, -0.35), (-0.25, 0.0))

MOUNTS = tuple(make.mount(f"mount {number}", at, ("unit", "shell")) for number, at in enumerate(HANGERS))
BOLTS = (make.bolts("bolts", ("unit", "shell"), ((0.2, 0.3, 0.4), (-0.2, 0.3, 0.4))),)
PARTED = Stage("parted", undone=tuple(each.name for each in MOUNTS))


def lifted(
    stages: Sequence[Stage],
    *,
    supports: Sequence[Support] = (),
    joints: Sequence[Joint] = MOUNTS,
    limits: Limits = make.NO_LIMITS,
    at: tuple[float, float] = (0.02, 0.01),
) -> Job:
    """The job; with no supports told, four stands under the unit, brought up to touch."""
    parts = [
        make.part((*at, 0.5), 300.0, name="unit"),
        make.part((-1.3, 0.0, 0.6), 900.0, name="shell", body="shell"),
    ]
    standing = supports or make.stands(CORNERS)
    return make.job(parts, standing, joints=joints, stages=stages, lift=make.lift_use(PADS), limits=limits)

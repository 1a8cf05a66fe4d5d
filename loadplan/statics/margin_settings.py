"""Settings for asking only how far a group is from tipping: nothing is pushed, pulled or laid on."""

from collections.abc import Mapping

from loadplan.model.job import Job, State
from loadplan.statics.equilibrium import Frame
from loadplan.statics.gaps import unevenness
from loadplan.statics.mass import off_before
from loadplan.statics.resting_state import Settings


def margin_settings(
    job: Job, state: State, frame: Frame, gaps: Mapping[str, float], preload: Mapping[str, float]
) -> Settings:
    """Set up a group for its margins.

    Args:
        job: The job.
        state: The state.
        frame: The group.
        gaps: Gap of each of its supports [m].
        preload: Force [N] of mounts in the file's attitude, by name.

    Returns:
        What it is solved with.
    """
    return Settings(
        gaps=tuple(gaps[each.name] for each in frame.supports),
        uneven=tuple(unevenness(each, job.limits) for each in frame.supports),
        preload=tuple((mount.name, preload.get(mount.name, 0.0)) for mount in frame.mounts),
        slope=job.limits.floor_slope,
        needs=off_before(job, frame.lumps),
        undone=(),
        held=frozenset(),
        grips=(),
        pushed=(),
        asked=0.0,
        corners=(),
        came_off=tuple(
            part
            for part in job.vehicle.parts
            if part.name in state.stage.off and part.body in frame.bodies and part.name not in state.on
        ),
    )

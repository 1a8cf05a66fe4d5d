"""How far out the holes of an undone joint are: small rotations about the mean saddle, plus the drop."""

from math import sqrt
from statistics import fmean

from loadplan.model.answer import Miss, Motion
from loadplan.model.job import Job, State
from loadplan.model.vehicle import Joint, Place
from loadplan.stages import undone_joints
from loadplan.statics.equilibrium import Frame

STILL = Motion(0.0, 0.0, 0.0)


def misses(job: Job, state: State, groups: tuple[Frame, ...], motions: dict[str, Motion]) -> tuple[Miss, ...]:
    """Measure how far the holes of every joint undone now are out.

    The body on the lift and bodies left out count as still; the mean drop of the others against them is
    taken out, since the lift comes down to meet them.

    Args:
        job: The job.
        state: The state.
        groups: Its groups.
        motions: Expected motion of each body; a body whose group is not balanced has none.

    Returns:
        One record for each joint with places whose bodies are known, in the file's order.
    """
    still = _still(job, groups)
    moved = {**motions, **dict.fromkeys(still, STILL)}
    levels = {
        name: _level(frame, number) for frame in groups for number, names in enumerate(frame.wholes) for name in names
    }
    undone = [joint for joint in undone_joints(job, state) if set(joint.between) <= set(moved)]
    to_still = [joint for joint in undone if len(still & set(joint.between)) == 1 and joint.at]
    # The lift comes down to meet the holes: only what no lowering takes out is out of line.
    drop = fmean([fmean(_free_rise(joint, still, moved)) for joint in to_still]) if to_still else 0.0
    found = []
    for joint in undone:
        against = still & set(joint.between)
        # An offset is first side less second, so the drop changes its sign with the side that moves.
        taken = 0.0 if len(against) != 1 else drop if joint.between[1] in against else -drop
        offsets = [_offset(joint, place, moved, levels, taken) for place in joint.at]
        if offsets:
            worst = max(offsets, key=_size)
            found.append(Miss(joint.name, _size(worst), worst))
    return tuple(found)


def _still(job: Job, groups: tuple[Frame, ...]) -> set[str]:
    out = {body.name for body in job.vehicle.bodies if body.name not in job.bodies}
    if job.lift is None:
        return out
    wholes = [names for frame in groups for names in frame.wholes if job.lift.body in names]
    return out.union(*wholes)


def _level(frame: Frame, whole: int) -> float:
    """Return the mean height of a whole's saddles [m]; with none, of its mounts."""
    names = frame.wholes[whole]
    # A body rocks about its saddles: sideways its places go by their height over these.
    saddles = [support.at[2] for support in frame.supports if support.body in names]
    mounts = [mount.at[0][2] for mount in frame.mounts if set(names) & set(mount.between)]
    return fmean(saddles or mounts or [0.0])


def _free_rise(joint: Joint, still: set[str], moved: dict[str, Motion]) -> list[float]:
    """Return how far each place of a joint rises [m] on the side that moves."""
    free = next(name for name in joint.between if name not in still)
    return [moved[free].up_at(place[0], place[1]) for place in joint.at]


def _offset(joint: Joint, place: Place, moved: dict[str, Motion], levels: dict[str, float], drop: float) -> Place:
    """Return how far the first side of a joint lies from the second at a place [m], less a drop."""
    first, second = (_shift(moved[name], place, levels.get(name, 0.0)) for name in joint.between)
    return first[0] - second[0], first[1] - second[1], first[2] - second[2] - drop


def _shift(motion: Motion, place: Place, level: float) -> Place:
    """Return the displacement [m] of a place of a body."""
    height = place[2] - level
    return motion.ry * height, -motion.rx * height, motion.up_at(place[0], place[1])


def _size(offset: Place) -> float:
    return sqrt(sum(each * each for each in offset))

"""How high everything stands in one stage: what is on set stands, what hangs on the lift, what is raised clear."""

from dataclasses import dataclass

from loadplan.checks.clearance import ROOM
from loadplan.checks.phrases import names, several
from loadplan.model.answer import GroupAnswer
from loadplan.model.job import Job, Support
from loadplan.model.shop import EquipmentKind
from loadplan.model.vehicle import Body
from loadplan.model.verdict import StageAssessment


@dataclass(frozen=True, slots=True)
class Levels:
    """How much higher than at ride height each body is drawn.

    Attributes:
        rises: (body, rise [m]) of every body that is there.
        taken: Bodies whose rise the plan does not say, and that was taken for the drawing.
        told: What was taken, a sentence each.
    """

    rises: tuple[tuple[str, float], ...]
    taken: frozenset[str]
    told: tuple[str, ...]

    def rise(self, body: str) -> float:
        """Return how much higher than at ride height a body is drawn [m]."""
        return dict(self.rises).get(body, 0.0)

    def place(self, support: Support) -> float:
        """Return how high the place is that a support bears on [m]."""
        return support.at[2] + self.rise(support.body)

    def top(self, support: Support) -> float:
        """Return how high a saddle with its shim is over the floor [m]: as set, else as needed."""
        if support.set_height is None or (support.on and support.foot is None):
            return self.place(support)
        return support.set_height + self.foot(support)

    def foot(self, support: Support) -> float:
        """Return how high a support stands over the floor [m]: 0, or as high as the place of the body under it."""
        if not support.on:
            return 0.0
        if support.foot is not None:
            return support.foot + self.rise(support.on)
        return self.place(support) - STUB if support.set_height is None else self.place(support) - support.set_height


def levels_of(job: Job, stage: StageAssessment) -> Levels:
    """Find how high each body of a stage is drawn.

    Args:
        job: The job.
        stage: The stage.

    Returns:
        Rise of every body; what hangs on the lift over a parted unit is drawn clear of it.
    """
    known = [(group, *_rise(_stands(stage, group))) for group in stage.statics.groups]
    rises = {body: rise for group, rise, _ in known for body in group.bodies}
    taken = {body for group, _, why in known if why for body in group.bodies}
    told = [f"No height is set under the {names(group.bodies)}: {why}." for group, _, why in known if why]
    hung = _hung(job, stage)
    if hung and len(known) > 1:
        over, how = _over(job, stage, hung, rises)
        rises.update(dict.fromkeys(hung.bodies, over))
        taken.update(hung.bodies)
        is_or_are = several(hung.bodies, "is", "are")
        told.append(f"How high the {names(hung.bodies)} {is_or_are}, the lift decides: drawn {how}.")
    return Levels(tuple(rises.items()), frozenset(taken), tuple(told))


def undrawn(bodies: tuple[Body, ...]) -> list[str]:
    """Tell which assemblies an elevation cannot draw.

    Args:
        bodies: The assemblies.

    Returns:
        A sentence, none where all can be drawn.
    """
    without = [body.name for body in bodies if body.bottom is None or body.top is None or not body.outline]
    if not without:
        return []
    return [f"Not drawn, since outline, bottom or top is not given: {names(without)}."]


def _stands(stage: StageAssessment, group: GroupAnswer) -> list[Support]:
    """Return the stands under a group that stand on the floor: no arms, no hoists."""
    return [
        each
        for each in stage.state.supports
        if each.body in group.bodies
        and not each.on
        and not each.is_arm
        and each.equipment.kind is not EquipmentKind.HOIST
    ]


def _hung(job: Job, stage: StageAssessment) -> GroupAnswer | None:
    """Return the group that hangs on the lift with no set stand under it."""
    if job.lift is None or not any(each.is_arm for each in stage.state.supports):
        return None
    group = stage.statics.group_of(job.lift.body)
    return group if all(each.set_height is None for each in _stands(stage, group)) else None


def _rise(stands: list[Support]) -> tuple[float, str]:
    """Return how high a group stands [m], by its highest saddle, and what was taken where none is set."""
    given = [each.set_height - each.at[2] for each in stands if each.set_height is not None]
    if given:
        return max(given), ""
    bearing = [each for each in stands if not each.standby]
    reach = [_highest(each) for each in bearing]
    known = [each for each in reach if each is not None]
    if not known:
        return 0.0, "drawn as high as with the vehicle on its wheels" if bearing else ""
    return min(known), "drawn as high as its stands go"


def _highest(support: Support) -> float | None:
    shim = support.shim.height if support.shim else 0.0
    heights = support.equipment.heights
    return heights.highest + shim - support.at[2] if heights else None


def _over(job: Job, stage: StageAssessment, hung: GroupAnswer, rises: dict[str, float]) -> tuple[float, str]:
    """Return how far what hangs is up [m], over what stands below it, and how that is said."""
    others = {name: rise for name, rise in rises.items() if name not in hung.bodies}
    parted = any(set(hung.bodies) & set(joint.between) for joint in stage.state.undone)
    first = any(joint.name in stage.state.stage.undone for joint in stage.state.undone)
    if parted and first:
        rise, how = max(others.values()) + FIRST, "at the first stop on the way up"
    else:
        rise, how = max(0.0, _clear(job, hung, others)), "raised clear of the unit"
    stands = _stands(stage, hung)
    reach = min((each for each in map(_highest, stands) if each is not None), default=rise)
    return (reach, "as high as the stands under it reach") if reach < rise else (rise, how)


def _clear(job: Job, hung: GroupAnswer, others: dict[str, float]) -> float:
    """Return how far what hangs has to be up to clear what stands below it [m]."""
    bodies = job.vehicle.bodies
    tops = [body.top + others[body.name] for body in bodies if body.top is not None and body.name in others]
    bottoms = [body.bottom for body in bodies if body.bottom is not None and body.name in hung.bodies]
    return max(tops) + ROOM - min(bottoms) if tops and bottoms else 0.0


STUB = 0.120
"""How tall a stand is drawn of which nobody knows where it stands on its assembly, nor how high it is set [m]."""

FIRST = 0.050
"""The first lift, after which everybody stops and looks [m]."""

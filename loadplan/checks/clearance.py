"""Clearance: can the vehicle be raised over the unit that stands on its stands, under this lift and this ceiling."""

from dataclasses import dataclass

from loadplan.checks.case import Case, Told
from loadplan.checks.phrases import length, names
from loadplan.model.answer import GroupAnswer
from loadplan.model.job import LiftUse
from loadplan.model.verdict import CheckName, Finding, Measure, NotChecked, Sentence, Verdict
from loadplan.stages import joined

ROOM = 0.100
"""Room between the unit's top and the vehicle's bottom [m] that is asked for; common practice, no source."""


@dataclass(frozen=True, slots=True)
class _Raise:
    """How far the vehicle goes up from ride height [m]: `reach` is what the lift or the ceiling lets it."""

    needed: float
    reach: float
    ends: str


def check(case: Case) -> list[Told]:
    """Judge the way up over each unit that stands parted from the vehicle while the lift holds that.

    Args:
        case: The stage.

    Returns:
        One finding a parted unit and end of the way up (the lift's rise, the ceiling); a note where the vehicle file
        leaves out a top or a bottom.
    """
    use = case.job.lift
    if use is None or not case.arms:
        return []
    parted = [group for group in case.statics.groups if use.body not in group.bodies and _parted(case, group)]
    return [told for group in parted for told in _over(case, use, group)]


def _parted(case: Case, group: GroupAnswer) -> bool:
    """Return whether undone joints used to tie a group to what hangs on the lift, and it stands on the floor."""
    held = _held(case)
    ties = [set(joint.between) for joint in case.state.undone]
    stands = [each.name for each in case.stands if each.body in group.bodies and not each.on]
    return any(tie & held and tie & set(group.bodies) for tie in ties) and bool(stands)


def _held(case: Case) -> frozenset[str]:
    return joined(case.state.done_up, case.job.lift.body) if case.job.lift else frozenset()


def _over(case: Case, use: LiftUse, group: GroupAnswer) -> list[Told]:
    """Return whether what stays on the lift can be raised over a group that stands below."""
    tops = {name: case.body(name).top for name in group.bodies}
    bottoms = {name: case.body(name).bottom for name in case.job.bodies if name in _held(case)}
    unknown = [name for name, edge in (*tops.items(), *bottoms.items()) if edge is None]
    if unknown:
        return [_unknown(group, unknown)]
    level = _level(case, group)
    if level is None:
        why = f"no stand under the {names(group.bodies)} has a height set"
        return [
            NotChecked((f"Whether the {use.body} can be raised over the {names(group.bodies)}: not checked, {why}.",))
        ]
    needed = (
        max(top for top in tops.values() if top is not None)
        + level
        - min(bottom for bottom in bottoms.values() if bottom is not None)
    )
    return _ways_up(case, use, group, needed)


def _level(case: Case, group: GroupAnswer) -> float | None:
    """Return how much higher than at ride height a unit stands [m], by its highest saddle."""
    saddles = [
        each.set_height - each.at[2]
        for each in case.stands
        if each.body in group.bodies and not each.on and each.set_height is not None
    ]
    return max(saddles, default=None)


def _ways_up(case: Case, use: LiftUse, group: GroupAnswer, needed: float) -> list[Told]:
    """Return whether the lift rises far enough, and whether the ceiling leaves room for it."""
    told: list[Told] = []
    if use.lift.rise is None:
        told.append(_ungiven(use, group, "how high the lift rises"))
    else:
        pads = max(arm.at[2] for arm in case.arms)
        told.append(_finding(use, group, _Raise(needed, use.lift.rise - pads, f"{use.lift.name} ends")))
    tops = [case.body(name).top for name in case.job.bodies if name in _held(case)]
    known = [top for top in tops if top is not None]
    if use.lift.ceiling is None or len(known) < len(tops):
        return [*told, _ungiven(use, group, "how high ceiling and vehicle are")]
    room = _Raise(needed, use.lift.ceiling - max(known), "the ceiling is in the way")
    return [*told, _finding(use, group, room)]


def _ungiven(use: LiftUse, group: GroupAnswer, what: str) -> NotChecked:
    asked = f"Whether the {use.body} can be raised over the {names(group.bodies)}"
    return NotChecked((f"{asked}: not checked, the files do not say {what}.",))


def _unknown(group: GroupAnswer, unknown: list[str]) -> Finding:
    """Return a note that a top or bottom is not given."""
    where = f"top or bottom of the {names(list(dict.fromkeys(unknown)))} is not given"
    return Finding(
        check=CheckName.CLEARANCE,
        verdict=Verdict.NOTE,
        subject=", ".join(group.bodies),
        value=None,
        limit=ROOM,
        measure=Measure.LENGTH,
        says=(f"Whether the vehicle clears the {names(group.bodies)} is not checked: {where}.",),
    )


def _finding(use: LiftUse, group: GroupAnswer, way: _Raise) -> Finding:
    """Return how much room is left over a group, one way up."""
    left = way.reach - way.needed
    asked = max(ROOM, use.lift.lock_step or 0.0)
    verdict = Verdict.STOP if left < 0 else Verdict.CAUTION if left < asked else Verdict.HOLDS
    return Finding(
        check=CheckName.CLEARANCE,
        verdict=verdict,
        subject=", ".join(group.bodies),
        value=left,
        limit=0.0 if verdict is Verdict.STOP else asked,
        measure=Measure.LENGTH,
        says=_says(use, group, way, verdict),
    )


def _says(use: LiftUse, group: GroupAnswer, way: _Raise, verdict: Verdict) -> Sentence:
    """Return how the way up ends, before or after the group is cleared, and what would help."""
    left = way.reach - way.needed
    match verdict:
        case Verdict.STOP:
            short: Sentence = (f", but {way.ends} ", length(-left), " before that.")
            return (*_clears(use, group, way), *short, " Set the stands lower, or use a table that goes down.")
        case Verdict.CAUTION:
            scant: Sentence = (f", and {way.ends} only ", length(left), " above that.")
            return (*_clears(use, group, way), *scant, *_locks(use, left), " Set the stands lower.")
        case _:
            return (*_clears(use, group, way), f"; {way.ends} ", length(left), " above that.")


def _clears(use: LiftUse, group: GroupAnswer, way: _Raise) -> Sentence:
    over = f"The {use.body} clears the {names(group.bodies)}"
    if way.needed <= 0:
        return (f"{over} even where it stood before",)
    return (f"{over} once it is ", length(way.needed), " up")


def _locks(use: LiftUse, left: float) -> Sentence:
    """Return a warning where coming down onto a lock would take up the room that is left."""
    if use.lift.lock_step is None or left >= use.lift.lock_step:
        return ()
    return (" Its locks are ", length(use.lift.lock_step), " apart: coming down onto one it may touch.")

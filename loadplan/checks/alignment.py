"""Alignment: how far the holes of each undone joint have moved apart that must line up again."""

from collections.abc import Mapping, Sequence
from math import ceil

from loadplan.checks.case import Case, Told
from loadplan.checks.cure import move_stand
from loadplan.checks.phrases import length, listed
from loadplan.checks.resetting import reset_cures, reset_words
from loadplan.model.answer import Miss
from loadplan.model.vehicle import Joint, JointKind
from loadplan.model.verdict import CheckName, Finding, Measure, NotChecked, Sentence, Verdict
from loadplan.stages import undone_joints
from loadplan.statics.levelling import Reset, reset_for_holes

TOLD = 0.0005
"""Parts of a miss below half a millimetre are not told: they would read as 0 mm."""

_WAYS = (("ahead of", "behind"), ("left of", "right of"), ("above", "below"))


def check(case: Case) -> list[Told]:
    """Judge how far out the holes of each undone joint are.

    Args:
        case: The stage.

    Returns:
        One finding an undone joint, those to bodies left out too; bolted joints without places are told as not checked.
    """
    joints = {each.name: each for each in undone_joints(case.job, case.state)}
    misses = [(joints[miss.joint], miss) for miss in case.statics.misses if miss.joint in joints]
    resets = _resets(case, [joint for joint, miss in misses if miss.miss > case.job.limits.align])
    placeless = [
        NotChecked((
            f"Whether {each.name} lines up again: not checked, the vehicle file gives no places for its bolts.",
        ))
        for each in undone_joints(case.job, case.state)
        if each.kind is JointKind.BOLTED and not each.at
    ]
    return [*(_finding(case, joint, miss, resets) for joint, miss in misses), *placeless]


def _finding(case: Case, joint: Joint, miss: Miss, resets: Mapping[str, Reset | None]) -> Finding:
    """Return whether the holes of a joint meet, and where they do not what to do."""
    over = miss.miss > case.job.limits.align
    free, _ = _apart(case, joint)
    out: Sentence = (f"The bolt holes at {joint.name} are ", length(miss.miss), " out.")
    return Finding(
        check=CheckName.ALIGNMENT,
        verdict=Verdict.CAUTION if over else Verdict.HOLDS,
        subject=joint.name,
        value=miss.miss,
        limit=case.job.limits.align,
        measure=Measure.LENGTH,
        says=(*_where(case, joint, miss), *_cure(case, free, resets[free])) if over else out,
        cures=reset_cures(case, resets[free]) if over else (),
    )


def _where(case: Case, joint: Joint, miss: Miss) -> Sentence:
    """Return words for where the hole of what is free lies against its bracket on the other body."""
    free, other = _apart(case, joint)
    side = 1 if free == joint.between[0] else -1
    parts: list[Sentence] = [
        (length(round(abs(out), 3)), f" {ahead if side * out > 0 else behind}")
        for out, (ahead, behind) in zip(miss.offset, _WAYS, strict=True)
        if abs(out) >= TOLD
    ]
    hole = "The worst bolt hole" if joint.kind is JointKind.BOLTED else "The hole"
    told: Sentence = (f"{hole} at {joint.name} will be ", length(miss.miss), " out")
    return (*told, ": ", *listed(parts, ", "), f" its bracket on the {other}.") if parts else (*told, ".")


def _apart(case: Case, joint: Joint) -> tuple[str, str]:
    """Return the body that can be set anew, and the other one."""
    first, second = joint.between
    loose = first in case.state.bodies and not case.on_lift(first)
    return (first, second) if loose else (second, first)


def _resets(case: Case, out: Sequence[Joint]) -> dict[str, Reset | None]:
    """Return which stand set anew brings each body right again whose holes are too far out, None for none."""
    return {
        free: reset_for_holes(case.job, case.state, case.statics.gaps, free) if free in case.state.bodies else None
        for free in dict.fromkeys(_apart(case, joint)[0] for joint in out)
    }


def _cure(case: Case, free: str, reset: Reset | None) -> Sentence:
    """Return what brings a body right again whose holes are too far out."""
    if reset is None:
        return move_stand(case, free, "the stands", (f"reset the stands under the {free} so that it stays level",))
    left: Sentence = (" That leaves the worst hole of all ", length(ceil(reset.left * 1000) / 1000), " out.")
    return (*reset_words(case, free, reset), *left)

"""Alignment: how far the holes of each undone joint have moved apart that must line up again."""

from loadplan.checks.case import Case, Told
from loadplan.checks.cure import move_stand
from loadplan.checks.words import length, listed
from loadplan.model.answer import Miss
from loadplan.model.vehicle import Joint, JointKind, Place
from loadplan.model.verdict import Finding, Measure, NotChecked, Sentence, Verdict

TOLD = 0.0005
"""Parts of a miss below half a millimetre are not told: they would read as 0 mm."""

_WAYS = (("ahead of", "behind"), ("left of", "right of"), ("above", "below"))


def check(case: Case) -> list[Told]:
    """Judge how far out the holes of each undone joint are.

    Args:
        case: The stage.

    Returns:
        One finding an undone joint; bolted joints without places are told as not checked.
    """
    joints = {each.name: each for each in case.state.undone}
    found: list[Told] = [
        _finding(case, joints[miss.joint], miss) for miss in case.statics.misses if miss.joint in joints
    ]
    return [*found, *_placeless(case)]


def _placeless(case: Case) -> list[NotChecked]:
    return [
        NotChecked((
            f"Whether {each.name} lines up again: not checked, the vehicle file gives no places for its bolts.",
        ))
        for each in case.state.undone
        if each.kind is JointKind.BOLTED and not each.at
    ]


def _finding(case: Case, joint: Joint, miss: Miss) -> Finding:
    over = miss.miss > case.job.limits.align
    out: Sentence = (f"The bolt holes at {joint.name} are ", length(miss.miss), " out")
    return Finding(
        check="alignment",
        verdict=Verdict.CAUTION if over else Verdict.HOLDS,
        subject=joint.name,
        value=miss.miss,
        limit=case.job.limits.align,
        measure=Measure.LENGTH,
        says=(*out, *_where(joint, miss.offset), ".", *_cure(case, joint)) if over else (*out, "."),
    )


def _where(joint: Joint, offset: Place) -> Sentence:
    parts: list[Sentence] = [
        (length(abs(out)), f" {ahead if out > 0 else behind}")
        for out, (ahead, behind) in zip(offset, _WAYS, strict=True)
        if abs(out) >= TOLD
    ]
    if not parts:
        return ()
    return (f": the {joint.between[0]} is ", *listed(parts, ", "), f" the {joint.between[1]}")


def _cure(case: Case, joint: Joint) -> Sentence:
    lift = case.job.lift.body if case.job.lift else ""
    body = next((each for each in joint.between if each != lift), joint.between[0])
    return move_stand(case, body, "the stands", (f"reset the stands under the {body} so that it stays level",))

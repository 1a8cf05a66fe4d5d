"""Mount: does each carry no more than it may, and does nothing hang on one of which nobody knows what it bears."""

from dataclasses import replace

from loadplan.checks.case import Case, Told
from loadplan.checks.cure import move_stand
from loadplan.checks.phrases import load, names
from loadplan.model.answer import JointForce
from loadplan.model.vehicle import Joint, JointKind
from loadplan.model.verdict import CheckName, Finding, Measure, Sentence, Verdict

MORE = 2.0
"""A mount that carries more than this many times what it carries on the whole vehicle is told; no source."""


def check(case: Case) -> list[Told]:
    """Judge the force in each mount and link that counts as one.

    Args:
        case: The stage.

    Returns:
        One finding a mount whose force is known.
    """
    forces = {each.name: each for each in case.statics.joints}
    ties = [joint for joint in case.state.done_up if joint.kind is not JointKind.BOLTED]
    return [_finding(case, joint, forces[joint.name]) for joint in ties if forces[joint.name].force is not None]


def _finding(case: Case, joint: Joint, carried: JointForce) -> Finding:
    """Return the verdict on one mount, the hardest first."""
    force = carried.borne or 0.0
    if carried.whole is not None and carried.force:
        # A rod is compared along its line, too.
        carried = replace(carried, whole=carried.whole * force / carried.force)
    verdict, says = _judged(case, joint, carried, force)
    return Finding(
        check=CheckName.MOUNT,
        verdict=verdict,
        subject=joint.name,
        value=abs(force),
        limit=joint.limit,
        measure=Measure.LOAD,
        says=says,
    )


def _judged(case: Case, joint: Joint, carried: JointForce, force: float) -> tuple[Verdict, Sentence]:
    """Return what a mount does with its force [N], positive where it holds its first body up."""
    held, holder = joint.between if force >= 0 else joint.between[::-1]
    told: Sentence = (f"{joint.name} carries ", load(abs(force)), f" of the {held}")
    if joint.limit is not None and abs(force) > joint.limit:
        much: Sentence = (*told, ", more than the ", load(joint.limit), " that it may.")
        return Verdict.STOP, (*much, *_beside(case, joint, held))
    if joint.limit is None and joint.name in case.group(held).needed_mounts:
        over = f", and without it the {names(joint.between)} would go over; what it may carry is not given."
        return Verdict.CAUTION, (*told, over, *_beside(case, joint, held))
    if case.is_nothing(abs(force), held) or carried.whole is None:
        return Verdict.HOLDS, (*told, ".")
    if force * carried.whole < 0:
        turned: Sentence = (*told, "; on the whole vehicle it carries ", load(abs(carried.whole)), f" of the {holder}.")
        return Verdict.NOTE, (*turned, f" Its force has turned round: look at {joint.name} before work goes on.")
    if abs(force) > MORE * abs(carried.whole):
        more: Sentence = (*told, ", more than twice the ", load(abs(carried.whole)), " of the whole vehicle.")
        return Verdict.NOTE, more
    return Verdict.HOLDS, (*told, ".")


def _beside(case: Case, joint: Joint, held: str) -> Sentence:
    """Return what takes weight off a mount: a stand under what it holds, or knowing what it may carry."""
    near: Sentence = (f"set one more stand under the {held}, near {joint.name}",)
    cure = move_stand(case, held, "the stands", near)
    return cure if joint.limit is not None else (*cure, " Or give its limit from the maker's data.")

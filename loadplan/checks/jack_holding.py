"""Jack holding: what is held by oil or a chain brake, and what happens when it sinks or goes."""

from loadplan.checks.case import Case, Told
from loadplan.checks.cure import move_stand
from loadplan.checks.phrases import angle, length, listed, load, names, several, turning_about
from loadplan.checks.piece import pieces
from loadplan.model.answer import GroupAnswer
from loadplan.model.job import Support
from loadplan.model.shop import EquipmentKind
from loadplan.model.verdict import CheckName, Finding, Measure, Sentence, Verdict
from loadplan.statics.jack_sinking import SINKS


def check(case: Case) -> list[Told]:
    """Judge every support without locks; a lift without them is told by `lift lock`.

    Args:
        case: The stage.

    Returns:
        One finding a support that oil or a chain brake holds and whose load is known.
    """
    return [
        _finding(case, support)
        for support in case.stands
        if not support.equipment.locks and case.load(support.name) is not None
    ]


def _finding(case: Case, support: Support) -> Finding:
    """Return the verdict on a support that oil or a chain holds."""
    carried = case.load_range(support.name)
    verdict = _verdict(case, support)
    return Finding(
        check=CheckName.JACK_HOLDING,
        verdict=verdict,
        subject=support.name,
        value=carried.high if carried else None,
        limit=0.0,
        measure=Measure.LOAD,
        says=(f"{support.name} is held by {_holder(support)} but carries nothing.",)
        if verdict is Verdict.HOLDS
        else _says(case, support),
    )


def _verdict(case: Case, support: Support) -> Verdict:
    """Return a stop where nobody is there to see it sink."""
    if not case.may_carry(support):
        return Verdict.HOLDS
    return Verdict.STOP if case.state.stage.unattended else Verdict.CAUTION


def _holder(support: Support) -> str:
    return "its chain brake" if support.equipment.kind is EquipmentKind.HOIST else "oil"


def _says(case: Case, support: Support) -> Sentence:
    """Return what holds a support, what happens when that lets go or sinks, and what to put there."""
    left = " overnight, left alone" if case.state.stage.unattended else ""
    group = case.group(support.body)
    act = (f"put a stand that locks in place of {support.name}, or beside it",)
    return (
        f"Only {_holder(support)} holds {support.name}{left}: ",
        *_gone(group, support.name),
        *_sunk(case, group, support.name),
        ".",
        *move_stand(case, support.body, support.name, act),
    )


def _gone(group: GroupAnswer, support: str) -> Sentence:
    """Return what happens to a group without one support."""
    lost = next((each for each in group.lost if each.support == support), None)
    if lost is None:
        return ("what happens without it was not computed",)
    bodies = names(group.bodies)
    if lost.balanced:
        return (f"without it the {bodies} still {several(group.bodies, 'stands', 'stand')}",)
    goes = several(group.bodies, "goes", "go")
    return (f"without it the {bodies} {goes} over, {turning_about(lost.turns_about)}",)


def _sunk(case: Case, group: GroupAnswer, support: str) -> Sentence:
    """Return what is too much once a support has sunk: ratings, places, and how far out of level bodies stand."""
    sunk = next((each for each in group.sunk if each.support == support), None)
    if sunk is None:
        return ()
    loads = dict(sunk.loads)
    those = [each for each in case.state.supports if each.name in loads]
    passed: list[Sentence] = [
        (f"{piece.name} carries ", load(carried), " of ", load(piece.equipment.rating_of_one))
        for piece in pieces(those)
        if (carried := sum(loads[each.name] for each in piece.supports)) > piece.equipment.rating_of_one
    ]
    passed += [
        (f"the place at {each.name} takes ", load(loads[each.name]), " of ", load(each.limit))
        for each in (case.support(name) for name in loads)
        if each.limit is not None and loads[each.name] > each.limit
    ]
    passed += [
        (f"the {body} stands ", angle(tilt), " out of level")
        for body, tilt in sunk.tilts
        if tilt > case.job.limits.level
    ]
    if not passed:
        return ("; sunk by ", length(SINKS), " nothing is overloaded or out of level")
    return ("; sunk by ", length(SINKS), " ", *listed(passed, ", "))

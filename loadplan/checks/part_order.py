"""Part order: parts that a step lists one after the other in an order that the vehicle's file does not allow."""

from collections.abc import Sequence

from loadplan.checks.case import Case, Told
from loadplan.checks.phrases import few, several
from loadplan.model.verdict import CheckName, Finding, Measure, Sentence, Verdict


def check(case: Case) -> list[Told]:
    """Judge whether parts are listed as they can come off, and go on: what comes off last goes on first.

    The states on the way are those of the listed order, so of one that cannot be kept they are none that will be met.

    Args:
        case: The stage.

    Returns:
        One finding a part that comes off, or goes on, after or before another one of the same list.
    """
    stage = case.state.stage
    after = {part.name: part.after for part in case.job.vehicle.parts if part.body in case.job.bodies}
    # In any order each set that `after` allows is looked at, and no other.
    off = () if stage.any_order else stage.off
    return [*_told(off, after, goes_on=False), *_told(stage.on, after, goes_on=True), *_too_late(case, after)]


def _too_late(case: Case, after: dict[str, tuple[str, ...]]) -> list[Told]:
    """Return a finding of each part that goes on though what comes off before it has been put on already."""
    there = frozenset(case.before.on) - {*case.state.stage.off, *case.state.stage.on} if case.before else frozenset()
    late = ((name, [each for each in after.get(name, ()) if each in there]) for name in case.state.stage.on)
    return [_already(name, others) for name, others in late if others]


def _already(part: str, others: Sequence[str]) -> Finding:
    """Return that a part cannot go on any more."""
    says = f"The {part} goes on only before {few(others)}, but {several(others, 'that is', 'those are')} on already."
    cure = f" Put {part} on first, or take {few(others)} off again."
    return Finding(CheckName.PART_ORDER, Verdict.CAUTION, part, None, None, Measure.COUNT, (says + cure,))


def _told(listed: Sequence[str], after: dict[str, tuple[str, ...]], *, goes_on: bool) -> list[Told]:
    """Return a finding of each part of a list for which others of it have to be off."""
    place = {name: number for number, name in enumerate(listed)}
    found: list[Told] = []
    for name in place:
        others = sorted((each for each in after.get(name, ()) if each in place), key=place.__getitem__)
        wrong = [each for each in others if (place[each] > place[name]) is not goes_on]
        if others:
            found.append(_finding(name, others, wrong, goes_on=goes_on))
    return found


def _finding(part: str, others: Sequence[str], wrong: Sequence[str], *, goes_on: bool) -> Finding:
    """Return whether a part is listed where it can come off or go on."""
    moves, beside, other = ("goes on", "before", "after") if goes_on else ("comes off", "after", "before")
    says: Sentence = (f"The {part} {moves} {beside} {few(others)}, as listed.",)
    if wrong:
        says = (
            f"The {part} {moves} only {beside} {few(wrong)}, but is listed {other} {several(wrong, 'it', 'them')}: "
            f"what is judged on the way is not what will be. List {part if goes_on else few(wrong)} first.",
        )
    return Finding(
        check=CheckName.PART_ORDER,
        verdict=Verdict.CAUTION if wrong else Verdict.HOLDS,
        subject=part,
        value=None,
        limit=None,
        measure=Measure.COUNT,
        says=says,
    )

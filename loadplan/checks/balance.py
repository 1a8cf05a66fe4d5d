"""Balance: does each group stand at all, with the weights as given and over their whole tolerance."""

from typing import assert_never

from loadplan.checks.case import Case, Told
from loadplan.checks.cure import Way, steady
from loadplan.checks.phrases import low_side, names, several, turning_about
from loadplan.model.answer import Balanced, GroupAnswer, Loose, Motion, Tips
from loadplan.model.vehicle import JointKind
from loadplan.model.verdict import CheckName, Finding, Measure, Sentence, Verdict
from loadplan.statics.worst_way import falling_way, what_moves, worst_way


def check(case: Case) -> list[Told]:
    """Judge whether each group is balanced.

    Args:
        case: The stage.

    Returns:
        One finding a group, told by its bodies.
    """
    return [_finding(case, group) for group in case.statics.groups]


def _finding(case: Case, group: GroupAnswer) -> Finding:
    """Return a stop unless a group stands with every mass and centre inside tolerance."""
    holds = isinstance(group.proof, Balanced) and group.robust
    return Finding(
        check=CheckName.BALANCE,
        verdict=Verdict.HOLDS if holds else Verdict.STOP,
        subject=", ".join(group.bodies),
        value=None,
        limit=None,
        measure=Measure.LENGTH,
        says=_says(case, group),
    )


def _says(case: Case, group: GroupAnswer) -> Sentence:
    """Return what a group does, by its proof."""
    match group.proof:
        case Balanced():
            return _stands(group) if group.robust else _may_tip(case, group)
        case Tips():
            return _tips(case, group, group.proof)
        case Loose():
            return _rocks(case, what_moves(group))
        case _:
            assert_never(group.proof)


def _stands(group: GroupAnswer) -> Sentence:
    """Return that a group stays, and on what."""
    verb = several(group.bodies, "stays", "stay")
    return (f"The {names(group.bodies)} {verb} where put, on {names(group.supports)}.",)


def _may_tip(case: Case, group: GroupAnswer) -> Sentence:
    """Return which way a group may go with its weights inside their tolerance."""
    nearest = worst_way(group)
    moving = what_moves(group)
    way = f", {turning_about(nearest.about)}," if nearest else ""
    side = _side(nearest.motions) if nearest else ""
    off = "when weights and centres of gravity are off as far as they may be."
    said = f"The {names(moving)} may tip{_to(side)}{way} {off}"
    # What goes over by its own lean, or is known exactly, is not helped by weighing.
    vague = group.sway is not None and any(any(case.answer(name).cg_pm) for name in moving)
    weigh = (" Weigh it, to know them better.",) if vague else ()
    return (said, *weigh, *steady(case, Way(moving, nearest.about if nearest else group.supports, side)))


def _tips(case: Case, group: GroupAnswer, proof: Tips) -> Sentence:
    mode = falling_way(group)
    moving = what_moves(group)
    side = _side(mode.motions if mode else proof.motions)
    about = mode.about if mode else ()
    said = f"The {names(moving)} {several(moving, 'tips', 'tip')}{_to(side)}, {turning_about(about)}."
    return (said, *steady(case, Way(moving, about, side)))


def _rocks(case: Case, moving: tuple[str, ...]) -> Sentence:
    """Return what nothing holds, and how little holds it."""
    free = several(moving, "is free to rock", "are free to rock")
    it = several(moving, "it", "them")
    held = _held_by(case, moving)
    only = f"only {names(held)} {several(held, 'holds', 'hold')} {it}, too few or all in one line"
    why = only if held else f"nothing holds {it} up"
    return (f"The {names(moving)} {free}: {why}.", *steady(case, Way(moving, tuple(held), "")))


def _held_by(case: Case, moving: tuple[str, ...]) -> list[str]:
    """Return the supports and mounts that hold what moves."""
    supports = [each.name for each in case.state.bearing if each.body in moving or each.on in moving]
    mounts = [joint for joint in case.state.done_up if joint.kind is JointKind.MOUNT]
    return supports + [joint.name for joint in mounts if set(joint.between) & set(moving)]


def _side(motions: tuple[tuple[str, Motion], ...]) -> str:
    return low_side(max((motion for _, motion in motions), key=lambda motion: motion.rx**2 + motion.ry**2))


def _to(side: str) -> str:
    return f" to the {side}" if side else ""

"""Carried saddles: an assembly that leans takes the stands that stand on it sideways, and what they hold with them.

The margins move each assembly's own centre of gravity by its own lean, over its own saddles. A saddle at a height h
over the lowest saddle of what its stand stands on moves by h times the tilt of that besides, and a load F on it then
acts so far out on the lower assembly: as if F h t / W were off the margin of one of weight W, and up to h t off that of
the one on top. So it is told beside the margins.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot

from loadplan.checks.case import Case
from loadplan.checks.cure import move_stand
from loadplan.checks.phrases import length, low_side, names, several
from loadplan.limits import GRAVITY
from loadplan.model.answer import Motion
from loadplan.model.job import Support
from loadplan.model.shop import EquipmentKind
from loadplan.model.verdict import CheckName, Finding, Measure, Sentence, Verdict

CARRIED = 5e-3
"""How far a saddle may be carried sideways before it is told [m]: places are measured no better by tape."""


@dataclass(frozen=True, slots=True)
class _TakenAlong:
    """Stands that an assembly takes sideways.

    Attributes:
        base: The assembly, a stage's name for its rigid whole.
        stands: The stands on it.
        motion: The tilt that takes them furthest.
        way: How far that takes the highest saddle [m].
    """

    base: str
    stands: tuple[Support, ...]
    motion: Motion
    way: float


def carried_saddles(case: Case) -> list[Finding]:
    """Tell which stands are taken sideways by the assembly that they stand on.

    Args:
        case: The stage.

    Returns:
        One finding an assembly that takes some further than a tape would find; none at a glance, or where it does not
        settle.
    """
    bases = dict.fromkeys(case.whole(each.on) for each in case.stands if each.on in case.state.bodies)
    carried = [found for base in bases if (found := _carried(case, base)) is not None]
    return [_finding(case, each) for each in carried if each.way > CARRIED]


def _carried(case: Case, base: Sequence[str]) -> _TakenAlong | None:
    """Return the stands on a rigid whole, and how far it takes the highest of their saddles."""
    group = case.group(base[0])
    stands = tuple(each for each in case.state.bearing if _stands_on(each, base))
    lowest = [each.at[2] for each in case.state.supports if each.body in base]
    lowest += [at[2] for joint in case.state.done_up if set(joint.between) & set(base) for at in joint.at]
    if not (stands and lowest and group.balanced and group.worst_tilts):
        return None
    row = group.bodies.index(base[0])
    rx, ry = max((tilts[row] for tilts in group.worst_tilts), key=lambda tilt: hypot(*tilt))
    height = max(each.at[2] for each in stands) - min(lowest)
    return _TakenAlong(base[0], stands, Motion(0.0, rx, ry), height * hypot(rx, ry))


def _stands_on(support: Support, base: Sequence[str]) -> bool:
    """Return whether a stand stands on a rigid whole and bears another one; what hangs swings, and stays plumb."""
    hangs = support.equipment.kind is EquipmentKind.HOIST
    return support.on in base and support.body not in base and not hangs


def _finding(case: Case, carried: _TakenAlong) -> Finding:
    """Return how far saddles are taken sideways, and whether that is all that is left to tipping."""
    left = _left(case, carried)
    stop = left is not None and left <= 0
    which = [each.name for each in carried.stands]
    says: Sentence = (
        f"The {carried.base} may lean, and take the {several(which, 'saddle', 'saddles')} of {names(which)} ",
        length(carried.way),
        f" to the {low_side(carried.motion)} with it. Distances to tipping do not count that",
    )
    more = ": it takes all that is left to tipping." if stop else "."
    act = f"level the {carried.base}, or set what stands on it on the floor"
    return Finding(
        check=CheckName.LEVEL,
        verdict=Verdict.STOP if stop else Verdict.CAUTION,
        subject=names(which),
        value=carried.way,
        limit=CARRIED,
        measure=Measure.LENGTH,
        says=(*says, more, *move_stand(case, carried.base, "the stands", (act,))),
    )


def _left(case: Case, carried: _TakenAlong) -> float | None:
    """Return the least worst margin that is left of what stands on the assembly, and of that itself [m]."""
    loads = [load.at_most for each in carried.stands if (load := case.load(each.name)) is not None]
    weight = sum(case.answer(each).mass for each in case.whole(carried.base)) * GRAVITY
    # The lower assembly's margin is that of its own weight alone: what it carries counts by its share of that.
    taken = {carried.base: carried.way * sum(loads) / weight}
    taken |= {each.body: carried.way for each in carried.stands}
    margins = {name: case.answer(name).worst_margin for name in taken}
    left = [margin - taken[name] for name, margin in margins.items() if margin is not None]
    return min(left, default=None)

"""Count: does the shop own what the stage uses, and may each piece be used."""

from collections.abc import Iterable
from typing import TypeAlias

from loadplan.checks.case import Case, Told
from loadplan.checks.phrases import length, names, several
from loadplan.checks.piece import Piece, pieces
from loadplan.limits import TAPE
from loadplan.model.plan_cure import OtherPiece
from loadplan.model.shop import Equipment
from loadplan.model.verdict import CheckName, Finding, Measure, NotChecked, Sentence, Verdict

_Kind: TypeAlias = tuple[int, str]
"""A kind of shim: its height in steps of `TAPE`, and its wood in small letters, "" for any."""


def check(case: Case) -> list[Told]:
    """Judge how many pieces and shims a stage uses, and their tags.

    Args:
        case: The stage.

    Returns:
        One finding a kind of equipment, a tag and a kind of shim in use.
    """
    used = pieces(case.stands)
    kinds = {each.equipment.name: each.equipment for each in used}
    told: list[Told] = [_owned(kind, _of(used, kind)) for kind in kinds.values()]
    for kind in kinds.values():
        told += _tags(kind, _of(used, kind))
    return [*told, *_shims(case)]


def _of(used: Iterable[Piece], kind: Equipment) -> list[Piece]:
    return [each for each in used if each.equipment.name == kind.name]


def _owned(kind: Equipment, used: list[Piece]) -> Told:
    """Return whether the shop has as many pieces of a kind as are used."""
    usable = kind.usable_count
    if usable is None:
        return NotChecked((f"How many there are of {kind.name}: not checked, the shop file does not say.",))
    out = f", {len(kind.out_of_use)} of the {kind.count} being out of use" if kind.out_of_use else ""
    says = f"Of {kind.name} the plan uses {len(used)}; the shop has {usable}{out}."
    cure = " Plan other equipment for the rest." if len(used) > usable else ""
    return _counted(kind.name, len(used), usable, (says + cure,))


def _counted(subject: str, used: int, usable: int, says: Sentence) -> Finding:
    verdict = Verdict.STOP if used > usable else Verdict.HOLDS
    return Finding(CheckName.COUNT, verdict, subject, float(used), float(usable), Measure.COUNT, says)


def _tags(kind: Equipment, used: list[Piece]) -> list[Told]:
    """Return whether each piece that is named by its tag is used once, and may be used at all."""
    places: dict[str, list[str]] = {}
    for piece in used:
        for tag in piece.tags:
            places.setdefault(tag, []).append(piece.name)
    told: list[Told] = []
    free = next((tag for tag in kind.tags if tag not in kind.out_of_use and tag not in places), None)
    for tag, those in places.items():
        cures = (OtherPiece(those[-1], free),) if free else ()
        verdict, says = Verdict.HOLDS, f"{tag} is used once, at {names(those)}."
        if len(those) > 1:
            verdict = Verdict.STOP
            says = f"{tag} is one {kind.name} but is used at {names(those)}. Give each its own tag."
        if tag in kind.out_of_use:
            verdict = Verdict.STOP
            says = f"{tag} ({kind.name}) is out of use but is used at {names(those)}. Take another."
        told.append(
            Finding(
                CheckName.COUNT,
                verdict,
                tag,
                float(len(those)),
                1.0,
                Measure.COUNT,
                (says,),
                cures if verdict is Verdict.STOP else (),
            )
        )
    return told


def _shims(case: Case) -> list[Told]:
    """Return whether the shop has as many shims of each height and wood as are used."""
    shimmed = [(each.name, each.shim) for each in case.stands if each.shim is not None]
    kinds: dict[_Kind, list[str]] = {}
    for name, stack in shimmed:
        # A shim whose wood is not said may be any of its height, so all of one height are counted together as well.
        for wood in dict.fromkeys((stack.wood.casefold(), "")):
            kinds.setdefault((round(stack.height / TAPE), wood), []).append(name)
    unsaid = {round(stack.height / TAPE) for _, stack in shimmed if not stack.wood}
    return [_shim(case, kind, used) for kind, used in kinds.items() if kind[1] or kind[0] in unsaid]


def _shim(case: Case, kind: _Kind, used: list[str]) -> Told:
    """Return whether the shop has as many shims of one kind as are used at some supports."""
    height, wood = kind[0] * TAPE, kind[1]
    called: Sentence = (length(height), f" {wood}".rstrip())
    owned = [each for each in case.job.shop.shims if each.fits(height, wood)]
    if not owned:
        says: Sentence = ("The shop's list has no shim of ", *called, f" as used at {names(used)}. Look for one first.")
        return Finding(CheckName.COUNT, Verdict.NOTE, ", ".join(used), float(len(used)), None, Measure.COUNT, says)
    counts = [each.count for each in owned if each.count is not None]
    if len(counts) < len(owned):
        return NotChecked(("How many shims of ", *called, " there are: not checked, the shop file does not say."))
    says = (
        f"{len(used)} {several(used, 'shim', 'shims')} of ",
        *called,
        f", at {names(used)}; the shop has {sum(counts)}.",
    )
    return _counted(", ".join(used), len(used), sum(counts), says)

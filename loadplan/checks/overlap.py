"""Overlap: is there room for every base where it stands, and is every saddle wholly under its assembly.

Bases stand on the floor or on an assembly; those on the same one are beside each other, and what stands on an assembly
has its base wholly on it.
"""

from dataclasses import dataclass
from itertools import combinations
from math import dist

from shapely import Polygon

from loadplan.checks.case import Case, Told
from loadplan.checks.cure import move_piece, move_stand
from loadplan.checks.footprint import ROUNDING, Area, area, covers, inside, outline_polygon, overlap, room
from loadplan.checks.phrases import length
from loadplan.checks.piece import Piece, pieces
from loadplan.limits import TAPE
from loadplan.model.job import LiftUse, Support
from loadplan.model.shop import EquipmentKind, Square
from loadplan.model.verdict import CheckName, Finding, Measure, NotChecked, Sentence, Verdict

LEAST_GAP = 0.050
"""Gap [m] between two bases below which one is not set without moving the other; common practice, no source."""


@dataclass(frozen=True, slots=True)
class _Pair:
    """A base and what stands beside it.

    Attributes:
        piece: The piece that the base belongs to.
        other: Name of what is beside it.
        gap: Room between [m], 0 where they touch.
        overlap: Whether they share some floor.
    """

    piece: Piece
    other: str
    gap: float
    overlap: bool


def check(case: Case) -> list[Told]:
    """Judge the room between bases, lift pads and posts, and every saddle against the outline over it.

    Args:
        case: The stage.

    Returns:
        A finding for each two that are too near, else one a base; one a base that sticks out beyond the assembly that
        it stands on; one a covered pad; one a saddle.
    """
    told: list[Told] = []
    for on in dict.fromkeys(("", *(each.on for each in case.stands))):
        standing = _standing(case, on)
        based = [(each, area(each.equipment.base, each.centre)) for each in standing if each.equipment.base]
        # Two that share a place are too near however small the bases are that the shop file does not give.
        pairs = [pair for pair in combinations(standing, 2) if _meet(*pair)]
        same_place = [_crowded(case, _Pair(one, other.name, 0.0, overlap=True)) for one, other in pairs]
        beside = _sticking_out(case, based, on) if on else _pads(case, based)
        told += [*_near(case, based, [] if on else _posts(case.job.lift)), *same_place, *beside]
    under = [each for each in case.stands if each.equipment.kind is not EquipmentKind.HOIST]
    return [*told, *(_saddle(case, each) for each in under), *_unknown(case)]


def _standing(case: Case, on: str) -> tuple[Piece, ...]:
    """Return the pieces that stand on an assembly, or on the floor where that is ""."""
    return pieces(each for each in case.stands if each.on == on and each.equipment.kind is not EquipmentKind.HOIST)


def _sticking_out(case: Case, based: list[tuple[Piece, Area]], on: str) -> list[Finding]:
    """Return the bases that do not lie wholly on the assembly under them; where no outline tells, `bearing` says so."""
    outline = _outline(case, on)
    out = [piece for piece, base in based if outline is not None and not inside(base, outline)]
    return [
        Finding(
            check=CheckName.OVERLAP,
            verdict=Verdict.CAUTION,
            subject=piece.name,
            value=None,
            limit=None,
            measure=Measure.LENGTH,
            says=(f"The base of {piece.name} sticks out beyond the {on} that it stands on.", *_apart(case, piece)),
        )
        for piece in out
    ]


def _unknown(case: Case) -> list[NotChecked]:
    """Return for what there may be no room: equipment without a base in the file, and the posts of the lift."""
    told = []
    for on in dict.fromkeys(("", *(each.on for each in case.stands))):
        kinds = dict.fromkeys(each.equipment.name for each in _standing(case, on) if each.equipment.base is None)
        where = f"on the {on or 'floor'}"
        told += [NotChecked((f"Room {where} for {kind}: not checked, the shop file gives no base.",)) for kind in kinds]
    use = case.job.lift
    if use is not None and (use.columns is None or use.lift.posts is None):
        told.append(NotChecked(("Room beside the lift's posts: not checked, the files do not say where they stand.",)))
    return told


def _posts(use: LiftUse | None) -> list[Area]:
    if use is None or use.columns is None or use.lift.posts is None:
        return []
    side = use.lift.posts.size
    return [area(Square(side, side), (use.columns, y)) for y in use.lift.posts.y]


def _near(case: Case, based: list[tuple[Piece, Area]], posts: list[Area]) -> list[Finding]:
    """Return the bases that come too near each other or a post, and those that stand clear of all."""
    pairs = [_pair(one, (two[0].name, two[1])) for one, two in combinations(based, 2)]
    pairs += [_pair(one, ("a post of the lift", post)) for one in based for post in posts]
    gaps: dict[str, list[float]] = {piece.name: [] for piece, _ in based}
    for pair in pairs:
        gaps[pair.piece.name].append(pair.gap)
        gaps.setdefault(pair.other, []).append(pair.gap)
    clear = [piece.name for piece, _ in based if min(gaps[piece.name], default=LEAST_GAP) >= LEAST_GAP - ROUNDING]
    near = [pair for pair in pairs if pair.gap < LEAST_GAP - ROUNDING]
    return [*(_crowded(case, pair) for pair in near), *(_clear(name, gaps[name]) for name in clear)]


def _meet(one: Piece, other: Piece) -> bool:
    """Return whether two pieces share a place though a base is not known: a base over the other's middle."""
    match one.equipment.base, other.equipment.base:
        case None, None:
            return dist(one.centre, other.centre) <= TAPE
        case None, base if base is not None:
            return covers(area(base, other.centre), one.centre)
        case base, None if base is not None:
            return covers(area(base, one.centre), other.centre)
        case _:
            return False


def _pair(one: tuple[Piece, Area], two: tuple[str, Area]) -> _Pair:
    gap = room(one[1], two[1])
    # Where there is room nothing overlaps, and that is most of them.
    return _Pair(one[0], two[0], gap, overlap=gap < ROUNDING and overlap(one[1], two[1]))


def _clear(name: str, gaps: list[float]) -> Finding:
    nearest = min(gaps, default=None)
    says: Sentence = (f"The base of {name} stands alone.",)
    if nearest is not None:
        says = (f"The base of {name} has ", length(nearest), " of room.")
    return Finding(CheckName.OVERLAP, Verdict.HOLDS, name, nearest, LEAST_GAP, Measure.LENGTH, says)


def _crowded(case: Case, pair: _Pair) -> Finding:
    says: Sentence = (f"Between the base of {pair.piece.name} and {pair.other} there is only ", length(pair.gap), ".")
    if pair.overlap:
        says = (f"The base of {pair.piece.name} and {pair.other} would stand in the same place.",)
    verdict = Verdict.STOP if pair.overlap else Verdict.CAUTION
    says = (*says, *_apart(case, pair.piece))
    return Finding(CheckName.OVERLAP, verdict, pair.piece.name, pair.gap, LEAST_GAP, Measure.LENGTH, says)


def _apart(case: Case, piece: Piece) -> Sentence:
    return move_piece(case, piece.bodies, piece.name, (f"move {piece.name}, or plan a smaller base there",))


def _pads(case: Case, based: list[tuple[Piece, Area]]) -> list[Finding]:
    """Return the stands on whose base a lift pad comes down."""
    return [
        Finding(
            check=CheckName.OVERLAP,
            verdict=Verdict.STOP,
            subject=piece.name,
            value=None,
            limit=None,
            measure=Measure.LENGTH,
            says=(f"The base of {piece.name} stands where the lift pad {arm.name} comes down.", *_apart(case, piece)),
        )
        for piece, base in based
        for arm in case.arms
        if covers(base, arm.at[:2])
    ]


def _saddle(case: Case, support: Support) -> Told:
    """Return whether a saddle lies wholly under the body that it holds."""
    saddle, outline = support.equipment.saddle, _outline(case, support.body)
    if saddle is None:
        why = "not checked, the shop file gives no saddle"
        return NotChecked((f"Whether the saddle of {support.equipment.name} lies wholly under: {why}.",))
    if outline is None:
        why = "not checked, the vehicle file gives no outline that could be used"
        return NotChecked((f"Whether saddles lie wholly under the {support.body}: {why}.",))
    under = inside(area(saddle, support.at[:2]), outline)
    verdict = Verdict.HOLDS if under else Verdict.CAUTION
    says: Sentence = (f"The saddle of {support.name} is wholly under the {support.body}.",)
    if not under:
        act = (f"move {support.name} further in",)
        out = f"The saddle of {support.name} sticks out from under the {support.body}."
        says = (out, *move_stand(case, support.body, support.name, act))
    return Finding(CheckName.OVERLAP, verdict, support.name, None, None, Measure.LENGTH, says)


def _outline(case: Case, body: str) -> Polygon | None:
    return outline_polygon(case.body(body).outline)

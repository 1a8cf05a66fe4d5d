"""Rating: does each piece of equipment carry no more than it is marked for; the arms of a lift are told by `lift`."""

from dataclasses import dataclass
from math import inf, isfinite

from loadplan.checks.case import Case, Told
from loadplan.checks.cure import move_piece
from loadplan.checks.phrases import AT_EDGE, WEIGH, load, names, share
from loadplan.checks.piece import Piece, pieces
from loadplan.limits import GRAVITY
from loadplan.model.plan_cure import OtherEquipment
from loadplan.model.shop import Equipment, RatedFor
from loadplan.model.verdict import CheckName, Finding, Measure, Sentence, Verdict
from loadplan.statics.mass import lumps, upper_mass

SHIMMED = 0.05
"""What a shim may be expected to make up between two kinds of stands [m]; common practice, no source."""


@dataclass(frozen=True, slots=True)
class _Burden:
    """What a piece carries [N]: sums over its supports, but never more than all that stands on it weighs.

    Attributes:
        expected: As set.
        high: Most on this floor.
        edge: The same with masses and centres of gravity at the edge of their tolerance.
        most: Most it could ever carry, None where nothing limits it.
        bounded: Whether `most` is known: not where tolerance alone may tip it, nor at a glance.
    """

    expected: float
    high: float
    edge: float
    most: float | None
    bounded: bool


def check(case: Case) -> list[Told]:
    """Judge what each piece of equipment carries against the rating of one.

    Args:
        case: The stage.

    Returns:
        One finding a piece whose load is known, and a note for each kind not marked for one or for a pair.
    """
    found: list[Told] = []
    for piece in pieces(case.stands):
        burden = _burden(case, piece)
        if burden is not None:
            found.append(_finding(case, piece, burden))
    return [*found, *_unsaid(case)]


def _burden(case: Case, piece: Piece) -> _Burden | None:
    """Return what a piece carries over all its saddles; None where a load is not known."""
    loads = [case.load(each.name) for each in piece.supports]
    known = [each for each in loads if each is not None]
    if len(known) < len(loads):
        return None
    ranges = [each.range for each in known if each.range is not None]
    most = [each.most for each in ranges if each.most is not None]
    cap = _all_there_is(case, piece)
    highest = min(sum(most) if len(most) == len(known) else inf, cap)
    return _Burden(
        expected=sum(each.expected for each in known),
        high=min(sum(each.at_most for each in known), cap),
        edge=min(sum(each.at_edge for each in known), cap),
        most=highest if isfinite(highest) else None,
        bounded=len(ranges) == len(known) and all(each.least is not None for each in ranges),
    )


def _all_there_is(case: Case, piece: Piece) -> float:
    """Return what all groups over a piece of several supports weigh at most [N]; without end where that is no cap.

    Mounts only pass weight on inside a group, but a support on another body may press it down by more than it weighs.
    """
    if len(piece.supports) == 1 or any(each.on for each in piece.supports):
        return inf
    bodies = {body for each in piece.supports for body in case.group(each.body).bodies}
    return upper_mass(tuple(each for each in lumps(case.job, case.state) if each.body in bodies)) * GRAVITY


def _finding(case: Case, piece: Piece, burden: _Burden) -> Finding:
    """Return whether a piece carries no more than its rating."""
    verdict, says = _judged(case, piece, burden)
    return Finding(
        check=CheckName.RATING,
        verdict=verdict,
        subject=piece.name,
        value=burden.high,
        limit=piece.equipment.rating_of_one,
        measure=Measure.LOAD,
        says=says,
        cures=_stronger_kinds(case, piece, burden) if verdict > Verdict.NOTE else (),
    )


def _stronger_kinds(case: Case, piece: Piece, burden: _Burden) -> tuple[OtherEquipment, ...]:
    """Return the weakest kind of the shop that may carry this and reaches; none for a piece of several supports."""
    if len(piece.supports) > 1:
        return ()
    height = piece.supports[0].set_height
    needed = max(burden.high / case.job.limits.rating_share, burden.edge, burden.most or 0.0)
    fits = [
        each
        for each in case.job.shop.equipment
        if each.kind is piece.equipment.kind
        and each.rating_of_one >= needed
        and each.usable_count != 0
        and _reaches(each, height)
    ]
    weakest = min(fits, key=lambda each: each.rating_of_one, default=None)
    return (OtherEquipment(piece.supports[0].name, weakest.name),) if weakest else ()


def _reaches(equipment: Equipment, height: float | None) -> bool:
    """Return whether a kind comes near a height, which a shim may make up."""
    if height is None or equipment.heights is None:
        return True
    return abs(equipment.heights.nearest(height) - height) <= SHIMMED


def _judged(case: Case, piece: Piece, burden: _Burden) -> tuple[Verdict, Sentence]:
    """Return the verdict on a piece: over its rating, near it, or without a bound below it."""
    rating = piece.equipment.rating_of_one
    carries = _carries(piece, burden, rating)
    if burden.high > rating:
        return Verdict.STOP, (*carries, ": too much.", *_stronger(case, piece))
    if burden.edge > rating:
        more: Sentence = (f"; {AT_EDGE.strip(' ,')} up to ", load(burden.edge), f", too much. {WEIGH}")
        return Verdict.CAUTION, (*carries, *more, *_stronger(case, piece))
    if burden.high > case.job.limits.rating_share * rating:
        asked = (", above the ", share(case.job.limits.rating_share), " that is asked for.")
        return Verdict.CAUTION, (*carries, *asked, *_stronger(case, piece))
    if burden.bounded and (burden.most is None or burden.most > rating):
        return Verdict.CAUTION, (*carries, *_unbounded(burden), *_stronger(case, piece))
    return Verdict.HOLDS, (*carries, ".")


def _carries(piece: Piece, burden: _Burden, rating: float) -> Sentence:
    """Return what a piece carries, and how much of its rating that is."""
    under = f" ({names([each.name for each in piece.supports])})" if len(piece.supports) > 1 else ""
    return (
        f"{piece.name}{under} carries ",
        load(burden.expected),
        ", most on this floor ",
        load(burden.high),
        ", ",
        share(burden.high / rating),
        " of the ",
        load(rating),
        f" that one {piece.equipment.name} may carry",
    )


def _unbounded(burden: _Burden) -> Sentence:
    """Return that on another floor a piece could carry more than its rating."""
    if burden.most is None:
        return ("; on another floor nothing limits what it could carry.",)
    return ("; the most it could ever carry, ", load(burden.most), ", is above that.")


def _stronger(case: Case, piece: Piece) -> Sentence:
    places = names([each.name for each in piece.supports])
    act = (f"use a stronger {piece.equipment.kind.value} at {places}, or set one more beside it",)
    return move_piece(case, piece.bodies, piece.name, act)


def _unsaid(case: Case) -> list[Finding]:
    """Return a note for each kind whose rating may be for one or for a pair."""
    kinds = {each.equipment.name: each.equipment for each in case.stands}
    return [
        Finding(
            check=CheckName.RATING,
            verdict=Verdict.NOTE,
            subject=each.name,
            value=None,
            limit=each.rating_of_one,
            measure=Measure.LOAD,
            says=(
                f"{each.name}: not said whether its rating is for one or for a pair, so half is taken, ",
                load(each.rating_of_one),
                ". Look at its plate and write rated_for.",
            ),
        )
        for each in kinds.values()
        if each.rated_for is RatedFor.UNSAID
    ]

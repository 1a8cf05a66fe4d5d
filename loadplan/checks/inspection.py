"""Inspection: is each piece in use inspected, on the day of the job."""

from calendar import monthrange
from datetime import MAXYEAR, date

from loadplan.checks.case import Case, Told
from loadplan.checks.piece import pieces
from loadplan.model.shop import Equipment
from loadplan.model.verdict import CheckName, Finding, Measure, NotChecked, Verdict


def check(case: Case) -> list[Told]:
    """Judge when each piece in use is due for inspection; without a tag, the worst of those that may be used.

    Args:
        case: The stage.

    Returns:
        One finding a tag, or a kind of equipment used without tag; not checked where a date or interval is missing.
    """
    used = {(each.equipment.name, tag): each for each in pieces(case.stands) for tag in each.tags or ("",)}
    told: list[Told] = []
    for (_, tag), piece in used.items():
        told += _told(case, piece.equipment, tag)
    return told


def _told(case: Case, kind: Equipment, tag: str) -> list[Told]:
    """Return whether what is used of a kind is inspected; without a tag the piece that is due first counts."""
    months = kind.inspect_months
    if months is None:
        return [_unknown(kind.name, "how often")]
    usable = [each for each in kind.tags if each not in kind.out_of_use]
    asked = (tag,) if tag else tuple(usable) or tuple(each for each, _ in kind.inspected) or ("",)
    inspected = dict(kind.inspected)
    days = {each: inspected.get(each, inspected.get("")) for each in asked}
    told: list[Told] = [_unknown(_called(kind, each), "when it was inspected") for each, day in days.items() if not day]
    known = [day for day in days.values() if day]
    return [_judged(case, _called(kind, tag), tag or kind.name, _due(min(known), months)), *told] if known else told


def _unknown(called: str, what: str) -> NotChecked:
    return NotChecked((f"Inspection of {called}: not checked, the shop file does not say {what}.",))


def _called(kind: Equipment, tag: str) -> str:
    return f"{tag} ({kind.name})" if tag else kind.name


def _due(inspected: date, months: int) -> date:
    """Return the day some months later, the last of the month where that month is shorter."""
    years, month = divmod(inspected.month - 1 + months, 12)
    year = min(inspected.year + years, MAXYEAR)
    return date(year, month + 1, min(inspected.day, monthrange(year, month + 1)[1]))


def _judged(case: Case, called: str, subject: str, due: date) -> Finding:
    """Return the verdict on a day on which an inspection is due."""
    today = case.job.date
    # Equipment that is kept for weeks must not fall due while it holds something.
    soon = max(_due(today, 1), case.job.until or today)
    verdict, says = Verdict.HOLDS, f"{called} is due for inspection on {due}."
    if due <= soon:
        verdict, says = (
            Verdict.NOTE,
            f"{called} is due for inspection on {due}: have it done before it is needed longer.",
        )
    if due < today:
        verdict, says = Verdict.STOP, f"{called} was due for inspection on {due}. Have it inspected, or take another."
    return Finding(CheckName.INSPECTION, verdict, subject, float((due - today).days), 0.0, Measure.DAYS, (says,))

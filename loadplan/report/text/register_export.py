"""The shop over many jobs, for machines: one JSON object, or a table for a spreadsheet."""

import csv
from io import StringIO

from loadplan.planning.register.bookings import Clash, Register, Shortage
from loadplan.planning.register.job_entry import Entry, RegisterRow, Stock
from loadplan.report.json_output import MM, Plain
from loadplan.report.text.register_page import place_words
from loadplan.units import Kind, System, bare_unit, from_si

RISKY = ("=", "+", "-", "@", "\t", "\r")
"""A cell that begins like this may be run as a formula."""


def register_dict(found: Register) -> dict[str, Plain]:
    """Turn the register into the machine output.

    Args:
        found: The register.

    Returns:
        Loads in N, lengths in mm, days as text.
    """
    return {
        "schema": "loadplan-register-1",
        "holds": found.holds,
        "jobs": [_job(each) for each in found.entries],
        "double_booked": [_clash(each, found) for each in found.clashes],
        "not_enough": [_shortage(each) for each in found.shortages],
        "unusable": [{"file": each.file, "faults": list(each.faults)} for each in found.unread],
    }


def _job(entry: Entry) -> dict[str, Plain]:
    """Return an entry of the register as plain values."""
    return {
        "file": entry.file,
        "title": entry.title,
        "vehicle": entry.vehicle,
        "bay": entry.bay or None,
        "date": entry.first.isoformat(),
        "until": entry.last.isoformat(),
        "verdict": entry.verdict.words,
        "basis": entry.basis.words,
        "pieces": [_row(each) for each in entry.rows],
        "needs": [
            _stock(each.stock) | {"number": each.number, "tags": list(each.tags), "owned": each.owned}
            for each in entry.needs
        ],
        "remarks": list(entry.remarks),
    }


def _row(row: RegisterRow) -> dict[str, Plain]:
    """Return a piece of equipment that a job takes as plain values; loads in N."""
    return {
        "what": row.what.name.lower(),
        "equipment": row.equipment,
        "tag": row.tag or None,
        "supports": list(row.places),
        "rating_marked_n": row.marked,
        "rated_for": row.rated_for.value,
        "rating_n": row.counted,
        "most_n": row.most,
        "share": row.share,
        "inspection_due": row.due.isoformat() if row.due else None,
    }


def _stock(stock: Stock) -> dict[str, Plain]:
    return {"equipment": stock.name, "shim_mm": None if stock.height is None else stock.height / MM}


def _clash(clash: Clash, found: Register) -> dict[str, Plain]:
    """Return what two jobs want at once as plain values."""
    return {
        "what": clash.ask.name.lower(),
        **_stock(clash.stock),
        "tag": clash.tag or None,
        "from": clash.first.isoformat(),
        "to": clash.last.isoformat(),
        "files": [found.entries[number].file for number in clash.entries],
        "wanted": clash.wanted,
        "owned": clash.owned,
    }


def _shortage(short: Shortage) -> dict[str, Plain]:
    """Return what there is too little of as plain values."""
    return {
        **_stock(short.stock),
        "wanted": short.wanted,
        "owned": short.owned,
        "from": short.first.isoformat(),
        "to": short.last.isoformat(),
        "days_short": short.days_short,
        "days_wanted": short.days_wanted,
        "never_enough": short.always,
    }


def register_csv(found: Register, units: System) -> str:
    """Write the pieces of all jobs as a table for a spreadsheet.

    Args:
        found: The register.
        units: Units of the loads.

    Returns:
        A heading and a line a piece, then a line for each job that cannot be used.
    """
    unit = bare_unit(Kind.LOAD, units)
    stream = StringIO()
    sheet = csv.writer(stream, lineterminator="\n")
    heading = [
        "bay", "job", "file", "date", "until", "verdict", "basis", "stand", "equipment", "tag",
        f"rating as marked [{unit}]", "rated for", f"rating as counted [{unit}]", f"most load [{unit}]",
        "% of rating", "inspection due", "double booked",
    ]  # fmt: skip
    sheet.writerow(heading)
    for number, entry in enumerate(found.entries):
        for row in entry.rows:
            sheet.writerow([_cell(each) for each in _cells(found, number, row, units)])
    for unread in found.unread:
        told = {"file": unread.file, "verdict": "cannot be used"}
        sheet.writerow([_cell(told.get(each, "")) for each in heading])
    return stream.getvalue()


def _cells(found: Register, number: int, row: RegisterRow, units: System) -> list[str]:
    """Return the cells of a line of the table; loads in the reader's units, blank where there is none."""
    entry = found.entries[number]
    return [
        entry.bay,
        entry.title,
        entry.file,
        entry.first.isoformat(),
        entry.last.isoformat(),
        entry.verdict.words,
        entry.basis.words,
        place_words(row),
        row.equipment,
        row.tag,
        _number(row.marked, units),
        row.rated_for.value,
        _number(row.counted, units),
        _number(row.most, units),
        "" if row.share is None else f"{100 * row.share:.0f}",
        row.due.isoformat() if row.due else "",
        "yes" if _twice(found.clashes, number, row) else "",
    ]


def _number(newtons: float | None, units: System) -> str:
    return "" if newtons is None else f"{from_si(newtons, Kind.LOAD, units):.1f}"


def _twice(clashes: tuple[Clash, ...], number: int, row: RegisterRow) -> bool:
    """Return whether a piece of a job is booked twice: by its tag, or by the number of its kind."""
    return any(
        number in each.entries and each.stock == Stock(row.equipment) and each.tag in {"", row.tag} for each in clashes
    )


def _cell(text: str) -> str:
    return f"'{text}" if text.startswith(RISKY) else text

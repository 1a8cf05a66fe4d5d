"""The shop over many jobs, for people: what is booked twice, what there is not enough of, and a block for each bay."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from loadplan.checks.phrases import names
from loadplan.errors import printable
from loadplan.model.shop import RatedFor
from loadplan.model.verdict import Measure, Quantity, Verdict
from loadplan.planning.register.bookings import Clash, Demand, Register, Shortage
from loadplan.planning.register.job_entry import Entry, RegisterRow, Stock, What
from loadplan.report.text.terminal_colour import Colours, painted
from loadplan.report.words.cautions import ONE_LINE
from loadplan.report.words.columns import INDENT, WIDTH, Align, Column, breadth, indented, table
from loadplan.report.words.number_format import write
from loadplan.report.words.record_words import standing_words
from loadplan.report.words.vocabulary import basis_words, first_lift, shown_verdict, unsigned
from loadplan.units import System

NO_LIFT = "Without a lift"
SIGN = f"Set by {'_' * 34}   Checked by {'_' * 34}"


@dataclass(frozen=True, slots=True)
class RegisterLine:
    """One line of the page.

    Attributes:
        text: Its text.
        heading: Whether it heads what follows.
        word: A word in it that carries a verdict, "" for none.
        verdict: That verdict, None for none.
    """

    text: str
    heading: bool = False
    word: str = ""
    verdict: Verdict | None = None


Block = tuple[RegisterLine, ...]
"""Lines that belong together, and stay on one sheet where they can."""


def register_page(found: Register, units: System, colours: Colours) -> str:
    """Write the register for a terminal.

    Args:
        found: The register.
        units: The reader's units.
        colours: Whether the terminal takes colour.

    Returns:
        Lines of at most 100 characters, ending in a line end.
    """
    parts = [
        "\n".join(
            line.text if line.verdict is None else painted(line.text, line.word, line.verdict, colours)
            for line in block
        )
        for block in register_blocks(found, units)
    ]
    return "\n\n".join(parts) + "\n"


def register_blocks(found: Register, units: System) -> tuple[Block, ...]:
    """Lay out the register.

    Args:
        found: The register.
        units: The reader's units.

    Returns:
        Blocks of lines of at most 100 characters.
    """
    head = (RegisterLine(summary(found), heading=True), RegisterLine(first_lift(units)))
    told = [_list(heading, texts) for heading, texts in troubles(found, units).items()]
    jobs = [block for number, entry in enumerate(found.entries) for block in _job(found, number, entry, units)]
    return (head, *told, *jobs, tuple(RegisterLine(text) for text in indented("", ONE_LINE, WIDTH)))


def troubles(found: Register, units: System) -> dict[str, list[str]]:
    """List what is wrong across the jobs.

    Args:
        found: The register.
        units: The reader's units.

    Returns:
        Texts by their heading; a heading with nothing under it is left out.
    """
    lists = {
        "Booked twice": [_clash(each, units) for each in _together(found.clashes)],
        "Not enough": [_shortage(each, units) for each in found.shortages],
        "Cannot be used": [line for each in found.unread for line in each.faults],
        "Not checked": _uncounted(found, units),
    }
    return {heading: texts for heading, texts in lists.items() if texts}


def summary(found: Register) -> str:
    """Return how many jobs there are, and how many of them are at fault.

    Args:
        found: The register.

    Returns:
        One line.
    """
    verdicts = [each.verdict for each in found.entries]
    said = [_count(len(verdicts), "job", "jobs")]
    said += [_count(verdicts.count(Verdict.STOP), "stop", "stops")]
    said += [_count(verdicts.count(Verdict.CAUTION), "caution", "cautions")]
    said += [_count(len(_together(found.clashes)), "double booking", "double bookings")]
    said += [f"{_count(len(found.unread), 'file', 'files')} cannot be used"] if found.unread else []
    return f"Shop register: {', '.join(said)}"


def _count(number: int, one: str, more: str) -> str:
    return f"{number} {one if number == 1 else more}"


def _list(heading: str, texts: Sequence[str]) -> Block:
    """Return a heading with a point for each text."""
    lines = [RegisterLine(line) for text in texts for line in indented(f"{INDENT}- ", printable(text), WIDTH)]
    return (RegisterLine(heading, heading=True), *lines)


@dataclass(frozen=True, slots=True)
class _Clashes:
    """Double bookings of one kind of thing by the same jobs on the same days: one line."""

    first: Clash
    tags: tuple[str, ...]


def _together(clashes: Sequence[Clash]) -> list[_Clashes]:
    gathered: dict[object, list[Clash]] = {}
    for each in clashes:
        gathered.setdefault((each.ask, each.stock, each.first, each.last, each.entries), []).append(each)
    return [_Clashes(those[0], tuple(each.tag for each in those)) for those in gathered.values()]


def _clash(clashes: _Clashes, units: System) -> str:
    """Return what is wanted twice, when, and by which jobs."""
    clash = clashes.first
    thing = stock_words(clash.stock, units)
    match clash.ask:
        case Demand.TAG:
            thing = f"{names(clashes.tags)} ({thing})"
        case Demand.LIFT:
            thing = f"Lift {thing}"
        case Demand.NUMBER:
            thing = f"{thing}: {clash.wanted} wanted, {clash.owned} there"
    jobs = names([str(number + 1) for number in clash.entries])
    return f"{thing}, {days(clash.first, clash.last)}: jobs {jobs}."


def _shortage(short: Shortage, units: System) -> str:
    thing = stock_words(short.stock, units)
    most = f"{thing}: up to {short.wanted} wanted at once ({days(short.first, short.last)}), {short.owned} there"
    if short.always:
        return f"{most}: never enough, too few on every day that any are wanted."
    return f"{most}: too few on {short.days_short} of the {short.days_wanted} days that any are wanted."


def _uncounted(found: Register, units: System) -> list[str]:
    things = {need.stock: None for entry in found.entries for need in entry.needs if need.owned is None}
    if not things:
        return []
    told = names([stock_words(each, units) for each in things])
    return [f"Whether there are enough of {told}: the shop's list does not say how many there are."]


def stock_words(stock: Stock, units: System) -> str:
    """Name a kind of thing.

    Args:
        stock: The thing.
        units: The reader's units.

    Returns:
        Its name; of a shim its height and wood.
    """
    if stock.height is None:
        return stock.name
    return f"shim {write(Quantity(stock.height, Measure.LENGTH), units)} {stock.name}".rstrip()


def days(first: date, last: date) -> str:
    """Write from which day to which.

    Args:
        first: First day.
        last: Last day.

    Returns:
        One day, or both.

    Example:
        >>> days(date(2026, 11, 20), date(2026, 11, 24))
        '2026-11-20 to 2026-11-24'
    """
    return first.isoformat() if first == last else f"{first.isoformat()} to {last.isoformat()}"


def _job(found: Register, number: int, entry: Entry, units: System) -> Iterator[Block]:
    """Yield the block of a job; the first of a bay has the bay's name above it."""
    new_bay = number == 0 or found.entries[number - 1].bay != entry.bay
    bay = (RegisterLine(printable(entry.bay or NO_LIFT), heading=True), RegisterLine("=" * WIDTH)) if new_bay else ()
    shown = shown_verdict(entry.verdict, entry.basis)
    title = indented(f"{number + 1}  ", printable(entry.title), WIDTH - len(shown) - 2)
    gap = " " * (WIDTH - breadth(title[0]) - len(shown))
    about = f"{entry.vehicle}; {days(entry.first, entry.last)}; weights: {basis_words(entry.basis)}; {entry.file}"
    why_not = unsigned(entry.verdict, entry.basis)
    to_sign = [f"{INDENT}{why_not}"] if why_not else ["", f"{INDENT}{SIGN}"]
    texts = [
        *title[1:],
        *indented(INDENT, printable(about), WIDTH),
        *(indented(INDENT, printable(stands_at(entry)), WIDTH) if entry.standing else ()),
        *(f"{INDENT}{line}" for line in _table(entry.rows, units)),
        *(line for each in entry.remarks for line in indented(f"{INDENT}- ", printable(each), WIDTH)),
        *to_sign,
    ]
    yield (*bay, RegisterLine(f"{title[0]}{gap}{shown}", word=shown, verdict=entry.verdict), *map(RegisterLine, texts))


def stands_at(entry: Entry) -> str:
    """Say where a job stands by its record.

    Args:
        entry: The job.

    Returns:
        A sentence, with names as the files write them; "" for one without a record: nobody knows whether it is begun.
    """
    if entry.standing is None:
        return ""
    told = standing_words(entry.standing, entry.steps)
    return f"{told[0].upper()}{told[1:]}{'; left alone at this step' if entry.waits else ''}."


def _table(rows: Sequence[RegisterRow], units: System) -> list[str]:
    """Return what a job takes as a table."""
    if not rows:
        return ["Nothing stands under anything."]
    equipment = [f"{row.equipment}, {row.tag}" if row.tag else row.equipment for row in rows]
    columns = (
        Column("stand", tuple(printable(place_words(row)) for row in rows), Align.LEFT),
        Column("equipment, tag", tuple(printable(each) for each in equipment), Align.LEFT),
        Column("rating as marked", tuple(marked_words(row, units) for row in rows), Align.RIGHT),
        Column("as counted", tuple(load_words(row.counted, units) for row in rows), Align.RIGHT),
        Column("most load", tuple(load_words(row.most, units) for row in rows), Align.RIGHT),
        Column("% of rating", tuple(share_of(row) for row in rows), Align.RIGHT),
        Column("inspection due", tuple(row.due.isoformat() if row.due else "-" for row in rows), Align.RIGHT),
    )
    return table(columns, WIDTH - len(INDENT))


def place_words(row: RegisterRow) -> str:
    """Name what a row is about.

    Args:
        row: The row.

    Returns:
        Its stands, or that it is the lift as a whole, or one arm.
    """
    return row.what.value if row.what.value else ", ".join(row.places)


def marked_words(row: RegisterRow, units: System) -> str:
    """Write a rating as it is marked.

    Args:
        row: The piece.
        units: The reader's units.

    Returns:
        The rating, and what it is for.
    """
    load = load_words(row.marked, units)
    match row.rated_for:
        case RatedFor.EACH:
            return f"{load} each" if row.what is What.PIECE else load
        case RatedFor.PAIR:
            return f"{load} a pair"
        case RatedFor.UNSAID:
            return f"{load}, not said for how many"


def load_words(newtons: float | None, units: System) -> str:
    """Write a load as a mass, a dash where there is none.

    Args:
        newtons: The load [N].
        units: The reader's units.

    Returns:
        Number and unit.
    """
    return "-" if newtons is None else write(Quantity(newtons, Measure.LOAD), units)


def share_of(row: RegisterRow) -> str:
    """Write the share of its rating that a piece bears, a dash where it bears none.

    Args:
        row: The piece.

    Returns:
        A percentage.
    """
    return "-" if row.share is None else write(Quantity(row.share, Measure.SHARE), System.METRIC)

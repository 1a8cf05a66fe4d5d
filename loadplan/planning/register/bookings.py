"""The shop over many jobs: what each takes from when to when, what is booked twice, and what there is not enough of."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import Enum, auto
from itertools import pairwise

from loadplan.model.shop import Shop
from loadplan.model.vehicle import Basis
from loadplan.model.verdict import Verdict
from loadplan.planning.register.job_entry import Entry, Stock

DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Unread:
    """A job that cannot be used.

    Attributes:
        file: Its file.
        faults: What is wrong, a line each.
    """

    file: str
    faults: tuple[str, ...]


class Demand(Enum):
    """What several jobs want at once."""

    TAG = auto()
    """One piece, by its tag."""
    NUMBER = auto()
    """More pieces than there are."""
    LIFT = auto()
    """One lift."""


@dataclass(frozen=True, slots=True)
class Clash:
    """A double booking: some jobs want more of a thing on some days than there is.

    Attributes:
        ask: What they want.
        stock: The thing.
        tag: Its tag, "" but for one piece.
        first: First day.
        last: Last day.
        entries: Numbers of the jobs, from 0, in the order of the register; at least two.
        wanted: How many they want together.
        owned: How many there are.
    """

    ask: Demand
    stock: Stock
    tag: str
    first: date
    last: date
    entries: tuple[int, ...]
    wanted: int
    owned: int


@dataclass(frozen=True, slots=True)
class Shortage:
    """Equipment of which there is not enough.

    Attributes:
        stock: The equipment.
        owned: Pieces that may be used.
        wanted: Most that are wanted at once.
        first: First of the days on which that many are wanted.
        last: Last of those days.
        days_short: Days on which there are too few.
        days_wanted: Days on which any are wanted.
    """

    stock: Stock
    owned: int
    wanted: int
    first: date
    last: date
    days_short: int
    days_wanted: int

    @property
    def always(self) -> bool:
        """Whether there are too few on every day on which any are wanted."""
        return self.days_short == self.days_wanted


@dataclass(frozen=True, slots=True)
class Register:
    """All jobs of a shop.

    Attributes:
        entries: Jobs, by bay in the shop's order, then by date.
        unread: Jobs that cannot be used.
        clashes: Double bookings, by day.
        shortages: Equipment of which there is not enough, the most often short first.
    """

    entries: tuple[Entry, ...]
    unread: tuple[Unread, ...]
    clashes: tuple[Clash, ...]
    shortages: tuple[Shortage, ...]

    @property
    def holds(self) -> bool:
        """Whether every job could be judged, none is a stop, and nothing is booked twice."""
        return not self.unread and not self.clashes and all(each.verdict is not Verdict.STOP for each in self.entries)

    @property
    def basis(self) -> Basis:
        """The poorest basis of all jobs."""
        return min((each.basis for each in self.entries), default=Basis.GUESS)


@dataclass(frozen=True, slots=True)
class _Wish:
    """What one job wants of one thing."""

    entry: int
    first: date
    last: date
    number: int


@dataclass(frozen=True, slots=True)
class _Span:
    """Days on which the same jobs want a thing."""

    first: date
    last: date
    wishes: tuple[_Wish, ...]

    @property
    def number(self) -> int:
        return sum(each.number for each in self.wishes)

    @property
    def days(self) -> int:
        return (self.last - self.first).days + 1


def register(shop: Shop, entries: Iterable[Entry], unread: Iterable[Unread]) -> Register:
    """Set up the register of a shop.

    Args:
        shop: The shop.
        entries: Its jobs, judged by what it owns.
        unread: Jobs that cannot be used.

    Returns:
        The register.
    """
    bays = [each.name for each in shop.lifts]
    ordered = tuple(sorted(entries, key=lambda each: (_rank(bays, each.bay), each.bay, each.first, each.file)))
    return Register(
        entries=ordered,
        unread=tuple(unread),
        clashes=tuple(sorted(_double_bookings(ordered), key=lambda clash: (clash.first, clash.stock.name, clash.tag))),
        shortages=tuple(sorted(_shortages(ordered), key=lambda each: (-each.days_short, each.stock.name))),
    )


def _rank(bays: Sequence[str], bay: str) -> int:
    """Return where a bay stands: the shop's own in its order, then others, then jobs without a lift."""
    return bays.index(bay) if bay in bays else len(bays) + (not bay)


def _double_bookings(entries: Sequence[Entry]) -> Iterable[Clash]:
    """Yield what is booked twice: pieces by their tags, then things of which there are too few, then lifts."""
    pieces: dict[tuple[Stock, str], list[_Wish]] = {}
    bays: dict[str, list[_Wish]] = {}
    for number, entry in enumerate(entries):
        one = _Wish(number, entry.first, entry.last, 1)
        for need in entry.needs:
            for tag in need.tags:
                pieces.setdefault((need.stock, tag), []).append(one)
        if entry.bay:
            bays.setdefault(entry.bay, []).append(one)
    for (stock, tag), wishes in pieces.items():
        yield from _clashes(Demand.TAG, stock, tag, 1, wishes)
    for (stock, owned), wishes in _wishes(entries).items():
        yield from _clashes(Demand.NUMBER, stock, "", owned, wishes)
    for bay, wishes in bays.items():
        yield from _clashes(Demand.LIFT, Stock(bay), "", 1, wishes)


def _clashes(ask: Demand, stock: Stock, tag: str, owned: int, wishes: list[_Wish]) -> Iterable[Clash]:
    for span in _spans(wishes):
        if len(span.wishes) > 1 and span.number > owned:
            those = tuple(each.entry for each in span.wishes)
            yield Clash(ask, stock, tag, span.first, span.last, those, span.number, owned)


def _shortages(entries: Sequence[Entry]) -> Iterable[Shortage]:
    for (stock, owned), wishes in _wishes(entries).items():
        spans = _spans(wishes)
        worst = max(spans, key=lambda each: each.number)
        if worst.number > owned:
            short = sum(each.days for each in spans if each.number > owned)
            wanted = sum(each.days for each in spans)
            yield Shortage(stock, owned, worst.number, worst.first, worst.last, short, wanted)


def _wishes(entries: Sequence[Entry]) -> dict[tuple[Stock, int], list[_Wish]]:
    """Return what is wanted of each thing whose number is known."""
    owned = {need.stock: need.owned for entry in entries for need in entry.needs if need.owned is not None}
    wishes: dict[tuple[Stock, int], list[_Wish]] = {}
    for number, entry in enumerate(entries):
        for stock, wanted in _wanted(entry).items():
            if stock in owned:
                wish = _Wish(number, entry.first, entry.last, wanted)
                wishes.setdefault((stock, owned[stock]), []).append(wish)
    return wishes


def _wanted(entry: Entry) -> dict[Stock, int]:
    """Return how many a job wants of each thing; shims of a wood count among all of their height as well."""
    own = {need.stock: need.number for need in entry.needs}
    any_wood = [(replace(stock, name=""), number) for stock, number in own.items() if stock.height is not None]
    return {stock: sum(number for each, number in any_wood if each == stock) for stock, _ in any_wood} | own


def _spans(wishes: Iterable[_Wish]) -> list[_Span]:
    """Return the days on which anything is wanted, parted wherever other jobs begin to want it."""
    those = sorted(wishes, key=lambda each: each.entry)
    turns = sorted({day for each in those for day in (each.first, each.last + DAY)})
    spans = []
    for first, after in pairwise(turns):
        active = tuple(each for each in those if each.first <= first <= each.last)
        if active:
            spans.append(_Span(first, after - DAY, active))
    return spans

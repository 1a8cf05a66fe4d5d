"""Where the stands should go, for people and for machines."""

from collections.abc import Callable
from math import dist, inf
from time import monotonic
from typing import Self, TextIO

from loadplan.checks.check_table import CHECK_OF
from loadplan.checks.one_more import ONLY
from loadplan.checks.phrases import names
from loadplan.model.job import Job, Support
from loadplan.model.verdict import Measure, Quantity
from loadplan.model.weight_basis import poorest_basis
from loadplan.planning.placement.free_places import lower_assemblies
from loadplan.planning.placement.layout import Layout
from loadplan.planning.placement.near_miss import NearMiss
from loadplan.planning.placement.proposal import Placement, SearchEnd
from loadplan.report.json_output import MM, Plain
from loadplan.report.text.terminal_colour import obeys_codes
from loadplan.report.words.cautions import caution_lines
from loadplan.report.words.columns import WIDTH, Align, Column, indented, table
from loadplan.report.words.number_format import write, write_sentence
from loadplan.report.words.stage_tables import from_chalk, under
from loadplan.report.words.vocabulary import Reader, basis_words, first_lift, reader_of, shown_verdict
from loadplan.units import System

EVERY = 10.0
"""Where there is no terminal, a line is written no more often than so [s]."""


STOPPED = (
    "The search stopped at its budget: the plan below is what was found so far, it does not say that nothing better "
    "exists."
)

NOTHING_SO_FAR = (
    "No layout that fits was found before the search stopped at its budget: it does not say that there is none."
)

MORE = "`loadplan check` on the job says more."

ANYWHERE = (
    "Only the points of the vehicle's file were tried. With --anywhere, places inside the outlines are tried, too: "
    "only where the maker gives a bearing place."
)


class SearchProgress:
    """Shows the largest margin so far while a search goes on."""

    def __init__(self, units: System, stream: TextIO, clock: Callable[[], float] = monotonic) -> None:
        """Show nothing yet.

        Args:
            units: The reader's units.
            stream: Where it is shown: on a terminal on one line, else a line now and then.
            clock: Tells the time [s].
        """
        self._reader = Reader(units, frozenset())
        self._stream = stream
        self._largest = 0.0
        self._shown = False
        self._clock = clock
        self._told = clock()

    def __enter__(self) -> Self:
        """Return this."""
        return self

    def __exit__(self, *_: object) -> None:
        """Leave the line clean."""
        if self._shown and obeys_codes(self._stream):
            self._stream.write("\r\x1b[K")
            self._stream.flush()

    def tell(self, margin: float) -> None:
        """Show a margin [m] if it is the largest so far; Ctrl-C ends the search with what it has."""
        larger = margin > self._largest
        self._largest = max(self._largest, margin)
        if obeys_codes(self._stream):
            # Also before anything was found: on a terminal nothing at all would look like standing still.
            if larger or not self._shown:
                self._shown = True
                self._stream.write(f"\r\x1b[K{self._said()}")
                self._stream.flush()
        elif self._clock() - self._told >= EVERY:
            # Where lines stay, as in a log, one now and then is enough to see that it goes on.
            self._told = self._clock()
            self._stream.write(f"{self._said()}\n")
            self._stream.flush()

    def _said(self) -> str:
        if self._largest <= 0:
            return "searching, nothing that holds so far; Ctrl-C ends it"
        return f"largest margin so far {self._reader.length(self._largest)}; Ctrl-C takes it as it is"


def placement_dict(placement: Placement) -> dict[str, Plain]:
    """Turn a proposal into the machine output.

    Args:
        placement: The proposal.

    Returns:
        The answer first, then its runner-up or the best of other numbers of stands.
    """
    layouts = [each for each in (placement.answer, *placement.others, placement.runner_up) if each is not None]
    told: dict[str, Plain] = {
        "schema": "loadplan-placement-1",
        "proven_best": placement.proven,
        "ended_by": placement.ended.value,
        "considered": placement.considered,
        "layouts": [_layout(each) for each in layouts],
    }
    return told if layouts else told | {"nearest": [_near_miss(each) for each in placement.near]}


def _near_miss(near: NearMiss) -> dict[str, Plain]:
    """Return a near miss as plain values; lengths in mm."""
    return {
        "supports": [{"name": each.name, **_under(each)} for each in near.planned],
        "stage": near.stage,
        "body": near.body or None,
        "towards": near.side or None,
        "short_mm": None if near.short is None else near.short / MM,
        "one_more_mm": [[x / MM, y / MM] for x, y in near.cells],
        "says": write_sentence(near.says, System.METRIC) or None,
    }


def _under(support: Support) -> dict[str, Plain]:
    """Return the point that a stand is under, or the assembly and the place where there is none."""
    if support.point:
        return {"under": support.point}
    return {"body": support.body, "at_mm": [each / MM for each in support.at]}


def _place(support: Support, reader: Reader) -> str:
    if support.point:
        return reader.words(support.point)
    return f"{reader.words(support.body)} at {from_chalk(*support.at[:2], reader)}"


def _layout(layout: Layout) -> dict[str, Plain]:
    return {
        "supports": [{"name": each.name, "use": each.equipment.name, **_under(each)} for each in layout.planned],
        "worst_margin_mm": None if layout.margin == inf else layout.margin / MM,
        "max_share": layout.share,
        "verdict": layout.verdict.words,
    }


def placement_page(job: Job, placement: Placement, units: System) -> str:
    """Write a proposal for people.

    Args:
        job: The job.
        placement: The proposal.
        units: The reader's units.

    Returns:
        Lines of at most 100 characters, ending in a line end.
    """
    reader = reader_of(job, units)
    answer = placement.answer
    lines = [reader.words(job.title), ""]
    lines += _nothing(job, placement, reader) if answer is None else _proposal(placement, answer, reader)
    if answer is not None:
        lines += _heights_gone(job, answer.job, reader)
    lines += caution_lines(poorest_basis(job), units)
    return "\n".join(lines) + "\n"


def _proposal(placement: Placement, answer: Layout, reader: Reader) -> list[str]:
    """Return the lines on a layout that was found: its margin, its table, and what else there is to choose."""
    basis = poorest_basis(answer.job)
    count = len(answer.members)
    sure = "" if placement.proven else " of those looked at, not proven"
    lines = indented(
        "",
        f"{count} stands: {_margin(answer, reader)} to tipping, worst case: the largest margin of "
        f"{placement.considered} layouts{sure}.",
        WIDTH,
    )
    if placement.ended is SearchEnd.BUDGET:
        lines += indented("", STOPPED, WIDTH)
    lines += _cells_tried(placement, reader)
    lines += indented("", f"{shown_verdict(answer.verdict, basis)}; weights: {basis_words(basis)}.", WIDTH)
    lines += [first_lift(reader.units)]
    if answer.cautions:
        lines += indented("", f"Still to look at: {names(sorted(answer.cautions))}. `loadplan check` says more.", WIDTH)
    lines += ["", *_table(answer, reader), ""]
    free = [each.name for each in answer.planned if not each.point]
    if free:
        lines += indented("", f"At {names(free)}: find a hard place there, {ONLY}.", WIDTH)
    for said in _in_the_way(answer, reader):
        lines += indented("", said, WIDTH)
    going = [
        f'{each.name} goes away with what it is under in the step "{reader.words(stage.name)}".'
        for stage in answer.job.stages
        for each in answer.planned
        if each.name in stage.cleared
    ]
    lines += [line for said in going for line in indented("", said, WIDTH)]
    lines += [f"  Most on one stand: {write(Quantity(answer.share, Measure.SHARE), reader.units)} of its rating."]
    for other in placement.others:
        said = f"With {len(other.members)} stands: {_margin(other, reader)}, {shown_verdict(other.verdict, basis)}."
        lines += indented("  ", said, WIDTH)
    if placement.runner_up is not None:
        places = names([_place(each, reader) for each in placement.runner_up.planned])
        lines += indented("  ", f"Another way, {_margin(placement.runner_up, reader)}: {places}.", WIDTH)
    return lines


def _heights_gone(job: Job, planned: Job, reader: Reader) -> list[str]:
    """Return in which steps the heights set anew went with the stands that they were for."""
    pairs = zip(job.stages, planned.stages, strict=True)
    steps = [f'"{reader.words(old.name)}"' for old, new in pairs if set(old.set_anew) - set(new.set_anew)]
    if not steps:
        return []
    said = f"The heights set anew in the step {names(steps)} went with the stands that they were for: plan them again."
    return indented("  ", said, WIDTH)


def _in_the_way(answer: Layout, reader: Reader) -> list[str]:
    """Return what is told of stands at no point that may have to reach up through another assembly."""
    through: dict[str, list[str]] = {}
    for stand in answer.planned:
        for lower in () if stand.point else lower_assemblies(answer.job, stand):
            through.setdefault(lower, []).append(stand.name)
    return [
        f"At {names(stands)} the {reader.words(lower)} reaches lower, by its outline: only where it is open there."
        for lower, stands in through.items()
    ]


def _cells_tried(placement: Placement, reader: Reader) -> list[str]:
    """Return how far apart the places lie that were tried besides the file's points."""
    cells = placement.cells
    if cells is None:
        return []
    if not cells.coarse:
        return indented(
            "",
            "No places besides the points could be tried: no assembly in the file has outline and bottom.",
            WIDTH,
        )
    coarse, finest = reader.length(cells.coarse), reader.length(cells.finest)
    finer = f", then nearer ones round what was found, down to {finest}" if cells.finest < cells.coarse else ""
    return indented("", f"Tried: the points of the file, and places {coarse} apart at most{finer}.", WIDTH)


def _table(layout: Layout, reader: Reader) -> list[str]:
    """Return the planned stands as a table."""
    columns = (
        Column("stand", tuple(each.name for each in layout.planned), Align.LEFT),
        Column("use", tuple(reader.words(each.equipment.name) for each in layout.planned), Align.LEFT),
        Column("under", tuple(under(each, reader) for each in layout.planned), Align.LEFT),
        Column("from the chalk lines", tuple(from_chalk(*each.at[:2], reader) for each in layout.planned), Align.LEFT),
    )
    return table(columns, WIDTH)


def _margin(layout: Layout, reader: Reader) -> str:
    return "nothing to tip" if layout.margin == inf else reader.length(layout.margin)


def _nothing(job: Job, placement: Placement, reader: Reader) -> list[str]:
    """Return what stands in the way, and what would free it."""
    if placement.ended is SearchEnd.INTERRUPT:
        return indented("", "The search was stopped before any layout that holds was found.", WIDTH)
    told = [
        f"{reader.words(check)} ({number} {'layout' if number == 1 else 'layouts'})"
        for check, number in placement.against
    ]
    way = f" In the way: {names(told)}." if told else ""
    out = CHECK_OF[placement.against[0][0]].way_out if told else ""
    if placement.ended is SearchEnd.BUDGET:
        lines = indented("", f"{NOTHING_SO_FAR}{way} {out or MORE}", WIDTH)
    else:
        lines = indented("", f"No layout fits.{way} {out or MORE}", WIDTH)
    lines += _cells_tried(placement, reader)
    if placement.cells is None and _has_outlines(job):
        lines += indented("", ANYWHERE, WIDTH)
    for near in placement.near:
        lines += ["", *indented("", _nearly(near, reader), WIDTH)]
    return lines


def _has_outlines(job: Job) -> bool:
    return any(len(each.outline) > 2 and each.bottom is not None for each in job.vehicle.bodies)


def _nearly(near: NearMiss, reader: Reader) -> str:
    """Return how a layout goes over that comes near, by how much, and where one more stand would help it."""
    places = names([_place(each, reader) for each in near.planned])
    who, step = reader.words(f"the {near.body}"), reader.words(near.stage)
    if near.says:
        return f'Nearest: {places}. In the step "{step}": {reader.sentence(near.says)}'
    said = f'Nearest: {places}. In the step "{step}" {who} is free to rock.'
    if near.short is not None:
        to = f" to the {near.side}" if near.side else ""
        said = f'Nearest: {places}. In the step "{step}" {who} goes over{to}, in the worst case'
        said += f" by {reader.length(max(near.short, 0.0))}."
    return f"{said} {_one_more(near, reader)}"


def _one_more(near: NearMiss, reader: Reader) -> str:
    """Return where one more stand would help: the field of such places, and the place nearest its middle."""
    if not near.cells:
        return "No place for one more stand was found that would hold it."
    middle = [sum(axis) / len(near.cells) for axis in zip(*near.cells, strict=True)]
    at = min(near.cells, key=lambda cell: dist(cell, middle))
    return f"One more stand under it would hold it, such as at {from_chalk(*at, reader)}, {ONLY}."

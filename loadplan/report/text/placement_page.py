"""Where the stands should go, for people and for machines."""

from math import inf
from typing import Self, TextIO

from loadplan.checks.check_table import CHECK_OF
from loadplan.checks.one_more import ONLY, OneMore
from loadplan.checks.phrases import names
from loadplan.model.answer import Loose
from loadplan.model.job import Job
from loadplan.model.verdict import Measure, Quantity
from loadplan.model.weight_basis import poorest_basis
from loadplan.planning.placement.largest_margin import Layout
from loadplan.planning.placement.near_miss import NearMiss
from loadplan.planning.placement.proposal import Placement
from loadplan.report.json_output import MM, Plain
from loadplan.report.words.cautions import caution_lines
from loadplan.report.words.columns import WIDTH, Align, Column, indented, table
from loadplan.report.words.number_format import write
from loadplan.report.words.stage_tables import from_chalk, under
from loadplan.report.words.tipping_direction import ways_over
from loadplan.report.words.vocabulary import FIRST_LIFT, Reader, basis_words, reader_of, shown_verdict
from loadplan.units import System


class SearchProgress:
    """Shows the largest margin so far on one line of a terminal while a search goes on."""

    def __init__(self, units: System, stream: TextIO) -> None:
        """Show nothing yet.

        Args:
            units: The reader's units.
            stream: Where it is shown; nothing is, if that is no terminal.
        """
        self._reader = Reader(units, frozenset())
        self._stream = stream
        self._largest = 0.0

    def __enter__(self) -> Self:
        """Return this."""
        return self

    def __exit__(self, *_: object) -> None:
        """Leave the line clean."""
        if self._largest > 0 and self._stream.isatty():
            self._stream.write("\r\x1b[K")
            self._stream.flush()

    def tell(self, margin: float) -> None:
        """Show a margin [m] if it is the largest so far; Ctrl-C ends the search with what it has."""
        if margin > self._largest and self._stream.isatty():
            self._largest = margin
            said = f"largest margin so far {self._reader.length(margin)}; Ctrl-C takes it as it is"
            self._stream.write(f"\r\x1b[K{said}")
            self._stream.flush()


def placement_dict(job: Job, placement: Placement, units: System) -> dict[str, Plain]:
    """Turn a proposal into the machine output.

    Args:
        job: The job.
        placement: The proposal.
        units: Units of `says`.

    Returns:
        The answer first, then its runner-up or the best of other numbers of stands; where nothing fits, what comes
        nearest.
    """
    reader = reader_of(job, units)
    layouts = [each for each in (placement.answer, *placement.others, placement.runner_up) if each is not None]
    return {
        "schema": "loadplan-placement-1",
        "proven_best": placement.proven,
        "considered": placement.considered,
        "layouts": [_layout(each) for each in layouts],
        "nearest": [_near(each, reader) for each in placement.nearest],
    }


def _layout(layout: Layout) -> dict[str, Plain]:
    return {
        "supports": [{"name": each.name, "use": each.equipment.name, "under": each.point} for each in layout.planned],
        "worst_margin_mm": None if layout.margin == inf else layout.margin / MM,
        "max_share": layout.share,
        "verdict": layout.verdict.words,
    }


def _near(near: NearMiss, reader: Reader) -> dict[str, Plain]:
    """Return a layout that does not fit, with what is wrong and where one more place would help."""
    return {
        **_layout(near.layout),
        "name": near.stage.state.name,
        "says": _wrong(near, reader),
        "one_more": [{"body": each.body, "cells_mm": [[x / MM, y / MM] for x, y in each.cells]} for each in near.more],
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
    lines += _nothing(placement, reader) if answer is None else _proposal(placement, answer, reader)
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
    lines += indented("", f"{shown_verdict(answer.verdict, basis)}; weights: {basis_words(basis)}.", WIDTH)
    lines += [FIRST_LIFT]
    if answer.cautions:
        lines += indented("", f"Still to look at: {names(sorted(answer.cautions))}. `loadplan check` says more.", WIDTH)
    lines += ["", *_table(answer, reader), ""]
    lines += [f"  Most on one stand: {write(Quantity(answer.share, Measure.SHARE), reader.units)} of its rating."]
    for other in placement.others:
        said = f"With {len(other.members)} stands: {_margin(other, reader)}, {shown_verdict(other.verdict, basis)}."
        lines += indented("  ", said, WIDTH)
    if placement.runner_up is not None:
        places = names([reader.words(each.point) for each in placement.runner_up.planned])
        lines += indented("  ", f"Another way, {_margin(placement.runner_up, reader)}: {places}.", WIDTH)
    return lines


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


def _nothing(placement: Placement, reader: Reader) -> list[str]:
    """Return what stands in the way, and what would free it."""
    told = [
        f"{reader.words(check)} ({number} {'layout' if number == 1 else 'layouts'})"
        for check, number in placement.against
    ]
    way_out = CHECK_OF[placement.against[0][0]].way_out or "`loadplan check` on the job says more."
    said = f"No layout fits. In the way: {names(told)}. {way_out}"
    lines = indented("", said, WIDTH)
    if placement.nearest:
        lines += ["", "What comes nearest:"]
    for near in placement.nearest:
        places = names([reader.words(each.point) for each in near.layout.planned])
        lines += indented("  - ", f"{places}. {_wrong(near, reader)}", WIDTH)
        lines += [line for each in near.more for line in indented("    ", _help(each, reader), WIDTH)]
    return lines


def _wrong(near: NearMiss, reader: Reader) -> str:
    """Return what is wrong with a layout: its step, what stops there, and the way it goes over."""
    step = f"Step {near.stage.state.index + 1}, {reader.words(near.stage.state.name)}"
    if near.finding is None:
        return f"{step}: a stand carries more than the job's share of its rating."
    # What is free to rock goes no certain way: the finding says all there is to say.
    loose = any(isinstance(group.proof, Loose) for group in near.stage.statics.groups)
    ways = [] if loose else [reader.words(text) for text in ways_over(near.stage.statics, reader)]
    over = f" The way it goes over: {ways[0]}" if ways else ""
    return f"{step}: {reader.finding(near.finding)}{over}"


def _help(more: OneMore, reader: Reader) -> str:
    """Return where one more place would help a body: the middle of all that would do."""
    if not more.cells:
        return f"No single place more would hold the {reader.words(more.body)}."
    x, y = (sum(each[axis] for each in more.cells) / len(more.cells) for axis in (0, 1))
    middle = min(more.cells, key=lambda each: (each[0] - x) ** 2 + (each[1] - y) ** 2)
    return (
        f"One more place under the {reader.words(more.body)} would help, such as {from_chalk(*middle, reader)}: {ONLY}."
    )

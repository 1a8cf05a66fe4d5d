"""How a plan is mended, for people and for machines."""

import re
from collections import defaultdict
from math import isfinite
from typing import Self, TextIO

from loadplan.checks.phrases import names
from loadplan.errors import printable
from loadplan.model.job import Job
from loadplan.model.verdict import Verdict
from loadplan.model.weight_basis import poorest_basis
from loadplan.planning.mending.mending_answer import LeftOver, Mending
from loadplan.report.json_output import Plain
from loadplan.report.text.terminal_colour import obeys_codes
from loadplan.report.words.cautions import caution_lines
from loadplan.report.words.columns import WIDTH, indented, wrap
from loadplan.report.words.vocabulary import Reader, basis_words, first_lift, reader_of, shown_verdict
from loadplan.units import System

BAR = 30
"""Width of the bar that shows how far the search is [characters]."""

NOW_AND_THEN = 100
"""Off a terminal a line is told each time so many more plans have been looked at."""

MOST_LEFT = 5
"""Findings that are told of a plan with changes: `check` tells them all."""


CALM = "nothing stops any more; looking for what takes away the cautions"

OUT_OF_BUDGET = (
    "The search stopped at its budget: this is what was found so far, it does not say that nothing better exists."
)


class MendingProgress:
    """Shows how far the search for changes is: a bar on a terminal, else a line now and then."""

    def __init__(self, stream: TextIO) -> None:
        """Show nothing yet.

        Args:
            stream: Where it is shown.
        """
        self._stream = stream
        self._told = False
        self._calm = False

    def __enter__(self) -> Self:
        """Return this."""
        return self

    def __exit__(self, *_: object) -> None:
        """Leave the line clean."""
        if self._told and obeys_codes(self._stream):
            self._stream.write("\r\x1b[K")
            self._stream.flush()

    def nothing_stops(self) -> None:
        """Say from now on that only cautions are left."""
        self._calm = True
        if not obeys_codes(self._stream):
            self._stream.write(f"{CALM}\n")
            self._stream.flush()

    def tell(self, looked_at: int, planned: int) -> None:
        """Show how many plans were looked at of those to look at, as far as is known."""
        said = f"{looked_at} of {planned} plans looked at; Ctrl-C takes what is found so far"
        if obeys_codes(self._stream):
            said = f"{CALM}: {looked_at} plans; Ctrl-C takes what is found" if self._calm else said
            done = min(BAR, BAR * looked_at // max(planned, 1))
            self._stream.write(f"\r\x1b[K[{'#' * done}{'.' * (BAR - done)}] {said}")
        elif looked_at % NOW_AND_THEN:
            return
        else:
            self._stream.write(f"{said}\n")
        self._told = True
        self._stream.flush()


def mending_dict(mending: Mending, units: System) -> dict[str, Plain]:
    """Turn a mending into the machine output.

    Args:
        mending: The mending.
        units: Units of `says`.

    Returns:
        The changes in the order in which they are told, and the verdict with them.
    """
    reader = reader_of(mending.job, units)
    return {
        "schema": "loadplan-mending-1",
        "proven_fewest": mending.proven,
        "ended_by": "interrupt" if mending.interrupted else "budget" if mending.ran_out else "done",
        "changes": [
            {"kind": each.kind.value, "support": each.support, "says": reader.sentence(each.says)}
            for each in mending.changes
        ],
        "verdict": mending.verdict.words,
    }


def mending_page(mending: Mending, first: int, units: System) -> str:
    """Write a mending for people.

    Args:
        mending: The mending.
        first: Number of the first step that is not done yet, from 0.
        units: The reader's units.

    Returns:
        Lines of at most 100 characters, ending in a line end.
    """
    reader = reader_of(mending.job, units)
    lines = [*wrap(reader.words(mending.job.title), WIDTH), ""]
    lines += _verdicts(mending, first, reader)
    if mending.changes:
        lines += ["", *_instructions(mending, first, reader)]
    lines += _still(mending, reader)
    return "\n".join([*lines, *caution_lines(poorest_basis(mending.job), units)]) + "\n"


def _verdicts(mending: Mending, first: int, reader: Reader) -> list[str]:
    """Return what the plan comes to as it is, and with the changes."""
    basis = poorest_basis(mending.job)
    before = shown_verdict(mending.before, basis)
    count = len(mending.changes)
    if mending.nothing_to_mend:
        lines = [f"{before}. Nothing to mend: nothing is written."]
    elif not count:
        why = "Nothing was found before the search was ended" if mending.interrupted else _no_way(mending)
        lines = [f"{before}. {why}: nothing is written."]
        lines += [] if mending.short or mending.interrupted else _tried(mending, first)
    else:
        changes = "1 change" if count == 1 else f"{count} changes"
        lines = [f"As planned: {before}. With {changes}: {shown_verdict(mending.verdict, basis)}."]
    if mending.ran_out and not mending.interrupted:
        lines.append(OUT_OF_BUDGET)
    lines = [line for text in lines for line in wrap(text, WIDTH)]
    return [*lines, f"Weights: {basis_words(basis)}.", first_lift(reader.units)]


def _tried(mending: Mending, first: int) -> list[str]:
    """Return what was tried where nothing was found, and what else can be."""
    typed = printable(mending.job.source)
    job = typed if re.fullmatch(r"[\w./\\:~+,-]+", typed) else f'"{typed}"'
    start = f" --from {first + 1}" if first else ""
    whole = _left_whole(mending.job)
    if not mending.looked_at:
        return [
            *whole,
            f"There is no change of a single stand to try here. To plan all places anew: loadplan place {job}{start}",
        ]
    return [
        *whole,
        f"Tried, in {mending.looked_at} looks: stands set otherwise, of another kind or under another place, one more "
        "stand, something taken away or raised first; and several of these at once, as far as they help. Not all of "
        "them could be judged: this does not say that nothing helps.",
        f"What may help is to plan all places anew: loadplan place {job}{start}",
        "Where the vehicle's file has too few places for that, give it --anywhere, too.",
    ]


def _left_whole(job: Job) -> list[str]:
    """Return which pieces with several saddles the job has: as one stand alone, none of these is replaced or moved."""
    saddles: defaultdict[str, list[str]] = defaultdict(list)
    for each in job.supports:
        if each.piece:
            saddles[each.piece].append(each.name)
    return [
        f"{piece} is one piece under {names(held)}: no other equipment and no other place was tried for it. Plan that "
        "by hand."
        for piece, held in saddles.items()
    ]


def _no_way(mending: Mending) -> str:
    """Return that no changes help."""
    if mending.short:
        pieces = "1 piece" if mending.short == 1 else f"{mending.short} pieces"
        return (
            f"The shop has {pieces} too few for so many stands, and no change to them makes up for that. Get more, "
            "or plan fewer stands"
        )
    if mending.before is Verdict.STOP:
        return "No few changes to the stands were found that would mend it"
    return "No few changes to the stands were found after which nothing cautions"


def _instructions(mending: Mending, first: int, reader: Reader) -> list[str]:
    """Return what to change, and whether fewer changes would do."""
    held = "Before the weight comes on:" if not first else f"Before step {first + 1}, what stands staying as it stands:"
    lines = [held]
    for number, each in enumerate(mending.changes, 1):
        if number == mending.enough + 1 and mending.enough:
            goal = "less cautions" if mending.in_part else "nothing cautions, either"
            lines += wrap(f"With these nothing stops. So that {goal}:", WIDTH)
        lines += indented(f"  {number}. ", reader.sentence(each.says), WIDTH)
    lines += [
        "No fewer changes of these kinds would do."
        if mending.proven
        else "NOT PROVEN: fewer changes may do, not all were looked at."
    ]
    if isfinite(mending.margin):
        lines += wrap(f"Nearest to tipping then, worst case: {reader.length(mending.margin)}.", WIDTH)
    if mending.interrupted:
        lines += wrap("The search was ended: this is what it had found so far, and nothing is written.", WIDTH)
    return lines


def _still(mending: Mending, reader: Reader) -> list[str]:
    """Return what still stops or cautions, the worst first."""
    if not mending.left:
        return []
    told = [line for each in mending.left[:MOST_LEFT] for line in _left_line(each, reader)]
    more = len(mending.left) - MOST_LEFT
    rest = [f"  and {more} more: `loadplan check` tells them."] if more > 0 else []
    return ["", "Still to look at:", *told, *rest]


def _left_line(left: LeftOver, reader: Reader) -> list[str]:
    """Return one finding that is left, with its step."""
    finding = left.finding
    head = f"  {finding.verdict.name}  {reader.words(finding.check)}: "
    return indented(head, f"{reader.words(left.stage)}: {reader.finding(finding)}", WIDTH)

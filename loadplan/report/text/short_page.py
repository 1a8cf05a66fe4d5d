"""The short page of a check: what a technician has to know, to be read in a minute."""

from dataclasses import dataclass

from loadplan.checks.phrases import names
from loadplan.model.verdict import Assessment, StageAssessment, Verdict
from loadplan.report.text.key_figures import figure_lines
from loadplan.report.text.page_head import head_lines
from loadplan.report.text.stand_list import stand_lines
from loadplan.report.text.step_in_full import step_in_full
from loadplan.report.text.step_list import NAMES, SHORT, TIGHT, step_lines
from loadplan.report.text.terminal_colour import Colours, painted
from loadplan.report.words.cautions import caution_lines
from loadplan.report.words.columns import WIDTH, indented
from loadplan.report.words.findings import told
from loadplan.report.words.top_findings import Foremost, foremost
from loadplan.report.words.vocabulary import Reader, reader_of
from loadplan.units import System

LINES, STEPS, A_STEP = 60, 9, 2
"""Most lines of a job of so many steps, and of each further one, where that can be."""

FOREMOST = 5
"""Stops and cautions that are told at the most; how many more there are is told, too."""

LEAST = 2
"""Stops and cautions that are told however long the page gets."""


@dataclass(frozen=True, slots=True)
class _Room:
    """How much a page tells: how many stops and cautions, and how long a step's name may be."""

    worst: int
    longest: int


ROOMS = (
    _Room(FOREMOST, NAMES),
    _Room(FOREMOST, SHORT),
    *(_Room(worst, TIGHT) for worst in range(FOREMOST, LEAST - 1, -1)),
)
"""From the roomiest page to the one that tells least."""


def short_page(assessment: Assessment, units: System, colours: Colours, step: StageAssessment | None = None) -> str:
    """Write the short page of a checked job.

    Args:
        assessment: The job, judged.
        units: The reader's units.
        colours: Whether the terminal takes colour.
        step: A step to be told in full as well, None for none.

    Returns:
        Lines of at most 100 characters, ending in a line end: 60 for nine steps and two for each further one, unless
        long names or many stands need more.
    """
    reader = reader_of(assessment.job, units)
    most = LINES + A_STEP * max(0, len(assessment.stages) - STEPS)
    tries = [_page(assessment, room, reader, colours) for room in ROOMS]
    above, below = next((each for each in tries if len(each[0]) + len(each[1]) <= most), tries[-1])
    middle = ["", *step_in_full(assessment, step, reader, colours)] if step else []
    return "\n".join([*above, *middle, *below]) + "\n"


def _page(assessment: Assessment, room: _Room, reader: Reader, colours: Colours) -> tuple[list[str], list[str]]:
    """Return the page in two parts: what stands above a step told in full, and what stands below it."""
    worst = foremost(assessment, reader)
    above = [
        *head_lines(assessment, worst, reader, colours),
        "",
        *figure_lines(assessment, reader),
        "",
        *_worst(assessment, worst, room.worst, reader, colours),
        "",
        *stand_lines(assessment, reader),
        "",
        *step_lines(assessment, reader, colours, room.longest),
    ]
    return above, ["", *_elsewhere(assessment), *caution_lines(assessment.basis, reader.units)]


def _worst(
    assessment: Assessment, worst: tuple[Foremost, ...], most: int, reader: Reader, colours: Colours
) -> list[str]:
    """Return stops and cautions, what hurts first foremost, each with what would help; and how many more there are."""
    notes = sum(line.verdict is Verdict.NOTE for line in told(assessment, reader))
    lines = [] if worst else ["No stop, no caution in any step."]
    for each in worst[:most]:
        word = each.verdict.name
        paragraph = indented(f"{word:<7}  ", f"{each.steps}: {each.text}", WIDTH)
        lines += [painted(paragraph[0], word, each.verdict, colours), *paragraph[1:]]
    left = [each.verdict for each in worst[most:]] + [Verdict.NOTE] * notes
    kinds = [(left.count(each), each.words) for each in sorted(set(left), reverse=True)]
    more = names([f"{count} {word}{'' if count == 1 else 's'}" for count, word in kinds])
    return [*lines, f"Further: {more}; --all tells {'it' if len(left) == 1 else 'them'}."] if more else lines


def _elsewhere(assessment: Assessment) -> list[str]:
    """Return how much was assumed and not checked, and how to see it."""
    assumed, unchecked = len(assessment.assumed), len(assessment.not_checked)
    return [
        f"Assumed: {assumed or 'nothing'}. Not checked: {unchecked or 'nothing'}. Read them with --all, one step in "
        f"full with --step NUMBER.",
    ]

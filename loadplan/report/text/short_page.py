"""The short page of a check: what a technician has to know, to be read in a minute."""

from dataclasses import dataclass, replace

from loadplan.checks.phrases import names
from loadplan.model.verdict import Assessment, StageAssessment, Verdict
from loadplan.report.text.key_figures import figure_lines
from loadplan.report.text.page_head import head_lines
from loadplan.report.text.stand_list import stand_lines
from loadplan.report.text.step_in_full import step_in_full
from loadplan.report.text.step_list import step_lines
from loadplan.report.text.terminal_colour import Colours, painted
from loadplan.report.words.cautions import caution_lines
from loadplan.report.words.columns import WIDTH, indented
from loadplan.report.words.findings import told
from loadplan.report.words.top_findings import Foremost, foremost, steps_words
from loadplan.report.words.vocabulary import reader_of
from loadplan.units import System

LINES, STEPS, A_STEP = 60, 9, 2
"""Most lines of a job of so many steps, and of each further one, where that can be."""

FOREMOST = 5
"""Stops and cautions that are told at the most; how many more there are is told, too."""

LEAST = 2
"""Stops and cautions that are told however long the page gets."""


@dataclass(frozen=True, slots=True)
class _PageRoom:
    """How much a page tells.

    Attributes:
        worst: Stops and cautions.
        done: Most characters of what is done in the steps of one line.
        equipment: Most characters of a kind of equipment.
    """

    worst: int
    done: int
    equipment: int


ROOMY, SHORT = _PageRoom(FOREMOST, 110, 60), _PageRoom(FOREMOST, 44, 18)
"""The page with all names whole, and the one with what is long cut."""

ROOMS = (ROOMY, replace(ROOMY, done=44), SHORT, *(_PageRoom(worst, 24, 12) for worst in range(FOREMOST, LEAST - 1, -1)))
"""From the page that tells most to the one that tells least; where even that is too long, the short one is taken."""


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
    worst = foremost(assessment, reader)
    notes = sum(line.verdict is Verdict.NOTE for line in told(assessment, reader))
    head = [*head_lines(assessment, worst, reader, colours), "", *figure_lines(assessment, reader), ""]
    foot = ["", *_elsewhere(assessment), *caution_lines(assessment.basis, units)]
    left = LINES + A_STEP * max(0, len(assessment.stages) - STEPS) - len(head) - len(foot)

    def body(room: _PageRoom) -> list[str]:
        return [
            *(_worst(worst, room.worst, colours) if worst else [_quiet(assessment)]),
            *_further([each.verdict for each in worst[room.worst :]] + [Verdict.NOTE] * notes),
            "",
            *stand_lines(assessment, reader, room.equipment),
            "",
            *step_lines(assessment, reader, colours, room.done),
        ]

    fitting = next((lines for room in ROOMS if len(lines := body(room)) <= left), None)
    middle = ["", *step_in_full(assessment, step, reader, colours)] if step else []
    return "\n".join([*head, *(fitting or body(SHORT)), *middle, *foot]) + "\n"


def _worst(worst: tuple[Foremost, ...], most: int, colours: Colours) -> list[str]:
    """Return stops and cautions, what hurts first foremost, each with what would help."""
    lines = []
    for each in worst[:most]:
        word = each.verdict.name
        paragraph = indented(f"{word:<7}  ", f"{each.steps}: {each.text}", WIDTH)
        lines += [painted(paragraph[0], word, each.verdict, colours), *paragraph[1:]]
    return lines


def _quiet(assessment: Assessment) -> str:
    """Return that nothing is at fault; of a step that is not checked nobody knows."""
    unknown = [stage.state.index for stage in assessment.stages if stage.state.stage.moved]
    if not unknown:
        return "No stop, no caution in any step."
    return f"No stop, no caution in what is checked. NOT CHECKED: {steps_words(unknown)}."


def _further(left: list[Verdict]) -> list[str]:
    """Return how many stops, cautions and notes there are that are not told here; none where there are none."""
    kinds = [(left.count(each), each.words) for each in sorted(set(left), reverse=True)]
    more = names([f"{count} {word}{'' if count == 1 else 's'}" for count, word in kinds])
    return [f"Further: {more}; --all tells {'it' if len(left) == 1 else 'them'}."] if more else []


def _elsewhere(assessment: Assessment) -> list[str]:
    """Return how much was assumed and not checked, and how to see it."""
    assumed, unchecked = len(assessment.assumed), len(assessment.not_checked)
    told = f"Assumed: {assumed or 'nothing'}. Not checked: {unchecked or 'nothing'}."
    see = "Read them with --all, one step in full" if assumed or unchecked else "One step in full"
    return [f"{told} {see} with --step NUMBER."]

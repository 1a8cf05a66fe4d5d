"""The whole page of a check: the short one, each step, all there is to look at, what was assumed, boxes to tick."""

from loadplan.model.verdict import Assessment
from loadplan.report.text.key_figures import figure_lines
from loadplan.report.text.page_head import head_lines
from loadplan.report.text.short_page import ROOMY
from loadplan.report.text.stand_list import stand_lines
from loadplan.report.text.step_in_full import box_lines, finding_lines, step_figures
from loadplan.report.text.step_list import step_lines
from loadplan.report.text.terminal_colour import Colours
from loadplan.report.text.weight_uncertainty import unknown_lines
from loadplan.report.words.cautions import caution_lines
from loadplan.report.words.columns import INDENT, WIDTH, indented
from loadplan.report.words.findings import ToldFinding, holding, told
from loadplan.report.words.top_findings import foremost
from loadplan.report.words.vocabulary import reader_of
from loadplan.units import System


def page(assessment: Assessment, units: System, colours: Colours) -> str:
    """Write the page of a checked job with everything on it.

    Args:
        assessment: The job, judged.
        units: The reader's units.
        colours: Whether the terminal takes colour.

    Returns:
        Lines of at most 100 characters, ending in a line end.
    """
    reader = reader_of(assessment.job, units)
    lines = [
        *head_lines(assessment, foremost(assessment, reader), reader, colours),
        "",
        *figure_lines(assessment, reader),
        "",
        *stand_lines(assessment, reader, ROOMY.equipment),
        "",
        *step_lines(assessment, reader, colours, ROOMY.done),
    ]
    for stage in assessment.stages:
        lines += ["", *step_figures(assessment, stage, reader, colours)]
    lines += ["", *_findings(assessment, told(assessment, reader), colours)]
    if costs := unknown_lines(assessment, reader):
        lines += ["", *costs]
    lines += ["", *_list("Assumed", [reader.words(text) for text in assessment.assumed])]
    lines += ["", *_list("Not checked", [reader.sentence(says) for says in assessment.not_checked])]
    lines += ["", "Boxes to tick"]
    lines += [line for stage in assessment.stages for line in box_lines(assessment, stage, reader)]
    return "\n".join([*lines, *caution_lines(assessment.basis, reader.units)]) + "\n"


def _findings(assessment: Assessment, said: tuple[ToldFinding, ...], colours: Colours) -> list[str]:
    """Return what to look at, the worst first, and how many checks hold."""
    steps = max((len(line.steps) for line in said), default=0)
    lines = finding_lines([(line, f"{line.steps:<{steps}}") for line in said], colours)
    holds = holding(assessment)
    others = "other checks hold" if said else "checks hold, and there is nothing else to say"
    last = f"{INDENT}{holds} {others}." if holds != 1 else f"{INDENT}1 other check holds."
    return ["What to look at, worst first", *lines, last]


def _list(heading: str, texts: list[str]) -> list[str]:
    """Return a heading with a point for each text."""
    if not texts:
        return [f"{heading}: nothing."]
    return [f"{heading}:", *(line for text in texts for line in indented(f"{INDENT}- ", text, WIDTH))]

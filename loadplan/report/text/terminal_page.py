"""The terminal page: verdict and basis first, then each stage, what to look at, boxes to tick, cautions."""

from loadplan.model.verdict import Assessment, StageAssessment, Verdict
from loadplan.report.text.terminal_colour import Colours, painted
from loadplan.report.text.weight_uncertainty import unknown_lines
from loadplan.report.words.cautions import boxes, cautions
from loadplan.report.words.columns import WIDTH, breadth, indented, packed, wrap
from loadplan.report.words.findings import ToldFinding, holding, told
from loadplan.report.words.stage_tables import assemblies, deeds, lift_line, push_lines, set_down_line, supports, ties
from loadplan.report.words.tipping_direction import ways_over
from loadplan.report.words.vocabulary import FIRST_LIFT, Reader, basis_words, reader_of, shown_verdict
from loadplan.units import System

INDENT = "  "


def page(assessment: Assessment, units: System, colours: Colours) -> str:
    """Write the page of a checked job.

    Args:
        assessment: The job, judged.
        units: The reader's units.
        colours: Whether the terminal takes colour.

    Returns:
        Lines of at most 100 characters, ending in a line end.
    """
    reader = reader_of(assessment.job, units)
    said = told(assessment, reader)
    lines = _head(assessment, said, reader, colours)
    for stage in assessment.stages:
        lines += ["", *_stage(assessment, stage, reader, colours)]
    lines += ["", *_findings(assessment, said, colours)]
    if costs := unknown_lines(assessment, reader):
        lines += ["", *costs]
    lines += ["", *_list("Assumed", [reader.words(text) for text in assessment.assumed])]
    lines += ["", *_list("Not checked", [reader.sentence(says) for says in assessment.not_checked])]
    lines += ["", *_boxes(assessment, reader)]
    lines += ["", *_cautions(assessment, reader)]
    return "\n".join(lines) + "\n"


def _head(assessment: Assessment, said: tuple[ToldFinding, ...], reader: Reader, colours: Colours) -> list[str]:
    """Return the head: verdict with the weights, why, title, vehicle and day."""
    shown = shown_verdict(assessment.verdict, assessment.basis)
    job = assessment.job
    first = _apart(shown, f"weights: {basis_words(assessment.basis)}")
    reason = [line for line in said if line.verdict is assessment.verdict and line.verdict > Verdict.NOTE][:1]
    return [
        painted(first, shown, assessment.verdict, colours),
        FIRST_LIFT,
        *(each for line in reason for each in indented("Because: ", f"{line.steps}: {line.text}", WIDTH)),
        "",
        *wrap(reader.words(job.title), WIDTH),
        *wrap(reader.words(f"{job.vehicle.name}; {job.date.isoformat()}"), WIDTH),
    ]


def _stage(assessment: Assessment, stage: StageAssessment, reader: Reader, colours: Colours) -> list[str]:
    """Return the lines of a step: what is done, its tables, and how it goes over where it does."""
    word = shown_verdict(stage.verdict, assessment.basis)
    title = wrap(
        f"Step {stage.state.index + 1} of {len(assessment.stages)}: {reader.words(stage.state.name)}",
        WIDTH - breadth(word) - 2,
    )
    return [
        painted(_apart(title[0], word), word, stage.verdict, colours),
        *title[1:],
        "-" * WIDTH,
        *(line for text in deeds(stage.state, reader) for line in indented(INDENT, text, WIDTH)),
        *_set_in(supports(assessment.job.limits, stage, reader, WIDTH - len(INDENT))),
        "",
        *_set_in(assemblies(assessment.job.limits, stage, reader, WIDTH - len(INDENT))),
        *(line for text in ties(stage, reader) for line in indented(INDENT, text, WIDTH)),
        *(line for text in lift_line(stage, reader) for line in indented(INDENT, text, WIDTH)),
        *(line for text in set_down_line(stage, reader) for line in indented(INDENT, text, WIDTH)),
        *(line for text in push_lines(stage, reader) for line in indented(INDENT, text, WIDTH)),
        *_ways(stage, reader),
    ]


def _ways(stage: StageAssessment, reader: Reader) -> list[str]:
    """Return the ways in which a step's units go over."""
    ways = [reader.words(text) for text in ways_over(stage.statics, reader)]
    return [line for text in ways for line in indented(f"{INDENT}The way it goes over: ", text, WIDTH)]


def _findings(assessment: Assessment, said: tuple[ToldFinding, ...], colours: Colours) -> list[str]:
    """Return what to look at, the worst first, and how many checks hold."""
    lines = ["What to look at, worst first"]
    steps = max((len(line.steps) for line in said), default=0)
    for line in said:
        word = line.verdict.name if line.verdict > Verdict.NOTE else "note"
        first = f"{INDENT}{word:<7}  {line.steps:<{steps}}  "
        paragraph = indented(first, f"{line.check}: {line.text}", WIDTH)
        lines += [painted(paragraph[0], word, line.verdict, colours), *paragraph[1:]]
    holds = holding(assessment)
    others = "other checks hold" if said else "checks hold, and there is nothing else to say"
    return [*lines, f"{INDENT}{holds} {others}." if holds != 1 else f"{INDENT}1 other check holds."]


def _list(heading: str, texts: list[str]) -> list[str]:
    if not texts:
        return [f"{heading}: nothing."]
    return [f"{heading}:", *(line for text in texts for line in indented(f"{INDENT}- ", text, WIDTH))]


def _boxes(assessment: Assessment, reader: Reader) -> list[str]:
    """Return the boxes to tick, step by step."""
    lines = ["Boxes to tick"]
    for stage in assessment.stages:
        for each in boxes(assessment.job, stage, reader.units):
            step = f"step {stage.state.index + 1}, {reader.words(stage.state.name)}"
            lines += indented(INDENT, f"{each.heading} ({step}):", WIDTH)
            lines += packed(INDENT, [f"[ ] {reader.words(item)}" for item in each.items], WIDTH)
    return lines


def _cautions(assessment: Assessment, reader: Reader) -> list[str]:
    """Return the cautions, numbered."""
    full = enumerate(cautions(assessment.basis, reader.units), start=1)
    return ["Cautions", *(line for number, text in full for line in indented(f"{INDENT}{number} ", text, WIDTH))]


def _apart(left: str, right: str) -> str:
    """Return two texts at both ends of a line."""
    return left + " " * max(2, WIDTH - breadth(left) - breadth(right)) + right


def _set_in(lines: list[str]) -> list[str]:
    return [f"{INDENT}{line}" for line in lines]

"""One step in full: what is done, what everything carries, how far from tipping, and how it goes over where it does."""

from loadplan.model.verdict import Assessment, StageAssessment, Verdict
from loadplan.report.text.page_head import apart
from loadplan.report.text.terminal_colour import Colours, painted
from loadplan.report.words.cautions import boxes
from loadplan.report.words.columns import INDENT, WIDTH, breadth, indented, packed, wrap
from loadplan.report.words.findings import ToldFinding, stage_lines
from loadplan.report.words.lock_words import lock_words
from loadplan.report.words.stage_tables import (
    assemblies,
    deeds,
    lift_line,
    push_lines,
    set_down_line,
    supports,
    tied_line,
)
from loadplan.report.words.tipping_direction import ways_over
from loadplan.report.words.vocabulary import Reader, shown_verdict


def step_figures(assessment: Assessment, stage: StageAssessment, reader: Reader, colours: Colours) -> list[str]:
    """Lay out a step: what is done, its tables, and how it goes over where it does.

    Args:
        assessment: The job, judged.
        stage: The step.
        reader: Who reads it.
        colours: Whether the terminal takes colour.

    Returns:
        Lines of at most 100 characters.
    """
    word = shown_verdict(stage.verdict, assessment.basis)
    title = wrap(
        f"Step {stage.state.index + 1} of {len(assessment.stages)}: {reader.words(stage.state.name)}",
        WIDTH - breadth(word) - 2,
    )
    told = [
        *tied_line(stage, reader),
        *lift_line(stage, reader),
        *(
            f"{line}{lock_words(assessment.job, stage, reader)}"
            for line in set_down_line(assessment.job, stage, reader)
        ),
        *push_lines(stage, reader),
    ]
    return [
        painted(apart(title[0], word), word, stage.verdict, colours),
        *title[1:],
        "-" * WIDTH,
        *(line for text in deeds(stage.state, reader) for line in indented(INDENT, text, WIDTH)),
        *(f"{INDENT}{line}" for line in supports(assessment.job.limits, stage, reader, WIDTH - len(INDENT))),
        "",
        *(f"{INDENT}{line}" for line in assemblies(assessment.job.limits, stage, reader, WIDTH - len(INDENT))),
        *(line for text in told for line in indented(INDENT, text, WIDTH)),
        *(
            line
            for text in ways_over(stage.statics, reader)
            for line in indented(f"{INDENT}The way it goes over: ", reader.words(text), WIDTH)
        ),
    ]


def step_in_full(assessment: Assessment, stage: StageAssessment, reader: Reader, colours: Colours) -> list[str]:
    """Lay out a step with everything that is told of it: its figures, what to look at, and its boxes to tick.

    Args:
        assessment: The job, judged.
        stage: The step.
        reader: Who reads it.
        colours: Whether the terminal takes colour.

    Returns:
        Lines of at most 100 characters.
    """
    said = sorted(stage_lines(stage, reader), key=lambda line: -line.verdict)
    looked = finding_lines([(line, "") for line in said], colours) or [f"{INDENT}Every check holds."]
    ticks = box_lines(assessment, stage, reader)
    return [
        *step_figures(assessment, stage, reader, colours),
        "",
        f"What to look at in step {stage.state.index + 1}, worst first",
        *looked,
        *(["", "Boxes to tick", *ticks] if ticks else []),
    ]


def finding_lines(said: list[tuple[ToldFinding, str]], colours: Colours) -> list[str]:
    """Set what checks say, each with its verdict in front.

    Args:
        said: What is told, and its steps where they are not known anyway.
        colours: Whether the terminal takes colour.

    Returns:
        Lines of at most 100 characters.
    """
    lines = []
    for line, steps in said:
        word = line.verdict.name if line.verdict > Verdict.NOTE else "note"
        first = f"{INDENT}{word:<7}  {steps}  " if steps else f"{INDENT}{word:<7}  "
        paragraph = indented(first, f"{line.check}: {line.text}", WIDTH)
        lines += [painted(paragraph[0], word, line.verdict, colours), *paragraph[1:]]
    return lines


def box_lines(assessment: Assessment, stage: StageAssessment, reader: Reader) -> list[str]:
    """Set the boxes to tick in one step.

    Args:
        assessment: The job, judged.
        stage: The step.
        reader: Who reads it.

    Returns:
        Lines of at most 100 characters; none where it has no boxes.
    """
    lines = []
    for each in boxes(assessment.job, stage, reader.units):
        step = f"step {stage.state.index + 1}, {reader.words(stage.state.name)}"
        lines += indented(INDENT, f"{each.heading} ({step}):", WIDTH)
        lines += packed(INDENT, [f"[ ] {reader.words(item)}" for item in each.items], WIDTH)
    return lines

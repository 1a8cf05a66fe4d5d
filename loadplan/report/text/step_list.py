"""The steps of a job, a line each: verdict, how near to tipping, which parts are off; neighbours alike in one line."""

from dataclasses import dataclass

from loadplan.model.vehicle import Basis
from loadplan.model.verdict import Assessment, StageAssessment, Verdict
from loadplan.report.text.terminal_colour import Colours, painted
from loadplan.report.words.columns import INDENT, WIDTH, Align, Column, cut, table
from loadplan.report.words.nearest_to_tipping import nearest_in_step, who_tips, worst_words
from loadplan.report.words.stage_tables import NONE
from loadplan.report.words.vocabulary import Reader, verdict_word

WHO = 22
"""Most characters of the name of an assembly or part."""


@dataclass(frozen=True, slots=True)
class _StepLine:
    """What steps have in common that are told in one line."""

    verdict: Verdict
    worst: str
    who: str
    off: str


def step_lines(assessment: Assessment, reader: Reader, colours: Colours, longest: int) -> list[str]:
    """Lay out the steps.

    Args:
        assessment: The job, judged.
        reader: Who reads it.
        colours: Whether the terminal takes colour.
        longest: Most characters of a step's name; what is longer is cut, its number stays.

    Returns:
        Lines of at most 100 characters.
    """
    runs = _runs(assessment, reader)
    practice = "FOR PRACTICE:" if assessment.basis is Basis.EXAMPLE else "verdict"
    columns = (
        Column("step", tuple(_numbers(stages) for _, stages in runs), Align.LEFT),
        Column(practice, tuple(verdict_word(line.verdict) for line, _ in runs), Align.LEFT),
        Column("worst case", tuple(line.worst for line, _ in runs), Align.RIGHT),
        Column("nearest to tipping", tuple(cut(line.who, WHO) for line, _ in runs), Align.LEFT),
        Column("what is done", tuple(_done(line, stages, longest, reader) for line, stages in runs), Align.LEFT),
    )
    verdicts = {f"{INDENT}{_numbers(stages)} ": line.verdict for line, stages in runs}
    lines = [f"{INDENT}{line}" for line in table(columns, WIDTH - len(INDENT))]
    return [_coloured(line, verdicts, colours) for line in lines]


def _runs(assessment: Assessment, reader: Reader) -> list[tuple[_StepLine, list[StageAssessment]]]:
    """Return the lines, each with the steps in a row that it is about."""
    runs: list[tuple[_StepLine, list[StageAssessment]]] = []
    for stage in assessment.stages:
        line = _line(assessment, stage, reader)
        if runs and runs[-1][0] == line:
            runs[-1][1].append(stage)
        else:
            runs.append((line, [stage]))
    return runs


def _line(assessment: Assessment, stage: StageAssessment, reader: Reader) -> _StepLine:
    """Return what is told of a step."""
    near = nearest_in_step(stage)
    parts = [each for each in assessment.job.vehicle.parts if each.body in assessment.job.bodies]
    off = sorted((each for each in parts if each.name not in stage.state.on), key=lambda each: -each.mass)
    return _StepLine(
        verdict=stage.verdict,
        worst=worst_words(near, assessment.job.limits, reader) if near else NONE,
        who=who_tips(near, reader) if near else NONE,
        off=_off([reader.words(each.name) for each in off]),
    )


def _off(parts: list[str]) -> str:
    """Return which parts are off: the heaviest, and how many more."""
    if not parts:
        return ""
    more = f" and {len(parts) - 1} more" if len(parts) > 1 else ""
    return f"off: {cut(parts[0], WHO)}{more}"


def _numbers(stages: list[StageAssessment]) -> str:
    first, last = stages[0].state.index + 1, stages[-1].state.index + 1
    return f"{first}" if first == last else f"{first}-{last}"


def _done(line: _StepLine, stages: list[StageAssessment], longest: int, reader: Reader) -> str:
    """Return the names of the steps of one line, as many as there is room for, and which parts are off."""
    told = cut("; ".join(reader.words(stage.state.name) for stage in stages), longest)
    return f"{told} [{line.off}]" if line.off else told


def _coloured(line: str, verdicts: dict[str, Verdict], colours: Colours) -> str:
    """Return a line with the verdict's word coloured, where it is the first one of a row."""
    for begins, verdict in verdicts.items():
        if line.startswith(begins):
            return painted(line, verdict_word(verdict), verdict, colours)
    return line

"""The jobs of a folder, a line each: verdict, how near to tipping, what hurts first, and the file."""

from dataclasses import dataclass
from pathlib import Path

from loadplan.checks.phrases import names
from loadplan.errors import printable
from loadplan.model.vehicle import Basis
from loadplan.model.verdict import Assessment, Verdict
from loadplan.report.json_output import MM, Plain
from loadplan.report.text.terminal_colour import Colours, painted
from loadplan.report.words.cautions import caution_lines
from loadplan.report.words.columns import INDENT, WIDTH, Align, Column, indented, table
from loadplan.report.words.nearest_to_tipping import nearest_in_job, worst_words
from loadplan.report.words.number_format import units_of
from loadplan.report.words.stage_tables import NONE
from loadplan.report.words.top_findings import foremost
from loadplan.report.words.vocabulary import first_lift, reader_of, verdict_word
from loadplan.units import System

MOST_NAMES = 8
"""Files that are named of those that are no jobs; how many more there are is told, too."""


@dataclass(frozen=True, slots=True)
class HurtsFirst:
    """What hurts first in a job: its worst stop, else its worst caution."""

    check: str
    subject: str
    step: int


@dataclass(frozen=True, slots=True)
class JobLine:
    """What is told of one job.

    Attributes:
        file: Its file.
        title: Its title.
        verdict: Its verdict.
        basis: How good its weights are.
        near: How near to tipping it comes in the worst case, in the reader's words.
        worst_margin: The same [m], None where there is no margin.
        first: What hurts first, None where nothing does.
        record: How the record beside it bears on that, a sentence each.
    """

    file: Path
    title: str
    verdict: Verdict
    basis: Basis
    near: str
    worst_margin: float | None
    first: HurtsFirst | None
    record: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class UnusableJob:
    """A job that cannot be used, with what is wrong with it."""

    file: Path
    faults: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FolderChecked:
    """A folder of jobs.

    Attributes:
        folder: The folder.
        jobs: Its jobs, by file.
        unusable: Jobs that cannot be used.
        others: Files that are no jobs.
    """

    folder: Path
    jobs: tuple[JobLine, ...]
    unusable: tuple[UnusableJob, ...]
    others: tuple[Path, ...]


def job_line(assessment: Assessment, file: Path, units: System | None) -> JobLine:
    """Take from a checked job what its line tells.

    Args:
        assessment: The job, judged.
        file: Its file.
        units: The reader's units, None for the job's own.

    Returns:
        The line.
    """
    reader = reader_of(assessment.job, units or units_of(assessment.job))
    near = nearest_in_job(assessment)
    worst = foremost(assessment, reader)
    return JobLine(
        file=file,
        title=assessment.job.title,
        verdict=assessment.verdict,
        basis=assessment.basis,
        near=worst_words(near, assessment.job.limits, reader) if near else NONE,
        worst_margin=near.worst if near else None,
        first=HurtsFirst(worst[0].check.value, worst[0].subject, worst[0].worst + 1) if worst else None,
    )


def folder_page(checked: FolderChecked, units: System, colours: Colours) -> str:
    """Write the page of a folder.

    Args:
        checked: The folder, its jobs judged.
        units: The reader's units, for the cautions.
        colours: Whether the terminal takes colour.

    Returns:
        Lines of at most 100 characters, ending in a line end; stops first, then cautions, else by file.
    """
    jobs = sorted(checked.jobs, key=lambda each: -each.verdict)
    lines = [*indented("", printable(_summary(checked)), WIDTH), first_lift(units), *([""] if jobs else [])]
    lines += _table(checked, jobs, colours)
    if checked.unusable:
        # Several jobs may share a vehicle or a shop, whose fault is told once.
        faults = list(dict.fromkeys(fault for each in checked.unusable for fault in each.faults))
        lines += ["", "Cannot be used"]
        lines += [line for fault in faults for line in indented(f"{INDENT}- ", printable(fault), WIDTH)]
    by_record = [f"{_inside(checked, each.file)}: {' '.join(each.record)}" for each in jobs if each.record]
    if by_record:
        lines += ["", "By their records"]
        lines += [line for text in by_record for line in indented(f"{INDENT}- ", printable(text), WIDTH)]
    if checked.others:
        named = [str(_inside(checked, each)) for each in checked.others[:MOST_NAMES]]
        more = len(checked.others) - len(named)
        told = names([*named, *([f"{more} more"] if more else [])])
        lines += ["", *indented("No jobs: ", printable(told), WIDTH)]
    basis = min((each.basis for each in jobs), default=Basis.GUESS)
    return "\n".join([*lines, *caution_lines(basis, units)]) + "\n"


def folder_dict(checked: FolderChecked) -> dict[str, Plain]:
    """Return a folder's jobs as plain data.

    Args:
        checked: The folder, its jobs judged.

    Returns:
        What `check FOLDER --json` prints.
    """
    return {
        "schema": "loadplan-folder-1",
        "verdict": max((each.verdict for each in checked.jobs), default=Verdict.HOLDS).words if checked.jobs else None,
        "jobs": [
            {
                "file": str(each.file),
                "title": each.title,
                "verdict": each.verdict.words,
                "basis": each.basis.words,
                "worst_margin_mm": None if each.worst_margin is None else each.worst_margin / MM,
                "first": {"check": each.first.check, "subject": each.first.subject, "step": each.first.step}
                if each.first
                else None,
                **({"record": list(each.record)} if each.record else {}),
            }
            for each in checked.jobs
        ],
        "unusable": [{"file": str(each.file), "faults": list(each.faults)} for each in checked.unusable],
        "no_jobs": [str(each) for each in checked.others],
    }


def _summary(checked: FolderChecked) -> str:
    """Return the first line: how many jobs, and how many of them are at fault."""
    verdicts = [each.verdict for each in checked.jobs]
    counts = [(len(verdicts), "job"), *((verdicts.count(each), each.words) for each in (Verdict.STOP, Verdict.CAUTION))]
    told = [f"{count} {word}{'' if count == 1 else 's'}" for count, word in counts]
    if checked.unusable:
        told.append(f"{len(checked.unusable)} cannot be used")
    return f"{checked.folder}: {', '.join(told)}"


def _table(checked: FolderChecked, jobs: list[JobLine], colours: Colours) -> list[str]:
    """Return a line a job, with its verdict's word coloured."""
    if not jobs:
        return []
    columns = (
        Column("weights", tuple(_weights(each.basis) for each in jobs), Align.LEFT),
        Column("verdict", tuple(verdict_word(each.verdict) for each in jobs), Align.LEFT),
        Column("worst case to tipping", tuple(each.near for each in jobs), Align.RIGHT),
        Column("what hurts first", tuple(printable(_first(each.first)) for each in jobs), Align.LEFT),
        Column("file", tuple(printable(str(_inside(checked, each.file))) for each in jobs), Align.LEFT),
    )
    lines = table(columns, WIDTH - len(INDENT))
    left = list(jobs)
    told = []
    for line in lines:
        begins = f"{_weights(left[0].basis)} " if left else ""
        if begins and line.startswith(begins) and verdict_word(left[0].verdict) in line:
            told.append(painted(line, verdict_word(left[0].verdict), left.pop(0).verdict, colours))
        else:
            told.append(line)
    return [f"{INDENT}{line}" for line in told]


def _weights(basis: Basis) -> str:
    return "FOR PRACTICE:" if basis is Basis.EXAMPLE else basis.words


def _first(first: HurtsFirst | None) -> str:
    """Return what hurts first: which check, what it is about, in which step."""
    return f"{first.check}: {first.subject}, step {first.step}" if first else "no stop, no caution"


def _inside(checked: FolderChecked, file: Path) -> Path:
    """Return a file as seen from the folder."""
    return file.relative_to(checked.folder) if file.is_relative_to(checked.folder) else file

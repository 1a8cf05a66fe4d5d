"""One step at the bay: what there is to do in it, what is done, and what may be done now."""

from dataclasses import dataclass
from typing import NamedTuple

from loadplan.board.bay_readings import ReadStep
from loadplan.board.bay_verdict import bay_findings, judged_step
from loadplan.board.open_plans import Open
from loadplan.board.refusals import RefusedError
from loadplan.errors import printable
from loadplan.files.work_record_file import read_record
from loadplan.model.verdict import Finding, StageAssessment, Verdict
from loadplan.model.work_record import LOOKED_AT, Deed, WorkRecord
from loadplan.planning.record_doubt import record_doubt
from loadplan.report.sheet.sheet_number import sheet_numbers
from loadplan.report.words.number_format import units_of
from loadplan.report.words.older_lines import meant_by
from loadplan.report.words.record_words import SheetNumbers, learnt_lines
from loadplan.report.words.vocabulary import Reader, reader_of
from loadplan.report.words.work_list import WorkPart, work_list

MOVED = WorkPart("Something moved", LOOKED_AT, stops=True)
"""What is done when something moved that the plan did not say."""


class WorkLine(NamedTuple):
    """A line of the page: its text, whether it is ticked, and whether it may be."""

    words: str
    ticked: bool
    open: bool


@dataclass(frozen=True, slots=True)
class BayStep:
    """One step at the bay: the plan as it is saved, and what was done of it.

    Attributes:
        opened: The plan.
        record: What was done.
        stage: The step, judged.
        reader: Who reads it.
        numbers: Numbers of the plan's sheet.
        read: What was read in it, judged.
    """

    opened: Open
    record: WorkRecord
    stage: StageAssessment
    reader: Reader
    numbers: SheetNumbers
    read: ReadStep

    @property
    def name(self) -> str:
        """Name of the step."""
        return self.stage.state.name

    @property
    def number(self) -> str:
        """Number of the plan's sheet."""
        return self.numbers.now

    @property
    def is_in_doubt(self) -> bool:
        """Whether what was read cannot be told, by the record: then nothing holds for certain."""
        return bool(record_doubt(self.opened.plan.draft.job, self.record))

    @property
    def from_bay(self) -> tuple[Finding, ...]:
        """What the work at the bay adds to what is planned in this step."""
        return bay_findings(self.opened.plan, self.opened.do, self.record)[self.stage.state.index]

    @property
    def parts(self) -> list[tuple[WorkPart, list[WorkLine]]]:
        """What there is to do, each line with its tick; after a stop point nothing is open before all of it is done."""
        since = self.record.since_moved
        otherwise = self.read.to_answer_for
        parts = [
            *([MOVED] if since is not None else []),
            *([WorkPart("Read otherwise than planned", otherwise, stops=True)] if otherwise else []),
            *work_list(self.opened.plan.draft.job, self.stage, self.reader),
        ]
        told, open_ = [], self.may_go_on
        learnt = learnt_lines(self.opened.plan.draft.job, self.record, self.reader)
        meant = meant_by(line for part in parts for line in part.lines)
        for part in parts:
            done = (since if part is MOVED and since is not None else self.record).ticked(self.name, meant)
            lines = [WorkLine(words, words in done, open_) for words in part.lines if words not in learnt]
            told.append((part, lines))
            open_ = open_ and not (part.stops and not all(line.ticked for line in lines))
        return told

    @property
    def may_go_on(self) -> bool:
        """Whether anything may be done in this step: it is no stop, nor by what was read, and those before are done."""
        return self.stage.verdict is not Verdict.STOP and not self.read.stops and not self.earlier

    @property
    def earlier(self) -> str:
        """Name of the first step before this one that is not done; "" where all are."""
        stages = self.opened.plan.draft.assessment.stages[: self.stage.state.index]
        return next((each.state.name for each in stages if not _is_done(self.opened, self.record, each)), "")

    @property
    def stops_later(self) -> StageAssessment | None:
        """The first step after this one that is a stop: who sets a unit down should know that it cannot be finished."""
        later = self.opened.plan.draft.assessment.stages[self.stage.state.index + 1 :]
        return next((each for each in later if each.verdict is Verdict.STOP), None)

    @property
    def done(self) -> bool:
        """Whether the step was said to be done, and nothing in it is open since."""
        said = any(each.step == self.name and each.deed is Deed.STEP_DONE for each in self.record.entries)
        return said and not self.read.stops and all(line.ticked for _, lines in self.parts for line in lines)

    @property
    def is_complete(self) -> bool:
        """Whether all of it is ticked."""
        return self.may_go_on and all(line.ticked for _, lines in self.parts for line in lines)


def bay_step(opened: Open, asked: str) -> BayStep:
    """Look at a step as it stands.

    Args:
        opened: The plan.
        asked: The step's number from 0; "" for the first that is not done.

    Returns:
        The step.

    Raises:
        RefusedError: If the plan is not as it is saved, or there is no such step.
    """
    plan = opened.plan
    if names := " and ".join(printable(path.name) for path in plan.changed_on_disk()):
        raise RefusedError(f"{names} changed on the disk. Read it again on the plan's page, then go on at the bay.")
    if plan.unsaved or plan.draft.what_if:
        raise RefusedError(
            "The plan has changes that are not saved, or something is tried out: save it, or take it back."
        )
    record, assessment = read_record(plan.path), plan.draft.assessment
    names_of = [stage.state.name for stage in assessment.stages]
    reader = reader_of(assessment.job, units_of(assessment.job))
    if asked == "":
        left = (place for place, each in enumerate(assessment.stages) if not _is_done(opened, record, each))
        index = next(left, len(names_of) - 1)
    elif asked.isascii() and asked.isdecimal() and len(asked) < 6 and int(asked) < len(names_of):
        index = int(asked)
    else:
        raise RefusedError("Not kept: there is no such step in the plan. Load the page again.")
    read = judged_step(plan, opened.do, record, assessment.stages[index])
    return BayStep(opened, record, assessment.stages[index], reader, sheet_numbers(assessment.job, record), read)


def _is_done(opened: Open, record: WorkRecord, stage: StageAssessment) -> bool:
    """Return whether a step was said to be done, all that the plan has in it now is ticked, and no reading stops it."""
    name, job = stage.state.name, opened.plan.draft.job
    if not any(each.step == name and each.deed is Deed.STEP_DONE for each in record.entries):
        return False
    read, reader = judged_step(opened.plan, opened.do, record, stage), reader_of(job, units_of(job))
    lines = {line for part in work_list(job, stage, reader) for line in part.lines}
    ticked = record.ticked(name, meant_by(lines))
    return not read.stops and ticked >= {*read.to_answer_for, *lines - learnt_lines(job, record, reader)}

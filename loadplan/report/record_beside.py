"""The record beside a job, as `check` counts it: what was read at the bay, and what is to be known of it."""

from dataclasses import dataclass, field
from pathlib import Path

from loadplan.assess import told_from
from loadplan.files.work_record_file import record_or_why
from loadplan.model.job import Job
from loadplan.model.verdict import Assessment
from loadplan.model.work_record import WorkRecord
from loadplan.planning.record_verdict import findings_of, with_findings


@dataclass(frozen=True, slots=True)
class RecordBeside:
    """The record that lies beside a job.

    Attributes:
        record: What was done; nothing where there is none.
        says: How it bears on the job's page, a sentence each; that it cannot be read.
    """

    record: WorkRecord = field(default_factory=WorkRecord)
    says: tuple[str, ...] = ()

    def judged(self, planned: Assessment, first: int = 0) -> Assessment:
        """Judge a job with what was read at the bay.

        Args:
            planned: The job, judged as it is planned.
            first: Number of the first step that is not done yet, from 0.

        Returns:
            The worse of the plan's verdict and that with the readings; what was read in a step that is done stands
            there yet, so it counts from whichever step on is asked.
        """
        return with_findings(told_from(planned, first), findings_of(planned, self.record))


def record_beside(path: Path, job: Job) -> RecordBeside:
    """Read the record beside a job.

    Args:
        path: The job file.
        job: The job.

    Returns:
        It; a record that cannot be read hides no verdict, and is told.
    """
    record = record_or_why(path)
    if record.tells_nothing:
        return RecordBeside()
    # Most jobs have no record.
    from loadplan.report.sheet.sheet_number import sheet_numbers  # noqa: PLC0415
    from loadplan.report.words.record_words import check_words  # noqa: PLC0415

    return RecordBeside(record, check_words(job, record, sheet_numbers(job, record)))

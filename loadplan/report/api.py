"""What Python callers get: a job checked, with or without what was read at the bay, as verdict and machine output."""

from dataclasses import dataclass
from pathlib import Path

from loadplan.assess import assess
from loadplan.files import read_job
from loadplan.model.job import Job
from loadplan.model.verdict import Assessment
from loadplan.report.json_output import Plain, to_dict
from loadplan.report.record_beside import record_beside
from loadplan.report.words.number_format import units_of


@dataclass(frozen=True, slots=True)
class Report:
    """A checked job.

    Attributes:
        assessment: The job, computed and judged: what every report is made of.
        record: How the record of the work bears on it, a sentence each; none where it was not looked at.
    """

    assessment: Assessment
    record: tuple[str, ...] = ()

    @property
    def verdict(self) -> str:
        """The verdict: "holds", "caution" or "stop"."""
        return self.assessment.verdict.words

    def to_dict(self) -> dict[str, Plain]:
        """Return the machine output, as `loadplan check --json` prints it: mm, kg, N, degrees."""
        told = to_dict(self.assessment, units_of(self.assessment.job))
        return {**told, "record": list(self.record)} if self.record else told


def check(job: Job) -> Report:
    """Check a job as it is planned, stage by stage.

    What was read at the bay since lies in the record beside the job's file, and does not count here: the verdict may
    be milder than that of `loadplan check`, which counts it. `check_file` does, too.

    Args:
        job: The job, as `read_job` returns it.

    Returns:
        Verdict of the plan alone, and everything behind it.
    """
    return Report(assess(job))


def check_file(path: str | Path) -> Report:
    """Check the job of a file with what was read at the bay, as `loadplan check` does.

    Args:
        path: The job's file; the record of the work lies beside it, or there is none.

    Returns:
        The worse of the plan's verdict and that with the readings, and everything behind it. A record that cannot be
        read hides no verdict, and is told.

    Raises:
        InputError: If the job cannot be used.
    """
    job = read_job(path)
    done = record_beside(Path(path), job)
    return Report(done.judged(assess(job)), done.says)

"""What Python callers get: a job checked, as verdict and as the machine output."""

from dataclasses import dataclass

from loadplan.assess import assess
from loadplan.model.job import Job
from loadplan.model.verdict import Assessment
from loadplan.report.json_output import Plain, to_dict
from loadplan.report.words.number_format import units_of


@dataclass(frozen=True, slots=True)
class Report:
    """A checked job.

    Attributes:
        assessment: The job, computed and judged: what every report is made of.
    """

    assessment: Assessment

    @property
    def verdict(self) -> str:
        """The verdict: "holds", "caution" or "stop"."""
        return self.assessment.verdict.words

    def to_dict(self) -> dict[str, Plain]:
        """Return the machine output, as `loadplan check --json` prints it: mm, kg, N, degrees."""
        return to_dict(self.assessment, units_of(self.assessment.job))


def check(job: Job) -> Report:
    """Check a job, stage by stage.

    Args:
        job: The job, as `read_job` returns it.

    Returns:
        Verdict and everything behind it.
    """
    return Report(assess(job))

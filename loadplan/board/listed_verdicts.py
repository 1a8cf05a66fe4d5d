"""What each job of the folder comes to, for the page without a job: judged one by one once the page is there."""

from dataclasses import dataclass, field
from pathlib import Path
from threading import Lock
from typing import NamedTuple

from loadplan.board.draft import today
from loadplan.board.early_judging import judged
from loadplan.board.verdict_cells import Plain
from loadplan.board.worker_process import Doing, here
from loadplan.errors import InputError, printable
from loadplan.files import read_job
from loadplan.files.find_jobs import changed_at
from loadplan.files.work_record_file import record_or_why
from loadplan.model.job import Job
from loadplan.model.verdict import Verdict
from loadplan.model.weight_basis import poorest_basis
from loadplan.model.work_record import WorkRecord
from loadplan.planning.record_doubt import worse_by
from loadplan.planning.record_verdict import with_record
from loadplan.report.words.record_words import standing_words
from loadplan.report.words.vocabulary import shown_verdict

MOST_KEPT = 300
"""Most verdicts that are kept: as many files as are shown."""


class _Listed(NamedTuple):
    """What was judged last of a file, and what came of it: by its plan alone, and with what was read at the bay."""

    job: Job
    record: WorkRecord
    planned: Verdict
    verdict: Verdict


@dataclass(slots=True)
class ListedVerdicts:
    """Judges the jobs of a folder, each again only where the job is another one by now.

    Attributes:
        do: Does what takes long: judging.
    """

    do: Doing = here
    _known: dict[Path, _Listed] = field(default_factory=dict)
    _turn: Lock = field(default_factory=Lock)

    def told(self, path: Path) -> dict[str, Plain]:
        """Tell what the file of a job comes to as it is on the disk; what a window has not saved does not count.

        Args:
            path: The file.

        Returns:
            The verdict in words, with what was read at the bay, for which day, when the file was last changed, and
            where the job stands if work has begun; why there is none, where it cannot be used.
        """
        try:
            changed = changed_at(path.stat().st_mtime).date()
            job = read_job(path)
            record = record_or_why(path)
            listed = self._listed(path, job, record)
        except InputError as error:
            return {"key": "note", "says": f"Not judged: {str(error).splitlines()[0]}"}
        except OSError:
            return {"key": "note", "says": "Not judged: the file cannot be read."}
        day = "today" if job.date == today() else job.date.isoformat()
        by = f", {worse_by(job, record, listed.verdict)}" if listed.verdict > listed.planned else ""
        says = f"{shown_verdict(listed.verdict, poorest_basis(job))}{by}, for {day}; file changed {changed.isoformat()}"
        return {"key": listed.verdict.name.lower(), "says": says + _standing(job, record)}

    def _listed(self, path: Path, job: Job, record: WorkRecord) -> _Listed:
        # One at a time: a plan that somebody opens meanwhile waits for one of these at most.
        with self._turn:
            known = self._known.get(path)
            if known is None or (known.job, known.record) != (job, record):
                if len(self._known) >= MOST_KEPT:
                    self._known.clear()
                self._known[path] = known = _Listed(job, record, *self.do(judged_with, job, record))
            return known


def judged_with(job: Job, record: WorkRecord) -> tuple[Verdict, Verdict]:
    """Judge a job by its plan alone, and with what was read at the bay.

    Args:
        job: The job.
        record: What was done of it.

    Returns:
        The two verdicts; the second is never milder.
    """
    planned = judged(job)
    return planned.verdict, with_record(planned, record).verdict


def _standing(job: Job, record: WorkRecord) -> str:
    """Return where a job stands, behind what is told of its file; "" where work has not begun."""
    if record.unreadable:
        return "; its record cannot be read"
    standing = record.standing
    return f"; {printable(standing_words(standing, [each.name for each in job.stages]))}" if standing else ""

"""What each job of the folder comes to, for the page without a job: judged one by one once the page is there."""

from dataclasses import dataclass, field
from pathlib import Path
from threading import Lock

from loadplan.board.draft import today
from loadplan.board.early_judging import judged
from loadplan.board.verdict_cells import Plain
from loadplan.board.worker_process import Doing, here
from loadplan.errors import InputError
from loadplan.files import read_job
from loadplan.files.find_jobs import changed_at
from loadplan.model.job import Job
from loadplan.model.verdict import Verdict
from loadplan.model.weight_basis import poorest_basis
from loadplan.report.words.vocabulary import shown_verdict

MOST_KEPT = 300
"""Most verdicts that are kept: as many files as are shown."""


@dataclass(slots=True)
class ListedVerdicts:
    """Judges the jobs of a folder, each again only where the job is another one by now.

    Attributes:
        do: Does what takes long: judging.
    """

    do: Doing = here
    _known: dict[Path, tuple[Job, Verdict]] = field(default_factory=dict)
    _turn: Lock = field(default_factory=Lock)

    def told(self, path: Path) -> dict[str, Plain]:
        """Tell what the file of a job comes to as it is on the disk; what a window has not saved does not count.

        Args:
            path: The file.

        Returns:
            The verdict in words, for which day, and when the file was last changed; why there is none, where it cannot
            be used.
        """
        try:
            changed = changed_at(path.stat().st_mtime).date()
            job = read_job(path)
            verdict = self._verdict(path, job)
        except InputError as error:
            return {"key": "note", "says": f"Not judged: {str(error).splitlines()[0]}"}
        except OSError:
            return {"key": "note", "says": "Not judged: the file cannot be read."}
        day = "today" if job.date == today() else job.date.isoformat()
        says = f"{shown_verdict(verdict, poorest_basis(job))}, for {day}; file changed {changed.isoformat()}"
        return {"key": verdict.name.lower(), "says": says}

    def _verdict(self, path: Path, job: Job) -> Verdict:
        # One at a time: a plan that somebody opens meanwhile waits for one of these at most.
        with self._turn:
            known = self._known.get(path)
            if known is None or known[0] != job:
                if len(self._known) >= MOST_KEPT:
                    self._known.clear()
                self._known[path] = known = job, self.do(judged, job).verdict
            return known[1]

"""Judging that begins before the server is loaded, in the process that judges."""

from contextlib import suppress
from dataclasses import dataclass
from functools import lru_cache
from importlib import import_module
from pathlib import Path
from threading import Thread

from loadplan.assess import assess_as_it_is
from loadplan.board.garbage_collection import keep_what_is_loaded
from loadplan.board.worker_process import WorkerProcess
from loadplan.errors import InputError
from loadplan.files import read_job
from loadplan.model.job import Job
from loadplan.model.verdict import Assessment

DRAWS = "loadplan.report.pictures.render"
FONTS = "loadplan.report.drawing.font_measure"


@dataclass(frozen=True, slots=True)
class Workers:
    """The processes of the live plan.

    Attributes:
        judging: Does what a window waits for.
        printing: Does what may take longer.
    """

    judging: WorkerProcess
    printing: WorkerProcess

    def end(self) -> None:
        """End both, whatever they do."""
        self.judging.end()
        self.printing.end()


def begun(path: Path | None) -> Workers:
    """Start the processes of the live plan, and let one judge what is shown first.

    To be called before this program starts threads, and before it listens.

    Args:
        path: The job file, None for the start page.

    Returns:
        The processes.
    """
    workers = Workers(WorkerProcess(), WorkerProcess())
    workers.judging.start()
    workers.printing.start()
    workers.judging.begin(judge_ahead, path)
    return workers


def judge_ahead(path: Path | None) -> None:
    """Judge a job, and begin to load what draws it, so that both are there when they are asked for.

    Args:
        path: The job file, None for none yet. What is wrong with it is told by whoever opens it.
    """
    if path is not None:
        with suppress(InputError, OSError):
            judged(read_job(path))
    # Beside what is asked next: that is what the job comes to, and it is fetched and told while this loads.
    Thread(target=_load_what_draws, daemon=True).start()


def _load_what_draws() -> None:
    import_module(DRAWS)
    import_module(FONTS)
    keep_what_is_loaded()


@lru_cache(maxsize=4)
def judged(job: Job) -> Assessment:
    """Judge a job, of the last few once: the one that was judged ahead, and what undo goes back to.

    Args:
        job: The job; two are one if nothing in them differs.

    Returns:
        What it comes to, each step by itself.
    """
    return assess_as_it_is(job)

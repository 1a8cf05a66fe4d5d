"""What a reader is told of the lift's locks beside a window of heights: that none lies there, or that nobody knows."""

from loadplan.checks.lock_window import LockDoubt, lock_doubt
from loadplan.model.job import Job
from loadplan.model.verdict import StageAssessment
from loadplan.report.words.vocabulary import Reader


def lock_words(job: Job, stage: StageAssessment, reader: Reader) -> str:
    """Tell why the lift may not stand on its locks in the window in which a step sets something down.

    Args:
        job: The job.
        stage: The step, judged.
        reader: Who reads it.

    Returns:
        A sentence behind a blank, "" where one of the locks lies there, or none is wanted.
    """
    doubt = lock_doubt(job, stage.state, stage.statics.set_down)
    if job.lift is None or doubt is LockDoubt.NONE:
        return ""
    if doubt is LockDoubt.UNKNOWN:
        return " Whether a lock of the lift lies there is not known."
    return f" The lift's locks are {reader.length(job.lift.lift.lock_step or 0.0)} apart: hardly one lies there."

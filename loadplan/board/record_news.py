"""What a page has to know of the record of the work: whether it is another one by now, and whether something moved."""

from pathlib import Path
from typing import NamedTuple

from loadplan.board.changed_files import contents_of
from loadplan.files.record_length import length_path
from loadplan.files.work_record_file import record_or_why, record_path
from loadplan.planning.record_doubt import moved_words


class RecordNews(NamedTuple):
    """What is told of a record.

    Attributes:
        state: A sum of what stands in it now.
        moved: Whether something moved, and was not looked at since.
    """

    state: str = ""
    moved: bool = False


NO_NEWS = RecordNews()


def record_state(job: Path) -> str:
    """Return a sum of what stands in the record of a job, and beside it about its length.

    Args:
        job: The job file.

    Returns:
        The sum; another one whenever something is kept.
    """
    record = record_path(job)
    return ".".join(content.hex()[:16] for content in contents_of((record, length_path(record))).values())


def record_news(job: Path, before: RecordNews) -> RecordNews:
    """Look at the record of a job.

    Args:
        job: The job file.
        before: What was told last: what did not change since is not read again.

    Returns:
        What is to be told of it now.
    """
    state = record_state(job)
    return before if state == before.state else RecordNews(state, bool(moved_words(record_or_why(job))))

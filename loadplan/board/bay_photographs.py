"""Photographs at the bay: which lie in the folder, and one that is sent or tapped, hung on a step."""

from pathlib import Path
from typing import NamedTuple

from loadplan.board.bay_entries import entries_of
from loadplan.board.bay_step import BayStep
from loadplan.errors import InputError
from loadplan.files.photograph_file import (
    content_sum,
    folder_photographs,
    keep_photograph,
    photograph_content,
    small_picture,
)
from loadplan.files.work_record_file import add_to_record
from loadplan.model.photograph import HungPhotograph
from loadplan.model.work_record import Deed

MOST_SHOWN = 12
"""Most photographs of the folder that can be tapped: the newest, since one that is hung was taken just now."""


class PhotographChoice(NamedTuple):
    """A photograph that can be tapped: its file, and when it was taken."""

    name: str
    at: str


def choices(step: BayStep) -> list[PhotographChoice]:
    """List the newest photographs of the job's folder that do not hang on a step yet.

    Args:
        step: The step that is shown.

    Returns:
        At most as many as are shown; none where the folder cannot be read.
    """
    hung = {each.words for each in step.record.entries if each.deed is Deed.PHOTOGRAPHED}
    try:
        found = folder_photographs(step.opened.plan.path.parent)
    except OSError:
        return []
    left = [each for each in found if each.name not in hung]
    return [PhotographChoice(each.name, f"{each.at:%Y-%m-%d %H:%M}") for each in left[:MOST_SHOWN]]


def looked_into(folder: Path, name: str) -> HungPhotograph:
    """Look into a photograph of a folder.

    Args:
        folder: The folder.
        name: Its file.

    Returns:
        It, as a record names it.

    Raises:
        InputError: If it is none, or lies elsewhere.
    """
    content = photograph_content(folder, name)
    small_picture(content)
    return HungPhotograph(name, content_sum(content))


def hang(step: BayStep, content: bytes, who: str) -> None:
    """Keep a photograph that was sent beside the job, and hang it on a step; when this returns both are on the disk.

    Args:
        step: The step.
        content: The photograph, made anew.
        who: Who works there.

    Raises:
        InputError: If nobody gave a name, or the record takes no more; then the file is not there either.
        OSError: If it cannot be written; the same then.
    """
    path = step.opened.plan.path
    # Asked before anything is written: what is refused leaves no file.
    at = entries_of(step, {}, who, HungPhotograph("", ""))[-1].at
    kept = keep_photograph(path, content, at)
    try:
        add_to_record(path, *entries_of(step, {}, who, kept))
    except (InputError, OSError):
        path.with_name(kept.name).unlink(missing_ok=True)
        raise

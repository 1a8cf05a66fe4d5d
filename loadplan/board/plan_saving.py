"""Saving on the page: what changes is told in words and in lines first, and where it clashes what both changed."""

from pathlib import Path

from starlette.responses import JSONResponse, Response

from loadplan.board.draft import Draft, changed_lines
from loadplan.board.file_names import job_file
from loadplan.board.job_differences import Difference, differences
from loadplan.board.line_merge import merged
from loadplan.board.open_plans import Open
from loadplan.board.refusals import RefusedError
from loadplan.board.request_schema import Saving
from loadplan.board.tried_masses import WhatIf
from loadplan.board.undo_history import Conflict
from loadplan.board.verdict_cells import Plain
from loadplan.errors import InputError
from loadplan.report.words.number_format import units_of
from loadplan.report.words.vocabulary import Reader, reader_of

AS_WRITTEN = "Only how it is written: see the lines"


def saved(opened: Open, saving: Saving) -> Response:
    """Save a plan, once what that changes was seen.

    Args:
        opened: The plan.
        saving: What the page says.

    Returns:
        What saving changes, or what was written; where it clashes, what both changed.
    """
    plan = opened.plan
    target = job_file(plan.path.parent, saving.name) if saving.name not in {"", plan.path.name} else None
    if target is None and (conflict := plan.conflict()):
        return _clash(opened, conflict)
    if not saving.sure:
        return _asked(opened, target or plan.path)
    if target:
        plan.save_as(target)
    else:
        plan.save()
    told = opened.changed(saving.view, f"Saved: {plan.path.name}.")
    return JSONResponse({"saved": plan.path.name, "screen": told})


def take_both(opened: Open) -> None:
    """Put what a window changed into the file as somebody else changed it, not saved yet.

    Args:
        opened: The plan.

    Raises:
        RefusedError: If the file is as it was read, or both touch.
    """
    conflict = opened.plan.conflict()
    if conflict is None:
        raise RefusedError("The file is as it was read: save.")
    if not _apart(conflict, *_told(opened, conflict)):
        raise RefusedError("Both changed the same thing: save yours under another name, or read the file anew.")
    opened.plan.take_both()


def _asked(opened: Open, target: Path) -> Response:
    """Return what saving changes in a file."""
    plan, reader = opened.plan, _reader(opened)
    words = _words(_differences(opened, plan.as_read(), plan.draft.text, reader), plan.as_read() != plan.draft.text)
    lines = changed_lines(plan.as_read(), plan.draft.text)
    told: dict[str, Plain] = {"ask": True, "words": [*words], "changes": [*lines], "name": target.name}
    return JSONResponse(told)


def _clash(opened: Open, conflict: Conflict) -> Response:
    """Return what both changed in a file, in words and in lines, and whether both can be taken."""
    name = opened.plan.path.name
    try:
        yours, theirs = _told(opened, conflict)
        both, words = _apart(conflict, yours, theirs), _words(theirs, conflict.theirs != conflict.read)
    except InputError as error:
        yours, both = _differences(opened, conflict.read, conflict.yours, _reader(opened)), False
        why = f"It cannot be used as it is now: {str(error).splitlines()[0]}"
        words = [why if opened.plan.path.exists() else "It is not there any more."]
    told: dict[str, Plain] = {
        "conflict": True,
        "yours": [*changed_lines(conflict.read, conflict.yours)],
        "theirs": [*changed_lines(conflict.read, conflict.theirs)],
        "yours_words": [*_words(yours, conflict.yours != conflict.read)],
        "theirs_words": [*words],
        "both": both,
        "says": f"{name} was changed by somebody else since it was read. It is not written over.",
    }
    return JSONResponse(told, 409)


def _told(opened: Open, conflict: Conflict) -> tuple[tuple[Difference, ...], tuple[Difference, ...]]:
    """Return what you changed, and what somebody else did."""
    reader = _reader(opened)
    yours = _differences(opened, conflict.read, conflict.yours, reader)
    return yours, _differences(opened, conflict.read, conflict.theirs, reader)


def _apart(conflict: Conflict, yours: tuple[Difference, ...], theirs: tuple[Difference, ...]) -> bool:
    """Return whether nothing that you changed touches what somebody else did: neither a thing nor a line."""
    mine = {each.subject for each in yours}
    if any(each.subject in mine for each in theirs):
        return False
    return merged(conflict.read, conflict.yours, conflict.theirs) is not None


def _differences(opened: Open, before: str, after: str, reader: Reader) -> tuple[Difference, ...]:
    """Return what two texts of a plan differ in."""
    path = opened.plan.path
    was, now = (Draft(path, text, WhatIf()).given for text in (before, after))
    return differences(was, now, reader)


def _words(told: tuple[Difference, ...], differs: object) -> list[str]:
    """Return differences as sentences; what has no bearing on the job is told to be only written otherwise."""
    return [f"{each.says}." for each in told] or ([f"{AS_WRITTEN}."] if differs else [])


def _reader(opened: Open) -> Reader:
    job = opened.plan.draft.job
    return reader_of(job, opened.units or units_of(job))

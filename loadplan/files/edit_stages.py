"""Changing the steps of a job file, one at a time: added, named, moved, and what happens in them."""

from typing import NamedTuple

from loadplan.files.job_file import JobFile
from loadplan.files.toml_edit import Added, Change, Dropped, Edit, Swapped, quoted


class OppositeKeys(NamedTuple):
    """Two lists of a step that undo each other.

    Attributes:
        here: Names in it come into a state from this step on.
        back: Names in it come out of that state again.
    """

    here: str
    back: str

    @property
    def reversed(self) -> "OppositeKeys":
        """The same, the other way round."""
        return OppositeKeys(self.back, self.here)


OFF, UNDONE, IN_PLACE = (
    OppositeKeys("off", "on"),
    OppositeKeys("undone", "done_up"),
    OppositeKeys("in_place", "cleared"),
)
"""Parts taken off, joints undone, supports put in place."""


def toggled(file: JobFile, name: str, stage: int, keys: OppositeKeys) -> list[Edit]:
    """Bring something into a state from a stage on that it is not in yet.

    What comes out of that state in the very stage, and is wanted in it, comes out in the next one instead: what later
    stages do may need that.

    Args:
        file: The job file.
        name: Name of the part, joint or support.
        stage: Number of the stage, from 0.
        keys: The lists; "here" is the one that brings it in.

    Returns:
        The edits.
    """
    tables = file.stages.tables
    here, back = keys
    if name not in getattr(tables[stage], back):
        edits: list[Edit] = [listed(stage, here, [*getattr(tables[stage], here), name])]
        return [*edits, *_not_again(file, name, stage, keys)]
    edits = [listed(stage, back, [each for each in getattr(tables[stage], back) if each != name])]
    later = stage + 1
    if keys.here in FORWARD or later == len(tables):
        return edits
    if name in getattr(tables[later], here):
        return [*edits, listed(later, here, [each for each in getattr(tables[later], here) if each != name])]
    return [*edits, listed(later, back, [*getattr(tables[later], back), name])]


FORWARD = frozenset((OFF.here, UNDONE.here, IN_PLACE.here))
"""Lists that a job goes through first."""


def _not_again(file: JobFile, name: str, stage: int, keys: OppositeKeys) -> list[Edit]:
    """Return what keeps the next later stage that names something from doing what was done to it already."""
    for number, later in enumerate(file.stages.tables[stage + 1 :], stage + 1):
        if name in getattr(later, keys.here) or name in getattr(later, keys.back):
            names = getattr(later, keys.here)
            return [listed(number, keys.here, [each for each in names if each != name])] if name in names else []
    return []


def listed(stage: int, key: str, names: list[str]) -> Change:
    """Give a stage's list other names.

    Args:
        stage: Number of the stage, from 0.
        key: Name of the list.
        names: What stands in it; an empty one is left out.

    Returns:
        The edit.
    """
    return Change("stage", stage, key, f"[{', '.join(map(quoted, names))}]" if names else None)


def step_added(name: str, after: int) -> list[Edit]:
    """Add a step in which nothing happens yet.

    Args:
        name: Its name.
        after: Number of the step before it, from 0.

    Returns:
        The edits.
    """
    return [Added("stage", (("name", quoted(name)),), after)]


def step_named(stage: int, name: str) -> list[Edit]:
    """Give a step another name.

    Args:
        stage: Number of the stage, from 0.
        name: The name.

    Returns:
        The edits.
    """
    return [Change("stage", stage, "name", quoted(name))]


def step_moved(stage: int, by: int) -> list[Edit]:
    """Exchange a step with the one before or behind it.

    Args:
        stage: Number of the stage, from 0.
        by: -1 for the one before, 1 for the one behind.

    Returns:
        The edits.
    """
    return [Swapped("stage", stage if by > 0 else stage - 1)]


def step_removed(stage: int) -> list[Edit]:
    """Take a step out, with what happens in it.

    Args:
        stage: Number of the stage, from 0.

    Returns:
        The edits.
    """
    return [Dropped("stage", stage)]

"""What came of a second solution: how many numbers were solved twice, and how far apart they are at most."""

from collections.abc import Sequence

from loadplan.errors import printable
from loadplan.model.job import Job
from loadplan.statics.recheck import APART, Compared

BOUNDS = ("least ever", "most ever")


def recheck_page(job: Job, found: Sequence[Compared]) -> str:
    """Tell what came of a second solution.

    Args:
        job: The job.
        found: Every number, twice.

    Returns:
        A line; where two are too far apart, a line each for the worst ten of them, too.
    """
    if not found:
        return "Rechecked: there is no load to solve again.\n"
    bounds = sum(each.what in BOUNDS for each in found)
    widest = max(each.apart for each in found)
    lines = [
        f"Rechecked by scipy: {len(found) - bounds} loads and mount forces, {bounds} bounds; "
        f"at most {widest:.0e} of the weight apart.\n"
    ]
    wrong = sorted((each for each in found if each.apart > APART), key=lambda each: -each.apart)
    if wrong:
        lines.append(f"DO NOT USE THIS PLAN: {len(wrong)} are more than {APART:.0e} of the weight apart. The worst:\n")
    for each in wrong[:10]:
        step, subject = printable(job.stages[each.stage].name), printable(each.subject)
        lines.append(f"  {step}, {subject}, {each.what}: {_newtons(each.told)} told, {_newtons(each.again)} again\n")
    return "".join(lines)


def agrees(found: Sequence[Compared]) -> bool:
    """Tell whether both solutions agree.

    Args:
        found: Every number, twice.

    Returns:
        Whether none is further apart than rounding explains.
    """
    return all(each.apart <= APART for each in found)


def _newtons(force: float | None) -> str:
    return "no end" if force is None else f"{force:.3f} N"

"""Other order: whether what is wrong on the way of parts that come off as listed would be better in another order.

Two alike parts at opposite ends tip a unit whichever of them comes off first: then nobody is to look for an order.
"""

from collections.abc import Callable
from dataclasses import replace
from itertools import islice
from typing import NamedTuple

from loadplan.limits import Limits
from loadplan.model.answer import Between
from loadplan.model.job import Job, State
from loadplan.statics.listed_order import states_in_another_order
from loadplan.statics.passage import Seen
from loadplan.statics.unsolved import UNSOLVED

MOST_TRIED = 8
"""Most states of other orders that are looked at for one on the way; of more, another order counts as better."""

SAME = 1e-6
"""What differs by less [m, rad] is the same on both sides of a unit that is alike on both."""


class _Stands(NamedTuple):
    """How a body stands: 2 over its whole tolerance, 1 as given, 0 not; its worst margin [m] and tip angle [rad]."""

    holds: int
    margin: float | None
    tilt: float | None

    def is_near(self, limits: Limits) -> bool:
        """Return whether it goes over, or is nearer to that than is asked for."""
        return self.holds < 2 or _is_less(self.margin, limits.margin) or _is_less(self.tilt, limits.tip_angle)

    def is_better(self, other: "_Stands") -> bool:
        """Return whether it stands better than another."""
        if self.holds != other.holds:
            return self.holds > other.holds
        return _is_more(self.margin, other.margin) or _is_more(self.tilt, other.tilt)


def with_other_order(job: Job, ends: tuple[State, State], there: Between, look: Callable[[State], Seen]) -> Between:
    """Say of a state on the way whether another order of the parts may be better than the listed one.

    Args:
        job: The job.
        ends: The stage before, or the job untouched, and the stage.
        there: The state.
        look: Solves a state as a glance does.

    Returns:
        The same with that; it is not better where nothing is wrong, or where parts come off in any order anyhow.
    """
    if ends[1].stage.any_order:
        return there
    near = {
        body.name: stands
        for body in there.statics.bodies
        if (
            stands := _stands(
                (body.balanced, there.statics.group_of(body.name).robust), (body.worst_margin, body.tip_angle)
            )
        ).is_near(job.limits)
    }
    return replace(there, other_order=bool(near) and _is_any_better(job, ends, (there.state, near), look))


def _is_any_better(
    job: Job, ends: tuple[State, State], here: tuple[State, dict[str, _Stands]], look: Callable[[State], Seen]
) -> bool:
    """Return whether any body that stands poorly would stand better with another part off."""
    state, near = here
    others = states_in_another_order(job, *ends, state)
    try:
        for other in islice(others, MOST_TRIED):
            found = _figures(look(other))
            if any(name not in found or found[name].is_better(stands) for name, stands in near.items()):
                return True
    except UNSOLVED:
        return True
    return next(others, None) is not None


def _figures(seen: Seen) -> dict[str, _Stands]:
    return {
        name: _stands((each.answer.balanced, each.answer.robust), (each.worst_margins[number], each.tip_angles[number]))
        for frame, each in seen
        for number, names in enumerate(frame.wholes)
        for name in names
    }


def _stands(holds: tuple[bool, bool], figures: tuple[float | None, float | None]) -> _Stands:
    return _Stands(sum(holds), *figures)


def _is_less(value: float | None, asked: float) -> bool:
    return value is not None and value < asked


def _is_more(value: float | None, other: float | None) -> bool:
    """Return whether a figure is more than another; without one nothing can tip."""
    return other is not None and (value is None or value > other + SAME)

"""How much a search for layouts may look at: counted in steps of layouts, so that it ends alike on any machine."""

from collections.abc import Callable
from dataclasses import dataclass
from math import inf
from time import process_time

JUDGED = 1.0
"""What judging one step of a layout in full costs."""

GLANCED = 0.25
"""What a glance at one step costs of that; measured."""

COMPARED = 0.03
"""What one step costs without lean and findings; measured."""

MOST_SHARED_OUT = 100
"""Ways to share out equipment that are looked at for one choice of points."""


@dataclass(frozen=True, slots=True)
class SearchLimits:
    """What bounds a search.

    Attributes:
        work: Steps of layouts that may be judged in all; infinite where nothing bounds the search.
        sharings: Ways to share out equipment that are looked at for one choice of points.
        until: Processor time of this program [s] at which it ends even so: some jobs cost far more a step than usual.
        clock: Tells that time [s].
    """

    work: float = inf
    sharings: int = MOST_SHARED_OUT
    until: float = inf
    clock: Callable[[], float] = process_time


@dataclass(slots=True)
class SearchWork:
    """What one search may still look at.

    Attributes:
        limits: What bounds all searches together.
        left: Steps of layouts that this one may still judge.
        cut: Whether something was left out for want of work.
    """

    limits: SearchLimits
    left: float
    cut: bool = False

    @property
    def bounded(self) -> bool:
        """Whether the work is bounded at all."""
        return self.limits.work < inf

    @property
    def spent(self) -> bool:
        """Whether nothing may be looked at any more."""
        return self.left <= 0 or (self.bounded and self.limits.clock() >= self.limits.until)

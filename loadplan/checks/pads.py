"""The pads of a lift, parted into front and rear ones."""

from dataclasses import dataclass
from statistics import fmean

from loadplan.model.job import Support


@dataclass(frozen=True, slots=True)
class Pads:
    """Mean x of the pads at the front and at the rear of the vehicle [m]."""

    front: float
    rear: float

    def end_of(self, x: float) -> str:
        """Return the end, "front" or "rear", whose pads are nearer to a place [m]."""
        return "front" if self.front - x < x - self.rear else "rear"


def pads_of(arms: tuple[Support, ...]) -> Pads | None:
    """Part the pads of a lift into front and rear ones.

    Args:
        arms: Its arms, at least one.

    Returns:
        Mean x of both; None where all lie in one line across.
    """
    places = [arm.at[0] for arm in arms]
    # Rounding may put the mean of pads in one line a hair behind them all.
    middle = max(fmean(places), min(places))
    front = [x for x in places if x > middle]
    rear = [x for x in places if x <= middle]
    return Pads(fmean(front), fmean(rear)) if front else None

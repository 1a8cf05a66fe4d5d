"""How high each saddle stands: set by a height, brought up to touch, or an arm of the lift.

A gap is how much lower a saddle is than the reference, relative to the body; the reference of a stage is
the highest of its set saddles.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from loadplan.model.answer import Motion
from loadplan.model.job import State, Support
from loadplan.model.shop import EquipmentKind


@dataclass(frozen=True, slots=True)
class Touch:
    """A saddle that was brought up to touch, and stays where it is.

    Attributes:
        gap: Its gap when it was put in place [m].
        reference: The reference then, None where no height was set.
    """

    gap: float
    reference: float | None

    def seen_from(self, reference: float | None) -> float:
        """Return its gap [m] against another stage's reference: the saddle itself has not moved."""
        if self.reference is None or reference is None:
            return self.gap
        return self.gap + self.reference - reference


def reference(state: State) -> float | None:
    """Return the smallest (point z − height − shim) of the supports with set heights [m]; None without any."""
    return min((depth for support in state.supports if (depth := _depth(support)) is not None), default=None)


def set_gap(support: Support, against: float | None) -> float | None:
    """Return the gap [m] of a support with a set height; None for one without."""
    depth = _depth(support)
    return None if depth is None or against is None else depth - against


def touch_gap(support: Support, motions: Mapping[str, Motion]) -> float:
    """Return the gap [m] at which a saddle just touches its body as it stands.

    Args:
        support: The support.
        motions: How each body stands; one that is not among them stands in the file's attitude.

    Returns:
        The gap; 0 for a hoist.
    """
    if support.equipment.kind is EquipmentKind.HOIST or support.body not in motions:
        return 0.0
    x, y, _ = support.at
    below = motions[support.on].up_at(x, y) if support.on in motions else 0.0
    return below - motions[support.body].up_at(x, y)


def _depth(support: Support) -> float | None:
    return None if support.set_height is None else support.at[2] - support.set_height

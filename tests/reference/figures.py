"""What the judge finds of one stage, and how its bodies stand."""

from dataclasses import dataclass, field
from typing import Any

from tests.reference import elastic
from tests.reference.elastic import Array
from tests.reference.exact import Frame, Ray
from tests.reference.giving_way import Corner
from tests.reference.scenes import Place, Seat


@dataclass
class Figures:
    """One stage. Bodies and supports are keys; what is not defined is absent. mm, N, degrees."""

    name: str
    groups: list[tuple[str, ...]] = field(default_factory=list)
    balanced: dict[str, bool] = field(default_factory=dict)
    robust: dict[str, bool] = field(default_factory=dict)
    stands_flat: dict[str, bool] = field(default_factory=dict)
    """Robust without the lean."""
    frames: dict[tuple[str, ...], Frame] = field(default_factory=dict)
    rays: dict[tuple[str, ...], list[Ray]] = field(default_factory=dict)
    weights: dict[tuple[str, ...], Array] = field(default_factory=dict)
    margin: dict[str, float] = field(default_factory=dict)
    worst_margin: dict[str, float] = field(default_factory=dict)
    tip_angle: dict[str, float] = field(default_factory=dict)
    sway: dict[str, float | None] = field(default_factory=dict)
    """None where a body's group goes over by its own lean."""
    lean: dict[str, tuple[float, float]] = field(default_factory=dict)
    corners: list[Corner] = field(default_factory=list)
    """What was followed of groups on soft supports."""
    sure: dict[str, bool] = field(default_factory=dict)
    """Whether what was followed of a body's group is judged: it is not where a saddle in the air may catch it."""
    every_corner: dict[str, bool] = field(default_factory=dict)
    """Whether the worst margin of a body reckons with every corner of unevenness; else it may be smaller."""
    gap: dict[str, float] = field(default_factory=dict)
    expected: dict[str, float] = field(default_factory=dict)
    force: dict[str, float] = field(default_factory=dict)
    motion: dict[str, Array] = field(default_factory=dict)
    motion_unique: dict[str, bool] = field(default_factory=dict)
    low: dict[str, float] = field(default_factory=dict)
    high: dict[str, float] = field(default_factory=dict)
    least: dict[str, float] = field(default_factory=dict)
    most: dict[str, float | None] = field(default_factory=dict)
    miss: dict[str, float] = field(default_factory=dict)
    offset: dict[str, Array] = field(default_factory=dict)
    snag: dict[tuple[str, str], float] = field(default_factory=dict)
    lost: dict[str, bool] = field(default_factory=dict)
    drop: dict[str, float] = field(default_factory=dict)
    drop_unique: dict[str, bool] = field(default_factory=dict)
    carried: dict[str, float] = field(default_factory=dict)
    parted_drop: dict[str, float] = field(default_factory=dict)
    set_down: Any = None
    """The set-down, as `lowering` tells it; None in other stages."""
    level: float = 0.0
    """How far the lift's arms are down from the file's attitude [mm]; they stay where a set-down left them."""


@dataclass(frozen=True)
class Asked:
    """How much is computed of the two slow figures.

    Attributes:
        corners_up_to: Most supports of a group for which every corner of unevenness is solved; above, no low and high.
        bounds: Whether the load bounds are computed.
    """

    corners_up_to: int = 7
    bounds: bool = True


EVERYTHING = Asked()
QUICK = Asked(corners_up_to=0, bounds=False)


def stood(before: Figures, seat: Seat) -> bool:
    return seat.body in before.motion and (not seat.on or seat.on in before.motion)


def rise(figures: Figures, seat: Seat) -> float:
    """Return how far a seat's place stands above the file's attitude, less that of what it stands on [mm]."""
    up = rise_at(figures.motion[seat.body], seat.at)
    return up - rise_at(figures.motion[seat.on], seat.at) if seat.on else up


def rise_at(motion: Array, at: Place) -> float:
    """Return w + rx·y − ry·x."""
    return float(motion[0] + motion[1] * at[1] - motion[2] * at[0])


def keep_motion(figures: Figures, frame: Frame, settled: elastic.Settled) -> None:
    for place, whole in enumerate(frame.wholes):
        for body in frame.scene.wholes[whole]:
            figures.motion[body] = settled.motion[3 * place : 3 * place + 3]
            figures.motion_unique[body] = settled.unique

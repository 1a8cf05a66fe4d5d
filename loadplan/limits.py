"""What is asked of a plan: each limit with its default, unit and source."""

from dataclasses import dataclass, field, fields
from math import radians

GRAVITY = 9.80665
"""Standard acceleration of free fall [m/s²] (3rd CGPM, 1901)."""

TAPE = 0.0001
"""Heights that differ by less [m] are the same: below what a tape shows."""


def _limit(default: float, unit: str, source: str) -> float:
    return field(default=default, metadata={"unit": unit, "source": source})


@dataclass(frozen=True, slots=True)
class Limits:
    """The limits of a job; each field carries its unit and source, see `source_of`.

    Example:
        >>> Limits().rating_share
        0.75
        >>> source_of("rating_share")
        'critical lift of cranes in steel erection, 29 CFR 1926.751, by analogy'
    """

    rating_share: float = _limit(0.75, "1", "critical lift of cranes in steel erection, 29 CFR 1926.751, by analogy")
    arm_share: float = _limit(0.9, "1", "common practice, no source")
    margin: float = _limit(0.050, "m", "common practice, no source")
    tip_angle: float = _limit(radians(10), "rad", "common practice, no source")
    push: float = _limit(225.0, "N", "a person may push harder; common practice, no source")
    bar: float = _limit(500.0, "N", "a pull with the feet braced; common practice, no source")
    uneven: float = _limit(0.003, "m", "common practice, no source")
    uneven_touch: float = _limit(0.001, "m", "common practice, no source")
    level: float = _limit(radians(1), "rad", "common practice, no source")
    align: float = _limit(0.005, "m", "common practice, no source")
    floor_slope: float = _limit(radians(0.6), "rad", "bays fall 1 % to a gully; common practice, no source")
    friction: float = _limit(
        0.15,
        "1",
        "steel on steel: oiled 0.05, dry 0.6 (OpenStax University Physics 1, table 6.1); between them, no source",
    )


def source_of(name: str) -> str:
    """Name the source of a limit.

    Args:
        name: Name of a field of `Limits`.

    Returns:
        The source in a few words.

    Raises:
        KeyError: If there is no such limit.
    """
    return str({each.name: each for each in fields(Limits)}[name].metadata["source"])

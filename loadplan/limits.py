"""What is asked of a plan: each limit with its default, what it measures, its words and its source."""

from dataclasses import dataclass, field, fields
from math import radians
from types import MappingProxyType

from loadplan.units import Kind

GRAVITY = 9.80665
"""Standard acceleration of free fall [m/s²] (3rd CGPM, 1901)."""

TAPE = 0.0001
"""Heights that differ by less [m] are the same: below what a tape shows."""


@dataclass(frozen=True, slots=True)
class LimitText:
    """What a limit is, told where a job may set it and where the sheet lists it.

    Attributes:
        kind: What it measures, and so how it is read and written; None for a bare number up to 2.
        words: What it is, on the sheet.
        asks: What an editor says of its key, without the default.
        source: Where its default comes from, in a few words.
    """

    kind: Kind | None
    words: str
    asks: str
    source: str


TOP_FRICTION = MappingProxyType({"timber": 0.3, "rubber": 0.5, "steel": 0.3, "oily steel": 0.05})
"""Friction of a saddle by what is on its top: wood on metal 0.3, oily steel on steel 0.05 and steel on steel well below
the dry 0.6 that nobody can count on in a workshop (OpenStax University Physics 1, section 6.2, table 6.1); rubber:
common practice, no source."""


def _limit(default: float, told: LimitText) -> float:
    return field(default=default, metadata={"told": told})


@dataclass(frozen=True, slots=True)
class Limits:
    """The limits of a job, in SI; what else there is to say of each is told by `limit_text`.

    A new limit needs a field here, and its row in the table of the manual: the key that a job may write, its rule, its
    line for editors and its line on the sheet are made from the field.

    Example:
        >>> Limits().rating_share
        0.75
        >>> limit_text("rating_share").source
        'critical lift of cranes in steel erection, 29 CFR 1926.751, by analogy'
    """

    rating_share: float = _limit(
        0.75,
        LimitText(
            Kind.SHARE,
            words="caution above this share of a rating",
            asks="Caution above this share of a rating; stop above all of it.",
            source="critical lift of cranes in steel erection, 29 CFR 1926.751, by analogy",
        ),
    )
    arm_share: float = _limit(
        0.9,
        LimitText(
            Kind.SHARE,
            words="the same for an arm of the lift",
            asks="The same for an arm of the lift.",
            source="common practice, no source",
        ),
    )
    margin: float = _limit(
        0.050,
        LimitText(
            Kind.LENGTH,
            words="caution below, to tipping",
            asks="Caution below this distance to tipping, worst case.",
            source="common practice, no source",
        ),
    )
    tip_angle: float = _limit(
        radians(10),
        LimitText(
            Kind.ANGLE,
            words="caution below, tilt before it goes",
            asks="Caution below this tilt before it goes.",
            source="common practice, no source",
        ),
    )
    push: float = _limit(
        225.0,
        LimitText(
            Kind.FORCE,
            words="sideways push",
            asks="Stop below this push sideways, caution below twice.",
            source="a person may push harder; common practice, no source",
        ),
    )
    bar: float = _limit(
        500.0,
        LimitText(
            Kind.FORCE,
            words="pull on a bar",
            asks="The same in steps with bar = true.",
            source="a pull with the feet braced; common practice, no source",
        ),
    )
    laid_on: float = _limit(
        225.0,
        LimitText(
            Kind.FORCE,
            words="weight laid on a corner",
            asks="Stop where less weight than this, laid on at any corner, tips it; caution below twice.",
            source="a person who leans on it; common practice, no source",
        ),
    )
    uneven: float = _limit(
        0.003,
        LimitText(
            Kind.LENGTH,
            words="a saddle off its set height",
            asks="How far a saddle may be off its set height.",
            source="common practice, no source",
        ),
    )
    uneven_touch: float = _limit(
        0.001,
        LimitText(
            Kind.LENGTH,
            words="a saddle off that was brought up to touch",
            asks="The same where it was brought up to touch.",
            source="common practice, no source",
        ),
    )
    level: float = _limit(
        radians(1),
        LimitText(
            Kind.ANGLE,
            words="out of level",
            asks="Caution above this tilt.",
            source="common practice, no source",
        ),
    )
    align: float = _limit(
        0.005,
        LimitText(
            Kind.LENGTH,
            words="bolt holes out",
            asks="Caution above this at bolt holes that have to line up again.",
            source="common practice, no source",
        ),
    )
    floor_slope: float = _limit(
        radians(0.6),
        LimitText(
            Kind.ANGLE,
            words="slope of the floor",
            asks="Slope of the floor.",
            source="bays fall 1 % to a gully; common practice, no source",
        ),
    )
    friction: float = _limit(
        0.15,
        LimitText(
            None,
            words="friction where nothing says its own",
            asks="Where nothing says its own.",
            source="steel on steel: oiled 0.05, dry 0.6 (OpenStax University Physics 1, table 6.1); between them, "
            "no source",
        ),
    )
    drop: float = _limit(
        0.005,
        LimitText(
            Kind.LENGTH,
            words="a place drops from one step to the next",
            asks="Caution where a place of a stand, bolt or mount drops further from one step to the next; "
            "stop above four times that.",
            source="common practice, no source",
        ),
    )


def limit_text(name: str) -> LimitText:
    """Tell what a limit is.

    Args:
        name: Name of a field of `Limits`.

    Returns:
        What it measures, its words and its source.

    Raises:
        KeyError: If there is no such limit.
    """
    told: LimitText = {each.name: each for each in fields(Limits)}[name].metadata["told"]
    return told

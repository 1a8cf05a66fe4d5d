"""The order of taking parts off: the one that keeps the unit farthest from tipping all the way."""

from dataclasses import dataclass
from math import inf

import numpy as np

from loadplan.errors import Fault, InputError
from loadplan.model.job import Job
from loadplan.planning.settings.removal_states import Course, course
from loadplan.statics.parts_off_margins import Flags
from loadplan.statics.subset_paths import first_way, leads_on

MOST_EXACT = 20
"""Most parts of which every set is looked at."""

TIE = 1e-9
"""Margins that differ by less [m] are the same."""

DEEPEST = -10.0
"""Margin [m] below anything that still is balanced as given: a unit is not as large."""

WIDEST = 100.0
"""Margin [m] above which it does not matter how much more it is."""

BEAM = 150_000
"""Ways that are followed side by side, times the square of the number of parts."""

BROADEST = 256
"""Most ways that are followed side by side."""


@dataclass(frozen=True, slots=True)
class Step:
    """One part off.

    Attributes:
        part: The part.
        balanced: Whether everything is balanced with it off, masses and centres of gravity as given.
        worst_margin: Least worst margin of any body then [m]; None where not balanced, or where nothing can tip.
    """

    part: str
    balanced: bool
    worst_margin: float | None


@dataclass(frozen=True, slots=True)
class OrderPlan:
    """The order of taking a stage's parts off.

    Attributes:
        stage: Name of the stage.
        proven: Whether no other order keeps a larger margin.
        steps: In that order.
        narrowest: Least worst margin on the way [m]: −inf where it is not balanced, inf where nothing can tip.
        ceiling: No order can keep more than this [m].
    """

    stage: str
    proven: bool
    steps: tuple[Step, ...]
    narrowest: float
    ceiling: float


def plan_order(job: Job, index: int) -> OrderPlan:
    """Choose the order that keeps the smallest worst margin greatest; ties: the first in the order of the list.

    Args:
        job: The job.
        index: Number of the stage whose parts come off, from 0.

    Returns:
        The order, with the margin after each part.

    Raises:
        InputError: If the stage takes no part off.
    """
    parts = course(job, index)
    if not parts.parts:
        owned = {part.name for part in job.vehicle.parts if part.body in job.bodies}
        steps = [str(number) for number, stage in enumerate(job.stages, 1) if owned & set(stage.off)]
        where = f"; parts come off in step {', '.join(steps)}" if steps else ""
        message = f"takes no part off: there is no order to choose{where}"
        raise InputError(Fault(job.source, f'stage {index + 1} "{job.stages[index].name}"', "off", message))
    # A good way first: a proof has only to begin above it, and of many parts it is the answer.
    followed = _followed(parts)
    way, narrowest = _widest(parts, followed) if len(parts.parts) <= MOST_EXACT else followed
    # Of few parts every set was looked at: what was found is the most there is.
    ceiling = narrowest if len(parts.parts) <= MOST_EXACT else _ceiling(parts)
    margins = parts.margins(_off(way, len(way)))
    return OrderPlan(
        stage=job.stages[index].name,
        proven=bool(narrowest >= ceiling - TIE),
        steps=tuple(_step(parts.parts[part], float(margin)) for part, margin in zip(way, margins, strict=True)),
        narrowest=narrowest,
        ceiling=ceiling,
    )


Way = tuple[tuple[int, ...], float]
"""Parts in the order in which they come off, and the least margin on the way [m]."""


def _step(part: str, margin: float) -> Step:
    """Return a step; a margin is told only where the unit is balanced and can tip."""
    return Step(part, margin > -inf, margin if np.isfinite(margin) else None)


def _off(way: tuple[int, ...], parts: int) -> Flags:
    """Return what is off (n, n) after each step of a way."""
    off = np.zeros((len(way), parts), dtype=np.bool_)
    for number, part in enumerate(way):
        off[number:, part] = True
    return off


def _widest(parts: Course, found: Way) -> Way:
    """Return the first in the list of the ways with the greatest margin, sure that there is no greater one."""
    low, high = found[1], min(_ceiling(parts), WIDEST)
    # A trial a hair above the best mostly ends the search at once; where it does not, halving says how long it can
    # take.
    halve = False
    while low < high - TIE:
        least = max(low + TIE, DEEPEST)
        trial = (least + high) / 2 if halve else least
        way = _way(parts, trial)
        reached = -inf if way is None else _narrowest(parts, way)
        # A way may keep more than it was asked for, so its own margin counts.
        if reached > low:
            low = reached
        # No way keeps the middle, so nothing above it is left to look at.
        elif halve:
            high = trial
        else:
            break
        halve = not halve
    # A tie below, so that rounding cannot lose the way that was just found.
    way = _way(parts, low - TIE)
    return found if way is None else (way, low)


def _way(parts: Course, margin: float) -> tuple[int, ...] | None:
    """Return the first in the list of the ways that keep a margin; None where there is none."""
    count = len(parts.parts)
    leads = leads_on(parts.keeping(margin), count)
    return first_way(leads, count) if leads[0] else None


def _narrowest(parts: Course, way: tuple[int, ...]) -> float:
    """Return the least margin on a way [m]."""
    return float(parts.margins(_off(way, len(way))).min())


def _ceiling(parts: Course) -> float:
    """Return a margin [m] that no order can better: all off, and whatever comes off first and last."""
    count = len(parts.parts)
    needed = [any(needs >> part & 1 for needs in parts.needs) for part in range(count)]
    firsts = np.eye(count, dtype=np.bool_)[[part for part in range(count) if not parts.needs[part]]]
    lasts = ~np.eye(count, dtype=np.bool_)[[part for part in range(count) if not needed[part]]]
    ends = [parts.margins(each).max() for each in (firsts, lasts, np.ones((1, count), dtype=np.bool_)) if each.any()]
    return float(min(ends))


def _followed(parts: Course) -> Way:
    """Return a good way, found by following the widest ways side by side."""
    count = len(parts.parts)
    # A step costs as the square of the number of parts, so many parts are followed on a narrower front.
    width = min(max(BEAM // count**2, 4), BROADEST)
    ways: list[Way] = [((), inf)]
    for _ in range(count):
        further = _further(parts, ways)
        off = np.array([_off(way, count)[-1] for way, _ in further])
        margins = [float(each) for each in parts.margins(off)]
        # Alike so far, they are told apart by where they are now, then by the list: the same job, the same order.
        ranked = sorted(
            ((way, min(least, margin), margin) for (way, least), margin in zip(further, margins, strict=True)),
            key=lambda each: (-each[1], -each[2], each[0]),
        )
        ways = [(way, least) for way, least, _ in ranked[:width]]
    return ways[0]


def _further(parts: Course, ways: list[Way]) -> list[Way]:
    """Return every way with one part more, of those to the same set only the widest."""
    found: dict[int, Way] = {}
    for way, least in ways:
        off = sum(1 << part for part in way)
        for part, needs in enumerate(parts.needs):
            if not off >> part & 1 and off & needs == needs:
                longer, there = ((*way, part), least), found.get(off | 1 << part)
                if there is None or (-least, longer[0]) < (-there[1], there[0]):
                    found[off | 1 << part] = longer
    return list(found.values())

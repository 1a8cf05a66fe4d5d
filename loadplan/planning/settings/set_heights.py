"""Heights: how each stand is set, and which shim goes on it, so that the unit stands as straight as the shop allows."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from math import inf
from typing import NamedTuple

import numpy as np

from loadplan.checks.case import Case
from loadplan.checks.check_table import CHECKS, judge
from loadplan.errors import Fault, InputError
from loadplan.limits import TAPE
from loadplan.model.answer import Motion, Statics
from loadplan.model.job import Job, Stack, State, Support
from loadplan.model.shop import STANDS_UNDER, Shim
from loadplan.model.verdict import Finding, Verdict
from loadplan.planning.settings.idle_forecast import troubles_expected
from loadplan.planning.settings.other_settings import other_stackings
from loadplan.planning.settings.saddle_settings import DIGITS, Saddle, SharedSaddles, Shelf, Stacking
from loadplan.planning.settings.shim_stacking import stack
from loadplan.planning.settings.stacked_heights import set_over
from loadplan.stages import joined, states
from loadplan.statics.group import glance, solve
from loadplan.statics.release_heights import Release, release_heights
from loadplan.statics.stage_sequence import solve_stages, solve_stages_by

_MINDED_BY = tuple(each for each in CHECKS if each.mended_by_heights)

JUDGED = 12
"""Settings that are judged in full where the least uneven leave something to find, and a lift has to come down."""

JUDGED_AT_A_GLANCE = 60
"""The same where there is no lift: then a glance sees as much, in a fraction of the time."""


@dataclass(frozen=True, slots=True)
class Setting:
    """How one support is set.

    Attributes:
        support: The support, with its new height and shim.
        misfit: Height and shim less place and level [m]; above 0: too high.
    """

    support: Support
    misfit: float


@dataclass(frozen=True, slots=True)
class HeightPlan:
    """How all supports under the unit are set.

    Attributes:
        job: The job, with these heights.
        level: How much higher the unit stands than its file says [m].
        settings: In the job's order.
        tilts: (body, expected motion) of each body that stands on them, in the job's order; None where no stage has it
            standing in balance on its own.
        releases: Heights and level of the lift at which the mounts of each assembly let go without a drop.
        left: Findings that are left of those that settings can avoid.
        unjudged: Other settings that were not judged in full, though such findings are left.
    """

    job: Job
    level: float
    settings: tuple[Setting, ...]
    tilts: tuple[tuple[str, Motion | None], ...]
    releases: tuple[Release, ...] = ()
    left: int = 0
    unjudged: int = 0


def plan_heights(job: Job) -> HeightPlan:
    """Choose the settings with the smallest largest misfit that leave as few findings as any.

    Minded are findings of level, height, idle support and set-down. Every other setting is looked at where there are
    few enough of them, else those whose saddles lie least apart.

    Args:
        job: The job.

    Returns:
        Level, settings and shims, the misfits and the tilt that is left.

    Raises:
        InputError: If nothing is to be set, or the shop does not say what it can be set to.
    """
    pieces = _pieces(job)
    # Shims on what is not set anew are taken; those under what is set go back on the shelf first.
    kinds = _kinds(job, {each.name for piece in pieces for each in piece})
    shelf = Shelf(tuple(kind[0].height for kind in kinds), tuple(_count(kind) for kind in kinds))
    bench = tuple(_piece(piece) for piece in pieces)
    supports = tuple(each for piece in pieces for each in piece)
    least = stack(bench, shelf)
    settings = _set(job, supports, kinds, least)
    left, unjudged = len(heights_troubles(_with(job, settings))), 0
    if left:
        # The least uneven need not be what the loads want: three saddles a little low may leave the fourth alone.
        places = tuple(tuple((each.at[0], each.at[1]) for each in piece) for piece in pieces)
        others = other_stackings(bench, shelf, least, places)
        names = tuple(each.name for each in supports)
        likely = _likely(_with(job, settings), names, others)
        unjudged = likely.unjudged
        for each in likely.settings:
            tried = _set(job, supports, kinds, each)
            found = len(heights_troubles(_with(job, tried)))
            if found < left:
                settings, left, least = tried, found, each
            if not left:
                break
    planned = _with(job, settings)
    followed = states(planned)
    solved = solve_stages(planned, followed)
    tilts = _tilts(planned, settings, zip(followed, solved, strict=True))
    releases = release_heights(planned, followed, solved)
    return HeightPlan(planned, least.level, settings, tilts, releases, left, unjudged if left else 0)


def heights_troubles(job: Job) -> tuple[Finding, ...]:
    """List the findings of a job that settings can avoid.

    Args:
        job: The job, with its settings.

    Returns:
        Stops and cautions of level, height, idle support and set-down in any step; none where the job cannot be
        computed.
    """
    followed = states(job)
    # How far the lift comes down is seen by the whole solution only; without one a glance sees as much.
    look = glance if job.lift is None else solve
    try:
        solved = solve_stages_by(look, job, followed, lambda _: None)
        cases = [Case(job, *each) for each in zip(followed, solved, (None, *followed[:-1]), strict=True)]
        found = [each for case in cases for each in judge(case, _MINDED_BY)[0]]
    except InputError:
        return ()
    return tuple(each for each in found if each.verdict >= Verdict.CAUTION)


def _likely(job: Job, names: tuple[str, ...], others: tuple[Stacking, ...]) -> "_Likely":
    """Return the settings that are worth judging in full: fewest troubles expected first, then least uneven."""
    if not others:
        return _Likely([], 0)
    rises = np.array([[saddle.misfit for saddle in each.saddles] for each in others])
    expected = troubles_expected(job, names, rises)
    likely: dict[bytes, Stacking] = {}
    # Settings that only stand higher or lower as a whole carry alike: the first, the least uneven, stands for them.
    for number in np.argsort(expected, kind="stable"):
        likely.setdefault(np.round(rises[number], DIGITS).tobytes(), others[number])
    most = JUDGED_AT_A_GLANCE if job.lift is None else JUDGED
    return _Likely(list(likely.values())[:most], max(len(likely) - most, 0))


class _Likely(NamedTuple):
    """The settings that are worth judging in full.

    Attributes:
        settings: Those.
        unjudged: How many others there are, that differ.
    """

    settings: list[Stacking]
    unjudged: int


def _set(job: Job, supports: tuple[Support, ...], kinds: list[list[Shim]], found: Stacking) -> tuple[Setting, ...]:
    """Return how each support is set; the search takes saddles by piece, people read them in the order of the job."""
    order = {each.name: number for number, each in enumerate(job.supports)}
    rows = sorted(zip(supports, found.saddles, strict=True), key=lambda row: order[row[0].name])
    return tuple(sorted((*_settings(rows, kinds), *_stacked(job)), key=lambda each: order[each.support.name]))


def is_set(job: Job, support: Support) -> bool:
    """Tell whether a support is set to a height before a unit comes down on it.

    Args:
        job: The job.
        support: The support.

    Returns:
        False for hoists, props that stand by, what stands on a body, which is set over that, and what stands under the
        body on the lift, unless the lift lets it down onto its stands.
    """
    if support.equipment.kind not in STANDS_UNDER or support.standby or support.on:
        return False
    return job.lift is None or support.body != job.lift.body or _let_down(job, support)


def _let_down(job: Job, support: Support) -> bool:
    """Return whether a support under the lift's body stands there with no arm of the lift left to hold it."""
    return any(
        support.name in {each.name for each in state.supports} and not any(each.is_arm for each in state.supports)
        for state in states(job)
    )


def _stacked(job: Job) -> Iterator[Setting]:
    """Yield the stands on each assembly as they are set; a table there, and what nobody knows the foot of, stays."""
    over: dict[str, list[Support]] = {}
    for each in job.supports:
        known = each.foot is not None and each.equipment.heights is not None and not each.piece
        on_lift = job.lift is not None and each.body == job.lift.body
        if each.on and known and each.equipment.kind in STANDS_UNDER and not (each.standby or on_lift):
            over.setdefault(each.on, []).append(each)
    for those in over.values():
        yield from (Setting(support, misfit) for support, misfit in set_over(job, tuple(those)))


def _pieces(job: Job) -> list[list[Support]]:
    """Return the supports to be set, those of one piece of equipment together.

    Raises:
        InputError: If there are none, or the shop does not say what one can be set to.
    """
    pieces: dict[tuple[str, str], list[Support]] = {}
    for each in job.supports:
        if is_set(job, each):
            pieces.setdefault(("piece", each.piece) if each.piece else ("support", each.name), []).append(each)
    if not pieces:
        message = "has no stand, jack or table under a unit that is set down: there is nothing to set"
        raise InputError(Fault(job.source, "", "support", message))
    silent = dict.fromkeys(piece[0].equipment.name for piece in pieces.values() if piece[0].equipment.heights is None)
    if silent:
        message = "is missing in the shop file: say what it can be set to, such as { from = 290, to = 430, step = 20 }"
        raise InputError(*(Fault(job.source, f'equipment "{name}"', "heights", message) for name in silent))
    return list(pieces.values())


def _piece(supports: list[Support]) -> SharedSaddles:
    """Return a piece of equipment with all its saddles, which go up and down together."""
    heights = supports[0].equipment.heights
    # Whoever has none was refused before.
    assert heights is not None
    reach = heights.settings or (heights.lowest, heights.highest)
    return SharedSaddles(reach, not heights.settings, tuple(each.at[2] for each in supports))


def _kinds(job: Job, planned: set[str]) -> list[list[Shim]]:
    """Return the shop's shims, those of one height together, less those of kinds that other supports use up."""
    kinds: list[list[Shim]] = []
    # Woods of one height do the same work: which of them goes where is settled at the end.
    for shim in _left(job, planned):
        same = next((kind for kind in kinds if abs(kind[0].height - shim.height) <= TAPE), None)
        kinds = [*kinds, [shim]] if same is None else kinds
        if same is not None:
            same.append(shim)
    return kinds


def _left(job: Job, planned: set[str]) -> Iterator[Shim]:
    # What lies under a support that is not set anew is not on the shelf.
    others = [each.shim for each in job.supports if each.shim and each.name not in planned]
    for shim in job.shop.shims:
        used = [each for each in others if _is(each, shim)]
        others = [each for each in others if each not in used]
        yield shim if shim.count is None else replace(shim, count=max(shim.count - len(used), 0))


def _is(stack: Stack, shim: Shim) -> bool:
    return shim.fits(stack.height, stack.wood)


def _count(kind: list[Shim]) -> float:
    """Return how many shims of a kind there are; infinite where they are not counted."""
    return sum(inf if shim.count is None else shim.count for shim in kind)


def _settings(rows: list[tuple[Support, Saddle]], kinds: list[list[Shim]]) -> Iterator[Setting]:
    """Yield each support as it is set; of shims alike in height it keeps its own, else takes the shop's first."""
    left = {id(shim): inf if shim.count is None else shim.count for kind in kinds for shim in kind}
    for support, saddle in rows:
        shim = None if saddle.shim is None else _take(kinds[saddle.shim], left, support.shim)
        yield Setting(replace(support, height=saddle.height, shim=_stack(support.shim, shim)), saddle.misfit)


def _take(kind: list[Shim], left: dict[int, float], now: Stack | None) -> Shim:
    # What lies there already stays where it can: nobody swaps two blocks of one height.
    there = [shim for shim in kind if left[id(shim)] > 0]
    taken = next((shim for shim in there if now is not None and _is(now, shim)), there[0])
    left[id(taken)] -= 1
    return taken


def _stack(now: Stack | None, shim: Shim | None) -> Stack | None:
    """Return the stack under a saddle: what is there stays where it is the one that is needed."""
    if shim is None or (now is not None and _is(now, shim)):
        return now if shim else None
    return Stack(shim.height, shim.wood, crib=False)


def _with(job: Job, settings: tuple[Setting, ...]) -> Job:
    """Return the job with its supports as they are set."""
    new = {each.support.name: each.support for each in settings}
    return replace(job, supports=tuple(new.get(each.name, each) for each in job.supports))


def _tilts(
    job: Job, settings: tuple[Setting, ...], solved: Iterable[tuple[State, Statics]]
) -> tuple[tuple[str, Motion | None], ...]:
    """Return how each body stands in the first stage in which it stands in balance on its own."""
    standing = {each.support.body for each in settings}
    motions: dict[str, Motion] = {}
    for state, statics in solved:
        held = joined(state.done_up, job.lift.body) if job.lift else frozenset[str]()
        for body in statics.bodies:
            if body.motion is not None and body.name not in held:
                motions.setdefault(body.name, body.motion)
    return tuple((name, motions.get(name)) for name in job.bodies if name in standing)

"""What a group's lean makes of it: worst margins, tip angles and sway; nothing where it goes over by its own lean."""

from dataclasses import dataclass
from math import inf, tan

import numpy as np

from loadplan.model.answer import Motion
from loadplan.statics.equilibrium import Frame
from loadplan.statics.lean import Lean, Numbers, Tilted, carried_moments, telling
from loadplan.statics.mass import Array
from loadplan.statics.resting_state import Rest, Settings, finite
from loadplan.statics.second_order import levers
from loadplan.statics.settled_state import Leaning, Standing
from loadplan.statics.slope_response import HARD, Footing, footing, slope_shares, stacked_shares
from loadplan.statics.tip_angle import least_angles, tip_angles
from loadplan.statics.tipping_modes import EDGE
from loadplan.statics.worst_corner import MOST_FOLLOWED, CornerMargins, Tolerance, corner_margins
from loadplan.statics.worst_margin import Worst, worst, worst_masses


@dataclass(frozen=True, slots=True)
class ModeFigures:
    """Figures of one mode of a group with its lean.

    Attributes:
        tip_angle: Floor slope at which it goes [rad].
        worst_margins: Worst margin of each rigid whole in it [m]; infinite where it does not rotate that.
        least_work: Least work against the weight [J].
    """

    tip_angle: float
    worst_margins: tuple[float, ...]
    least_work: float


@dataclass(frozen=True, slots=True)
class LeanFigures:
    """Figures of one group with its lean; lists in the order of its rigid wholes.

    Attributes:
        robust: Whether it is balanced over the whole tolerance, with its lean.
        sway: Share by which a tilt makes itself worse; None where it goes over by its own lean.
        worst_margins: Worst margins [m]; None where it does, or where no mode rotates the whole.
        tip_angles: Tip angles [rad]; None likewise.
        by_mode: What it makes of each mode, in the order of the motions; empty where it goes over by its own lean.
        settled: Motions in the settled state; None where there is none.
        worst_tilts: Tilts of each body about x and y [rad] that take most off some mode, a row each.
    """

    robust: bool
    sway: float | None
    worst_margins: tuple[float | None, ...]
    tip_angles: tuple[float | None, ...]
    by_mode: tuple[ModeFigures, ...]
    settled: tuple[Motion, ...] | None
    worst_tilts: tuple[tuple[tuple[float, float], ...], ...]


@dataclass(frozen=True, slots=True)
class _Leant:
    """A group with its lean: its weights' corners followed where it stands on soft supports.

    Attributes:
        lean: How it leans in its settled state and on an uneven floor.
        ground: What it rests on; None where that is too hard for anything to be followed.
        found: Its worst margins.
    """

    lean: Lean
    ground: Footing | None
    found: Worst


def leaning(frame: Frame, settings: Settings, rest: Rest, over: tuple[Array, tuple[Array, ...]]) -> LeanFigures:
    """Tell what a group's lean makes of it.

    Args:
        frame: The group, balanced.
        settings: What it is solved with.
        rest: Where it rests.
        over: Its scaled modes (k, 3 q); tilts (c, q, 2) without lean on an uneven floor [rad], in any number of arrays.

    Returns:
        The figures.
    """
    motions, _ = over
    nothing = (None,) * len(frame.wholes)
    if rest.leaning is None:
        return LeanFigures(
            robust=False,
            sway=None,
            worst_margins=nothing,
            tip_angles=nothing,
            by_mode=(),
            settled=None,
            worst_tilts=(),
        )
    leant = _leant(frame, settings, (rest, rest.leaning), over)
    found = leant.found
    carried = carried_moments(frame, rest.expected.loads[0])
    angles = tip_angles(frame, motions, Lean(rest.tilts, _growth(rest.leaning)), carried)
    if leant.ground is not None:
        left = stacked_shares if any(each.on in frame.bodies for each in frame.supports) else slope_shares
        angles = np.arctan(np.tan(angles) * left(leant.ground, motions, np.tan(angles)))
    return LeanFigures(
        robust=found.robust,
        sway=rest.leaning.sway,
        worst_margins=finite(found.margins),
        tip_angles=least_angles(motions, angles),
        by_mode=tuple(
            ModeFigures(float(angle), tuple(float(each) for each in margins), float(work) * frame.weight * frame.span)
            for angle, margins, work in zip(angles, found.by_mode, found.works, strict=True)
        ),
        settled=tuple(frame.motion(rest.leaning.motions, whole) for whole in range(len(frame.wholes))),
        worst_tilts=tuple(
            tuple((float(tilt[frame.whole(name)][0]), float(tilt[frame.whole(name)][1])) for name in frame.bodies)
            for tilt in leant.lean.tilts
        ),
    )


def worst_leaning(frame: Frame, settings: Settings, rest: Rest, over: tuple[Array, tuple[Array, ...]]) -> Worst | None:
    """Find the worst margins of a group with its lean, and nothing else of what `leaning` tells.

    Args:
        frame: The group, balanced.
        settings: What it is solved with.
        rest: Where it rests.
        over: As for `leaning`.

    Returns:
        Its worst margins; None where it goes over by its own lean.
    """
    return None if rest.leaning is None else _leant(frame, settings, (rest, rest.leaning), over).found


def _growth(leaning: Leaning) -> float:
    """Return by how much a tilt of the floor tilts a group."""
    return 1.0 / (1.0 - leaning.sway)


def _leant(
    frame: Frame, settings: Settings, rests: tuple[Rest, Leaning], over: tuple[Array, tuple[Array, ...]]
) -> _Leant:
    """Return a group with its lean."""
    (rest, settled), (motions, uneven) = rests, over
    growth = _growth(settled)
    # Tilts of the uneven floor grow as those of its slope do; in the settled ones the growth is in already.
    lean = telling(frame, motions, Lean(np.concatenate([rest.tilts, *(growth * each for each in uneven)]), growth))
    tilted = Tilted(settings.slope, lean)
    found = worst(frame, motions, tilted, settings.needs)
    # On hard supports all that follows changes nothing that a tape could find, and would only take its time.
    if settled.sway <= HARD:
        return _Leant(lean, None, found)
    standing = Standing(rest.held, rest.gaps, frame.load, rest.expected, levers(frame, rest.expected))
    ground = footing(standing, settled)
    near = np.argsort(found.by_mode.min(axis=1), kind="stable")[:MOST_FOLLOWED]
    masses = worst_masses(frame, motions[near], tilted, settings.needs)
    tolerance = Tolerance(masses, np.array(settings.uneven) / frame.span, tan(settings.slope))
    corners = corner_margins(frame, standing, ground, (motions[near], tolerance))
    return _Leant(lean, ground, _with_corners(found, near, corners))


def _with_corners(found: Worst, near: Numbers, corners: CornerMargins) -> Worst:
    """Return worst margins with what is left at the corners of some modes (their numbers); none where one goes over."""
    by_mode, works = found.by_mode.copy(), found.works.copy()
    left = np.where(corners.stands[:, None], corners.margins, 0.0)
    by_mode[near] = np.where(np.isfinite(by_mode[near]), np.minimum(by_mode[near], left), inf)
    works[near] = np.where(corners.stands, works[near], np.minimum(works[near], 0.0))
    margins: Array = by_mode.min(axis=0, initial=inf)
    robust = found.robust and bool(corners.stands.all() and (margins > EDGE).all())
    return Worst(margins=margins, robust=robust, by_mode=by_mode, works=works)

"""How a prop under the vehicle on the lift is set: by which stand of the shop, at which of its settings and shims."""

from dataclasses import dataclass

from loadplan.checks.case import Case
from loadplan.checks.phrases import length
from loadplan.checks.piece import pieces
from loadplan.limits import TAPE
from loadplan.model.shop import Equipment, EquipmentKind
from loadplan.model.vehicle import Point
from loadplan.model.verdict import Sentence

SHORT = 0.05
"""A prop that stays further [m] below its place catches nothing in time; common practice, no source."""


@dataclass(frozen=True, slots=True)
class _PropSetting:
    """A stand at one of its settings.

    Attributes:
        short: How far it stays below the place [m].
        shim: Height of the shim on it [m]; 0 for none.
        setting: Its setting [m].
        name: Name of its kind.
    """

    short: float
    shim: float
    setting: float
    name: str


def prop_height(case: Case, point: Point, most: float) -> Sentence:
    """Word how high a prop has to be, and which stand of the shop is, of those that are free and take its load.

    Args:
        case: The stage.
        point: Where the prop goes.
        most: What it may come to carry [N].

    Returns:
        Sentences of their own, each beginning with a blank; nothing where it is not known how high the vehicle is.
    """
    kinds = [each for each in case.job.shop.equipment if each.kind is EquipmentKind.STAND and each.heights]
    # Only while the unit is let go the lift is where its stands have it; afterwards it goes up as far as it may.
    touched = any(each.set_height is not None and not case.already_free(each.body) for each in case.stands)
    if case.statics.floor is None or not touched or not kinds:
        return ()
    needed = point.at[2] - case.statics.floor
    says: Sentence = (" It has to be ", length(needed), " high")
    able = [each for each in kinds if each.rating_of_one >= most and _is_free(case, each)]
    if not able:
        return (*says, ", and no stand of the shop that is free takes that.")
    every = [each for kind in able for each in _settings(case, kind, needed)]
    best = min(every, key=lambda each: (each.short, each.shim), default=None)
    if best is None or best.short > SHORT:
        return (*says, *_none(able, needed))
    shim: Sentence = (", shim ", length(best.shim)) if best.shim else ()
    short: Sentence = (", which is ", length(best.short), " short") if best.short > case.job.limits.uneven else ()
    return (*says, f": {best.name} set to ", length(best.setting), *shim, *short, ".")


def _is_free(case: Case, kind: Equipment) -> bool:
    """Return whether the shop has a piece more of a kind than the step uses; taken to be where it does not count."""
    used = [each for each in pieces(case.stands) if each.equipment.name == kind.name]
    return kind.usable_count is None or len(used) < kind.usable_count


def _free_shims(case: Case) -> list[float]:
    """Return the heights of shims [m] of which one is left."""
    used = [each.shim for each in case.stands if each.shim]
    shims = case.job.shop.shims
    lying = [sum(each.fits(stack.height, stack.wood) for stack in used) for each in shims]
    return [each.height for each, many in zip(shims, lying, strict=True) if each.count is None or many < each.count]


def _settings(case: Case, kind: Equipment, needed: float) -> list[_PropSetting]:
    """Return the settings of a stand that do not lift the vehicle, with each shim of the shop and without."""
    found = []
    for shim in (0.0, *_free_shims(case)):
        length_left = needed - shim
        if kind.heights is None or kind.heights.lowest > length_left + TAPE:
            continue
        below = [each for each in kind.heights.settings if each <= length_left + TAPE]
        setting = max(below) if below else min(length_left, kind.heights.highest)
        found.append(_PropSetting(round(max(length_left - setting, 0.0), 5), shim, setting, kind.name))
    return found


def _none(kinds: list[Equipment], needed: float) -> Sentence:
    """Return that no stand is as high, and where the one that comes nearest stops."""
    ways = [(each.heights, each.name) for each in kinds if each.heights]
    stops = [(stop, way) for way in ways for stop in (*way[0].settings, way[0].lowest, way[0].highest)]
    nearest, (heights, name) = min(stops, key=lambda each: abs(each[0] - needed))
    told = f", and no stand of the shop is: {name} "
    if not heights.lowest < needed < heights.highest:
        return (told, "begins at " if nearest > needed else "goes up to ", length(nearest), ".")
    below = max(each for each in (heights.lowest, *heights.settings) if each < needed)
    above = min(each for each in (*heights.settings, heights.highest) if each > needed)
    return (told, "stops at ", length(below), " and ", length(above), ".")

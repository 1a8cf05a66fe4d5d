"""Set heights and shims, for people and for machines."""

from math import degrees, hypot, radians

from loadplan.checks.phrases import low_side, names, several
from loadplan.limits import TAPE
from loadplan.model.answer import Motion
from loadplan.model.job import Support
from loadplan.model.verdict import Measure, Quantity
from loadplan.model.weight_basis import poorest_basis
from loadplan.planning.settings.set_heights import HeightPlan, Setting
from loadplan.report.json_output import MM, Plain
from loadplan.report.words.cautions import caution_lines
from loadplan.report.words.columns import WIDTH, Align, Column, table, wrap
from loadplan.report.words.stage_tables import equipment_words, under
from loadplan.report.words.vocabulary import Reader, reader_of
from loadplan.statics.release_heights import Release
from loadplan.units import System

FITS = 0.00005
"""A saddle within this [m] of where it should be fits: no tape shows it."""

LEVEL = radians(0.05)
"""What leans by less than this [rad] is level: no bubble shows it."""


def heights_dict(plan: HeightPlan) -> dict[str, Plain]:
    """Turn set heights into the machine output.

    Args:
        plan: The heights.

    Returns:
        An object of mm and degrees.
    """
    return {
        "schema": "loadplan-heights-1",
        "level_mm": _mm(plan.level),
        "supports": [_plain(each) for each in plan.settings],
        "tilt_deg": {body: _tilt(motion) for body, motion in plan.tilts},
        "release": [
            {
                "stage": each.stage,
                "body": each.body,
                "heights_mm": {name: _mm(height) for name, height in _let_go(plan, each)},
                "lowered_mm": None if each.lowered is None else _mm(each.lowered),
            }
            for each in plan.releases
        ],
    }


def heights_page(plan: HeightPlan, units: System) -> str:
    """Write set heights for people.

    Args:
        plan: The heights.
        units: The reader's units.

    Returns:
        Lines of at most 100 characters, ending in a line end.
    """
    reader = reader_of(plan.job, units)
    stands = [each.support for each in plan.settings]
    columns = (
        Column("stand", tuple(reader.words(each.name) for each in stands), Align.LEFT),
        Column("equipment, tag", tuple(reader.words(equipment_words(each)) for each in stands), Align.LEFT),
        Column("under", tuple(reader.words(under(each, reader)) for each in stands), Align.LEFT),
        Column("set to", tuple(reader.length(each.height or 0.0) for each in stands), Align.RIGHT),
        Column("on it", tuple(reader.words(_on_it(each, reader)) for each in stands), Align.LEFT),
        Column("saddle is", tuple(_saddle(each, reader) for each in plan.settings), Align.LEFT),
    )
    level = f"{reader.length(abs(plan.level))} {'higher' if plan.level > 0 else 'lower'}"
    told = [
        f"The unit stands {level} than with the vehicle on its wheels.",
        _largest(plan, reader),
        *(_leaning(*each, reader) for each in plan.tilts),
        *(_released(plan, each, reader) for each in plan.releases),
        *_left(plan),
    ]
    lines = [*wrap(reader.words(plan.job.title), WIDTH), "", *table(columns, WIDTH), ""]
    lines += [line for text in told for line in wrap(reader.words(text), WIDTH)]
    return "\n".join([*lines, *caution_lines(poorest_basis(plan.job), units)]) + "\n"


def _locks_in_steps(plan: HeightPlan) -> bool:
    """Return whether the lift comes down onto locks that are steps apart, or of which nobody says that they are not."""
    use, stages = plan.job.lift, plan.job.stages
    comes_down = any(each.lift_locked for each in stages) and not any(each.raised is not None for each in stages)
    return use is not None and use.lift.lock_step != 0 and comes_down


def _left(plan: HeightPlan) -> list[str]:
    """Return that findings are left which settings may avoid, and whether other settings were not looked at in full."""
    if not plan.left:
        return []
    count = "1 finding" if plan.left == 1 else f"{plan.left} findings"
    told = f"{count} of level, height, idle support or set-down left: check tells them."
    if not plan.unjudged:
        return [told]
    others = "1 other setting was" if plan.unjudged == 1 else f"{plan.unjudged} other settings were"
    return [f"{told} NOT PROVEN: {others} only looked at in passing, and may do better; mend looks for other stands."]


def _plain(setting: Setting) -> dict[str, Plain]:
    """Return a setting as plain values; lengths in mm."""
    support = setting.support
    return {
        "name": support.name,
        "height_mm": _mm(support.height or 0.0),
        "shim_mm": _mm(support.shim.height if support.shim else 0.0),
        "misfit_mm": _mm(setting.misfit),
    }


def _mm(length: float) -> float:
    """Return a length [m] in mm, without the dust of the last digits."""
    return round(length / MM, 6) + 0.0


def _tilt(motion: Motion | None) -> dict[str, Plain] | None:
    """Return how far a body leans [degrees], None where nothing holds it."""
    return None if motion is None else {"left_up": degrees(motion.rx), "nose_up": degrees(-motion.ry)}


def _on_it(support: Support, reader: Reader) -> str:
    """Return the shim on a stand."""
    if support.shim is None:
        return "nothing"
    return f"{reader.length(support.shim.height)} {support.shim.wood}".rstrip()


def _saddle(setting: Setting, reader: Reader) -> str:
    """Return how far a saddle is off its place."""
    if abs(setting.misfit) <= FITS:
        return "right"
    return f"{reader.length(abs(setting.misfit))} {'high' if setting.misfit > 0 else 'low'}"


def _largest(plan: HeightPlan, reader: Reader) -> str:
    """Return how far the saddles are off, against what counts as even."""
    largest, uneven = max(abs(each.misfit) for each in plan.settings), plan.job.limits.uneven
    if largest <= FITS:
        return "Every saddle is where it should be."
    if largest <= uneven:
        return f"No saddle is off by more than {reader.length(largest)}; {reader.length(uneven)} count as even."
    off = reader.above(Quantity(largest, Measure.LENGTH), uneven)
    return (
        f"A saddle is off by {off}, more than the {reader.length(uneven)} that count as even: other stands, or another "
        "shim, would help. Check the job with these heights before anything comes down on them."
    )


def _leaning(body: str, motion: Motion | None, reader: Reader) -> str:
    if motion is None:
        return f"How the {body} leans is not told: in no step does it stand in balance on its own."
    leans = hypot(motion.rx, motion.ry)
    if leans < LEVEL:
        return f"The {body} is level once it stands on its own."
    return f"The {body} leans by {reader.angle(leans)} once it stands on its own, its {low_side(motion)} lower."


def _let_go(plan: HeightPlan, release: Release) -> list[tuple[str, float]]:
    """Return (stand, height [m]) at which an assembly's mounts let go without a drop."""
    planned = {each.name: each.height or 0.0 for each in plan.job.supports}
    return [(each.support, planned[each.support] + each.by) for each in release.raises]


def _released(plan: HeightPlan, release: Release, reader: Reader) -> str:
    """Return at which heights, and how far down the lift, an assembly comes free without a drop or a jump.

    Heights that a stand has no setting for are named: a shim makes up the rest, or what drops is what is left. Under a
    stand's lowest setting no shim helps, but a thinner one than lies there now.
    """
    supports = {each.name: each for each in plan.job.supports}
    between: list[str] = []
    too_low: list[str] = []
    for name, height in _let_go(plan, release):
        found, shim = supports[name].equipment.heights, supports[name].shim
        if found is None or abs(found.nearest(height) - height) <= TAPE:
            continue
        saddle = height + (shim.height if shim else 0.0)
        (too_low if saddle < found.lowest - TAPE else between).append(name)
    heights = ", ".join(f"{name} at {reader.length(height)}" for name, height in _let_go(plan, release))
    level = "" if release.lowered is None else f", and the lift {reader.length(release.lowered)} past first touch"
    level += " (none of its locks may lie there)" if level and _locks_in_steps(plan) else ""
    told = f"The {release.body} comes free without a drop ({release.stage}) with {heights}{level}."
    if between:
        has = several(between, "has", "have")
        told += f" {names(between)} {has} no setting there: a shim has to make up the rest, else it drops by that."
    if too_low:
        does = several(too_low, "does", "do")
        told += (
            f" {names(too_low)} {does} not go that low, and a shim only raises: it drops by what is left, unless "
            "every stand is set higher by as much."
        )
    return told

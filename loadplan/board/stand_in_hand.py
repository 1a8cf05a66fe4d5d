"""What can be done with the stand in hand: equipment that is free, settings, shims, tags; its place, what it bears."""

from loadplan.board.verdict_cells import Plain
from loadplan.limits import TAPE
from loadplan.model.job import Job, Support
from loadplan.model.shop import Equipment
from loadplan.model.verdict import Assessment, StageAssessment
from loadplan.planning.mending.fitted_setting import level_of_others
from loadplan.report.words.vocabulary import Reader
from loadplan.units import Kind, System, from_si


def equipment_told(assessment: Assessment, reader: Reader) -> list[Plain]:
    """List the shop's equipment with what one piece may carry, and how many are free in every step.

    Args:
        assessment: The job, judged.
        reader: Who reads it.

    Returns:
        Number, name, words and whether a piece is free, in the shop's order.
    """
    return [
        {"id": number, "name": reader.words(each.name), **_free(assessment, each, reader)}
        for number, each in enumerate(assessment.job.shop.equipment)
    ]


def shims_told(job: Job, reader: Reader) -> list[Plain]:
    """List the blocks and plates that the shop owns.

    Args:
        job: The job.
        reader: Who reads it.

    Returns:
        Number and words of each, in the shop's order.
    """
    return [
        {"id": number, "name": reader.words(f"{reader.length(each.height)} {each.wood}".strip())}
        for number, each in enumerate(job.shop.shims)
    ]


def in_hand(job: Job, stage: StageAssessment, support: Support, reader: Reader) -> dict[str, Plain]:
    """Tell of one stand what its form shows.

    Args:
        job: The job.
        stage: The step in view.
        support: The stand.
        reader: Who reads it.

    Returns:
        Its place, settings, shim, tags, and what it carries as shares of the rating of one piece.
    """
    part = f", on its {support.part}" if support.part else ""
    where = f"Under {support.point}" if support.point else "At a free place"
    ground = f" It stands on the {support.on}." if support.on else ""
    shim = next((n for n, each in enumerate(job.shop.shims) if support.shim and _is(each.height, support)), None)
    return {
        "bears": reader.words(f"{where}: it bears the {support.body}{part}.{ground}"),
        "x_text": _signed(support.at[0], reader),
        "y_text": _signed(support.at[1], reader),
        "settings": _settings(job, support, reader),
        "shim": shim,
        "shim_words": reader.length(support.shim.height) if support.shim else "",
        "tag": support.tag,
        "tags": [each for each in support.equipment.tags if each not in support.equipment.out_of_use],
        **_range(stage, support, reader),
    }


def _is(height: float, support: Support) -> bool:
    return support.shim is not None and not support.shim.crib and abs(height - support.shim.height) <= TAPE


def _free(assessment: Assessment, equipment: Equipment, reader: Reader) -> dict[str, Plain]:
    """Return how many pieces of an equipment no step uses: the least over the steps, so that none is promised twice."""
    carries = f"{reader.load(equipment.rating_of_one)} each"
    owned = equipment.usable_count
    if owned is None:
        return {"about": f"{carries}, how many is not said", "free": True}
    used = max(
        len({each.piece or each.name for each in stage.state.supports if each.equipment.name == equipment.name})
        for stage in assessment.stages
    )
    left = max(owned - used, 0)
    return {"about": f"{carries}, {left} of {owned} free", "free": left > 0}


def _settings(job: Job, support: Support, reader: Reader) -> list[Plain]:
    """Return the settings of a stand that goes in steps; the one nearest to the height of the others is marked."""
    heights = support.equipment.heights
    if heights is None or not heights.settings:
        return []
    level = level_of_others(job, support)
    shim = support.shim.height if support.shim else 0.0
    wanted = support.height if level is None else support.at[2] + level - shim
    near = None if wanted is None else min(heights.settings, key=lambda each: abs(each - wanted))
    return [
        {
            "text": _exact(each, reader),
            "words": reader.length(each),
            "near": each == near,
            "now": support.height is not None and abs(each - support.height) <= TAPE,
        }
        for each in heights.settings
    ]


def _range(stage: StageAssessment, support: Support, reader: Reader) -> dict[str, Plain]:
    """Return what a stand carries on this floor, least to most, in words and as shares of what one piece may carry."""
    load, rating = stage.statics.load(support.name), support.equipment.rating_of_one
    may = f"of {reader.load(rating)}"
    if load is None:
        return {"range": "", "range_low": 0.0, "range_high": 0.0, "range_given": 0.0}
    if load.range is None:
        words, low, high = f"Carries {reader.load(load.expected)} {may}", load.expected, load.expected
    else:
        low, high = load.range.low, load.range.high
        least = "nothing" if reader.load(low) == reader.load(0.0) else reader.load(low)
        words = f"On this floor {least} to {reader.load(high)}, as given {reader.load(load.expected)}, {may}"
    return {
        "range": words,
        "range_low": max(low, 0.0) / rating,
        "range_high": high / rating,
        "range_given": load.expected / rating,
    }


def _signed(metres: float, reader: Reader) -> str:
    """Return a length that may be negative as somebody would type it."""
    return f"{'-' if metres < 0 else ''}{reader.length(abs(metres))}"


def _exact(metres: float, reader: Reader) -> str:
    """Return a length unrounded, for the page to say back."""
    unit = "in" if reader.units is System.US else "mm"
    return f"{from_si(metres, Kind.LENGTH, reader.units):.6g} {unit}"

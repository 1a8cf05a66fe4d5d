"""What readings of a step say of a job's weights, for people and for machines."""

from loadplan.checks.phrases import names
from loadplan.model.job import Job
from loadplan.model.learnt_weights import FurtherScale, PartUpdate
from loadplan.model.readings import Estimate, MeasuredAmount
from loadplan.model.shop import EquipmentKind
from loadplan.model.verdict import Measure, Verdict
from loadplan.planning.weight_learning import WeightLearning, narrowed
from loadplan.report.json_output import MM, Plain
from loadplan.report.text.weighing_page import spread_words
from loadplan.report.words.cautions import caution_lines
from loadplan.report.words.columns import WIDTH, Align, Column, table, wrap
from loadplan.report.words.number_format import ruler_of
from loadplan.report.words.vocabulary import FIRST_LIFT, Reader, basis_words, reader_of, shown_verdict
from loadplan.units import Kind, System, bare_unit, from_si

AGAIN = (
    "Stop: whatever the files say, nobody knows what stands there. Take {} again, with the scale at nought and the "
    "stand at its place by tape; then the others."
)
"""What is done first where readings contradict the plan."""

BEYOND = (
    "No weights inside the plus or minus of the files fit what was read, though chance may have done that. Take the "
    "readings again."
)

FORGOTTEN = (
    "It may be that something is still tied or presses, that a part is on or off that the plan has otherwise, that a "
    "stand is not where it was planned, or that the weights are wrong. Look, and read it again."
)

NOTHING_LEARNT = "Nothing is learnt from readings that contradict the plan: weights stay as the files have them."


JUDGED_BY = (
    "Plus or minus here is what nineteen of twenty draws keep. The verdict, and --write, count each figure as far off "
    "as its file and the scales together leave open. What all parts of an assembly come to scales tell better than "
    "each part: known within 3 % it is written as weighed whole, with its centre, where no verdict gets stricter."
)


def learning_dict(found: WeightLearning) -> dict[str, Plain]:
    """Turn what was learnt into the machine output.

    Args:
        found: What was learnt.

    Returns:
        An object of kg, mm and N/mm; `part` is null for an assembly that was weighed whole.
    """
    update = found.update
    return {
        "schema": "loadplan-update-1",
        "parts": [_part(each) for each in update.parts],
        "consistent": update.consistent,
        "suspects": list(update.suspects),
        "stiffness": [{"name": each.name, "n_per_mm": _plain(each.stiffness, 1 / MM)} for each in update.stiffness],
        "next": _next(update.further),
        "verdict": found.verdict.words,
    }


def learning_page(found: WeightLearning, units: System, at_the_bay: tuple[str, ...] = ()) -> str:
    """Write what was learnt for people.

    Args:
        found: What was learnt.
        units: The reader's units.
        at_the_bay: What is to be known of the readings that stand in the job's record, a sentence each.

    Returns:
        Lines of at most 100 characters, ending in a line end.
    """
    reader = reader_of(found.before, units)
    assessment = found.assessment
    shown = shown_verdict(found.verdict, assessment.basis)
    told = narrowed(found.update.parts, found.before.vehicle)
    lines = [
        f"{shown}  weights: {basis_words(assessment.basis)}",
        FIRST_LIFT,
        *wrap(reader.words(f"{found.before.title}. Step: {found.stage}"), WIDTH),
        "",
    ]
    lines += [*table(_columns(told, reader), WIDTH), ""] if told else []
    lines += [
        line for text in (*at_the_bay, *_sentences(found, told, reader)) for line in wrap(reader.words(text), WIDTH)
    ]
    return "\n".join([*lines, *caution_lines(assessment.basis, units)]) + "\n"


def _part(part: PartUpdate) -> dict[str, Plain]:
    """Return one part in kg and mm."""
    return {
        "part": part.part or None,
        "body": part.body,
        "mass_kg": _plain(part.mass, 1.0),
        "cg_mm": {axis: _plain(each, MM) for axis, each in zip("xyz", part.cg, strict=True)},
    }


def _plain(estimate: Estimate, unit: float) -> dict[str, Plain]:
    return {"value": estimate.value / unit, "pm": estimate.pm / unit}


def _next(further: FurtherScale | None) -> dict[str, Plain] | None:
    if further is None:
        return None
    return {"support": further.support, "now_mm": further.now / MM, "then_mm": further.then / MM}


def _columns(parts: tuple[PartUpdate, ...], reader: Reader) -> tuple[Column, ...]:
    """Return what was learnt as columns: what it weighs, and where its centre of gravity is in plan."""
    return (
        Column("known better now", tuple(reader.words(each.part or each.body) for each in parts), Align.LEFT),
        Column("weight", tuple(reader.mass(each.mass.value) for each in parts), Align.RIGHT),
        Column("+/-", tuple(spread_words(MeasuredAmount.MASS, each.mass.pm, reader) for each in parts), Align.RIGHT),
        *(
            Column(word, tuple(_place(each.cg[axis], reader) for each in parts), Align.RIGHT)
            for axis, word in enumerate(("front +, back -", "left +, right -"))
        ),
    )


def _place(estimate: Estimate, reader: Reader) -> str:
    """Return one coordinate with its plus or minus."""
    if ruler_of(Measure.LENGTH, reader.units).round(estimate.value) == 0:
        return f"0 +/- {spread_words(MeasuredAmount.X, estimate.pm, reader)}"
    sign = "-" if estimate.value < 0 else ""
    return f"{sign}{reader.length(abs(estimate.value))} +/- {spread_words(MeasuredAmount.X, estimate.pm, reader)}"


def _sentences(found: WeightLearning, told: tuple[PartUpdate, ...], reader: Reader) -> list[str]:
    """Return whether readings and plan agree, what else they tell, and what to read next."""
    update = found.update
    sentences = _agreement(found, reader)
    if update.consistent and not told:
        sentences.append("These readings tell of no part more than its file does.")
    for each in update.stiffness:
        value, pm = (
            f"{from_si(number, Kind.STIFFNESS, reader.units):.3g}"
            for number in (each.stiffness.value, each.stiffness.pm)
        )
        unit = bare_unit(Kind.STIFFNESS, reader.units)
        sentences.append(f"By these readings {each.name} gives like a spring of {value} +/- {pm} {unit}.")
    if told:
        sentences.append(JUDGED_BY)
    if update.by_hand:
        sentences.append(f"What a hand felt at {names(update.by_hand)} is too coarse to weigh by.")
    if update.further:
        sentences.append(_further(found.before, update.further, reader))
    if update.consistent and found.assessment.verdict is not Verdict.HOLDS:
        sentences.append("With these weights the plan is not one that holds: check says why, once they are written.")
    return sentences


def _agreement(found: WeightLearning, reader: Reader) -> list[str]:
    """Return whether readings and plan agree, and what to do where they do not."""
    stops = [reader.finding(each) for each in found.stops]
    doubted = names(found.update.suspects)
    if not found.update.consistent:
        told = f"THE READINGS CONTRADICT THE PLAN. What fits worst: {doubted}."
        return [told, AGAIN.format(doubted), *stops, FORGOTTEN, NOTHING_LEARNT]
    # What lies beyond the tolerances, as `check` tells it, agrees at the most by chance.
    agree = [BEYOND] if found.beyond else ["Readings and plan agree inside their tolerances."]
    return [*stops, *agree]


def _further(job: Job, further: FurtherScale, reader: Reader) -> str:
    """Return which reading would tell most: of a stand, a hook, or the lift's own gauge, which not every lift has."""
    of = {each.name: each for each in job.supports}.get(further.support)
    if of is None:
        scale = f"the gauge of {further.support}, if it has one"
    else:
        scale = f"a scale {'on the hook of' if of.equipment.kind is EquipmentKind.HOIST else 'under'} {of.name}"
    now, then = (spread_words(MeasuredAmount.X, each, reader) for each in (further.now, further.then))
    return (
        f"What would help most: {scale}. Where it is nearest to tipping, the distance, now "
        f"known to {now} as far as weights go, would be known to about {then}."
    )

"""Readings: what was found under the unit against what the plan says is there, and what a difference may mean."""

from collections.abc import Collection
from dataclasses import replace
from math import hypot, inf, isclose
from typing import NamedTuple

from loadplan.checks.case import Case, Told
from loadplan.checks.phrases import length, load, names
from loadplan.checks.read_past_rating import ReadLoad, read_load
from loadplan.model.job import StageReading
from loadplan.model.verdict import CheckName, Finding, Measure, NotChecked, Sentence, Verdict
from loadplan.statics.expected_reading import (
    STICKS_FROM,
    TURNS_UP_TO,
    ExpectedReading,
    expected_readings,
    span,
)
from loadplan.statics.readings_together import Misfit, ReadOutOfBalance, ReadTogether, misfits_together
from loadplan.statics.unsolved import UNSOLVED

MORE = (
    "something presses on it or pulls it down, a part still on that the plan has off, the stand higher or at another "
    "place than planned, or weights that are wrong"
)
LESS = (
    "something still tied that holds it up, a part off or forgotten that the plan has on, the stand lower or at "
    "another place than planned, or weights that are wrong"
)
EITHER = (
    "something still tied or pressing on it, a part on, off or forgotten that the plan has otherwise, a stand higher, "
    "lower or at another place than planned, or weights that are wrong"
)

FITS = "It fits."
"""What is said of a reading that is likely by itself."""


ODD = " all else could be so: that may be what is off, so take it again first."
"""What is said of the only reading without which the others go together."""

TOGETHER = ", "
"""Between the names in the subject of a finding on several readings."""


class LoadSpan(NamedTuple):
    """Between which loads what was found, or what the plan says, lies [N]."""

    low: float
    high: float


def check(case: Case) -> list[Told]:
    """Judge what was found in a stage against the plan.

    Args:
        case: The stage.

    Returns:
        A finding a reading whose load is known, and one on readings that do not go together; the others are not
        checked.
    """
    told: list[Told] = []
    for each in expected_readings(case.job, case.state, case.statics):
        if each.expected is None:
            told.append(_unknown(case, each, "what it should come to is not known"))
            past = read_load(case, each.reading)
            told += [_past_rating(each.reading, past)] if past else []
            continue
        if each.least is None:
            told.append(_unknown(case, each, "it may tip inside the tolerances, so nothing bounds what it may come to"))
        told.append(_with_ratings(case, each, _finding(each, each.expected)))
    try:
        misfits = misfits_together(case.job, case.state, case.statics)
    except UNSOLVED:
        why = "whether what was read goes together is not checked: it cannot be computed"
        return [*told, NotChecked((f"{case.state.name}: {why}.",))]
    for misfit in misfits:
        told = _not_together(told, misfit)
    return told


def _not_together(told: list[Told], misfit: Misfit) -> list[Told]:
    """Return findings on readings, of which some fit by themselves but not beside each other, with one on these."""
    of_them = list(dict.fromkeys(each.support for each in misfit.readings))
    stops = {each.subject for each in told if isinstance(each, Finding) and each.verdict is Verdict.STOP}
    if stops.issuperset(of_them):
        return told
    odd = misfit.odd
    without: Sentence = () if odd is None else (" Without what was read at ", *_place(misfit, odd), ODD)
    if isinstance(misfit, ReadTogether):
        value, limit, says = misfit.load, misfit.limit, _says_sum(misfit)
    else:
        value, limit, says = misfit.off, 0.0, _says_out_of_balance(misfit)
    subject = TOGETHER.join(of_them)
    together = Finding(CheckName.READING, Verdict.STOP, subject, value, limit, Measure.LOAD, (*says, *without))
    return [*(_beside_others(each, of_them) for each in told), together]


def _says_sum(misfit: ReadTogether) -> Sentence:
    """Return that readings come to what no weights come to."""
    more = misfit.load > misfit.limit
    # Of a stand tried by hand it is known only what it carries at least, or at most.
    by_hand = any(each.load is None for each in misfit.readings)
    found = ("carry at least " if more else "carry at most ") if by_hand else "read "
    return (
        f"{names([each.support for each in misfit.readings])} together {found}",
        load(misfit.load),
        ", and what stands on them weighs at ",
        "most " if more else "least ",
        load(misfit.limit),
        f". Stop, and look: {MORE if more else LESS}.",
    )


def _says_out_of_balance(misfit: ReadOutOfBalance) -> Sentence:
    """Return that no weights balance what was read."""
    first, *between, last = misfit.readings
    joined = (piece for each in between for piece in (", ", *_place(misfit, each)))
    return (
        *_place(misfit, first),
        *joined,
        " and ",
        *_place(misfit, last),
        f" cannot {'all' if between else 'both'} be so: no weights inside the tolerances, wherever inside theirs they ",
        "lie, balance on that. ",
        "It takes ",
        load(misfit.off),
        f" more or less at one of them at least. Stop, and look: {EITHER}.",
    )


def _place(misfit: Misfit, reading: StageReading) -> Sentence:
    """Return where something was read, and at which height of the lift where not all of it was at one."""
    if len({each.lowered for each in misfit.readings}) > 1:
        if reading.lowered is None:
            return (f"{reading.support} with the lift as the step has it",)
        return (f"{reading.support} with the lift lowered ", length(reading.lowered))
    return (reading.support,)


def _beside_others(told: Told, of_them: list[str]) -> Told:
    """Return a finding that does not say of its reading that it fits where it does not beside others."""
    if isinstance(told, NotChecked) or told.subject not in of_them:
        return told
    others = names([each for each in of_them if each != told.subject]) or "the same place"
    beside = f"By itself it could be so; together with what was read at {others} it cannot."
    says = (each.replace(FITS, beside) if isinstance(each, str) else each for each in told.says)
    return replace(told, says=tuple(says))


def read_at(finding: Finding, known: Collection[str]) -> tuple[str, ...]:
    """Name where that was read which a finding is about.

    Args:
        finding: What `check` found; one of another check is about its subject alone.
        known: Names of stands, hooks and lift, which may have commas in them.

    Returns:
        One place, or several whose readings do not go together; only what is known of these.
    """
    if finding.subject in known:
        return (finding.subject,)
    if finding.check != CheckName.READING:
        return ()
    return tuple(each for each in finding.subject.split(TOGETHER) if each in known)


def _unknown(case: Case, expected: ExpectedReading, why: str) -> NotChecked:
    return NotChecked((f"{case.state.name}: the reading at {expected.reading.support} is not checked: {why}.",))


def _with_ratings(case: Case, told: ExpectedReading, finding: Finding) -> Finding:
    """Return the verdict on a reading with that on what it says of ratings, which counts whether or not it fits."""
    past = read_load(case, told.reading)
    if past is None or past.verdict < finding.verdict:
        return finding
    return replace(finding, verdict=past.verdict, limit=past.limit, says=(*finding.says, *past.says))


def _past_rating(reading: StageReading, past: ReadLoad) -> Finding:
    """Return what a reading says of ratings where the plan says nothing that it could be held against."""
    read: Sentence = (f"{reading.support} reads ", load(reading.load or 0.0), ".")
    return Finding(
        CheckName.READING,
        past.verdict,
        reading.support,
        reading.load,
        past.limit,
        Measure.LOAD,
        (*read, *past.says),
    )


def _finding(told: ExpectedReading, expected: float) -> Finding:
    """Return the verdict on one reading, held against what is possible, and against what is likely."""
    reading, found = told.reading, LoadSpan(*span(told.reading))
    # Where nothing bounds it, nothing is past its bounds; where its spread is not known, a little is as much as a lot.
    least, most = (0.0, inf) if told.least is None or told.most is None else (told.least, told.most)
    likely = hypot(told.spread or 0.0, reading.pm)
    # On more than three stands the likely spread is that of springs that also pull. A stand only pushes, and carries
    # no more than what is over it weighs: what is likely ends where what is possible does.
    low, high = max(expected - likely, least - reading.pm), min(expected + likely, most + reading.pm)
    more = found.low > expected
    if found.low - reading.pm > most or found.high + reading.pm < least:
        verdict, limit = Verdict.STOP, most if more else least
    else:
        fits = found.low <= high and found.high >= low
        verdict, limit = Verdict.NOTE if fits else Verdict.CAUTION, high if more else max(low, 0.0)
    value = reading.load
    if value is None:
        # A hand gives no number: what the plan says is held against what a hand can tell.
        value, limit = expected, TURNS_UP_TO if reading.turns else STICKS_FROM
    plan = _plan_says(expected, likely, LoadSpan(low, high))
    says = _says(told, plan, verdict, more=more)
    return Finding(CheckName.READING, verdict, reading.support, value, limit, Measure.LOAD, says)


def _plan_says(expected: float, likely: float, span: LoadSpan) -> Sentence:
    """Return what the plan says: plus or minus what is likely, or between what is possible where that is narrower."""
    if isclose(span.low, expected - likely) and isclose(span.high, expected + likely):
        return "; the plan says ", load(expected), " ± ", load(likely)
    return "; the plan says ", load(expected), ", likely between ", load(max(span.low, 0.0)), " and ", load(span.high)


def _says(told: ExpectedReading, plan: Sentence, verdict: Verdict, *, more: bool) -> Sentence:
    """Return what was found, what the plan says, and what to make of it."""
    reading = told.reading
    where: Sentence = () if reading.lowered is None else (" with the lift lowered ", length(reading.lowered))
    if reading.load is not None:
        found: Sentence = (f"{reading.support} reads ", load(reading.load), *where)
    else:
        turned = "turns by hand" if reading.turns else "does not turn by hand"
        found = (f"{reading.support} {turned}", *where)
    match verdict:
        case Verdict.STOP:
            may = f" Stop, and look. No weights inside the tolerances do that: {MORE if more else LESS}."
        case Verdict.CAUTION:
            may = f" Stop, and look before going on: {MORE if more else LESS}."
        case _:
            may = f" {FITS}"
    return (*found, *plan, ".", may)

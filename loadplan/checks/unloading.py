"""Unloading: a stand that is taken away while it still carries lets its load down on the others at once."""

from math import ceil

from loadplan.checks.case import Case, Told
from loadplan.checks.phrases import force
from loadplan.checks.resetting import reset_cures, reset_words
from loadplan.model.step_change import Unloading
from loadplan.model.verdict import CheckName, Finding, Measure, NotChecked, Sentence, Verdict
from loadplan.statics.levelling import Reset

LEFT = 100.0
"""A stand that carries more [N] is not pulled out by hand; common practice, no source."""

MILLIMETRE = 1e-3
"""What a stand is raised by is told to [m]."""

HAIR = 1e-6
"""Part of a millimetre that is rounding."""


def check(case: Case) -> list[Told]:
    """Judge what each support still carries that the stage takes away.

    Args:
        case: The stage.

    Returns:
        One finding a support whose load is known; the others are not checked.
    """
    return [
        _unknown(case, each.support) if each.load is None else _finding(case, each, each.load)
        for each in case.statics.change.unloadings
    ]


def _unknown(case: Case, support: str) -> NotChecked:
    why = "what it bears is not in balance, or cannot be computed"
    return NotChecked((
        f"{case.state.name}: what {support} still carries when it is taken away is not checked: {why}.",
    ))


def _finding(case: Case, unloading: Unloading, load: float) -> Finding:
    """Return whether a support carries little enough to be taken away."""
    return Finding(
        check=CheckName.UNLOADING,
        verdict=Verdict.CAUTION if load > LEFT else Verdict.HOLDS,
        subject=unloading.support,
        value=load,
        limit=LEFT,
        measure=Measure.FORCE,
        says=_says(case, unloading, load),
        cures=reset_cures(case, _reset(case, unloading)) if load > LEFT else (),
    )


def _says(case: Case, unloading: Unloading, load: float) -> Sentence:
    """Return what a support carries when it is taken away, and which stand to raise before."""
    if load <= LEFT:
        return (f"{unloading.support} carries next to nothing when it is taken away.",)
    still: Sentence = (f"{unloading.support} still carries ", *force(load), " when it is taken away.")
    reset = _reset(case, unloading)
    if reset is None:
        return (
            *still,
            f" No single stand takes that from it: take the weight by a jack beside {unloading.support} first.",
        )
    return (*still, *reset_words(case, reset.support.body, reset))


def _reset(case: Case, unloading: Unloading) -> Reset | None:
    """Return which stand takes the load, raised to the next whole millimetre; None where no single one can."""
    raising = unloading.raising
    if raising is None:
        return None
    by = ceil(raising.by / MILLIMETRE - HAIR) * MILLIMETRE
    return Reset(case.support(raising.support), by, 0.0)

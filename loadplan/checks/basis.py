"""Basis: a plan is only as good as the weights that it rests on."""

from loadplan.checks.case import Case, Told
from loadplan.checks.phrases import names, several
from loadplan.model.vehicle import Basis
from loadplan.model.verdict import CheckName, Finding, Measure, Verdict
from loadplan.model.weight_basis import body_basis, poorest_basis


def check(case: Case) -> list[Told]:
    """Judge how good the weights of the whole job are.

    Args:
        case: The stage.

    Returns:
        One finding in the first step that is judged, none in the others: a caution where the weights are a guess.
    """
    judged = (number for number, stage in enumerate(case.job.stages) if not stage.moved)
    if case.state.index != next(judged, None):
        return []
    basis = poorest_basis(case.job)
    guessed = [
        body.name
        for body in case.job.vehicle.bodies
        if body.name in case.job.bodies and body_basis(case.job.vehicle, body) is Basis.GUESS
    ]
    says = (
        f"The {several(guessed, 'weight', 'weights')} of the {names(guessed)} {several(guessed, 'is', 'are')} a guess, "
        "and all loads and distances to tipping with it: weigh it, or take the maker's data, before it goes up."
        if basis is Basis.GUESS
        else f"The weights are no guess: {basis.words}."
    )
    return [
        Finding(
            check=CheckName.BASIS,
            verdict=Verdict.CAUTION if basis is Basis.GUESS else Verdict.HOLDS,
            subject=names(guessed) if basis is Basis.GUESS else basis.words,
            value=None,
            limit=None,
            measure=Measure.MASS,
            says=(says,),
        )
    ]

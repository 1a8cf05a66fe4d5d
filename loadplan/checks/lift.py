"""Lift: does it carry no more than it may, as a whole and on each arm, and does what it holds stay on it."""

from loadplan.checks.ballast_cure import ballast_note
from loadplan.checks.case import Case, Told
from loadplan.checks.load_centre import load_centre
from loadplan.checks.pads import pads_of
from loadplan.checks.phrases import AT_EDGE, WEIGH, load, names, share
from loadplan.checks.prop_cure import prop_place
from loadplan.checks.set_down import what_is_done
from loadplan.limits import GRAVITY
from loadplan.model.answer import Load
from loadplan.model.job import LiftUse, Support
from loadplan.model.shop import Lift
from loadplan.model.verdict import CheckName, Finding, Measure, NotChecked, Sentence, Verdict


def check(case: Case) -> list[Told]:
    """Judge the lift while it holds the vehicle.

    Args:
        case: The stage.

    Returns:
        Findings for the whole, for the balance on it, for each arm whose load is known, for the centre of the load and
        for ballast where it helps, the last two not checked where all pads lie in one line; none without a lift.
    """
    use = case.job.lift
    if use is None or not case.arms:
        return []
    arms = _arms(case, use.lift)
    pads, carried = pads_of(case.arms), case.statics.lift
    if pads is None or carried is None:
        return [*_total(case, use.lift), *_balance(case, use), *arms, _in_line(use)]
    centre = load_centre(case, use, pads, carried)
    note = ballast_note(case, use, pads, [*arms, *(each for each in centre if isinstance(each, Finding))])
    return [*_total(case, use.lift), *_balance(case, use), *arms, *centre, *note]


def _in_line(use: LiftUse) -> NotChecked:
    """Return that the place of the load is not checked between pads in one line."""
    lies = f"Whether the centre of the load on {use.lift.name} lies well inside its pads"
    return NotChecked((f"{lies}: not checked, they all lie in one line across.",))


def _total(case: Case, lift: Lift) -> list[Finding]:
    """Return whether the lift may lift all that it holds, every mass at its most."""
    if case.statics.lift is None:
        return []
    weight = case.statics.lift.mass_upper * GRAVITY
    over = weight > lift.rating
    held: Sentence = (f"{lift.name} holds at most ", load(weight), " of the ", load(lift.rating), " that it may lift")
    return [
        Finding(
            check=CheckName.LIFT,
            verdict=Verdict.STOP if over else Verdict.HOLDS,
            subject=lift.name,
            value=weight,
            limit=lift.rating,
            measure=Measure.LOAD,
            says=(*held, ": too much. Take parts off before lifting, or use a stronger lift.")
            if over
            else (*held, "."),
        )
    ]


def _balance(case: Case, use: LiftUse) -> list[Finding]:
    """Return whether what is on the lift stays there with every mass and centre inside tolerance."""
    group = case.group(use.body)
    holds = group.balanced and group.robust
    stays = f"The {names(group.bodies)} on {use.lift.name} " + ("stays" if len(group.bodies) == 1 else "stay")
    falls = (
        f"{use.lift.name} does not hold the {use.body} for certain: it may tip off its pads. Do not lift it like this."
    )
    return [
        Finding(
            check=CheckName.LIFT,
            verdict=Verdict.HOLDS if holds else Verdict.STOP,
            subject=use.body,
            value=None,
            limit=None,
            measure=Measure.LENGTH,
            says=(f"{stays} where put.",) if holds else (falls,),
        )
    ]


def _arms(case: Case, lift: Lift) -> list[Finding]:
    """Return the verdict on each arm whose load is known."""
    found = []
    for arm in case.arms:
        carried = case.load(arm.name)
        if carried is not None and carried.range is not None:
            verdict, says = _judged(case, lift, arm, carried)
            found.append(
                Finding(CheckName.LIFT, verdict, arm.name, carried.at_most, lift.arm_rating, Measure.LOAD, says)
            )
    return found


def _judged(case: Case, lift: Lift, arm: Support, carried: Load) -> tuple[Verdict, Sentence]:
    """Return the verdict on one arm: too much, much, or so little that it may come off its pad."""
    high, rating = carried.at_most, lift.arm_rating
    at_edge = carried.at_edge > rating >= high
    told: Sentence = (
        f"The arm at {arm.name} carries ",
        load(carried.expected),
        ", at most ",
        load(carried.at_edge if at_edge else high),
        f"{AT_EDGE if at_edge else ''} of the ",
        load(rating),
        " that one arm may",
    )
    if high > rating:
        return Verdict.STOP, (*told, ": too much. Set the pads so that the arms share better, or take weight off.")
    if at_edge:
        cure = f": too much. {WEIGH} Or set the pads so that the arms share better, or take weight off."
        return Verdict.CAUTION, (*told, cure)
    if high > case.job.limits.arm_share * lift.arm_rating:
        asked: Sentence = (", above the ", share(case.job.limits.arm_share), " asked for.")
        return Verdict.CAUTION, (*told, *asked, " Set the pads so that the arms share better.")
    if case.is_nothing(carried.at_least, arm.body):
        return Verdict.CAUTION, (*told, f"; it may come off its pad. {_regain(case, arm)}.")
    return Verdict.HOLDS, (*told, ".")


def _regain(case: Case, arm: Support) -> str:
    """Return words for what puts load back on an arm: the other end of the vehicle is the heavy one."""
    pads = pads_of(case.arms)
    if case.statics.set_down is not None:
        return f"{what_is_done(case)} less"
    if pads is None:
        return "Put a prop under the end that grows heavy"
    heavy = "rear" if pads.end_of(arm.at[0]) == "front" else "front"
    return f"Set a prop to just touch under {prop_place(case, pads, heavy)} before that"

"""Pull: does the unit stand the known pull of a stage, such as a torque on a bar, with room to spare."""

from functools import partial
from math import atan2, floor

from loadplan.checks.case import Case, Told
from loadplan.checks.moved_stand_cure import FurtherOut, further_out_cure
from loadplan.checks.phrases import eighth, force, in_any_order_with, share
from loadplan.checks.push import first_to_go, oil_on_it, where_it_slides
from loadplan.checks.sideways_cure import steady_sideways
from loadplan.model.disturbance import PullAnswer
from loadplan.model.plan_cure import LessPull
from loadplan.model.vehicle import Place
from loadplan.model.verdict import CheckName, Finding, Measure, Sentence, SolvedCure, Verdict
from loadplan.statics.moved_stands import MovedGroup
from loadplan.statics.pull_factor import pulled

ROOM = 1.5
"""Times that a known pull should be stood: IBC 1807.2.3 asks it of retaining walls; by analogy."""

STEEP = 0.92
"""Upward part of a direction from which it is told as straight up or down: steeper than about 67 degrees."""

SLANTED = 0.38
"""Upward part from which a direction is told as also up or down: steeper than about 22 degrees."""


def check(case: Case) -> list[Told]:
    """Judge the pull that the stage names.

    Args:
        case: The stage.

    Returns:
        One finding, none without a pull or where its group is not balanced.
    """
    pull = case.statics.pull
    return [] if pull is None else [_finding(case, pull)]


def _finding(case: Case, pull: PullAnswer) -> Finding:
    """Return how many times a pull could be made before something goes."""
    verdict, limit = _judged(pull)
    return Finding(
        check=CheckName.PULL,
        verdict=verdict,
        subject=pull.body,
        value=pull.factor,
        limit=limit,
        measure=Measure.SHARE,
        says=_says(case, pull, verdict),
        cures=_less(pull) if verdict is not Verdict.HOLDS else (),
        cure=_further_out(case, pull) if verdict is not Verdict.HOLDS and _tips_at_the_end(pull) else None,
    )


def _tips_at_the_end(pull: PullAnswer) -> bool:
    """Return whether it tips with all parts off: stands are moved in the state at the stage's end."""
    return pull.first == "tips" and not pull.still_on


def _less(pull: PullAnswer) -> tuple[LessPull, ...]:
    """Return how much of a pull that has too little to spare is stood with room, in steps of a twentieth."""
    stood = min(each for each in (pull.factor, pull.oiled) if each is not None)
    left = floor(stood / ROOM * 20) / 20
    return (LessPull(left),) if left > 0 else ()


def _further_out(case: Case, pull: PullAnswer) -> SolvedCure | None:
    """Return how far out the stands that it tips about would have to be; None for a pull straight up or down."""
    if abs(pull.towards[2]) >= STEEP:
        return None
    return further_out_cure(
        FurtherOut(case, pull.body, pull.about, pull.towards[:2]), partial(_is_stood, case), "it stands that"
    )


def _is_stood(case: Case, group: MovedGroup) -> bool:
    """Return whether the pull is stood with stands elsewhere."""
    found = pulled(case.state.stage.pull, (group.frame,), (group.solved,), group.holds)
    return found is not None and _judged(found)[0] is Verdict.HOLDS


def _judged(pull: PullAnswer) -> tuple[Verdict, float]:
    """Return the verdict, and the limit that it was held against."""
    if not _is_less(pull.factor) and not _is_less(pull.oiled):
        return Verdict.HOLDS, ROOM
    return (Verdict.STOP, 1.0) if pull.factor is not None and pull.factor < 1 else (Verdict.CAUTION, ROOM)


def _is_less(factor: float | None) -> bool:
    return factor is not None and factor < ROOM


def _says(case: Case, pull: PullAnswer, verdict: Verdict) -> Sentence:
    """Return what a pull does first, and what would help where there is little to spare."""
    still = f"{in_any_order_with(pull.still_on, case.state.may_be_on)}, the" if pull.still_on else "The"
    named: Sentence = (f"{still} pull on the {pull.body}, ", *force(pull.force), f" {_way(pull.towards)}, ")
    if pull.factor is None:
        return (*named, "moves nothing however hard it is", *_with_oil(case, pull))
    goes = f" of it: then {first_to_go(case, pull.first, pull.about)}"
    stood: Sentence = (*named, "is stood up to ", share(pull.factor), goes)
    match verdict:
        case Verdict.STOP:
            told: Sentence = (*stood, ", and friction may let go sooner. Do not pull like this.")
        case Verdict.CAUTION if pull.oiled is not None and not _is_less(pull.factor):
            told = (*stood, *oil_on_it(where_it_slides(case, pull.body), (share(pull.oiled), " of it"), (share(ROOM),)))
        case Verdict.CAUTION:
            told = (*stood, ", and friction may let go sooner: ", share(ROOM), " is asked for.")
        case _:
            return (*stood, ". Friction may let go sooner.")
    return (*told, *steady_sideways(case, pull.body, pull.first, pull.about))


def _with_oil(case: Case, pull: PullAnswer) -> Sentence:
    """Return what oil on the saddles would leave of a pull that friction stands however hard it is."""
    if pull.oiled is None or not _is_less(pull.oiled):
        return (".",)
    oil = oil_on_it(where_it_slides(case, pull.body), (share(pull.oiled), " of it"), (share(ROOM),))
    return (*oil, *steady_sideways(case, pull.body, "slides", case.group(pull.body).supports))


def _way(towards: Place) -> str:
    x, y, z = towards
    upright = "up" if z > 0 else "down"
    if abs(z) >= STEEP:
        return f"straight {upright}"
    level = f"towards the {eighth(atan2(y, x))}"
    return f"{level} and {upright}" if abs(z) >= SLANTED else level

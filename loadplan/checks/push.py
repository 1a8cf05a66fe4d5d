"""Push: how hard a person may lean on each free rigid whole, at its highest part, before it slides, tips or more.

The limit is an upper bound (friction is not associated: what really holds depends on how the unit came to
stand); that is why twice the push is asked for.
"""

from dataclasses import dataclass
from functools import partial
from math import cos, sin

from loadplan.checks.case import Case, Told, first_of_wholes
from loadplan.checks.grip_cure import grip_cure
from loadplan.checks.moved_stand_cure import FurtherOut, further_out_cure
from loadplan.checks.phrases import eighth, force, in_any_order_with, length, names, several, turning_about
from loadplan.checks.piece import Piece, pieces
from loadplan.checks.sideways_cure import steady_sideways
from loadplan.model.disturbance import PushAnswer
from loadplan.model.plan_cure import LessPull
from loadplan.model.verdict import CheckName, Finding, Measure, Sentence, SolvedCure, Verdict
from loadplan.statics.moved_stands import MovedGroup
from loadplan.statics.sideways_push import LIGHT, TWICE


@dataclass(frozen=True, slots=True)
class _Asked:
    """What a push is measured by.

    Attributes:
        least: Push that must be stood [N].
        light: Whether that is a share of the weight, because it slides before it tips and is light.
    """

    least: float
    light: bool


def check(case: Case) -> list[Told]:
    """Judge the least sideways push on each rigid whole that its group cannot stand; the lift's load is not pushed.

    Args:
        case: The stage.

    Returns:
        One finding a rigid whole of a balanced group that does not hang on the lift, least push first.
    """
    pushes = [push for group in case.statics.groups for push in group.pushes]
    return [_finding(case, push) for push in sorted(pushes, key=lambda each: each.force)]


def first_to_go(case: Case, first: str, about: tuple[str, ...]) -> str:
    """Say what happens where a push or pull passes what can be stood.

    Args:
        case: The stage.
        first: "slides", "tips" or "stand".
        about: Supports that slip, that it turns about, or that go over.

    Returns:
        A clause.
    """
    match first:
        case "slides":
            return f"it slides on {names(about)}"
        case "stand":
            falling = pieces(case.support(name) for name in about)
            whole = [_named(each) for each in falling]
            return f"{names(whole)} {several(whole, 'goes', 'go')} over"
        case _:
            return f"it tips, {turning_about(about)}"


def _named(piece: Piece) -> str:
    """Return the name of a stand; of a piece that makes several supports, what it is."""
    return piece.name if len(piece.supports) == 1 else f"the {piece.equipment.name}"


def _finding(case: Case, push: PushAnswer) -> Finding:
    """Return whether a rigid whole stands the sideways push that the work on it asks for."""
    asked = _asked(case, push)
    verdict, limit = _judged(push, asked.least)
    return Finding(
        check=CheckName.PUSH,
        verdict=verdict,
        subject=", ".join(case.whole(push.body)),
        value=push.force,
        limit=limit,
        measure=Measure.FORCE,
        says=(*_stands(case, push), *_compared(case, push, asked, verdict), *_tied(case, push.body)),
        cures=(LessPull(None),) if verdict is not Verdict.HOLDS and case.state.stage.bar else (),
        cure=_cure(case, push) if verdict is not Verdict.HOLDS else None,
    )


def _cure(case: Case, push: PushAnswer) -> SolvedCure | None:
    """Return how far out the stands that it tips about would have to be, or what friction keeps it from sliding."""
    if push.still_on:
        # Stands are moved, and friction looked for, in the state at the stage's end.
        return None
    if push.first == "slides":
        return grip_cure(case, push, partial(_is_stood, case, push))
    if push.first != "tips":
        return None
    # About a line of stands a push goes with the distance of the weight from it.
    low = min((each.at[2] for each in case.stands if each.name in push.about), default=push.at[2])
    more = TWICE * _asked(case, push).least - push.force
    guess = more * (push.at[2] - low) / case.weight(push.body)
    out = FurtherOut(case, push.body, push.about, (cos(push.direction), sin(push.direction)), guess=guess)
    return further_out_cure(out, partial(_is_stood, case, push), "it stands that")


def _is_stood(case: Case, told: PushAnswer, group: MovedGroup) -> bool:
    """Return whether a push is stood with stands elsewhere, and no other that was stood is not any more."""
    stood = {each.body: _judged(each, _asked(case, each).least)[0] for each in group.solved.answer.pushes}
    before = {each.body: _judged(each, _asked(case, each).least)[0] for each in case.group(told.body).pushes}
    own = stood.pop(told.body, Verdict.STOP)
    return own is Verdict.HOLDS and all(verdict <= before[body] for body, verdict in stood.items())


def _asked(case: Case, push: PushAnswer) -> _Asked:
    """Return what must be stood: of what slides before it tips no more than a share of the weight on its supports."""
    limits = case.job.limits
    asked = limits.bar if case.state.stage.bar else limits.push
    # Shoved, what is light stays upright; what tips does not, nor what its stands go over under.
    if push.first != "slides":
        return _Asked(asked, light=False)
    share = LIGHT * push.borne
    return _Asked(min(asked, share), light=share < asked)


def _judged(push: PushAnswer, asked: float) -> tuple[Verdict, float]:
    """Return the verdict, and the limit that it was held against [N]."""
    if push.force < asked:
        return Verdict.STOP, asked
    return (Verdict.CAUTION if min(push.force, push.oiled) < TWICE * asked else Verdict.HOLDS), TWICE * asked


def _stands(case: Case, push: PushAnswer) -> Sentence:
    """Return how hard a whole can be pushed where it is pushed, and what happens first."""
    whole = case.whole(push.body)
    bodies = f"{names(whole)} {several(whole, 'stands', 'stand')}"
    if push.first == "holds":
        return (f"No sideways push moves the {names(whole)}",)
    goes = first_to_go(case, push.first, push.about)
    still = f"{in_any_order_with(push.still_on, case.state.may_be_on)}, the" if push.still_on else "The"
    return (
        f"{still} {bodies} a sideways push of at most ",
        *force(push.force),
        *_highest(case, push),
        f"; weakest towards the {eighth(push.direction)}: {goes}",
    )


def _tied(case: Case, body: str) -> Sentence:
    """Return why less is told where what is pushed, or what stands on it, stands on the floor and on it at once."""
    own = case.whole(body)
    for top in first_of_wholes(case):
        whole = case.whole(top.name)
        bases = {
            case.whole(each.on)[0] if each.on in case.state.bodies else ""
            for each in case.state.bearing
            if each.body in whole and each.on not in whole
        }
        if len(bases) > 1 and (body in whole or own[0] in bases):
            return (
                f" Told with care: the {top.name} does not stand on one assembly alone, and ties what it stands on.",
            )
    return ()


def _highest(case: Case, push: PushAnswer) -> Sentence:
    """Return where a body is pushed, and how high that is over the floor as it stands."""
    there = case.state.on | set(push.still_on)
    on = [part for part in case.job.vehicle.parts if part.name in there and part.body == push.body]
    highest = next((part.name for part in on if part.at == push.at), None)
    where = f" at {highest}, the highest part on" if highest else f" at the middle of the {push.body}"
    high = case.statics.height(push.body, push.at)
    return (where,) if high is None else (where, ", ", length(high), " over the floor")


def _compared(case: Case, push: PushAnswer, asked: _Asked, verdict: Verdict) -> Sentence:
    """Return what a push is measured by, and what would help where it is too little."""
    who = "a braced pull on a bar" if case.state.stage.bar else "one person's push"
    measured: Sentence = (*force(asked.least), f" of {who}")
    if asked.light:
        measured = ("a tenth of the weight on its supports, ", *force(asked.least))
    match verdict:
        case Verdict.STOP:
            less: Sentence = (", less than ", *measured, ", and friction may let go sooner.")
        case Verdict.CAUTION if push.force < TWICE * asked.least:
            less = (", less than twice ", "" if asked.light else "the ", *measured, ", and friction may let go sooner.")
        case Verdict.CAUTION:
            where = where_it_slides(case, push.body)
            less = oil_on_it(where, force(push.oiled), ("twice ", "" if asked.light else "the ", *measured))
        case _:
            return (". Friction may let go sooner.",)
    return (*less, *steady_sideways(case, push.body, push.first, push.about))


def where_it_slides(case: Case, body: str) -> str:
    """Say where the supports of a group may slide: at saddles, and at the feet of those that stand on an assembly.

    Args:
        case: The stage.
        body: A body of the group.

    Returns:
        A noun.
    """
    own = [case.support(name) for name in case.group(body).supports]
    return "saddles and feet" if any(each.has_bare_foot for each in own) else "saddles"


def oil_on_it(where: str, stood: Sentence, asked: Sentence) -> Sentence:
    """Say that nobody has said the friction of a saddle, and what oil on it would leave.

    Args:
        where: Where it slides.
        stood: What would be stood then.
        asked: What is asked for.

    Returns:
        The end of a sentence, and one more.
    """
    return (
        f". Nobody says the friction of its {where}: with oil on them it would stand ",
        *stood,
        ", less than ",
        *asked,
        ".",
    )

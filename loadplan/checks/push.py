"""Push: how hard a person may lean on a free unit, at its highest part, before it slides, tips or takes a stand over.

The limit is an upper bound (friction is not associated: what really holds depends on how the unit came to
stand); that is why twice the push is asked for.
"""

from loadplan.checks.case import Case, Told
from loadplan.checks.cure import move_stand
from loadplan.checks.phrases import eighth, force, names, several, turning_about
from loadplan.checks.piece import Piece, pieces
from loadplan.model.answer import GroupAnswer
from loadplan.model.disturbance import PushAnswer
from loadplan.model.verdict import CheckName, Finding, Measure, NotChecked, Sentence, Verdict

TWICE = 2.0
"""A push of the limit must be stood with this factor: the limit is an upper bound; common practice, no source."""


def check(case: Case) -> list[Told]:
    """Judge the least sideways push that each group cannot stand; the body on the lift is not pushed.

    Args:
        case: The stage.

    Returns:
        One finding a balanced group; the vehicle of the lift is not pushed, which is told once that has gone.
    """
    pushed = [_finding(case, group, group.push) for group in case.statics.groups if group.push is not None]
    left = [group for group in case.statics.groups if group.balanced and group.push is None]
    return [*pushed, *(_untold(group) for group in left if not case.holds_lift(group))]


def _untold(group: GroupAnswer) -> NotChecked:
    """Return that a push without the lift is not checked."""
    stands = f"the {names(group.bodies)} {several(group.bodies, 'stands', 'stand')}"
    return NotChecked((f"What sideways push {stands} without the lift: not checked.",))


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


def steady_sideways(case: Case, body: str, first: str) -> Sentence:
    """Word what makes a unit stand a harder push or pull.

    Args:
        case: The stage.
        body: Body that is pushed.
        first: What happens first: "slides", "tips" or "stand".

    Returns:
        Sentences of their own, beginning with a blank.
    """
    match first:
        case "slides":
            act = "put rubber or timber on the saddles"
        case "stand":
            act = "set the stands lower, or use some with a wider base"
        case _:
            act = "set the stands further out"
    return (*move_stand(case, body, "the stands", (act,)), " Break tight bolts loose before lifting.")


def _finding(case: Case, group: GroupAnswer, push: PushAnswer) -> Finding:
    """Return whether a group stands the sideways push that its work asks for."""
    limits = case.job.limits
    asked = limits.bar if case.state.stage.bar else limits.push
    verdict, limit = _judged(push.force, asked)
    return Finding(
        check=CheckName.PUSH,
        verdict=verdict,
        subject=", ".join(group.bodies),
        value=push.force,
        limit=limit,
        measure=Measure.FORCE,
        says=(*_stands(case, group, push), *_asked(case, push, asked, verdict)),
    )


def _judged(stood: float, asked: float) -> tuple[Verdict, float]:
    """Return the verdict, and the limit that it was held against [N]."""
    if stood < asked:
        return Verdict.STOP, asked
    return (Verdict.CAUTION if stood < TWICE * asked else Verdict.HOLDS), TWICE * asked


def _stands(case: Case, group: GroupAnswer, push: PushAnswer) -> Sentence:
    """Return how hard a group can be pushed where it is pushed, and what happens first."""
    bodies = f"{names(group.bodies)} {several(group.bodies, 'stands', 'stand')}"
    where = _highest(case, push)
    goes = first_to_go(case, push.first, push.about)
    return (
        f"The {bodies} a sideways push of at most ",
        *force(push.force),
        f" {where}; weakest towards the {eighth(push.direction)}: {goes}",
    )


def _highest(case: Case, push: PushAnswer) -> str:
    """Return where a body is pushed."""
    on = [part for part in case.job.vehicle.parts if part.name in case.state.on and part.body == push.body]
    highest = next((part.name for part in on if part.at == push.at), None)
    return f"at {highest}, the highest part on" if highest else f"at the middle of the {push.body}"


def _asked(case: Case, push: PushAnswer, asked: float, verdict: Verdict) -> Sentence:
    """Return what a push is measured by, and what would help where it is too little."""
    who = "a braced pull on a bar" if case.state.stage.bar else "one person's push"
    match verdict:
        case Verdict.STOP:
            less: Sentence = (", less than ", *force(asked), f" of {who}, and friction may let go sooner.")
        case Verdict.CAUTION:
            less = (", less than twice the ", *force(asked), f" of {who}, and friction may let go sooner.")
        case _:
            return (". Friction may let go sooner.",)
    return (*less, *steady_sideways(case, push.body, push.first))

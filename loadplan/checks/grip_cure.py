"""What holds a unit that a push makes slide: which friction its saddles need, and how much less to push."""

from collections.abc import Callable
from functools import partial

from loadplan.checks.case import Case
from loadplan.checks.phrases import force, names
from loadplan.checks.sideways_cure import takes_rubber
from loadplan.limits import TOP_FRICTION
from loadplan.model.disturbance import PushAnswer
from loadplan.model.verdict import FoundCure, Sentence, SolvedCure
from loadplan.statics.moved_stands import MovedGroup, StandMoves, least_friction
from loadplan.statics.sideways_push import TWICE


def grip_cure(case: Case, push: PushAnswer, met: Callable[[MovedGroup], bool]) -> SolvedCure:
    """Say, once somebody reads it, what friction would hold, and how much less to push.

    Args:
        case: The stage.
        push: The push, under which it slides.
        met: Whether a group stands what is asked; it has to go to other processes.

    Returns:
        Sentences of their own, each beginning with a blank.
    """
    return SolvedCure(partial(_words, case, push, met))


def _words(case: Case, push: PushAnswer, met: Callable[[MovedGroup], bool]) -> FoundCure:
    less: Sentence = (" As it is, push it there by no more than ", *force(push.force / TWICE), ".")
    return FoundCure((*_friction(case, push, met), *less))


def _friction(case: Case, push: PushAnswer, met: Callable[[MovedGroup], bool]) -> Sentence:
    """Return which friction the saddles that slip would need; nothing where none of them takes another top."""
    slipping = tuple(name for name in push.about if takes_rubber(case.support(name)))
    if not slipping:
        return ()
    asked = StandMoves(case.job, case.state, case.statics.gaps, case.statics.floor, push.body, ())
    least, rubber = least_friction(asked, slipping, met), TOP_FRICTION["rubber"]
    if least is None or least > rubber:
        return (f" Rubber on the saddles of {names(slipping)} alone would not do.",)
    return (
        f" With a friction of {least:.2f} on the saddles of {names(slipping)} it stands that (rubber: {rubber:.2f}).",
    )

"""What would help, worded for the time when it can be done without a hand under a free unit."""

from collections.abc import Iterable
from dataclasses import dataclass

from loadplan.checks.case import Case
from loadplan.model.verdict import Sentence


@dataclass(frozen=True, slots=True)
class Way:
    """How something goes over.

    Attributes:
        moving: Bodies that move, at least one.
        about: What it turns about, or is held by where it rocks.
        side: Side to which it goes, "" where it has none.
    """

    moving: tuple[str, ...]
    about: tuple[str, ...]
    side: str


HANDS_OFF = "Do not touch"
"""How a cure begins that comes too late: nobody may miss it."""


def move_stand(case: Case, body: str, stand: str, act: Sentence) -> Sentence:
    """Word a cure that moves, changes or resets a stand.

    While lift or jack still holds the weight the stand may be moved; under a free unit it may not.

    Args:
        case: The stage.
        body: Body that the stand is under.
        stand: Name of the stand, or words for several.
        act: What to do, lower case, without full stop.

    Returns:
        A sentence of its own, beginning with a blank.
    """
    return move_piece(case, (body,), stand, act)


def move_piece(case: Case, bodies: Iterable[str], stand: str, act: Sentence) -> Sentence:
    """Word a cure that moves or changes a piece of equipment: not where any of the bodies over it is free.

    Args:
        case: The stage.
        bodies: Bodies that the piece is under.
        stand: Name of the piece.
        act: What to do, lower case, without full stop.

    Returns:
        A sentence of its own, beginning with a blank.
    """
    if any(case.already_free(body) for body in bodies):
        return (hands_off(stand),)
    return (f" {_while_held(case)}: ", *act, ".")


def hands_off(stand: str) -> str:
    """Say that a stand under a unit that is free stays as it is.

    Args:
        stand: Name of the stand, or words for several.

    Returns:
        Sentences of their own, beginning with a blank.
    """
    return f" {HANDS_OFF} {stand}. Take the weight back first."


def steady(case: Case, way: Way) -> Sentence:
    """Word what keeps something from going over.

    Where the vehicle on the lift stays where it is, or what goes over turns about none of its pads, setting these
    elsewhere changes nothing, and is not told.

    Args:
        case: The stage.
        way: How it goes.

    Returns:
        A sentence of its own, beginning with a blank.
    """
    under = f"under its {way.side} end" if way.side else "off the line of the others"
    use, pads = case.job.lift, {arm.name for arm in case.arms}
    if use is not None and use.body in way.moving and pads & set(way.about):
        return (f" Before lifting: set the lift pads further out, or put a prop {under}.",)
    act = f"set a stand further out, or one more, {under}"
    cure = move_stand(case, way.moving[0], "the stands", (act,))
    # Who only plans has not unbolted anything yet, and wants to know what to plan instead.
    return (*cure, f" Then {act}.") if case.already_free(way.moving[0]) else cure


def _while_held(case: Case) -> str:
    if case.job.lift is None:
        return "Before the weight comes on"
    to_come = case.job.stages[case.state.index :]
    return "Before unbolting" if any(stage.undone for stage in to_come) else "While the lift holds the weight"

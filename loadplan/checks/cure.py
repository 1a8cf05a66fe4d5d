"""What would help, worded for the time when it can be done without a hand under a free unit."""

from loadplan.checks.case import Case
from loadplan.model.answer import GroupAnswer
from loadplan.model.verdict import Sentence


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
    if case.already_free(body):
        return (f" Do not touch {stand}. Take the weight back first.",)
    return (f" {_while_held(case)}: ", *act, ".")


def steady(case: Case, group: GroupAnswer, side: str) -> Sentence:
    """Word what keeps a group from going over.

    Args:
        case: The stage.
        group: The group.
        side: Side to which it goes, "" where it has none.

    Returns:
        A sentence of its own, beginning with a blank.
    """
    under = f"under its {side} end" if side else "off the line of the others"
    if case.holds_lift(group):
        return (f" Before lifting: set the lift pads further out, or put a prop {under}.",)
    return move_stand(case, group.bodies[0], "the stands", (f"set a stand further out, or one more, {under}",))


def _while_held(case: Case) -> str:
    if case.job.lift is None:
        return "Before the weight comes on"
    to_come = case.job.stages[case.state.index :]
    return "Before unbolting" if any(stage.undone for stage in to_come) else "While the lift holds the weight"

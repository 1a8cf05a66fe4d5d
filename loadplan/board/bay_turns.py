"""Stands that were found to turn by hand, and the box that says that none does: both cannot be so."""

from loadplan.board.bay_step import BayStep
from loadplan.checks.phrases import names
from loadplan.report.words.cautions import NO_STAND_TURNS


def turning(step: BayStep, line: str) -> tuple[str, ...]:
    """Name the stands that a line says do not turn, and that by what was found there last do.

    Args:
        step: The step.
        line: A line of it.

    Returns:
        Names as the page has them; none for a line that says nothing of it.
    """
    _, says, named = line.partition(NO_STAND_TURNS)
    if not says:
        return ()
    last = {each.found.support: each.found for each in step.record.entries if each.step == step.name and each.found}
    here = [each.name for each in step.stage.state.supports if not each.is_arm]
    told = [step.reader.words(each) for each in here if each in last and last[each].turns]
    # A line that names none means all of them.
    listed = f", {named.removeprefix(': ')}, "
    return tuple(each for each in told if not named or f", {each}, " in listed)


def taken_back_by(step: BayStep, support: str) -> tuple[str, ...]:
    """Name the ticked lines that do not hold any more once a stand turns.

    Args:
        step: The step, before that was found.
        support: The stand.

    Returns:
        Their words.
    """
    shown = step.reader.words(support)
    ticked = [line.words for _, lines in step.parts for line in lines if line.ticked and NO_STAND_TURNS in line.words]
    listed = {words: words.partition(NO_STAND_TURNS)[2].removeprefix(": ") for words in ticked}
    return tuple(words for words, named in listed.items() if not named or f", {shown}, " in f", {named}, ")


def turns_words(step: BayStep) -> str:
    """Say which box waits until a stand does not turn any more.

    Args:
        step: The step.

    Returns:
        One sentence; "" where no box waits.
    """
    waits = [
        found for _, lines in step.parts for line in lines if not line.ticked and (found := turning(step, line.words))
    ]
    return _waits(waits[0]) if waits else ""


def refused_words(turns: tuple[str, ...]) -> str:
    """Say why a box is not ticked.

    Args:
        turns: The stands that turn.

    Returns:
        One sentence.
    """
    return f"Not kept. {_waits(turns)}"


def _waits(turns: tuple[str, ...]) -> str:
    verb = "turns" if len(turns) == 1 else "turn"
    found = names(list(turns))
    return f'By what was found last {found} {verb} by hand: "{NO_STAND_TURNS}" is not so until {found} was tried again.'

"""Lines of a record in the words of an earlier version, or of the plan before a change: which of today's each means."""

from collections.abc import Callable, Iterable

from loadplan.report.words.cautions import Moment, moment_words
from loadplan.units import System

DEEDS = frozenset(("Undo", "Take off", "Put on", "Tighten", "Take away"))
"""How lines begin that say what is done, before ", in this order"; earlier ones named the thing alone."""

MOMENTS = frozenset(moment_words(moment, units) for moment in Moment for units in System)
"""How lines begin that are boxes; what is asked for at another moment than it was is the same thing yet."""


def meant_by(lines: Iterable[str]) -> Callable[[str], str]:
    """Make what finds the line that the words of a record mean.

    Args:
        lines: The lines of a step as they are now.

    Returns:
        What gives back the line, for words that mean one and only one of them; else the words. A thing that is both
        undone and tightened in the step is told by its name alone no more.

    Example:
        >>> meant = meant_by(["Undo, in this order: bolts", "Take off: tray", "A: set it to 330 mm"])
        >>> meant("bolts"), meant("Undo: bolts"), meant("Tighten: bolts"), meant("330 mm")
        ('Undo, in this order: bolts', 'Undo, in this order: bolts', 'Tighten: bolts', '330 mm')
    """
    known = tuple(lines)

    def meant(words: str) -> str:
        if words in known:
            return words
        found = [line for line in known if _same(words, line)]
        return found[0] if len(found) == 1 else words

    return meant


def _same(words: str, line: str) -> bool:
    """Return whether words of a record mean a line: the same deed and thing, or the thing is all they say."""
    deed, thing = _parted(line)
    if deed in DEEDS:
        return words == thing or _parted(words) == (deed, thing)
    said, of = _parted(words)
    return deed in MOMENTS and said in MOMENTS and of == thing


def _parted(line: str) -> tuple[str, str]:
    """Return how a line begins, without the order that it names, and the thing that it is about."""
    heading, _, thing = line.partition(": ")
    return heading.partition(",")[0], thing

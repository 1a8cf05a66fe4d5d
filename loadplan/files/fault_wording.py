"""The wording of faults: what was found, what would be right, and the name that was probably meant."""

from collections.abc import Iterable, Sequence
from difflib import get_close_matches

LONGEST = 60
"""Most characters of a user's text that a message repeats."""


def shown(value: object) -> str:
    """Show a value in a message, short and on one line.

    Args:
        value: What stands in the file.

    Returns:
        Text in quotes, a number as it is, and only the kind of anything larger.

    Example:
        >>> shown("ton"), shown(True), shown([1, 2])
        ('"ton"', 'true', 'a list')
    """
    if isinstance(value, str):
        return f'"{one_line(value)}"'
    if isinstance(value, dict | list):
        return "a table" if isinstance(value, dict) else "a list"
    if isinstance(value, int) and abs(value) >= 10**LONGEST:
        return "a very large number"
    return str(value).lower()[:LONGEST]


def one_line(text: str) -> str:
    """Shorten a text to what fits a message.

    Args:
        text: A user's text.

    Returns:
        Its beginning, with a question mark for each character that cannot be printed.
    """
    kept = "".join(each if each.isprintable() else "?" for each in text[:LONGEST])
    return kept if len(text) <= LONGEST else f"{kept}…"


def choice(words: Sequence[str]) -> str:
    """List what is allowed.

    Args:
        words: At least one.

    Returns:
        The words in quotes.

    Example:
        >>> choice(["stand", "jack", "hoist"])
        '"stand", "jack" or "hoist"'
    """
    quoted = [f'"{word}"' for word in words]
    return quoted[0] if len(quoted) == 1 else f"{', '.join(quoted[:-1])} or {quoted[-1]}"


def nearest(found: object, known: Iterable[str]) -> str:
    """Name what was probably meant.

    Args:
        found: What stands in the file.
        known: Names that there are.

    Returns:
        "; did you mean ...?", or "" where nothing is near.

    Example:
        >>> nearest("sub frame", ["shell", "subframe"])
        '; did you mean "subframe"?'
    """
    if not isinstance(found, str) or len(found) > 2 * LONGEST:
        return ""
    small = {name.casefold(): name for name in known}
    close = get_close_matches(found.casefold(), small, n=1, cutoff=0.6)
    return f"; did you mean {shown(small[close[0]])}?" if close else ""


def listed(names: Sequence[str], most: int = 100) -> str:
    """Join names in a sentence.

    Args:
        names: At least one.
        most: How many are named; the others are counted.

    Returns:
        Names with commas, the last with "and".

    Example:
        >>> listed(["A", "B", "C"])
        'A, B and C'
    """
    told = [*names[:most], f"{len(names) - most} more"] if len(names) > most else list(names)
    return told[0] if len(told) == 1 else f"{', '.join(told[:-1])} and {told[-1]}"


def quoted(names: Sequence[str]) -> list[str]:
    """Put names in quotes.

    Args:
        names: Any number.

    Returns:
        Each in quotes.
    """
    return [shown(name) for name in names]

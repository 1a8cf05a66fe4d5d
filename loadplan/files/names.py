"""Looking up what a name stands for."""

from collections import Counter
from collections.abc import Collection, Iterable

from loadplan.files.fault_wording import listed, nearest, quoted, shown
from loadplan.files.toml_source import Source

SHOWN = 6
"""Most names that a message offers where none is near."""


def look_up(source: Source, place: tuple[str, str], found: str, known: Collection[str] | None, what: str) -> None:
    """Note a fault where a name stands for nothing.

    Args:
        source: File that the name stands in.
        place: Table and key.
        found: The name.
        known: Names that there are, None where that is not known.
        what: What it names, such as "body".
    """
    if known is None or found in known:
        return
    told = nearest(found, known) or _there_are(source, known)
    source.blame(*place, f"there is no {what} {shown(found)}{told}")


def repeated(names: Iterable[str]) -> list[str]:
    """Find names that stand more than once in a list.

    Args:
        names: The list.

    Returns:
        Each such name once, in order.

    Example:
        >>> repeated(["A", "B", "A"])
        ['A']
    """
    return sorted(name for name, count in Counter(names).items() if count > 1)


def _there_are(source: Source, known: Collection[str]) -> str:
    """Return which names there are; where a fault before has listed them, where that is: seven lists tell no more."""
    if not known:
        return "; there is none at all"
    told = f"; there are: {listed(quoted(list(known)), SHOWN)}"
    before = next((each.table for each in source.faults if each.message.endswith(told)), "")
    return f"; for what there is see {before}" if before else told

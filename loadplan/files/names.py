"""Looking up what a name stands for."""

from collections.abc import Iterable

from loadplan.files.source import Source
from loadplan.files.wording import nearest, shown


def look_up(source: Source, place: tuple[str, str], found: str, known: Iterable[str] | None, what: str) -> bool:
    """Tell whether a name is known, and note a fault where it is not.

    Args:
        source: File that the name stands in.
        place: Table and key.
        found: The name.
        known: Names that there are, None where that is not known.
        what: What it names, such as "body".

    Returns:
        Whether it is known; True where nothing can be said.
    """
    if known is None:
        return True
    names = tuple(known)
    if found in names:
        return True
    near = nearest(found, names)
    told = near or ("; there is none" if not names else f"; there are {_some(names)}")
    source.blame(*place, f"names no {what} that there is, {shown(found)}{told}")
    return False


def _some(names: tuple[str, ...], most: int = 6) -> str:
    more = f" and {len(names) - most} more" if len(names) > most else ""
    return ", ".join(shown(name) for name in names[:most]) + more

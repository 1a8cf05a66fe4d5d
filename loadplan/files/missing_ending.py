"""A file that was saved without its ending, or with one too many: the usual reason why it is not found."""

from pathlib import Path

ENDING = ".toml"


def where_it_is(path: Path) -> str:
    """Say under which other name a missing file may be there.

    Args:
        path: The file that is not there.

    Returns:
        A hint, "" where there is none.
    """
    with_ending = path.with_name(path.name + ENDING)
    if path.suffix != ENDING and with_ending.is_file():
        return f"; {with_ending.name} is there: give the name with its ending"
    others = (path.with_suffix(""), path.with_name(path.name + ".txt"))
    found = next((each for each in others if path.suffix == ENDING and each != path and each.is_file()), None)
    return f"; {found.name} is there, saved without its ending: rename it {path.name}" if found else ""

"""Where a command writes to: what is missing or has another ending is told with what would be right."""

from pathlib import Path

from loadplan.errors import Fault, InputError

PDF = ".pdf"
"""Ending of a file that is printed: by its ending it is opened."""


def output_path(named: Path | None, sample: str) -> Path:
    """Make sure that a command knows where it writes to.

    Args:
        named: What was named, None for nothing.
        sample: A name that would do; where it ends in .pdf, all have to.

    Returns:
        The path.

    Raises:
        InputError: If nothing was named, or what is to be a PDF has another ending.
    """
    if named is None:
        raise InputError(Fault("-o", "", "", f"is missing: say where it goes, such as -o {sample}"))
    if sample.endswith(PDF) and named.suffix.casefold() != PDF:
        meant = named.with_suffix(PDF) if named.suffix else Path(f"{named}{PDF}")
        raise InputError(Fault(str(named), "", "", f"needs the ending {PDF}, by which it is opened: {meant}"))
    return named

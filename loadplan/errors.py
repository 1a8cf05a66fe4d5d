"""The one error that a user's input can cause, and names in it that no terminal obeys."""

import unicodedata
from dataclasses import dataclass


def printable(text: str) -> str:
    r"""Replace what a terminal would obey and a drawing refuses: control and format characters, line ends.

    Args:
        text: Any text, a user's name perhaps, or a file's.

    Returns:
        The text on one line.

    Example:
        >>> printable("stand\x1b[31m A\n")
        'stand [31m A '
    """
    # What is printable is in none of these categories, and most text is: told at once, without a look at each letter.
    if text.isprintable():
        return text
    return "".join(" " if unicodedata.category(each) in {"Cc", "Cf", "Cn", "Cs", "Zl", "Zp"} else each for each in text)


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong in a file.

    Attributes:
        file: File it is in.
        table: Table, with its number or name, "" for the file itself.
        key: Key, "" for the table itself.
        message: What is wrong, and what would be right.
    """

    file: str
    table: str
    key: str
    message: str

    def __str__(self) -> str:
        """Return place and message in one line: `stands.toml, equipment 3, rating: must be ...`."""
        place = ", ".join(part for part in (self.file, self.table, self.key) if part)
        # What is wrong may quote a user's name, as the place does.
        return printable(f"{place}: {self.message}" if place else self.message)


class InputError(Exception):
    """Input that cannot be used, with every fault found.

    Attributes:
        faults: Every fault, at least one, in the order of the file.

    Example:
        >>> error = InputError(Fault("stands.toml", "equipment 3", "rating", "must be greater than 0, is -3"))
        >>> str(error), error.key
        ('stands.toml, equipment 3, rating: must be greater than 0, is -3', 'rating')
    """

    def __init__(self, *faults: Fault) -> None:
        """Keep the faults.

        Args:
            faults: At least one.
        """
        super().__init__("\n".join(str(fault) for fault in faults))
        self.faults = faults

    @property
    def file(self) -> str:
        """File of the first fault."""
        return self.faults[0].file

    @property
    def table(self) -> str:
        """Table of the first fault."""
        return self.faults[0].table

    @property
    def key(self) -> str:
        """Key of the first fault."""
        return self.faults[0].key

    @property
    def message(self) -> str:
        """What is wrong in the first fault, and what would be right."""
        return self.faults[0].message

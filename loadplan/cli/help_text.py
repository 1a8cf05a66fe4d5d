"""Help as whole sentences: in the list each command is told by the first sentence of its help, never by a cut one."""

import re

import typer


def list_by_whole_sentences(app: typer.Typer) -> None:
    """Let the list of commands show the first sentence of each one's help, over as many lines as it takes.

    Left to itself the list cuts what does not fit one line.

    Args:
        app: The commands.
    """
    for each in app.registered_commands:
        each.short_help = first_sentence(each.help or "")


def first_sentence(text: str) -> str:
    """Return a text up to its first full stop that ends a sentence.

    Args:
        text: One or more sentences.

    Returns:
        The first, with its full stop.

    Example:
        >>> first_sentence("Print the sheet, read from 1.5 m. Exit codes as for check.")
        'Print the sheet, read from 1.5 m.'
    """
    return re.split(r"(?<=\.)\s", text, maxsplit=1)[0]

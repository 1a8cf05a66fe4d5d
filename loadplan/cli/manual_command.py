"""The command that prints the manual."""

import shutil
from typing import Annotated

import typer

from loadplan.cli.options import app, tell

NARROWEST, WIDEST = 60, 100
"""Widths to which a page is laid out, whatever the terminal's [characters]."""

USUAL = 80
"""Width where nobody says how wide a line may be, such as in a pipe [characters]."""


@app.command(
    help="Print a page of the manual: files, checks, limits and their sources, measuring, machine output. "
    "Without a topic it lists them."
)
def manual(
    topic: Annotated[
        list[str] | None,
        typer.Argument(metavar="TOPIC", help="The topic, the beginning of its name, or a command.", show_default=False),
    ] = None,
) -> None:
    """Print a page of the manual, or the list of its topics.

    Args:
        topic: Words of the topic, None for the list.
    """
    # The pages lie beside the package; `--help` does not wait for what finds them.
    from loadplan.files.manual_topics import TABLE_OF_TOPICS, find_topic, manual_text  # noqa: PLC0415
    from loadplan.report.text.manual_page import manual_page  # noqa: PLC0415

    width = shutil.get_terminal_size((USUAL, 24)).columns
    text = manual_text(find_topic(topic) if topic else TABLE_OF_TOPICS)
    tell(manual_page(text, min(max(width, NARROWEST), WIDEST)))

"""The pages of the manual that ship with the program, and which one is meant by what somebody types."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from loadplan.errors import Fault, InputError
from loadplan.files.fault_wording import listed, nearest, one_line

PAGES = Path(__file__).resolve().parents[1] / "manual"
"""Where the pages lie, installed or in the source tree."""

TABLE_OF_TOPICS = "topics"
"""The page that lists the others, a line each, in the order in which they are told."""


@dataclass(frozen=True, slots=True)
class Topic:
    """One page of the manual.

    Attributes:
        name: What is typed to see it, and its file's name.
        commands: Commands that it tells of.
    """

    name: str
    commands: tuple[str, ...]


def manual_topics() -> tuple[Topic, ...]:
    """List the topics as the table of topics does.

    Returns:
        One a page, the table itself left out.
    """
    rows = re.findall(r"^\| ([a-z][a-z-]*) \|[^|]*\|([^|]*)\|$", manual_text(TABLE_OF_TOPICS), re.MULTILINE)
    return tuple(Topic(name, tuple(re.findall(r"`([a-z]+)`", commands))) for name, commands in rows if name != "topic")


def manual_text(name: str) -> str:
    """Read a page.

    Args:
        name: Name of a topic, or of the table of topics.

    Returns:
        Its Markdown.
    """
    return (PAGES / f"{name}.md").read_text(encoding="utf-8")


def find_topic(words: Sequence[str]) -> str:
    """Find the topic that is meant.

    Args:
        words: What was typed: a topic, its beginning, the beginning of a word in it, or a command.

    Returns:
        Name of the one topic that fits.

    Raises:
        InputError: If none fits, or more than one.

    Example:
        >>> find_topic(["live", "plan"]), find_topic(["lim"]), find_topic(["board"])
        ('live-plan', 'limits', 'live-plan')
    """
    wanted = "-".join(re.split(r"[\s_-]+", " ".join(words).strip().casefold()))
    topics = manual_topics()
    names = [each.name for each in topics]
    readings = (
        [name for name in names if name == wanted],
        [each.name for each in topics if wanted in each.commands],
        [name for name in names if name.startswith(wanted)],
        [name for name in names if any(word.startswith(wanted) for word in name.split("-"))],
    )
    meant = next((found for found in readings if found), []) if wanted else []
    if len(meant) == 1:
        return meant[0]
    raise InputError(Fault("loadplan manual", "", "TOPIC", _asked_again(wanted, meant, names)))


def _asked_again(wanted: str, meant: Sequence[str], names: Sequence[str]) -> str:
    """Say what would be right, where what was typed fits several topics or none.

    Args:
        wanted: What was typed.
        meant: The topics that it fits.
        names: All topics.

    Returns:
        What is wrong, and what would be right.
    """
    if meant:
        return f'may be {listed(meant)}: type more of it than "{one_line(wanted)}"'
    telling = [name for name in names if len(wanted) > 2 and wanted.replace("-", " ") in manual_text(name).casefold()]
    near = f"; the word stands in {listed(telling)}" if telling else nearest(wanted, names)
    return f'there is none called "{one_line(wanted)}"{near}; without a topic, `loadplan manual` lists them all'

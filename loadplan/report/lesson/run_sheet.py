"""The run sheet of a lesson: 45 minutes, what to show, what to ask, what to expect."""

from dataclasses import dataclass
from textwrap import wrap

from loadplan.model.vehicle import Basis
from loadplan.report.lesson.slide import Slide
from loadplan.report.words.cautions import cautions
from loadplan.report.words.vocabulary import Reader, basis_words, first_lift

LESSON = 45
"""Minutes of a lesson."""

OPENING, BY_HAND, CLOSING = 4, 10, 3
"""Minutes for the cautions, the bench trial and the end."""

WIDTH = 92
"""Widest line [characters]."""


@dataclass(frozen=True, slots=True)
class Item:
    """One line of the run sheet.

    Attributes:
        what: What it is about.
        minutes: How long it takes; 0 until they are shared out.
        show: What to show.
        ask: What to ask.
        expect: What to expect.
    """

    what: str
    minutes: int
    show: str
    ask: tuple[str, ...]
    expect: tuple[str, ...]


def shared_out(minutes: int, count: int) -> tuple[int, ...]:
    """Share whole minutes out, the first ones getting what is left over.

    Args:
        minutes: How many.
        count: Among how many, at least one.

    Returns:
        Minutes of each.

    Example:
        >>> shared_out(28, 9)
        (4, 3, 3, 3, 3, 3, 3, 3, 3)
    """
    each, over = divmod(minutes, count)
    return tuple(each + (number < over) for number in range(count))


def item_of(what: str, minutes: int, pages: tuple[int, ...], slides: tuple[Slide, ...]) -> Item:
    """Make a line of the run sheet from its pages: the first asks, the others answer.

    Args:
        what: What it is about.
        minutes: How long it takes.
        pages: Numbers of the pages.
        slides: The pages.

    Returns:
        The line.
    """
    ask, *answers = slides
    expect = tuple(
        text
        for slide in answers
        for text in (*([slide.strong] if slide.strong else []), *map(" | ".join, slide.rows), *slide.lines)
    )
    named = "page" if len(pages) == 1 else "pages"
    last = f" to {pages[-1]}" if len(pages) > 1 else ""
    return Item(what, minutes, f"{named} {pages[0]}{last}", ask.lines, expect)


def run_sheet(title: str, items: tuple[Item, ...], left_out: tuple[str, ...], basis: Basis, reader: Reader) -> str:
    """Write the run sheet.

    Args:
        title: Title of the job.
        items: Its lines; their minutes are those of the lesson.
        left_out: What this job cannot ask, and why.
        basis: How good the weights are.
        reader: Who reads it.

    Returns:
        Text of no more than 92 characters a line.
    """
    lines = [
        *wrap(reader.words(f"Run sheet: {title}"), WIDTH),
        "",
        f"{sum(item.minutes for item in items)} minutes. Ask, let everybody write it down, then turn the page.",
    ]
    lines += wrap(f"Weights: {basis_words(basis)}. {first_lift(reader.units)}", WIDTH)
    clock = 0
    for item in items:
        lines += ["", f"{clock:2d} to {clock + item.minutes:2d} min  {reader.words(item.what)}"]
        lines += _entry("show", (item.show,), reader) + _entry("ask", item.ask, reader)
        lines += _entry("expect", item.expect, reader)
        clock += item.minutes
    if left_out:
        lines += ["", "Left out, because this job has none of it:", *_listed(left_out, reader)]
    lines += ["", "Cautions:", *_listed(cautions(basis, reader.units), reader)]
    return "\n".join(lines) + "\n"


def _entry(label: str, texts: tuple[str, ...], reader: Reader) -> list[str]:
    """Return some texts beside their label."""
    head = f"    {label:<8}"
    rows = [row for text in texts for row in wrap(reader.words(text), WIDTH - len(head))]
    return [(head if number == 0 else " " * len(head)) + row for number, row in enumerate(rows)]


def _listed(texts: tuple[str, ...], reader: Reader) -> list[str]:
    rows = []
    for number, text in enumerate(texts, start=1):
        rows += wrap(reader.words(text), WIDTH, initial_indent=f"{number:3d}  ", subsequent_indent="     ")
    return rows

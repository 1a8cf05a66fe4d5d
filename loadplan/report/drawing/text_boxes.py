"""Tags: the words beside what is drawn, in rows on a white ground."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import dist
from typing import TypeAlias

from loadplan.report.drawing.label_placement import Ground, Placed, Wanted, is_clear, leader_beads, place_labels
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import LABEL, LEADER, LETTER, LOAD, SHEET, SMALL_LETTER, Type
from loadplan.report.drawing.text_width import LINE, text_width
from loadplan.report.drawing.view import XY, Box

Row: TypeAlias = tuple[tuple[str, Type], ...]
"""Words in their types, side by side."""

SHORT = 90.0
"""Longest line to what a tag names that may as well be left out [px]."""

SPACE = 6
"""Between two pieces of a row, and round the rows [px]."""


@dataclass(frozen=True, slots=True)
class Tag:
    """Words that belong to a place on the page.

    Attributes:
        rows: The words.
        anchor: What they name.
        away: Direction in which they are better off, (0, 0) for any.
        rivals: Other things of its kind, whose words they should not be taken for.
    """

    rows: tuple[Row, ...]
    anchor: Box
    away: XY
    rivals: tuple[Box, ...] = ()


def told_apart(tags: Sequence[Tag]) -> list[Tag]:
    """Let none of some tags be taken for another's: each stands nearest to what it names, or has a line to it.

    Args:
        tags: Tags of things of one kind.

    Returns:
        They, each with what the others name as its rivals.
    """
    return [replace(tag, rivals=tuple(each.anchor for each in tags if each.anchor != tag.anchor)) for tag in tags]


ROOMY = 560
"""Least width of a drawing [px] that has room for all its words."""


def shortened(tags: list[Tag]) -> list[Tag]:
    """Return what a drawing has room for that is narrower than `ROOMY`.

    Args:
        tags: The tags, the most important first.

    Returns:
        The first two lines of the first.
    """
    return [replace(tag, rows=tag.rows[:2]) for tag in tags[:1]]


def in_small_type(tags: list[Tag]) -> list[Tag]:
    """Return what a drawing narrower than `ROOMY` has room for of letters and loads: all of them, smaller.

    Args:
        tags: The tags.

    Returns:
        They, letters as small letters and loads as labels.
    """
    sizes = {LETTER.size: SMALL_LETTER.size, LOAD.size: LABEL.size}

    def smaller(row: Row) -> Row:
        return tuple((text, replace(kind, size=sizes.get(kind.size, kind.size))) for text, kind in row)

    return [replace(tag, rows=tuple(map(smaller, tag.rows))) for tag in tags]


def draw_tags(pen: Pen, tags: list[Tag], ground: Ground, spare: Sequence[Tag] = ()) -> tuple[Box, ...]:
    """Place and draw tags so that none covers another.

    Args:
        pen: Draws them.
        tags: The tags, the most important first.
        ground: Where they go.
        spare: Tags that are drawn only where they have room near what they name, and no line to it runs over anything.

    Returns:
        What each tag covers that is drawn.
    """
    placed = place_tags(tags, ground)
    leaders = tuple(spot.leader for spot in placed if spot.leader)
    lines = tuple(bead for line in leaders for bead in leader_beads(line))
    full = replace(ground, taken=(*ground.taken, *(spot.box for spot in placed)), lines=(*ground.lines, *lines))
    for tag in spare:
        (spot,) = place_tags([tag], full)
        if _has_room(tag, spot, (*full.taken, *lines)):
            tags, placed = [*tags, tag], [*placed, spot]
            line = leader_beads(spot.leader) if spot.leader else []
            full = replace(full, taken=(*full.taken, spot.box), lines=(*full.lines, *line))
    for spot in placed:
        if spot.leader:
            replace(pen, layer=Layer.LEADERS).line(spot.leader, LEADER)
    for tag, spot in zip(tags, placed, strict=True):
        draw_tag(pen, tag, spot)
    return tuple(spot.box for spot in placed)


def place_tags(tags: Sequence[Tag], ground: Ground) -> list[Placed]:
    """Find a place for each of some tags.

    Args:
        tags: The tags, the most important first.
        ground: Where they go.

    Returns:
        A place each, in the same order.
    """
    return place_labels([Wanted(tag_size(tag), tag.anchor, tag.away, tag.rivals) for tag in tags], ground)


def _has_room(tag: Tag, spot: Placed, others: tuple[Box, ...]) -> bool:
    """Return whether a place covers nothing, and the line from it is short and runs over nothing."""
    if any(spot.box.overlap(each) for each in others):
        return False
    apart = [each for each in others if not each.overlap(tag.anchor)]
    return spot.leader is None or (dist(*spot.leader) <= SHORT and is_clear(spot.leader, apart))


def draw_tag(pen: Pen, tag: Tag, spot: Placed) -> None:
    """Draw one tag.

    Args:
        pen: Draws it.
        tag: The tag.
        spot: Where it goes.
    """
    pen.box(spot.box, f"{SHEET}E6", None)
    top = spot.box.top - SPACE / 2
    for row in tag.rows:
        high = _height(row)
        left = spot.box.middle[0] - _width(row) / 2
        for text, lettering in row:
            pen.words((left, top - high / 2), text, lettering)
            left += text_width(text, lettering) + SPACE
        top -= high


def tag_size(tag: Tag) -> tuple[float, float]:
    """Measure a tag.

    Args:
        tag: The tag.

    Returns:
        Its width and height [px].
    """
    return max(map(_width, tag.rows)) + SPACE, sum(map(_height, tag.rows)) + SPACE


def _width(row: Row) -> float:
    return sum(text_width(text, lettering) for text, lettering in row) + SPACE * (len(row) - 1)


def _height(row: Row) -> float:
    return max(lettering.size for _, lettering in row) * LINE

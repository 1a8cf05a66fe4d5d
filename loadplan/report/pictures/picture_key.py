"""The key of a picture: what each sign means, drawn as it looks there."""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import TypeAlias

from loadplan.model.verdict import Verdict
from loadplan.report.drawing.pen import Pen
from loadplan.report.drawing.style import CHALK, EDGE, INK, LABEL, LIMIT, Stroke
from loadplan.report.drawing.text_width import LINE, broken
from loadplan.report.drawing.view import XY, Box
from loadplan.report.pictures.plan_content import PlanContent
from loadplan.report.pictures.signs import FAULT, cg_sign, cross_out, link_sign, mount_sign, tie_sign
from loadplan.report.pictures.verdict_colours import livery
from loadplan.report.words.vocabulary import Reader

Signs: TypeAlias = tuple[tuple[str, str], ...]
"""Signs of a key, and their words."""

KEY_GAP = 4
"""Between two rows of a key [px]."""

SIGN = 34
"""Width of a sign in the key [px]."""

KEY: Signs = (
    ("stand", "stand: base and saddle; dashed: on standby"),
    ("centre", "centre of gravity; box: how far it may be off"),
    ("edge", "the edge it would go over first"),
    ("region", "where its centre of gravity may lie"),
    ("mount", "mount, done up"),
    ("link", "rod with a joint at each end"),
    ("tie", "hose, harness, strap or fastener: off or tied first"),
    ("crossed", "stand with nothing above it"),
    ("stopped", "ring, or edge, in colour: at fault"),
    ("cautioned", "ring, or edge, in colour: at fault"),
    ("point", "place where a stand may bear"),
    ("bare", "pad or stand of the other plan"),
    ("chalk", "chalked: axle line and centre line"),
)
"""Signs of the plan, and what they mean."""

ELEVATION_KEY: Signs = (
    ("stand", "stand, at its set height + shim; dashed: on standby"),
    ("centre", "centre of gravity (CG)"),
    ("triangle", "how far it tilts before it goes over the edge"),
    ("mount", "mount, done up"),
    ("link", "rod with a joint at each end"),
    ("tie", "hose, harness, strap or fastener: off or tied first"),
    ("crossed", "stand with nothing above it"),
    ("chalk", "over the chalked line"),
)
"""Signs of an elevation, and what they mean."""


SPACE_KEY: Signs = (
    ("load", "arrow: what a stand carries, by its length"),
    ("centre", "centre of gravity, plumb line to the floor"),
    ("edge", "the edge it would go over first"),
    ("region", "where its centre of gravity may lie"),
    ("frustum", "stand, at its set height + shim; dashed: on standby"),
    ("mount", "mount, done up"),
    ("link", "rod with a joint at each end"),
    ("tie", "hose, harness, strap or fastener: off or tied first"),
    ("crossed", "stand with nothing above it"),
    ("stopped", "in colour: at fault"),
    ("cautioned", "in colour: at fault"),
    ("chalk", "chalked: axle line and centre line"),
)
"""Signs of a view in space, and what they mean."""


def key_of(signs: Signs, *scenes: PlanContent | None) -> Signs:
    """Choose what a key has to explain: signs that are not in every picture only where they are.

    Args:
        signs: All signs that there could be.
        scenes: What is drawn; None for what is not.

    Returns:
        Those that are there.
    """
    drawn = [scene for scene in scenes if scene]
    worst = max((scene.faults.worst for scene in drawn), default=Verdict.HOLDS)
    there = {
        "mount": any(scene.mounts for scene in drawn),
        "link": any(scene.links for scene in drawn),
        "crossed": any(scene.under_air for scene in drawn),
        "tie": any(scene.ties for scene in drawn),
        "point": any(scene.points for scene in drawn),
        "bare": any(scene.bare for scene in drawn),
        "stopped": worst is Verdict.STOP,
        "cautioned": worst is Verdict.CAUTION,
    }
    return tuple((sign, words) for sign, words in signs if there.get(sign, True))


def key_high(signs: Signs, width: float, reader: Reader) -> float:
    """Return the room [px] that a key takes in a column of some width [px]."""
    rows = [broken(reader.words(words), LABEL, width - SIGN - 12, most=2) for _, words in signs]
    return sum(len(each) * LINE * LABEL.size + KEY_GAP for each in rows)


def draw_key(pen: Pen, box: Box, reader: Reader, signs: Signs) -> None:
    """Draw the key: what each sign means.

    Args:
        pen: Draws it.
        box: Where.
        reader: Who reads it.
        signs: The signs and their words.
    """
    top = box.top
    for sign, words in signs:
        rows = broken(reader.words(words), LABEL, box.width - SIGN - 12, most=2)
        SIGNS[sign](pen, (box.left + SIGN / 2, top - LABEL.size * LINE / 2))
        top = pen.lines((box.left + SIGN + 12, top), rows, LABEL) - KEY_GAP


def _stand(pen: Pen, at: XY) -> None:
    x, y = at
    pen.box(Box(x - 11, y - 11, x + 11, y + 11), None, Stroke(INK, 1.8))
    pen.box(Box(x - 4, y - 4, x + 4, y + 4), INK, None)


def _centre_sign(pen: Pen, at: XY) -> None:
    x, y = at
    pen.box(Box(x - 14, y - 12, x + 14, y + 12), None, Stroke(INK, 1.4))
    cg_sign(pen, at)


def _triangle_sign(pen: Pen, at: XY) -> None:
    x, y = at
    pen.area([(x - 6, y + 12), (x - 6, y - 12), (x + 9, y - 12)], f"{INK}22", None)
    pen.line([(x - 6, y + 12), (x - 6, y - 12), (x + 9, y - 12)], Stroke(INK, 1.6, (4, 2)))
    pen.line([(x - 6, y + 12), (x + 9, y - 12)], Stroke(INK, 4.0))


def _crossed(pen: Pen, at: XY) -> None:
    x, y = at
    stand = Box(x - 11, y - 11, x + 11, y + 11)
    pen.box(stand, None, Stroke(FAULT, 1.8))
    cross_out(pen, stand)


def _load(pen: Pen, at: XY) -> None:
    x, y = at
    pen.line([(x, y + 13), (x, y - 4)], Stroke(INK, 3.0))
    pen.area([(x, y - 13), (x - 5, y - 4), (x + 5, y - 4)], INK, None)


def _frustum(pen: Pen, at: XY) -> None:
    x, y = at
    pen.area(((x - 14, y - 12), (x - 6, y + 12), (x + 6, y + 12), (x + 14, y - 12)), "#DCE1E5", Stroke(INK, 1.4))


def _place(pen: Pen, at: XY) -> None:
    x, y = at
    pen.line([(x - 6, y), (x + 6, y)], Stroke(EDGE, 1.6))
    pen.line([(x, y - 6), (x, y + 6)], Stroke(EDGE, 1.6))


def _across(stroke: Stroke) -> Callable[[Pen, XY], None]:
    return lambda pen, at: pen.line([(at[0] - 15, at[1]), (at[0] + 15, at[1])], stroke)


def _filled(half: XY, fill: str | None, stroke: Stroke) -> Callable[[Pen, XY], None]:
    """Return what draws a box of half a width and half a height [px]."""
    return lambda pen, at: pen.box(
        Box(at[0] - half[0], at[1] - half[1], at[0] + half[0], at[1] + half[1]), fill, stroke
    )


SIGNS: Mapping[str, Callable[[Pen, XY], None]] = MappingProxyType({
    "stand": _stand,
    "centre": _centre_sign,
    "edge": _across(Stroke(INK, 6.0)),
    "region": _filled((15, 9), f"{EDGE}22", LIMIT),
    "triangle": _triangle_sign,
    "mount": mount_sign,
    "link": lambda pen, at: link_sign(pen, [(at[0] - 11, at[1]), (at[0] + 11, at[1])]),
    "crossed": _crossed,
    "tie": tie_sign,
    "stopped": _filled((12, 12), None, Stroke(FAULT, 4.0)),
    "cautioned": _filled((12, 12), None, Stroke(livery(Verdict.CAUTION).line, 4.0)),
    "load": _load,
    "frustum": _frustum,
    "point": _place,
    "bare": _filled((7, 7), None, Stroke(EDGE, 1.4)),
    "chalk": _across(CHALK),
})
"""What draws each sign of a key at a place."""

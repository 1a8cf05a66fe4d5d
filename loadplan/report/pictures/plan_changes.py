"""What a step changes, on the plan: a black disc with a plus at what comes, a white one with a minus at what goes."""

from dataclasses import dataclass, replace
from math import dist

from loadplan.checks.piece import pieces
from loadplan.model.job import Support
from loadplan.model.vehicle import Joint, Part
from loadplan.model.verdict import Assessment, StageAssessment
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import EDGE, INK, SHEET, STRONG, Stroke
from loadplan.report.drawing.text_boxes import Row, Tag, told_apart
from loadplan.report.drawing.text_width import broken
from loadplan.report.drawing.view import XY, Box, View
from loadplan.report.pictures.plan_shapes import support_box
from loadplan.report.words.vocabulary import Reader

DISC, SMALL = 8, 6
"""Radius of the disc with plus or minus, and at a joint, which may lie on a stand [px]."""

GONE = Stroke(EDGE, 1.6, (5, 3))
"""Outline of what is no longer there."""

WIDE = 190
"""Widest line of the words beside a change [px]."""


@dataclass(frozen=True, slots=True)
class PlanChanges:
    """What a step changes against the step before.

    Attributes:
        comes: Stands set in place.
        goes: Stands taken away.
        off: Parts that come off.
        on: Parts that go on again.
        undone: Mounts, links and bolts undone.
        done_up: Mounts, links and bolts done up.
    """

    comes: tuple[Support, ...]
    goes: tuple[Support, ...]
    off: tuple[Part, ...]
    on: tuple[Part, ...]
    undone: tuple[Joint, ...]
    done_up: tuple[Joint, ...]

    def of(self, bodies: tuple[str, ...]) -> "PlanChanges":
        """Return those of them that are about some bodies."""
        return PlanChanges(
            comes=tuple(each for each in self.comes if each.body in bodies),
            goes=tuple(each for each in self.goes if each.body in bodies),
            off=tuple(each for each in self.off if each.body in bodies),
            on=tuple(each for each in self.on if each.body in bodies),
            undone=tuple(each for each in self.undone if set(each.between) & set(bodies)),
            done_up=tuple(each for each in self.done_up if set(each.between) & set(bodies)),
        )

    @property
    def only_stands(self) -> "PlanChanges":
        """Those of them that are about stands."""
        return replace(self, off=(), on=(), undone=(), done_up=())

    @property
    def nothing(self) -> bool:
        """Whether nothing changes."""
        return not any((self.comes, self.goes, self.off, self.on, self.undone, self.done_up))


def changes_of(assessment: Assessment, stage: StageAssessment) -> PlanChanges:
    """Find what a step changes.

    Args:
        assessment: The job, judged.
        stage: The step.

    Returns:
        Stands, parts and joints; before the first step every part is on, every joint tight, and no stand there.
    """
    now, job = stage.state, assessment.job
    before = assessment.stages[now.index - 1].state if now.index else None
    here = {each.name for each in now.supports}
    stood = {each.name for each in before.supports} if before else set()
    parts = {part.name: part for part in job.vehicle.parts}
    loose = {each.name for each in before.undone} if before else set()
    return PlanChanges(
        comes=tuple(each for each in job.supports if each.name in here - stood),
        goes=tuple(each for each in job.supports if each.name in stood - here),
        off=tuple(parts[name] for name in now.stage.off if name in parts),
        on=tuple(parts[name] for name in now.stage.on if name in parts),
        undone=tuple(each for each in now.undone if each.name not in loose),
        done_up=tuple(each for each in now.done_up if each.name in loose),
    )


def draw_changes(
    pen: Pen, view: View, changes: PlanChanges, reader: Reader, wide: float = WIDE
) -> tuple[list[Tag], list[Box]]:
    """Draw the signs of what changes.

    What goes has its sign at the left, what comes at the right: so both are seen where one stand takes another's place.

    Args:
        pen: Draws inside the view's frame.
        view: Where.
        changes: What.
        reader: Who reads it.
        wide: Widest line of the words beside them [px].

    Returns:
        The words beside them, and what must not be covered by words.
    """
    goes: list[Tag] = []
    tags: list[Tag] = []
    taken: list[Box] = []
    for stand, box in _seen(view, changes.goes):
        replace(pen, layer=Layer.FLOOR).box(box, None, GONE)
        taken += [box, change_sign(pen, (box.left, box.top), comes=False)]
        goes.append(Tag(_told(stand.name, "goes", reader, wide), box, (0.0, 0.0)))
    for _, box in _seen(view, changes.comes):
        taken.append(change_sign(pen, (box.right, box.top), comes=True))
    for parts, comes, word in ((changes.off, False, "off"), (changes.on, True, "on")):
        for part in (each for each in parts if each.outline):
            stroke = GONE if not comes else Stroke(INK, 2.0)
            replace(pen, layer=Layer.FLOOR).area(view.page_all(part.outline), None, stroke)
        for spot, together in _signs(pen, view, parts, comes=comes):
            taken.append(spot)
            rows = tuple(row for part in together for row in _told(part.name, word, reader, wide))
            tags.append(Tag(rows, spot, (0.0, 0.0)))
    for joints, comes, word in ((changes.undone, False, "off"), (changes.done_up, True, "tight")):
        for joint in joints:
            spots = [change_sign(pen, view.page(*at[:2]), comes=comes, radius=SMALL) for at in joint.at]
            taken += spots
            tags += [Tag(_told(joint.name, word, reader, wide), spots[0], (0.0, 0.0))] if spots else []
    return [*told_apart(goes), *told_apart(tags)], taken


def _signs(pen: Pen, view: View, parts: tuple[Part, ...], *, comes: bool) -> list[tuple[Box, list[Part]]]:
    """Return the signs of parts, drawn, and which parts each is for: those that would lie over each other share one."""
    places: list[tuple[XY, list[Part]]] = []
    for part in parts:
        at = view.page(*part.at[:2])
        shared = next((together for spot, together in places if dist(spot, at) < 2 * DISC), None)
        if shared is None:
            places.append((at, [part]))
        else:
            shared.append(part)
    return [(change_sign(pen, at, comes=comes), together) for at, together in places]


def change_sign(pen: Pen, at: XY, *, comes: bool, radius: float = DISC) -> Box:
    """Draw the sign of a change: plus on black for what comes, minus on white for what goes.

    Args:
        pen: Draws it.
        at: Where on the page [px].
        comes: Whether it comes.
        radius: Its radius [px].

    Returns:
        What it covers.
    """
    pen = replace(pen, layer=Layer.LABELS)
    x, y = at
    line = Stroke(SHEET if comes else INK, 2.4)
    arm = radius * 0.55
    pen.disc(at, radius, INK if comes else SHEET, Stroke(INK, 1.8))
    pen.line([(x - arm, y), (x + arm, y)], line)
    if comes:
        pen.line([(x, y - arm), (x, y + arm)], line)
    return Box(x - radius, y - radius, x + radius, y + radius)


def _seen(view: View, stands: tuple[Support, ...]) -> list[tuple[Support, Box]]:
    """Return each stand with what is seen of it alone: its base, or its saddle where one base bears several."""
    shared = {each.name for piece in pieces(stands) if len(piece.supports) > 1 for each in piece.supports}
    alone = [
        replace(each, equipment=replace(each.equipment, base=each.equipment.saddle)) if each.name in shared else each
        for each in stands
    ]
    return [(stand, support_box(view, each)) for stand, each in zip(stands, alone, strict=True)]


def _told(name: str, word: str, reader: Reader, wide: float) -> tuple[Row, ...]:
    lines = broken(f"{reader.words(name)} {word}", STRONG, wide, most=3)
    return tuple(((line, STRONG),) for line in lines)

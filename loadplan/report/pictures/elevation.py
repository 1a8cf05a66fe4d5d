"""The elevation of one stage: the unit on its stands seen from the left or from the front, to scale."""

from dataclasses import dataclass, replace
from math import radians

from loadplan.checks.phrases import names
from loadplan.model.job import Support
from loadplan.model.shop import EquipmentKind
from loadplan.model.verdict import Assessment, StageAssessment
from loadplan.report.drawing.label_placement import Ground
from loadplan.report.drawing.paper import Paper
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import HAIRLINE, LABEL, LETTER, QUIET, SHEET, SMALL_LETTER, STRONG, Stroke, Type
from loadplan.report.drawing.text_boxes import ROOMY, Row, Tag, draw_tags, told_apart
from loadplan.report.drawing.text_width import broken, text_width
from loadplan.report.drawing.view import Box, View, view_of
from loadplan.report.pictures.elevation_levels import levels_of, undrawn
from loadplan.report.pictures.elevation_shapes import (
    CentreSeen,
    Sight,
    StandSeen,
    ViewSide,
    cg_height,
    draw_upright,
    saddle_level,
    stands_under,
    triangle,
)
from loadplan.report.pictures.picture_key import ELEVATION_KEY, draw_key, key_high, key_of
from loadplan.report.pictures.plan_content import unit_scene, vehicle_scene
from loadplan.report.pictures.plan_labels import NAME, SHORT
from loadplan.report.pictures.tie_marks import draw_ties, marks_in, tie_tags
from loadplan.report.pictures.tipping_edge import RigidShown, may_go
from loadplan.report.pictures.title_block import distances_high, draw_distances, draw_scale, draw_surround
from loadplan.report.words.vocabulary import Reader, reader_of
from loadplan.units import System

SIDE, RIM = 340, 24
"""Width of the column beside the drawing, and free rim [px]."""

RIM_WIDE = 70
"""Free rim round the unit [px], where there is room for it."""

HEAD, FOOT = 26, 20
"""Further room over the unit and below the floor, for words [px]."""

SLANT = radians(0.5)
"""How far a drawn angle may be from the true one before the drawing says so [rad]."""

ENDS = {ViewSide.SIDE: ("front", "back"), ViewSide.FRONT: ("right", "left")}
"""What lies at the left and right end of each elevation."""


def draw_elevation(paper: Paper, assessment: Assessment, stage_index: int, seen: ViewSide, units: System) -> None:
    """Draw the elevation of one stage so that it fills the page.

    Args:
        paper: A page of some 1200 px or more in width.
        assessment: The job, judged.
        stage_index: Number of the stage, from 0.
        seen: From where.
        units: The reader's units.
    """
    stage = assessment.stages[stage_index]
    reader = reader_of(assessment.job, units)
    pen = Pen(paper, Layer.PAGE, None)
    middle = draw_surround(pen, paper.page, assessment, stage, reader)
    shown = _Shown(assessment, stage, seen)
    _main(pen, replace(middle, right=middle.right - SIDE - RIM), shown, reader)
    _beside(pen, replace(middle, left=middle.right - SIDE), shown, reader)


@dataclass(frozen=True, slots=True)
class _Shown:
    """What is drawn: a step of a job, and from which side it is seen."""

    assessment: Assessment
    stage: StageAssessment
    seen: ViewSide


def _main(pen: Pen, box: Box, shown: _Shown, reader: Reader) -> None:
    """Draw the unit, large."""
    assessment, stage, seen = shown.assessment, shown.stage, shown.seen
    levels = levels_of(assessment.job, stage)
    sight = Sight(seen, unit_scene(assessment, stage), levels, assessment.job)
    notes = [*levels.told, *undrawn((*sight.scene.bodies, *sight.scene.around))]
    rows = [row for note in notes for row in broken(reader.words(note), LABEL, box.width, most=2)]
    pen.lines((box.left, box.bottom + NOTE * len(rows)), rows, LABEL)
    draw_unit_upright(pen, replace(box, bottom=box.bottom + NOTE * len(rows) + 4), sight, reader)


def draw_unit_upright(pen: Pen, frame: Box, sight: Sight, reader: Reader) -> None:
    """Draw the unit of a step from one side.

    Args:
        pen: Draws it.
        frame: Where.
        sight: From where it is seen, what, and how high it stands.
        reader: Who reads it.
    """
    wide = frame.width >= ROOMY
    rim = RIM_WIDE if wide else RIM
    low = view_of(replace(frame, top=frame.top - HEAD, bottom=frame.bottom + FOOT), sight.extent, rim)
    view = View(frame, (low.centre[0] + (HEAD - FOOT) / 2 / low.scale, low.centre[1]), low.scale)
    drawn = _upright(pen, view, sight)
    corners = [draw_scale(pen, view, reader.units), *_ends(pen, view, sight.seen)]
    centres = _cg_tags(sight, drawn, reader, WIDE if wide else NARROWEST)
    marks = marks_in(frame, sight.scene, lambda tie: view.page(*sight.tie(tie)))
    corners += draw_ties(pen, marks)
    tags = [*(centres if wide else centres[:1]), *_stand_tags(view, sight, drawn, reader)]
    tags += tie_tags(marks, reader) if wide else []
    taken = (*(box for _, box in drawn.stands), *(each.box for each in drawn.centres), *corners)
    draw_tags(replace(pen, layer=Layer.LABELS), tags, Ground(taken, drawn.lines, frame))


def _beside(pen: Pen, box: Box, shown: _Shown, reader: Reader) -> None:
    """Draw the whole vehicle, small, and the key."""
    assessment, stage, seen = shown.assessment, shown.stage, shown.seen
    scene = vehicle_scene(assessment, stage)
    signs = key_of(ELEVATION_KEY, unit_scene(assessment, stage), scene)
    if scene is None:
        draw_key(pen, box, reader, signs)
        return
    key = replace(box, top=box.bottom + key_high(signs, box.width, reader))
    told = replace(box, top=key.top + distances_high(scene, box.width, reader))
    draw_key(pen, key, reader, signs)
    draw_distances(pen, told, scene, reader)
    sight = Sight(seen, scene, levels_of(assessment.job, stage), assessment.job)
    draw_vehicle_upright(pen, replace(box, bottom=told.top + 6), sight, reader)


def draw_vehicle_upright(pen: Pen, frame: Box, sight: Sight, reader: Reader) -> None:
    """Draw the vehicle on its lift over the unit from one side.

    Args:
        pen: Draws it.
        frame: Where.
        sight: From where it is seen, what, and how high it stands.
        reader: Who reads it.
    """
    unit_places = [corner for body in sight.scene.around if (span := sight.span(body)) for corner in span]
    view = view_of(frame, [*sight.extent, *unit_places, *sight.posts], rim=24)
    drawn = _upright(pen, view, sight)
    room = NARROW if frame.width > NARROW + RIM / 2 else NARROWEST
    tags = [*_cg_tags(sight, drawn, reader, room), *_pad_tags(view, sight, drawn, reader)]
    taken = (*(box for _, box in drawn.stands), *(each.box for each in drawn.centres))
    draw_tags(replace(pen, layer=Layer.LABELS), tags, Ground(taken, drawn.lines, frame))


def _upright(pen: Pen, view: View, sight: Sight) -> StandSeen:
    replace(pen, layer=Layer.GROUND).box(view.frame, SHEET, Stroke(HAIRLINE, 1.5))
    return draw_upright(replace(pen, frame=view.frame), view, sight)


def _ends(pen: Pen, view: View, seen: ViewSide) -> list[Box]:
    """Return what the names of both ends cover, written in the upper corners."""
    left, right = (f"{word}" for word in ENDS[seen])
    frame = view.frame
    covered = [
        Box(frame.left + 2, frame.top - 36, frame.left + 40 + text_width(left, STRONG), frame.top - 4),
        Box(frame.right - 40 - text_width(right, STRONG), frame.top - 36, frame.right - 2, frame.top - 4),
    ]
    for box in covered:
        pen.box(box, SHEET, None)
    pen.words((frame.left + 34, frame.top - 20), left, STRONG)
    pen.words((frame.right - 34, frame.top - 20), right, STRONG, "right")
    for tip, back in ((frame.left + 8, frame.left + 28), (frame.right - 8, frame.right - 28)):
        pen.area([(tip, frame.top - 20), (back, frame.top - 12), (back, frame.top - 28)], STRONG.colour, None)
    return [box.grown(4) for box in covered]


def _stand_tags(view: View, sight: Sight, drawn: StandSeen, reader: Reader) -> list[Tag]:
    """Return letter and height for each stand; those one behind the other share a place for their words."""
    clusters: list[list[tuple[Support, Box]]] = []
    seen = [each for each in drawn.stands if view.frame.holds(each[1].middle)]
    for each in sorted(seen, key=lambda stand: stand[1].middle[0]):
        if clusters and each[1].middle[0] - clusters[-1][0][1].middle[0] < BEHIND:
            clusters[-1].append(each)
        else:
            clusters.append([each])
    wide = view.frame.width >= ROOMY
    rows = [_cluster_rows(sight, each, reader) if wide else _letter_rows(each, reader) for each in clusters]
    return told_apart([Tag(told, each[0][1], (0.0, -0.2)) for told, each in zip(rows, clusters, strict=True)])


def _letter_rows(cluster: list[tuple[Support, Box]], reader: Reader) -> tuple[Row, ...]:
    """Return the names of stands one behind the other, for a narrow drawing: the page has their heights beside it."""
    named = ", ".join(reader.words(support.name) for support, _ in cluster)
    lines = broken(named, SMALL_LETTER, NAME, most=2)
    return tuple(((line, SMALL_LETTER),) for line in lines)


def _cluster_rows(sight: Sight, cluster: list[tuple[Support, Box]], reader: Reader) -> tuple[Row, ...]:
    """Return the words of stands one behind the other: those of one height together."""
    heights: dict[str, list[str]] = {}
    for support, _ in cluster:
        heights.setdefault(_height(sight, support, reader), []).append(reader.words(support.name))
    rows: list[Row] = []
    for told, called in heights.items():
        named = ", ".join(called)
        short = len(named) <= 3 * SHORT
        lettering = LETTER if short else Type(18, bold=True, colour=LETTER.colour)
        height: Row = tuple((part, LABEL) for part in told.splitlines())
        lines = broken(named, lettering, 2 * NAME, most=2)
        rows += [((named, lettering), *height)] if short else [*(((line, lettering),) for line in lines), height]
    return tuple(rows)


def _pad_tags(view: View, sight: Sight, drawn: StandSeen, reader: Reader) -> list[Tag]:
    """Return the heights of the lift's pads, and letters and heights of stands under the vehicle."""
    there = [each for each in drawn.stands if view.frame.holds(each[1].middle)]
    arms = [each for each in there if each[0].is_arm]
    tags = []
    for level, members in _by_level(sight, arms, reader).items():
        # Seen from in front pads of all heights lie one behind the other: which are meant, only their place tells.
        apart = len(_by_level(sight, arms, reader)) > 1 and sight.seen is ViewSide.FRONT
        which = f"{_end(members, arms)} lift pads" if apart else "lift pads"
        tags.append(Tag((((which, STRONG),), *(((line, LABEL),) for line in level.splitlines())), members[0][1], DOWN))
    for support, box in there:
        if not support.is_arm:
            lines = _height(sight, support, reader).splitlines()
            tags.append(
                Tag((((reader.words(support.name), STRONG),), *(((line, LABEL),) for line in lines)), box, DOWN)
            )
    return tags


def _by_level(sight: Sight, arms: list[tuple[Support, Box]], reader: Reader) -> dict[str, list[tuple[Support, Box]]]:
    """Return the lift's pads by how high they are told to be."""
    levels: dict[str, list[tuple[Support, Box]]] = {}
    for support, box in arms:
        levels.setdefault(_height(sight, support, reader), []).append((support, box))
    return levels


def _end(members: list[tuple[Support, Box]], arms: list[tuple[Support, Box]]) -> str:
    """Return at which end of the vehicle some of the lift's pads are."""
    middle = sum(support.at[0] for support, _ in arms) / len(arms)
    return "front" if members[0][0].at[0] > middle else "rear"


def _height(sight: Sight, support: Support, reader: Reader) -> str:
    """Return how high a saddle is; where the plan does not say, none is told."""
    known = support.set_height is not None or support.body not in sight.levels.taken
    # What is set is told as it is set: over the floor, or over what it stands on.
    told = reader.length(support.set_height or sight.levels.top(support)) if known else ""
    if support.is_arm:
        return told
    if support.set_height is not None:
        return _as_set(support, reader) if support.shim and support.height is not None else told
    how = "hook" if support.equipment.kind is EquipmentKind.HOIST else "to touch"
    return f"{told}, {how}" if told else how


def _as_set(support: Support, reader: Reader) -> str:
    """Return the height that a stand is set to and, on a line of its own, its shim: as the sheet's table has them."""
    shim = support.shim.height if support.shim else 0.0
    return f"{reader.length(support.height or 0.0)}\n+ {reader.length(shim)}"


def _cg_tags(sight: Sight, drawn: StandSeen, reader: Reader, room: float) -> list[Tag]:
    """Return how high each centre of gravity is and how far it tilts; where there is room, also about what."""
    ordered = sorted(drawn.centres, key=lambda each: each.whole.name != sight.scene.critical)
    return [Tag(_cg_rows(sight, each, reader, room), each.box, (0.0, 1.0)) for each in ordered]


def _cg_rows(sight: Sight, centre: CentreSeen, reader: Reader, room: float) -> tuple[Row, ...]:
    """Return the lines beside a centre of gravity: how high, how far it tilts, about what."""
    whole = centre.whole
    strong = replace(STRONG, colour=sight.scene.faults.edge(whole).line)
    if room == WIDE and whole.name == sight.scene.critical:
        strong = replace(strong, size=20)
    goes, about = _goes(sight, centre, reader)
    about = "" if room == NARROW else about
    texts = [(_high(sight, whole, reader), STRONG), (goes, strong), (about, LABEL)]
    if room == NARROWEST:
        texts = [(goes or about, strong)]
    return tuple(((line, kind),) for text, kind in texts if text for line in _lines(text, kind, room))


def _lines(text: str, kind: Type, room: float) -> list[str]:
    """Return a text in lines, of one that does not fit what stands before a colon in a line of its own."""
    name, colon, told = text.partition(": ")
    if not colon or text_width(text, kind) <= room:
        return broken(text, kind, room, most=3)
    return [*broken(f"{name}:", kind, room, most=2), *broken(told, kind, room, most=2)]


def _high(sight: Sight, whole: RigidShown, reader: Reader) -> str:
    """Return how high a centre of gravity is: over the floor, or over what bears it where the plan does not say."""
    height, low = cg_height(whole, sight.levels), saddle_level(sight, whole)
    bearing = "saddles" if stands_under(sight, whole) else "mounts"
    if whole.bodies[0].name not in sight.levels.taken:
        return f"{reader.words(whole.name)}: CG {reader.length(height)} high"
    over = f": CG {reader.length(height - low)} over its {bearing}" if low is not None else ""
    return f"{reader.words(whole.name)}{over}"


def _goes(sight: Sight, centre: CentreSeen, reader: Reader) -> tuple[str, str]:
    """Return how far a rigid whole tilts before it goes, and about what; how it is drawn where that differs."""
    whole, drawn = centre.whole, centre.angle
    angle = whole.bodies[0].tip_angle
    if not whole.balanced:
        # What stands beside it, and is only tied to it, is not blamed: but nothing is known of its tilt either.
        goes = "does not stand in balance" if may_go(whole) else "tilt not known"
        return "free to rock" if whole.free else goes, ""
    if whole.tilts is None or angle is None:
        return "", reader.words(f"goes over only with the {whole.carrier}") if whole.carrier else ""
    others = [name for name in whole.tilts.bodies if name not in {body.name for body in whole.bodies}]
    about = f"about {names(whole.tilts.about)}" if whole.tilts.about else ""
    together = f", with the {names(others)}" if others else ""
    alone = "for it alone" if others else "at a slant"
    how = _drawn(sight, whole, "" if drawn is None or abs(drawn - angle) <= SLANT else alone)
    return f"tilts {reader.angle(angle)} before it goes", reader.words(f"{about}{together}{how}".lstrip(",; "))


def _drawn(sight: Sight, whole: RigidShown, how: str) -> str:
    """Return how a tilt is drawn where that differs from what is told, or where it is drawn."""
    if triangle(sight, whole) is not None:
        return f"; drawn {how}" if how else ""
    other = ViewSide.FRONT if sight.seen is ViewSide.SIDE else ViewSide.SIDE
    return f"; see the {other.value} view" if triangle(replace(sight, seen=other), whole) else ""


WIDE, NARROW, NARROWEST = 370, 300, 280
"""Widest line beside a centre of gravity [px]: large, in the small view, and on a phone, which tells the tilt alone."""

DOWN = (0.0, -1.0)
"""Direction in which words under the vehicle are better off."""

BEHIND = 24
"""Stands whose middles are no further apart than this on the page share a place for their words [px]."""

NOTE = QUIET.size * 1.3
"""Height of a line of notes [px]."""

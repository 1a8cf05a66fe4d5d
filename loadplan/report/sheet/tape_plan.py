"""The plan of the floor sheet: where every stand goes, by two tapes each and two check diagonals."""

from dataclasses import dataclass, replace
from itertools import combinations
from math import copysign, dist

from loadplan.checks.phrases import names
from loadplan.model.job import Job, Support
from loadplan.model.verdict import Assessment
from loadplan.report.drawing.label_placement import Ground
from loadplan.report.drawing.pagination import Block, points
from loadplan.report.drawing.pen import Layer, Pen
from loadplan.report.drawing.style import HAIRLINE, INK, SHEET, Stroke, Type
from loadplan.report.drawing.text_boxes import Row, Tag, draw_tags
from loadplan.report.drawing.text_width import LINE, broken, text_width
from loadplan.report.drawing.view import Box, View, view_of
from loadplan.report.pictures.plan_content import PlanContent
from loadplan.report.pictures.plan_shapes import beads, draw_floor, saddle_box, support_box
from loadplan.report.pictures.rulers import draw_rulers, on_floor
from loadplan.report.pictures.title_block import draw_front, draw_scale
from loadplan.report.sheet.stand_marks import marked
from loadplan.report.words.number_format import write_tape
from loadplan.report.words.tape_words import across_words, along_words, height_words, setting
from loadplan.report.words.top_findings import steps_words
from loadplan.report.words.vocabulary import Reader

LEFT, BELOW, SIZE = 132, 78, 1.0
"""Room for the tapes on the left and below [px], and how much larger than on a screen they are read."""

ASIDE = 60
"""Further room beside the stands, for their letters and the arrow to the front [px]."""

RIM = 32
"""Free room round the stands [px]: a scale bar in a corner keeps off the stand below it."""

LETTER, NAMED, HEIGHT = points(18, bold=True), points(12, bold=True), points(12)
"""Type of a stand's letter, of a longer name, and of how high it is set."""

NOTE = points(9)
"""Type of a note in a corner of the plan."""

NOTE_HIGH = 2 * NOTE.size * LINE + NOTE.size
"""Room for a note of two lines and its distance from the rim [px]."""

WRITTEN, LETTER_SHARE = 13, 0.85
"""Least side of a saddle that its letter is written on [px], and the letter's size as a share of the side."""

SHORT, NAME = 3, 130
"""Most characters of a letter, and widest line of a longer name [px]: the table has it whole."""


@dataclass(frozen=True, slots=True)
class Diagonal:
    """A distance between two stands, to check where they stand."""

    first: Support
    second: Support

    @property
    def length(self) -> float:
        """Distance of their middles on the floor [m]."""
        return dist(self.first.at[:2], self.second.at[:2])


def plan_block(assessment: Assessment, high: float, reader: Reader) -> Block:
    """Lay out the plan of a job's stands.

    Args:
        assessment: The job, judged.
        high: Its height [px].
        reader: Who reads it.

    Returns:
        The plan.
    """
    near, _ = _near_and_far(assessment.job)
    plan = _TapePlan(assessment.job, near, check_diagonals(near))
    return Block(high, lambda pen, box: _draw(pen, box, plan, reader))


def plan_words(assessment: Assessment, reader: Reader) -> list[str]:
    """Tell how the plan is read, the distances that check it, and what stands too far away to be in it.

    Args:
        assessment: The job, judged.
        reader: Who reads it.

    Returns:
        A text each.
    """
    near, far = _near_and_far(assessment.job)
    words = [
        "Dashed: check diagonals." if check_diagonals(near) else "",
        " ".join(_tapes(far, reader)),
        _when_in_place(assessment),
        "Seen from above, front up. Tapes from chalked front axle line and centre line to saddle middle, heights from "
        "floor to saddle, shim on top.",
    ]
    return [reader.words(text) for text in words if text]


def check_diagonals(stands: tuple[Support, ...]) -> tuple[Diagonal, ...]:
    """Choose two pairs of stands whose distances check all the tapes: the longest, with no stand in common.

    Args:
        stands: Stands on the floor.

    Returns:
        Two, or fewer where there are fewer than three stands.
    """
    pairs = sorted((Diagonal(*pair) for pair in combinations(stands, 2)), key=lambda pair: -pair.length)
    if len(pairs) < 2:
        return tuple(pairs)
    first = pairs[0]
    apart = [
        pair for pair in pairs if {pair.first.name, pair.second.name}.isdisjoint({first.first.name, first.second.name})
    ]
    return first, (apart or pairs[1:])[0]


def _near_and_far(job: Job) -> tuple[tuple[Support, ...], tuple[Support, ...]]:
    """Return the stands that are drawn, and those under the vehicle on the lift, far away, that are told in words."""
    stands = [each for each in marked(job) if on_floor(each)]
    lifted = job.lift.body if job.lift else ""
    near = tuple(each for each in stands if each.body != lifted)
    return (near, tuple(each for each in stands if each.body == lifted)) if near else (tuple(stands), ())


def _tapes(stands: tuple[Support, ...], reader: Reader) -> list[str]:
    """Return where stands are that are told in words; those at one place share them."""
    found: dict[str, list[str]] = {}
    for each in stands:
        told = f"{along_words(each.at[0], reader)}, {across_words(each.at[1], reader)}."
        found.setdefault(told, []).append(each.name)
    return [f"{names(those)}: {told}" for told, those in found.items()]


def _when_in_place(assessment: Assessment) -> str:
    """Return which stands are in place in which steps: also that two of one place are there in turn."""
    marks = [(each.name, own.name) for each, own in zip(marked(assessment.job), assessment.job.supports, strict=True)]
    here = [(stage.state.index, {each.name for each in stage.state.supports}) for stage in assessment.stages]
    found: dict[tuple[int, ...], list[str]] = {}
    for mark, name in marks:
        found.setdefault(tuple(index for index, standing in here if name in standing), []).append(mark)
    last = len(here)
    told = [
        f"{names(those)} {'in every step' if len(steps) == last else f'in {steps_words(steps)}'}"
        for steps, those in found.items()
        if steps
    ]
    return f"In place: {'; '.join(told)}." if told else ""


def _scene(job: Job, near: tuple[Support, ...]) -> PlanContent:
    """Return the floor with the stands that the tapes reach, and the bodies on them; no loads, no edges."""
    borne = {each.body for each in near}
    bodies = tuple(body for body in job.vehicle.bodies if body.name in job.bodies)
    return PlanContent(
        bodies=tuple(body for body in bodies if body.name in borne),
        around=tuple(body for body in bodies if body.name not in borne),
        supports=tuple((each, None) for each in near),
        bare=(),
        wholes=(),
        critical="",
        mounts=(),
        points=(),
    )


@dataclass(frozen=True, slots=True)
class _TapePlan:
    """What the plan shows: the stands that the tapes reach, and the distances that check their places."""

    job: Job
    near: tuple[Support, ...]
    diagonals: tuple[Diagonal, ...]


def _draw(pen: Pen, box: Box, plan: _TapePlan, reader: Reader) -> None:
    """Draw the floor with its stands, rulers from the chalk lines, and the check diagonals."""
    near, diagonals = plan.near, plan.diagonals
    frame = Box(box.left + LEFT, box.bottom + BELOW, box.right, box.top)
    scene = _scene(plan.job, near)
    view = view_of(frame, scene.extent, rim=RIM, aside=ASIDE)
    off = not view.shows(0.0, view.centre[1])
    if off and any(_axle_note(view, reader)[1].overlap(support_box(view, each)) for each in near):
        # The note that says where the axle line is stands over or under the stands, not on one.
        view = view_of(frame, scene.extent, rim=RIM + NOTE_HIGH, aside=ASIDE)
    replace(pen, layer=Layer.GROUND).box(frame, SHEET, Stroke(HAIRLINE, 1.5))
    drawn = draw_floor(replace(pen, frame=frame), view, scene)
    ends = [(view.page(*each.first.at[:2]), view.page(*each.second.at[:2])) for each in diagonals]
    for start, end in ends:
        replace(pen, layer=Layer.FLOOR).line([start, end], Stroke(INK, 1.6, (6, 4)))
    _draw_letters(replace(pen, frame=frame, layer=Layer.STANDS), view, near)
    draw_rulers(pen, view, list(near), reader, SIZE)
    lines = [bead for start, end in ends for bead in beads(start, end)]
    front = draw_front(pen, view)
    axle = _draw_axle_note(pen, view, reader)
    corners = [front, *axle, draw_scale(pen, view, reader.units, (*drawn.taken, *lines, front, *axle))]
    stands = drawn.taken[: len(near)]
    tags = [
        Tag(_rows(support, reader), spot, _away(view, spot), tuple(each for each in stands if each != spot))
        for support, spot in zip(near, stands, strict=True)
    ]
    tags += [_diagonal_tag(each, place, reader) for each, place in zip(diagonals, ends, strict=True)]
    draw_tags(replace(pen, layer=Layer.LABELS), tags, Ground((*drawn.taken, *corners), tuple(lines), frame))


def _draw_axle_note(pen: Pen, view: View, reader: Reader) -> list[Box]:
    """Say where the chalk line across is that tapes are read from, if it lies off the plan.

    Args:
        pen: Draws.
        view: Where.
        reader: Who reads it.

    Returns:
        What that covers.
    """
    if view.shows(0.0, view.centre[1]):
        return []
    said, box = _axle_note(view, reader)
    over = replace(pen, layer=Layer.LABELS)
    over.box(box, SHEET, None)
    over.lines((box.left, box.top), said, NOTE)
    return [box]


def _axle_note(view: View, reader: Reader) -> tuple[list[str], Box]:
    """Return the words of that note, and what they cover in the corner that is nearest to the line."""
    ahead, frame = view.centre[0] < 0.0, view.frame
    said = [reader.words("front axle line: off this"), f"plan, further {'ahead' if ahead else 'back'}"]
    wide, high = max(text_width(line, NOTE) for line in said), NOTE_HIGH - NOTE.size
    top = frame.top - NOTE.size if ahead else frame.bottom + NOTE.size + high
    return said, Box(frame.right - NOTE.size - wide, top - high, frame.right - NOTE.size, top)


def _draw_letters(pen: Pen, view: View, near: tuple[Support, ...]) -> None:
    """Write each letter on its saddle, too: where stands are close its words may lie nearer to another one."""
    for support in near:
        box = saddle_box(view, support)
        side = min(box.width, box.height)
        if len(support.name) == 1 and side >= WRITTEN:
            x, y = box.middle
            pen.words((x, y), support.name, Type(LETTER_SHARE * side, bold=True, colour=SHEET), "center")


def _diagonal_tag(diagonal: Diagonal, ends: tuple[tuple[float, float], tuple[float, float]], reader: Reader) -> Tag:
    (x, y), (across, along) = ends
    third = x + (across - x) / 3, y + (along - y) / 3
    # Without its ends it reads as what is nearest to it: a side, or the height of a stand.
    told = f"{diagonal.first.name} to {diagonal.second.name}"
    far = reader.words(write_tape(diagonal.length, reader.units))
    return Tag((((f"{told} ", HEIGHT), (far, NAMED)),), Box(*third, *third), (0.0, 0.0))


def _away(view: View, spot: Box) -> tuple[float, float]:
    """Return the direction out of the middle of a view."""
    across, along = spot.middle[0] - view.frame.middle[0], spot.middle[1] - view.frame.middle[1]
    return copysign(1.0, across), 0.3 * copysign(1.0, along)


def _rows(support: Support, reader: Reader) -> tuple[Row, ...]:
    """Return a stand's name and how high it is set, beside each other if it is a letter, and below on which shim."""
    said, height = reader.words(support.name), (height_words(support, reader), HEIGHT)
    shim: list[Row] = [((f"+ {setting(support.shim.height, reader.units)}", HEIGHT),)] if support.shim else []
    if len(said) <= SHORT:
        # Little room is found nearer to the stand than much.
        return (((said, LETTER), height), *shim)
    return (*(((line, NAMED),) for line in broken(said, NAMED, NAME, most=2)), (height,), *shim)

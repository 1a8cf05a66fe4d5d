"""The live plan of one stage: the unit on its stands as in the plan, with ids by which a page finds every piece."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import combinations, pairwise

from loadplan.model.answer import Load
from loadplan.model.job import Job, Support
from loadplan.model.vehicle import PlanPoint
from loadplan.model.verdict import Assessment, StageAssessment
from loadplan.report.drawing.label_placement import Ground, Placed, Wanted, place_labels
from loadplan.report.drawing.paper import Paper
from loadplan.report.drawing.pen import Layer, Named, Pen
from loadplan.report.drawing.style import (
    HAIRLINE,
    LABEL,
    LEADER,
    LETTER,
    LOAD,
    SHEET,
    SMALL_LETTER,
    STRONG,
    Stroke,
    Type,
)
from loadplan.report.drawing.text_boxes import SPACE, Tag, draw_tag, tag_size
from loadplan.report.drawing.text_width import LINE, broken, text_width
from loadplan.report.drawing.view import Box, View, view_of
from loadplan.report.pictures.cg_region import Polygon
from loadplan.report.pictures.one_more_hatch import cells_of, draw_hatch
from loadplan.report.pictures.plan_content import PlanContent, unit_scene, whole_scene
from loadplan.report.pictures.plan_labels import (
    NAME,
    SHORT,
    SMALL,
    distance_in_short,
    distance_words,
    mount_tags,
    stand_carries,
)
from loadplan.report.pictures.plan_shapes import Drawn, beads, draw_floor, edge_ends, region_left
from loadplan.report.pictures.tie_marks import TieMark, draw_ties, marks_in, tie_tags
from loadplan.report.pictures.tipping_edge import RigidShown
from loadplan.report.pictures.title_block import draw_front, draw_scale
from loadplan.report.pictures.verdict_colours import UNBLAMED
from loadplan.report.words.vocabulary import Reader, reader_of
from loadplan.units import System

NOTHING = "nothing"
"""There is room for it beside every letter: a load may come to that while a stand is moved."""

NARROW = 560
"""Below this width [px] words are smaller, and those that can be missed are left out."""

LOW = 480
"""Below this height [px] names of stands take fewer lines."""

RIM = 48
"""Least distance of what is shown from the rim [px]."""


@dataclass(frozen=True, slots=True)
class LivePage:
    """Where a stage is drawn live.

    Attributes:
        size: Width and height of the page [px].
        everything: Whether the vehicle with its lift is shown, not the unit alone.
    """

    size: tuple[float, float]
    everything: bool


@dataclass(frozen=True, slots=True)
class Live:
    """A stage drawn live: what is seen, and where.

    Attributes:
        scene: What is seen.
        view: Where.
        reader: Who reads it.
        ids: Id of every piece that is the same in every step.
        bodies: Names of the vehicle's bodies: a centre of gravity has the number of its first body.
        one_more: Middles of the cells [m] where one more stand would help.
        everything: Whether the vehicle with its lift is in it.
    """

    scene: PlanContent
    view: View
    reader: Reader
    ids: Mapping[Named, str]
    bodies: tuple[str, ...]
    one_more: tuple[PlanPoint, ...]
    everything: bool

    @property
    def wide(self) -> bool:
        """Whether there is room for all words in full size."""
        return self.view.frame.width >= NARROW

    @property
    def name_lines(self) -> int:
        """Most lines of a stand's name; one less where its words would lie on another's."""
        return 3 if self.wide and self.view.frame.height >= LOW else 2

    def far(self, whole: RigidShown) -> str:
        """Return how far a rigid whole is from going over, in as many words as there is room for; "" for no edge."""
        return distance_words(whole, self.reader)[0] if self.wide else distance_in_short(whole, self.reader)

    def scene_now(self, assessment: Assessment, stage: StageAssessment) -> PlanContent:
        """Return what the same drawing shows of a stage that has changed."""
        return whole_scene(assessment, stage) if self.everything else unit_scene(assessment, stage)


def live_of(assessment: Assessment, stage: StageAssessment, page: LivePage, units: System) -> Live:
    """Lay out a stage on a page.

    Args:
        assessment: The job, judged.
        stage: The stage.
        page: Where it is drawn.
        units: The reader's units.

    Returns:
        What is seen, and where.
    """
    scene = whole_scene(assessment, stage) if page.everything else unit_scene(assessment, stage)
    frame = Box(0.0, 0.0, *page.size)
    job = assessment.job
    bodies = tuple(body.name for body in job.vehicle.bodies)
    return Live(
        scene=scene,
        view=view_of(frame, scene.extent, RIM),
        reader=reader_of(job, units),
        ids=ids_of(job),
        bodies=bodies,
        one_more=cells_of(assessment, stage, scene),
        everything=page.everything,
    )


def ids_of(job: Job) -> dict[Named, str]:
    """Name the pieces of a drawing for a page: by numbers, since names may hold anything.

    Args:
        job: The job.

    Returns:
        Id of every support and every assembly in every role, by role and name.
    """
    return {
        (kind, support.name): f"{kind}-{number}"
        for number, support in enumerate(job.supports)
        for kind in ("stand", "tag", "load", "leader")
    }


def draw_live(paper: Paper, live: Live) -> None:
    """Draw a stage so that it fills the page.

    Args:
        paper: The page.
        live: What is seen, and where.
    """
    ids = {**live.ids, **_wholes(live)}
    pen = Pen(paper, Layer.GROUND, None, ids=ids)
    frame = live.view.frame
    pen.box(frame, SHEET, Stroke(HAIRLINE, 1.5))
    drawn = draw_floor(replace(pen, frame=frame), live.view, live.scene)
    hatched = draw_hatch(pen, live.view, live.one_more, live.reader)
    front = draw_front(pen, live.view)
    busy = (*drawn.taken, *drawn.lines, *_rims(live), front)
    corners = (front, draw_scale(pen, live.view, live.reader.units, busy), *hatched)
    ground = Ground((*drawn.taken, *corners, *draw_ties(pen, _marks(live))), drawn.lines, frame)
    _draw_words(replace(pen, layer=Layer.LABELS), live, drawn, ground)


def lines_of(live: Live, scene: PlanContent) -> dict[str, Polygon]:
    """Find the lines that move while a stand is moved, on the page of an earlier look.

    Args:
        live: The earlier look.
        scene: What is seen now.

    Returns:
        Lines and outlines on the page [px], by their ids: nearest edge, distance to it, region; empty for none.
    """
    told: dict[str, Polygon] = {}
    for number, whole in enumerate(scene.wholes):
        told[f"edge-{number}"], told[f"span-{number}"] = edge_ends(live.view, whole)
        told[f"region-{number}"] = live.view.page_all(region_left(live.view, whole))
    return told


def _marks(live: Live) -> tuple[TieMark, ...]:
    return marks_in(live.view.frame, live.scene, lambda tie: live.view.page(*tie.at[:2]))


def _rims(live: Live) -> tuple[Box, ...]:
    """Return small boxes along the outlines of what is drawn, beside which a scale bar would look like one of them."""
    bodies = (*live.scene.bodies, *live.scene.around)
    rims = [live.view.page_all((*each.outline, *each.outline[:1])) for each in bodies]
    return tuple(box for rim in rims for start, end in pairwise(rim) for box in beads(start, end))


def _wholes(live: Live) -> dict[Named, str]:
    """Return what each mark of a rigid whole is called on the page, by its kind and the whole's name."""
    ids = {
        (kind, whole.name): f"{kind}-{number}"
        for number, whole in enumerate(live.scene.wholes)
        for kind in ("edge", "span", "region", "far", "off")
    }
    signs = {("cg", each.name): f"cg-{live.bodies.index(each.bodies[0].name)}" for each in live.scene.wholes}
    return ids | signs


def _draw_words(pen: Pen, live: Live, drawn: Drawn, ground: Ground) -> None:
    """Place all words together, so that none covers another; stands first, each in a group of its own."""
    middle = live.view.frame.middle
    stands = [
        (support, load, box)
        for (support, load), box in zip(live.scene.supports, drawn.taken, strict=False)
        if live.view.frame.holds(box.middle)
    ]
    told = [each for each in drawn.edges if live.wide or _counts(each[0], live.scene)]
    edges = [(_edge_tag(whole, anchor, live), whole.name) for whole, anchor in told]
    small = mount_tags(live.view, (*live.scene.mounts, *live.scene.links), live.reader) if live.wide else []
    small += tie_tags(_marks(live), live.reader) if live.wide else []
    rest = [Wanted(tag_size(tag), tag.anchor, tag.away, tag.rivals) for tag in (*(tag for tag, _ in edges), *small)]
    # A name in fewer lines says less, but a load that another stand's words lie on says nothing.
    for most in (live.name_lines, live.name_lines - 1):
        names = {support.name: _name(support, live, most) for support, *_ in stands}
        wanted = [
            Wanted(
                _size((support, load), live, names),
                box,
                _away(box, middle),
                tuple(each for *_, each in stands if each != box),
            )
            for support, load, box in stands
        ]
        placed = place_labels([*wanted, *rest], ground)
        tags = [spot.box for spot in placed[: len(stands)]]
        if not any(one.overlap(other) > 1 for one, other in combinations(tags, 2)):
            break
    for (support, load, _), spot in zip(stands, placed, strict=False):
        _draw_leader(pen.named("leader", support.name), spot)
        with pen.together("tag", support.name):
            _draw_stand(pen, (support, load), spot.box, live, names[support.name])
    for (tag, name), spot in zip(edges, placed[len(stands) :], strict=False):
        _draw_leader(pen.named("off", name), spot)
        with pen.together("far", name):
            draw_tag(pen, tag, spot)
    for tag, spot in zip(small, placed[len(stands) + len(edges) :], strict=True):
        _draw_leader(pen, spot)
        draw_tag(pen, tag, spot)


def _draw_leader(pen: Pen, spot: Placed) -> None:
    if spot.leader:
        replace(pen, layer=Layer.LEADERS).line(spot.leader, LEADER)


def _draw_stand(pen: Pen, told: tuple[Support, Load | None], box: Box, live: Live, lines: list[str]) -> None:
    """Draw a stand's letter and load in a row, each by a name under which the page finds it; a long name above it."""
    support, load = told
    letter, words = _letter(support, live), _load(live)
    bears = stand_carries(live.scene, support, load, live.reader)
    x, row = box.left + SPACE / 2, letter.size * LINE
    named, below = max(text_width(line, letter) for line in lines), _is_long(support)
    along = x if below else x + named + SPACE
    # The room kept for a load that is not known yet is not ground: empty, it would hide what it lies on.
    end = max(along + text_width(bears, words), x + named) + SPACE / 2
    pen.box(replace(box, right=min(box.right, end)) if load is None else box, f"{SHEET}D0", None)
    for number, line in enumerate(lines):
        pen.words((x, box.top - (number + 0.5) * row), line, letter)
    y = box.bottom + words.size * LINE / 2 if below else box.middle[1]
    pen.named("load", support.name).words((along, y), bears, words)


def _size(told: tuple[Support, Load | None], live: Live, names: Mapping[str, list[str]]) -> tuple[float, float]:
    """Return the room that a stand's words take, by the lines of its name."""
    support, load = told
    letter, words, lines = _letter(support, live), _load(live), names[support.name]
    most = live.reader.load(load.at_most) if load else ""
    says = stand_carries(live.scene, support, load, live.reader), NOTHING, most
    named, bears = max(text_width(line, letter) for line in lines), max(text_width(text, words) for text in says)
    if _is_long(support):
        return max(named, bears) + SPACE, len(lines) * letter.size * LINE + words.size * LINE
    return named + bears + 2 * SPACE, letter.size * LINE


def _name(support: Support, live: Live, most: int) -> list[str]:
    """Return a stand's name in lines: a long one in a row would cover the other stands."""
    return broken(live.reader.words(support.name), _letter(support, live), NAME if live.wide else SMALL, most=most)


def _is_long(support: Support) -> bool:
    """Return whether a stand's name is no letter: its load is below it then."""
    return len(support.name) > SHORT


def _letter(support: Support, live: Live) -> Type:
    """Return the type of a stand's name: large where it is a letter."""
    if _is_long(support):
        return Type(18, bold=True, colour=LETTER.colour) if live.wide else STRONG
    return LETTER if live.wide else SMALL_LETTER


def _load(live: Live) -> Type:
    return LOAD if live.wide else LABEL


def _counts(whole: RigidShown, scene: PlanContent) -> bool:
    """Return whether a narrow page has room for how far off a whole is: of the nearest, and of each at fault."""
    return whole.name == scene.critical or scene.faults.edge(whole) is not UNBLAMED


def _edge_tag(whole: RigidShown, anchor: Box, live: Live) -> Tag:
    """Return whose edge it is and how far off; on a narrow page only how far."""
    large = 22 if live.wide else 18
    strong = (
        Type(large, bold=True, colour=live.scene.faults.edge(whole).line)
        if whole.name == live.scene.critical
        else STRONG
    )
    far = live.far(whole)
    name = ((live.reader.words(whole.name), LABEL),)
    lines = broken(far, strong, live.view.frame.width - RIM, most=2) if far else []
    rows = ((name,) if live.wide or not far else ()) + tuple(((line, strong),) for line in lines)
    return Tag(rows, anchor, (0.0, 0.0))


def _away(box: Box, middle: tuple[float, float]) -> tuple[float, float]:
    """Return on which side of a stand its words go: outwards, rather beside it than above or below."""
    across, along = box.middle[0] - middle[0], box.middle[1] - middle[1]
    return (across > 0) - (across < 0), 0.3 * ((along > 0) - (along < 0))

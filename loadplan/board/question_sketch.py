"""The sketch beside the questions of a first job: what is known so far, seen from above, front up."""

from dataclasses import dataclass

from loadplan.planning.interview.character_plan import PlanMark, known_things
from loadplan.planning.interview.question import Edges
from loadplan.planning.interview.question_flow import Answers, course, values
from loadplan.planning.interview.questions_on_job import vehicle_of

WIDEST, HIGHEST, RIM = 400.0, 520.0, 24.0
"""Size of the drawing, and what is left free at its edges for letters [units of its view box]."""

KINDS = {"o": "tie", "#": "pad"}
"""What a sign of the interview's own plan is; every other sign is a stand's letter."""


@dataclass(frozen=True, slots=True)
class SketchBox:
    """A lump: its name, the place of its upper left corner, and its size [units of the view box]."""

    name: str
    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class SketchMark:
    """A stand with its letter, a mount or link, or a lift pad, at a place [units of the view box]."""

    kind: str
    letter: str
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Sketch:
    """What is drawn, in units of the view box, y downwards.

    Attributes:
        width: Of the drawing.
        height: Of the drawing.
        centre: x of the vehicle's centre line.
        axle: y of the axle line, None where that is not in the drawing.
        boxes: The lumps.
        marks: Pads, mounts and links, and stands.
    """

    width: float
    height: float
    centre: float
    axle: float | None
    boxes: tuple[SketchBox, ...]
    marks: tuple[SketchMark, ...]

    @property
    def words(self) -> str:
        """What is to be seen, in words."""
        kinds = {each.kind for each in self.marks}
        stands = "".join(each.letter for each in self.marks)
        told = [
            *(box.name for box in self.boxes),
            *(f"{word}s" for word in ("lift pad",) if "pad" in kinds),
            *(["mounts and links"] if "tie" in kinds else []),
            *([f"stands {', '.join(stands)}"] if stands else []),
        ]
        return f"From above, front up: {'; '.join(told)}"


def sketch_of(answers: Answers) -> Sketch | None:
    """Draw what is known so far.

    Args:
        answers: What was answered so far.

    Returns:
        The sketch, None where there is nothing to draw yet.
    """
    things = known_things(values(answers), vehicle_of(answers.begin, course(answers).value))
    if not things.is_drawable:
        return None
    xs, ys = _extent(tuple(things.boxes.values()), things.marks)
    half = max(abs(each) for each in ys)
    front, rear = max(xs), min(xs)
    scale = min((WIDEST - 2 * RIM) / max(2 * half, 0.1), (HIGHEST - 2 * RIM) / max(front - rear, 0.1))

    def at(x: float, y: float) -> tuple[float, float]:
        return round(WIDEST / 2 - y * scale, 1), round(RIM + (front - x) * scale, 1)

    boxes = tuple(
        SketchBox(name, *at(box.high[0], box.high[1]), *_size(box, scale)) for name, box in things.boxes.items()
    )
    marks = tuple(
        SketchMark(KINDS.get(each.sign, "stand"), "" if each.sign in KINDS else each.sign, *at(each.x, each.y))
        for each in things.marks
    )
    axle = at(0.0, 0.0)[1] if rear <= 0.0 <= front else None
    return Sketch(WIDEST, round(2 * RIM + (front - rear) * scale, 1), WIDEST / 2, axle, boxes, marks)


def _extent(boxes: tuple[Edges, ...], marks: tuple[PlanMark, ...]) -> tuple[list[float], list[float]]:
    """Return the x and the y of all that is drawn [m]."""
    ends = [end for box in boxes for end in (box.low, box.high)]
    return [each.x for each in marks] + [end[0] for end in ends], [each.y for each in marks] + [end[1] for end in ends]


def _size(box: Edges, scale: float) -> tuple[float, float]:
    return round((box.high[1] - box.low[1]) * scale, 1), round((box.high[0] - box.low[0]) * scale, 1)

"""The questions about the work in words: a part comes off, a pull on a bar, the vehicle on the lift, a hose."""

from math import atan2, cos, hypot, sin
from typing import TypeAlias, assert_never

from loadplan.checks.phrases import eighth, force, names, several, turning_about
from loadplan.checks.pull import ROOM
from loadplan.model.answer import PullAnswer, PushAnswer
from loadplan.model.vehicle import PlanPoint
from loadplan.model.verdict import Measure, Quantity
from loadplan.planning.lesson.lift_question import LoadMoved
from loadplan.planning.lesson.work_questions import Bar, Hose, PartsOff
from loadplan.planning.whatif import Shot
from loadplan.report.lesson.lesson_pictures import Arrow, Ring, Shown, Spot
from loadplan.report.lesson.question_pages import QuestionTold, answered, asked
from loadplan.report.words.number_format import write, write_sentence
from loadplan.report.words.vocabulary import Reader
from loadplan.units import System

ARROW = 0.25
"""Length of an arrow that only shows a direction [m]."""


WorkQuestion: TypeAlias = PartsOff | Bar | LoadMoved | Hose
"""What can be asked about the work."""


def about_work(question: WorkQuestion, reader: Reader) -> QuestionTold:
    """Put a question about the work into words and pictures.

    Args:
        question: The question with its answer.
        reader: Who reads it.

    Returns:
        What it says and shows.
    """
    match question:
        case PartsOff():
            return parts_off(question, reader)
        case Bar():
            return bar(question, reader)
        case LoadMoved():
            return load_moved(question, reader)
        case Hose():
            return hose(question, reader)
        case _:
            assert_never(question)


def parts_off(question: PartsOff, reader: Reader) -> QuestionTold:
    """Tell where the centre of gravity walks.

    Args:
        question: The question with its answer.
        reader: Who reads it.

    Returns:
        Its words and pictures.
    """
    ahead, left = question.walk
    was, now = question.was, question.now
    one = several(question.parts, "A part comes", "Parts come")
    margins = (
        (f"To tipping: {reader.length(was.margin)} before, {reader.length(now.margin)} now.",)
        if was.margin is not None and now.margin is not None
        else ()
    )
    return QuestionTold(
        heading=f"{one} off",
        ask=(f"Off: {names(question.parts)}.", f"Which way does the CG of the {was.name} walk?"),
        seen=asked(question.before),
        strong=f"{reader.length(hypot(ahead, left))} to the {eighth(atan2(left, ahead))}.",
        answer=(
            f"The {was.name} weighs {reader.mass(now.mass)} now, {reader.mass(was.mass)} before.",
            *margins,
        ),
        then=answered(question.after, Arrow(was.cg[:2], now.cg[:2]), about=was.name),
        shot=question.after,
    )


def bar(question: Bar, reader: Reader) -> QuestionTold:
    """Tell how hard a pull is stood.

    Args:
        question: The question with its answer.
        reader: Who reads it.

    Returns:
        Its words and pictures.
    """
    match question.answer:
        case PullAnswer():
            return _pull(question, question.answer, reader)
        case PushAnswer():
            return _push(question, question.answer, reader)


def load_moved(question: LoadMoved, reader: Reader) -> QuestionTold:
    """Tell which end of the vehicle turns heavy.

    Args:
        question: The question with its answer.
        reader: Who reads it.

    Returns:
        Its words and pictures.
    """
    end, way = ("nose", "forward") if question.moved > 0 else ("tail", "back")
    start, now = (_centre(shot) for shot in (question.before, question.after))
    props = (f"Set to just touch there: {names(question.props)}.",) if question.props else ()
    return QuestionTold(
        heading="The vehicle on the lift",
        ask=(
            f"All on, the lift held {_held(question.before, reader)}. Now it holds {_held(question.after, reader)}.",
            "Which end turns heavy? How far does the load's centre move?",
        ),
        seen=asked(question.before, shown=Shown.VEHICLE),
        strong=f"The {end}: {reader.length(abs(question.moved))} {way}.",
        answer=(
            f"Front pads: {reader.load(question.front[0])}, now {reader.load(question.front[1])}.",
            f"Rear pads: {reader.load(question.rear[0])}, now {reader.load(question.rear[1])}.",
            *props,
        ),
        then=answered(question.after, Arrow(start, now), shown=Shown.VEHICLE),
        shot=question.after,
    )


def hose(question: Hose, reader: Reader) -> QuestionTold:
    """Tell how little a forgotten hose has to pull.

    Args:
        question: The question with its answer.
        reader: Who reads it.

    Returns:
        Its words and pictures.
    """
    raised = "50 mm" if reader.units is System.METRIC else "2 in"
    return QuestionTold(
        heading="A forgotten hose",
        ask=(
            f"A hose is still on, at the {question.snag.joint}, and the vehicle goes up.",
            f"How hard does it pull before the {question.snag.body} tips?",
        ),
        seen=asked(question.shot, Ring(question.at)),
        strong=f"{reader.load(question.pull)}.",
        answer=(
            f"So much, pulling up there, tips the {question.snag.body}.",
            f"A hose does that unseen. Raise {raised}, stop, walk round: every hose.",
        ),
        then=answered(question.shot, Spot(question.at, f"{reader.load(question.pull)} up"), about=question.snag.body),
        shot=question.shot,
    )


def _pull(question: Bar, answer: PullAnswer, reader: Reader) -> QuestionTold:
    pull = question.shot.stage.state.stage.pull
    start = pull.at[:2] if pull else (0.0, 0.0)
    arrow = Arrow(start, _ahead(start, atan2(answer.towards[1], answer.towards[0])))
    stood = write(Quantity(answer.factor or 0.0, Measure.SHARE), reader.units)
    return QuestionTold(
        heading="A pull on a bar",
        ask=(
            f"A bar pulls on the {answer.body} with {_force(answer.force, reader)}.",
            "How many times as hard before something goes, and what?",
        ),
        seen=asked(question.shot, arrow),
        strong=f"At {stood} of it.",
        answer=(
            f"Then {_goes(answer.first, answer.about)}.",
            f"Asked for: {write(Quantity(ROOM, Measure.SHARE), reader.units)}. Friction may let go sooner: "
            "break bolts loose before lifting.",
        ),
        then=answered(question.shot, arrow),
        shot=question.shot,
    )


def _push(question: Bar, answer: PushAnswer, reader: Reader) -> QuestionTold:
    arrow = Arrow(answer.at[:2], _ahead(answer.at[:2], answer.direction))
    return QuestionTold(
        heading="A pull on a bar",
        ask=(
            f"Somebody pulls sideways, high up on the {answer.body}.",
            "How hard before something goes, and what?",
        ),
        seen=asked(question.shot, Ring(answer.at[:2])),
        strong=f"{_force(answer.force, reader)}, to the {eighth(answer.direction)}.",
        answer=(
            f"Then {_goes(answer.first, answer.about)}.",
            f"A braced pull on a bar is {_force(question.asked, reader)}. Friction may let go sooner: break bolts "
            "loose before lifting.",
        ),
        then=answered(question.shot, arrow),
        shot=question.shot,
    )


def _goes(first: str, about: tuple[str, ...]) -> str:
    """Return what happens where a pull passes what can be stood."""
    match first:
        case "slides":
            return f"it slides on {names(about)}"
        case "stand":
            return f"{names(about)} {several(about, 'goes', 'go')} over"
        case _:
            return f"it tips, {turning_about(about)}"


def _force(newtons: float, reader: Reader) -> str:
    return write_sentence(force(newtons), reader.units)


def _ahead(start: PlanPoint, direction: float) -> PlanPoint:
    return start[0] + ARROW * cos(direction), start[1] + ARROW * sin(direction)


def _centre(shot: Shot) -> PlanPoint:
    lift = shot.stage.statics.lift
    return lift.cg[:2] if lift else (0.0, 0.0)


def _held(shot: Shot, reader: Reader) -> str:
    lift = shot.stage.statics.lift
    return reader.mass(lift.mass if lift else 0.0)

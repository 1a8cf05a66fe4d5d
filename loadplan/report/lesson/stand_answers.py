"""The questions about stands in words: who carries most, what if one goes, which ones count."""

from typing import TypeAlias, assert_never

from loadplan.checks.phrases import names, several
from loadplan.model.answer import Loose
from loadplan.model.vehicle import JointKind
from loadplan.model.verdict import Measure, Quantity
from loadplan.planning.lesson.stand_questions import NOTHING, FourLegs, IdleInside, OneCarrier, TakenAway, WhoCarries
from loadplan.planning.whatif import Shot
from loadplan.report.lesson.lesson_pictures import BarPicture, Cross, Ring, Spot
from loadplan.report.lesson.question_pages import QuestionTold, alike, answered, asked
from loadplan.report.words.number_format import write
from loadplan.report.words.tipping_direction import ways_over
from loadplan.report.words.vocabulary import Reader

StandQuestion: TypeAlias = WhoCarries | TakenAway | OneCarrier | IdleInside | FourLegs
"""What can be asked about stands."""


def about_stands(question: StandQuestion, reader: Reader) -> QuestionTold:
    """Put a question about stands into words and pictures.

    Args:
        question: The question with its answer.
        reader: Who reads it.

    Returns:
        What it says and shows.
    """
    match question:
        case WhoCarries():
            return who_carries(question, reader)
        case TakenAway():
            return taken_away(question, reader)
        case OneCarrier():
            return one_carrier(question, reader)
        case IdleInside():
            return idle_inside(question, reader)
        case FourLegs():
            return four_legs(question, reader)
        case _:
            assert_never(question)


def who_carries(question: WhoCarries, reader: Reader) -> QuestionTold:
    """Tell who carries most.

    Args:
        question: The question with its answer.
        reader: Who reads it.

    Returns:
        Its words and pictures.
    """
    (first, most), *others = question.loads
    count = len(question.loads)
    return QuestionTold(
        heading="Who carries most?",
        ask=(
            f"{count} stands hold the {names(question.bodies)}: {reader.load(question.weight)}.",
            "Which carries most, which least? Write it down.",
        ),
        seen=asked(question.shot),
        strong=f"{first}: {reader.load(most)}",
        answer=(
            f"Then {', '.join(f'{name} {reader.load(load)}' for name, load in others)}.",
            f"Shared alike it would be {reader.load(question.weight / count)} each.",
        ),
        then=answered(question.shot),
        shot=question.shot,
    )


def taken_away(question: TakenAway, reader: Reader) -> QuestionTold:
    """Tell what happens when a stand goes.

    Args:
        question: The question with its answer.
        reader: Who reads it.

    Returns:
        Its words and pictures.
    """
    name, at = question.stand.name, question.stand.at[:2]
    tipping, standing = alike(question.others, stands=False), alike(question.others, stands=True)
    return QuestionTold(
        heading=f"Stand {name} is taken away",
        ask=(
            f"{name} carries {reader.load(question.carried)}.",
            "Does the rest still stand? If not: which way does it go?",
        ),
        seen=asked(question.before, Ring(at)),
        strong="It still stands." if question.stands else "It goes over.",
        answer=(
            *([] if question.stands else _way(question.after, question.about, reader)),
            *([f"So it does without {tipping}."] if tipping and not question.stands else []),
            *([f"Without {standing} it stands."] if standing and not question.stands else []),
            *([f"Without {tipping} it goes over."] if tipping and question.stands else []),
        ),
        then=answered(question.after, Cross(at, "")),
        shot=question.after,
    )


def one_carrier(question: OneCarrier, reader: Reader) -> QuestionTold:
    """Tell what happens with stands under one assembly only.

    Args:
        question: The question with its answer.
        reader: Who reads it.

    Returns:
        Its words and pictures.
    """
    carrier = names(question.carrier)
    places = {each.name: each.at[:2] for each in question.before.stage.state.supports}
    gone = [places[name] for name in question.away]
    rest = [name for name in question.after.group_of(question.carrier[0]).bodies if name not in question.carrier]
    joints = question.after.stage.state.done_up
    mounts = tuple(joint.name for joint in joints if joint.kind is JointKind.MOUNT and set(joint.between) & set(rest))
    left = (f"Left out: {names(question.away)}.",) if question.away else ()
    return QuestionTold(
        heading=f"Stands under the {carrier} only",
        ask=(
            f"{names(question.kept)} stand under the {carrier}.",
            *left,
            f"The {names(rest)} {several(rest, 'has', 'have')} {names(mounts)}. Does it stand?",
        ),
        seen=asked(question.before, *(Ring(at) for at in gone)),
        strong="It stands." if question.stands else "It goes over.",
        answer=() if question.stands else _way(question.after, mounts, reader),
        then=answered(question.after, *(Cross(at, "") for at in gone)),
        shot=question.after,
    )


def idle_inside(question: IdleInside, reader: Reader) -> QuestionTold:
    """Tell that a stand may carry nothing while the centre of gravity is inside.

    Args:
        question: The question with its answer.
        reader: Who reads it.

    Returns:
        Its words and pictures.
    """
    mass, idle = reader.mass(question.mass), question.idle.name
    inside = question.answer.margin
    return QuestionTold(
        heading="Inside, so all are loaded?",
        ask=(
            f"{mass} lie on the {question.over.body}, right over {question.over.name}.",
            "The CG stays inside the stands. Do all stands carry?",
        ),
        seen=asked(question.before, Spot(question.over.at[:2], mass)),
        strong=f"No: {idle} carries nothing.",
        answer=(
            f"Before it was {reader.load(question.idle_before)}.",
            *([f"And yet {reader.length(inside)} to tipping."] if inside is not None else []),
            f"Inside is not all loaded: {idle} turns by hand. Lay nothing on the unit.",
        ),
        then=answered(
            question.after,
            Spot(question.over.at[:2], mass),
            Ring(question.idle.at[:2]),
            about=question.over.body,
        ),
        shot=question.after,
    )


def four_legs(question: FourLegs, reader: Reader) -> QuestionTold:
    """Tell how many of four stands count.

    Args:
        question: The question with its answer.
        reader: Who reads it.

    Returns:
        Its words and pictures.
    """
    count = len(question.loads)
    limits = question.shot.assessment.job.limits
    uneven = max(limits.uneven_touch if each.set_height is None else limits.uneven for each, _ in question.loads)
    idle = [each.name for each, load in question.loads if load.at_least < NOTHING]
    bare = [
        each.name
        for each, load in question.loads
        if load.range and load.range.least is not None and load.range.least < NOTHING
    ]
    off = write(Quantity(uneven, Measure.LENGTH), reader.units)
    return QuestionTold(
        heading="Do four legs count as four?" if count == 4 else f"Do {count} legs count as {count}?",
        ask=(
            f"{count} stands under the {names(question.bodies)}, each up to {off} too high or too low.",
            "Can you count on each of them?",
        ),
        seen=asked(question.shot, *(Ring(each.at[:2]) for each, _ in question.loads)),
        strong=_counted(count, idle or bare),
        answer=(
            *([f"{names(idle)} may carry nothing on this floor."] if idle else []),
            *([f"On some floor: {names(bare)}."] if bare and bare != idle else []),
            "Three places hold a stiff piece. What a fourth carries, the floor decides.",
        ),
        then=BarPicture(question.loads),
        shot=question.shot,
    )


def _way(shot: Shot, about: tuple[str, ...], reader: Reader) -> tuple[str, ...]:
    """Return the way a unit goes over; where nothing holds it against rocking, what it rocks about."""
    loose = any(isinstance(group.proof, Loose) for group in shot.stage.statics.groups)
    if loose and about:
        return (f"It rocks about {names(about)}: nothing else holds it.",)
    return tuple(ways_over(shot.stage.statics, reader)[:1])


def _counted(count: int, idle: list[str]) -> str:
    if not idle:
        return "Here each carries, but never alike."
    return "Count on three." if count == 4 else "Do not count on all."

"""Question: a stand is taken away. Does the rest still stand, and which way does it go?"""

from dataclasses import dataclass, replace

from loadplan.checks.phrases import names
from loadplan.checks.piece import pieces
from loadplan.model.disturbance import LostSupport
from loadplan.model.job import Support
from loadplan.model.verdict import Verdict
from loadplan.planning.lesson.lesson_unit import carried, stands_of, the_unit
from loadplan.planning.whatif import Shot, without
from loadplan.report.lesson.lesson_pictures import Cross, Ring
from loadplan.report.lesson.lesson_question import (
    DOUBTFUL,
    NO_UNIT,
    LessonJob,
    LessonQuestion,
    NotAsked,
    QuestionTold,
    answered,
    asked,
    way_over,
    why_stop,
)
from loadplan.report.words.vocabulary import Reader

MOST_STANDS = 8
"""The animation takes no more stands than this away."""


@dataclass(frozen=True, slots=True)
class StandAway:
    """One stand is taken away.

    Attributes:
        before: With it.
        after: Without it.
        stand: The stand.
        carried: What it carried [N].
        stands: Whether the unit still stands in balance, with the weights as given.
        stop: Whether that is a stop all the same: what goes over inside tolerance does not hold.
        about: What it turns about where it does not.
    """

    before: Shot
    after: Shot
    stand: Support
    carried: float
    stands: bool
    stop: bool
    about: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class MissingStand:
    """Each stand of a unit is taken away in turn; one of them is asked about, all of them are in the animation."""

    away: tuple[StandAway, ...]

    @property
    def subject(self) -> StandAway:
        """The one to ask about: of those that tip it the one that carries most, else of those that are a stop."""
        return max(self.away, key=lambda each: (not each.stands, each.stop, each.carried))

    def told(self, reader: Reader) -> QuestionTold:
        """Tell what happens when a stand goes.

        Args:
            reader: Who reads it.

        Returns:
            Words and pictures.
        """
        subject = self.subject
        told, name = _told(subject, reader), subject.stand.name
        others = [each for each in self.away if each is not subject]
        tipping = names([each.stand.name for each in others if not each.stands], "or")
        doubtful = names([each.stand.name for each in others if each.stands and each.stop], "or")
        standing = names([each.stand.name for each in others if each.stands and not each.stop], "or")
        needed = names([each.stand.name for each in self.away if each.stop or not each.stands], "or")
        return replace(
            told,
            heading=f"Stand {name} is taken away",
            answer=(
                *told.answer,
                *([f"Over it goes without {tipping}, too."] if tipping else []),
                *([f"Without {doubtful} it is a stop, too."] if doubtful else []),
                *([f"Without {standing} it stands on paper: {NO_LEAVE}"] if standing and subject.stop else []),
            ),
            take_along=(f"Never without {needed}.",) if needed else (),
            film=tuple(_told(each, reader) for each in self.away),
        )


NO_LEAVE = "no leave to take it away."
"""Stands beside what stands without a stand: nobody is to read it as a permission."""


def ask_missing_stand(job: LessonJob) -> MissingStand | NotAsked:
    """Take each stand of the unit away in turn.

    Args:
        job: What is asked.

    Returns:
        What comes of it, in the order of the stands, or why there is nothing to take away; what bears at several
        places, like a table, is not taken away.
    """
    shot = job.unit
    if shot is None:
        return NotAsked(NO_UNIT)
    unit = the_unit(shot)
    lost = {each.support: each for each in unit.lost}
    single = [piece.supports[0].name for piece in pieces(shot.stage.state.supports) if len(piece.supports) == 1]
    stands = [each for each in stands_of(shot, unit.bodies) if each.name in single][:MOST_STANDS]
    away = tuple(_taken_away(shot, each, lost[each.name]) for each in stands)
    return MissingStand(away) if away else NotAsked("all that it stands on is one piece of equipment")


def _taken_away(shot: Shot, stand: Support, lost: LostSupport) -> StandAway:
    """Return what comes of a stand that is taken away after a step."""
    after = without(shot, (stand.name,))
    return StandAway(
        before=shot,
        after=after,
        stand=stand,
        carried=carried(shot, stand.name),
        stands=lost.balanced,
        stop=after.stage.verdict is Verdict.STOP,
        about=lost.turns_about,
    )


def _told(away: StandAway, reader: Reader) -> QuestionTold:
    """Return what is said and shown about one stand, for itself: as in the animation."""
    name, at = away.stand.name, away.stand.at[:2]
    return QuestionTold(
        heading=f"Without {name}",
        ask=(
            f"{name} carries {reader.load(away.carried)}.",
            "Does the rest still stand? If not: which way does it go?",
        ),
        seen=asked(away.before, Ring(at)),
        strong=_in_short(away),
        answer=_in_full(away, reader),
        then=answered(away.after, Cross(at, "")),
        shot=away.after,
    )


def _in_short(away: StandAway) -> str:
    if not away.stands:
        return "It goes over."
    return DOUBTFUL if away.stop else "On paper it still stands."


def _in_full(away: StandAway, reader: Reader) -> tuple[str, ...]:
    """Return what else is said of a stand that is away; where it is a stop, nothing that reads as a permission."""
    if not away.stands:
        return way_over(away.after, away.about, reader)
    if not away.stop:
        return (f"That is {NO_LEAVE}",)
    return (why_stop(away.after, the_unit(away.before).bodies),)


QUESTION = LessonQuestion("A stand taken away", ask_missing_stand)

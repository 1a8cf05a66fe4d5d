"""Question: who carries most?"""

from dataclasses import dataclass

from loadplan.checks.phrases import names
from loadplan.limits import GRAVITY
from loadplan.planning.lesson.lesson_unit import bearers, carried, stands_of, the_unit
from loadplan.planning.whatif import Shot
from loadplan.report.lesson.lesson_question import (
    NO_UNIT,
    LessonJob,
    LessonQuestion,
    NotAsked,
    QuestionTold,
    answered,
    asked,
)
from loadplan.report.words.vocabulary import Reader


@dataclass(frozen=True, slots=True)
class LoadDistribution:
    """What each stand carries of what stands on its own.

    Attributes:
        shot: The step.
        bodies: What stands on the stands.
        bearers: What they are called: stands, or places where one piece bears at several.
        weight: Its weight [N].
        loads: (stand, load [N]), the most first.
    """

    shot: Shot
    bodies: tuple[str, ...]
    bearers: str
    weight: float
    loads: tuple[tuple[str, float], ...]

    def told(self, reader: Reader) -> QuestionTold:
        """Tell who carries most.

        Args:
            reader: Who reads it.

        Returns:
            Words and pictures.
        """
        count = len(self.loads)
        # Who carries as much as can be read carries most, too.
        most = reader.load(self.loads[0][1])
        first = [name for name, load in self.loads if reader.load(load) == most]
        others = [each for each in self.loads if each[0] not in first]
        # A name and its load stay on one line.
        less = ", ".join(f"{name}\u00a0{reader.load(load)}" for name, load in others)
        return QuestionTold(
            heading="Who carries most?",
            ask=(
                f"{count} {self.bearers} hold the {names(self.bodies)}: {reader.load(self.weight)}.",
                "Which carries most, which least? Write it down.",
            ),
            seen=asked(self.shot),
            strong=f"{names(first)}: {most}{' each' if len(first) > 1 else ''}",
            answer=(
                *([f"Then {less}."] if less else []),
                f"Shared alike it would be {reader.load(self.weight / count)} each.",
            ),
            then=answered(self.shot),
            shot=self.shot,
        )


def ask_load_distribution(job: LessonJob) -> LoadDistribution | NotAsked:
    """Compute who carries most.

    Args:
        job: What is asked.

    Returns:
        The answer, or why there is none.
    """
    shot = job.unit
    if shot is None:
        return NotAsked(NO_UNIT)
    unit = the_unit(shot)
    stands = stands_of(shot, unit.bodies)
    loads = sorted(((each.name, carried(shot, each.name)) for each in stands), key=lambda each: -each[1])
    mass = sum(body.mass for body in shot.stage.statics.bodies if body.name in unit.bodies)
    return LoadDistribution(shot, unit.bodies, bearers(stands), mass * GRAVITY, tuple(loads))


QUESTION = LessonQuestion("Who carries most?", ask_load_distribution)

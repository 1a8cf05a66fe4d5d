"""Question: do four legs count as four? What a fourth carries, the floor decides."""

from dataclasses import dataclass

from loadplan.checks.phrases import names
from loadplan.model.answer import Load
from loadplan.model.job import Support
from loadplan.model.verdict import Measure, Quantity
from loadplan.planning.lesson.lesson_unit import NOTHING, bearers, pieces_of, stands_of, the_unit
from loadplan.planning.whatif import Shot
from loadplan.report.lesson.lesson_pictures import BarPicture, Ring
from loadplan.report.lesson.lesson_question import NO_UNIT, LessonJob, LessonQuestion, NotAsked, QuestionTold, asked
from loadplan.report.words.number_format import write
from loadplan.report.words.vocabulary import Reader


@dataclass(frozen=True, slots=True)
class FourPointSupport:
    """Four stands or more under one rigid piece.

    Attributes:
        shot: The step.
        bodies: The piece.
        loads: (stand, what it carries and may carry).
    """

    shot: Shot
    bodies: tuple[str, ...]
    loads: tuple[tuple[Support, Load], ...]

    def told(self, reader: Reader) -> QuestionTold:
        """Tell how many of four stands count.

        Args:
            reader: Who reads it.

        Returns:
            Words and pictures.
        """
        count, noun = len(self.loads), bearers([each for each, _ in self.loads])
        limits = self.shot.assessment.job.limits
        uneven = max(limits.uneven_touch if each.set_height is None else limits.uneven for each, _ in self.loads)
        idle = [each.name for each, load in self.loads if load.at_least < NOTHING]
        spans = [(each.name, load.range) for each, load in self.loads if load.range]
        bare = [name for name, span in spans if span.least is not None and span.least < NOTHING]
        worse = [name for name in bare if name not in idle]
        off = write(Quantity(uneven, Measure.LENGTH), reader.units)
        return QuestionTold(
            heading="Do four legs count as four?" if count == 4 else f"Do {count} legs count as {count}?",
            ask=(
                f"{count} {noun} under the {names(self.bodies)}, each up to {off} too high or too low.",
                "Can you count on each of them?",
            ),
            seen=asked(self.shot, *(Ring(each.at[:2]) for each, _ in self.loads)),
            strong=_counted(count, idle or bare),
            answer=(
                *([f"{names(idle)} may carry nothing on this floor."] if idle else []),
                *([f"On a worse floor {names(worse)} may{', too' if idle else ' carry nothing'}."] if worse else []),
                "Three places hold a stiff piece. What a fourth carries, the floor decides.",
            ),
            then=BarPicture(self.loads),
            shot=self.shot,
        )


def ask_four_point_support(job: LessonJob) -> FourPointSupport | NotAsked:
    """Compute what four stands under one rigid piece carry, and may carry.

    Args:
        job: What is asked.

    Returns:
        The answer, or why there is none.
    """
    shot = job.unit
    if shot is None:
        return NotAsked(NO_UNIT)
    for piece in pieces_of(shot, the_unit(shot)):
        loads = [(each, shot.load(each.name)) for each in stands_of(shot, piece)]
        told = tuple((each, load) for each, load in loads if load is not None)
        if len(told) > 3:
            return FourPointSupport(shot, piece, told)
    return NotAsked("no assembly stands on four stands of its own")


def _counted(count: int, idle: list[str]) -> str:
    """Return on how many stands one may count."""
    if not idle:
        return "Here each carries, but never alike."
    return "Count on three." if count == 4 else "Do not count on all."


QUESTION = LessonQuestion("Four legs count as three", ask_four_point_support)

"""Question: a hose is still on, and the vehicle goes up. How little does it have to pull before the unit tips?"""

from dataclasses import dataclass

from loadplan.model.disturbance import Snag
from loadplan.model.vehicle import PlanPoint
from loadplan.planning.lesson.lesson_unit import the_unit
from loadplan.planning.whatif import Shot
from loadplan.report.lesson.lesson_pictures import Ring, Spot
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
from loadplan.units import System


@dataclass(frozen=True, slots=True)
class ForgottenHose:
    """The least upward pull at a loosened joint that tips the unit.

    Attributes:
        shot: The step.
        snag: What was computed about the joint.
        pull: The pull [N].
        at: Where it pulls [m].
    """

    shot: Shot
    snag: Snag
    pull: float
    at: PlanPoint

    def told(self, reader: Reader) -> QuestionTold:
        """Tell how little a forgotten hose has to pull.

        Args:
            reader: Who reads it.

        Returns:
            Words and pictures.
        """
        raised = "50 mm" if reader.units is System.METRIC else "2 in"
        pull, body = reader.load(self.pull), self.snag.body
        return QuestionTold(
            heading="A forgotten hose",
            ask=(
                f"A hose is still on, at the {self.snag.joint}, and the vehicle goes up.",
                f"How hard does it pull before the {body} tips?",
            ),
            seen=asked(self.shot, Ring(self.at)),
            strong=f"{pull}.",
            answer=(
                f"So much, pulling up there, tips the {body}.",
                f"A hose does that unseen. Raise {raised}, stop, walk round: every hose.",
            ),
            then=answered(self.shot, Spot(self.at, f"{pull} up"), about=body),
            shot=self.shot,
        )


def ask_forgotten_hose(job: LessonJob) -> ForgottenHose | NotAsked:
    """Compute how little a forgotten hose has to pull.

    Args:
        job: What is asked.

    Returns:
        The answer, or why there is none: nothing was undone, or no pull up tips it.
    """
    shot = job.unit
    if shot is None:
        return NotAsked(NO_UNIT)
    pulls = [(each.pull, each) for each in the_unit(shot).snags if each.pull is not None]
    if not pulls:
        return NotAsked("nothing was unbolted that a hose could still hold")
    pull, snag = min(pulls, key=lambda each: each[0])
    joint = next(each for each in job.assessment.job.vehicle.joints if each.name == snag.joint)
    return ForgottenHose(shot, snag, pull, joint.at[0][:2])


QUESTION = LessonQuestion("A forgotten hose", ask_forgotten_hose)

"""Question: a hose is still on, and the vehicle goes up. How little does it have to pull before the unit tips?"""

from dataclasses import dataclass, replace
from math import radians

from loadplan.model.answer import Mode
from loadplan.model.disturbance import Snag
from loadplan.model.vehicle import Joint, Place
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
from loadplan.report.lesson.tilt_picture import TiltPicture
from loadplan.report.words.vocabulary import Reader
from loadplan.statics.tipping_modes import EDGE
from loadplan.units import System

STEEPEST = radians(45)
"""The furthest that a unit is drawn tilted [rad]: steeper, nobody sees any more what stands where."""


@dataclass(frozen=True, slots=True)
class ForgottenHose:
    """The least upward pull at a loosened joint that tips the unit.

    Attributes:
        shot: The step.
        snag: What was computed about the joint.
        pull: The pull [N].
        at: Where it pulls [m].
        over: The way that the unit then goes over.
    """

    shot: Shot
    snag: Snag
    pull: float
    at: Place
    over: Mode

    def told(self, reader: Reader) -> QuestionTold:
        """Tell how little a forgotten hose has to pull.

        Args:
            reader: Who reads it.

        Returns:
            Words and pictures.
        """
        raised = "50 mm" if reader.units is System.METRIC else "2 in"
        pull, body, angle = reader.load(self.pull), self.snag.body, self.over.tip_angle
        drawn = min(angle or 0.0, STEEPEST)
        how = ", as drawn" if drawn == angle else f"; drawn at {reader.angle(drawn)}"
        tilt = (f"It goes over at {reader.angle(angle)}{how}.",) if angle else ()
        return QuestionTold(
            heading="A forgotten hose",
            ask=(
                f"A hose is still on, at the {self.snag.joint}, and the vehicle goes up.",
                f"How hard does it pull before the {body} tips?",
            ),
            seen=asked(self.shot, Ring(self.at[:2])),
            strong=f"{pull}.",
            answer=(
                f"So much, pulling up there, tips the {body}.",
                *tilt,
                f"A hose does that unseen. Raise {raised}, stop, walk round: every hose.",
                "The verdict is that of the step without it.",
            ),
            then=TiltPicture(self.shot, replace(self.over, tip_angle=drawn), body, self.at, f"{pull} up")
            if angle
            else answered(self.shot, Spot(self.at[:2], f"{pull} up"), about=body),
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
    unit = the_unit(shot)
    pulls = [(each.pull, each) for each in unit.snags if each.pull is not None]
    if not pulls:
        return NotAsked("nothing was unbolted that a hose could still hold")
    pull, snag = min(pulls, key=lambda each: each[0])
    joint = next(each for each in job.assessment.job.vehicle.joints if each.name == snag.joint)
    at, over = _way_over(joint, snag.body, unit.modes)
    return ForgottenHose(shot, snag, pull, at, over)


def _way_over(joint: Joint, body: str, modes: tuple[Mode, ...]) -> tuple[Place, Mode]:
    """Return at which place of a joint the least pull up tips a body, and the way that it goes over then.

    The pull takes a mode's work away over its rise: the mode, and the place, with the least work a metre of rise.
    """
    rises = [(dict(mode.motions)[body].up_at(*at[:2]), at, mode) for mode in modes for at in joint.at]
    _, at, over = min((each for each in rises if each[0] > EDGE), key=lambda each: each[2].work / each[0])
    return at, over


QUESTION = LessonQuestion("A forgotten hose", ask_forgotten_hose)

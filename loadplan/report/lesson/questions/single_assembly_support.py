"""Question: stands under one assembly only, and all that is tied to it by mounts hangs on them. Does it stand?"""

from dataclasses import dataclass

from loadplan.checks.phrases import names, several
from loadplan.model.vehicle import JointKind
from loadplan.model.verdict import Assessment, Verdict
from loadplan.planning.lesson.lesson_unit import first_unit, pieces_of, stands_of, the_unit
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


@dataclass(frozen=True, slots=True)
class SingleAssemblySupport:
    """Stands under one assembly only, the others hang on their mounts.

    Attributes:
        before: With all stands, or without those others where the job itself has none.
        after: With stands under one assembly only.
        carrier: The assembly, or assemblies bolted into one, that stands on them.
        kept: The stands under it.
        away: The stands that are left out.
        stands: Whether it stands in balance.
    """

    before: Shot
    after: Shot
    carrier: tuple[str, ...]
    kept: tuple[str, ...]
    away: tuple[str, ...]
    stands: bool

    def told(self, reader: Reader) -> QuestionTold:
        """Tell what happens with stands under one assembly only.

        Args:
            reader: Who reads it.

        Returns:
            Words and pictures.
        """
        carrier = names(self.carrier)
        places = {each.name: each.at[:2] for each in self.before.stage.state.supports}
        gone = [places[name] for name in self.away]
        rest = [name for name in self.after.group_of(self.carrier[0]).bodies if name not in self.carrier]
        joints = self.after.stage.state.done_up
        mounts = tuple(each.name for each in joints if each.kind is JointKind.MOUNT and set(each.between) & set(rest))
        left = (f"Left out: {names(self.away)}.",) if self.away else ()
        return QuestionTold(
            heading=f"Stands under the {carrier} only",
            ask=(
                f"{names(self.kept)} stand under the {carrier}.",
                *left,
                f"The {names(rest)} {several(rest, 'has', 'have')} {names(mounts)}. Does it stand?",
            ),
            seen=asked(self.before, *(Ring(at) for at in gone)),
            strong=self._in_short(),
            answer=self._in_full(mounts, reader),
            then=answered(self.after, *(Cross(at, "") for at in gone)),
            shot=self.after,
        )

    def _in_short(self) -> str:
        if not self.stands:
            return "It goes over."
        return DOUBTFUL if self.after.stage.verdict is Verdict.STOP else "On paper it stands."

    def _in_full(self, mounts: tuple[str, ...], reader: Reader) -> tuple[str, ...]:
        """Return what else there is to it; of what stands nothing that reads as a permission."""
        if not self.stands:
            return way_over(self.after, mounts, reader)
        if self.after.stage.verdict is Verdict.STOP:
            return (why_stop(self.after, self.carrier),)
        return ("That is no leave to leave the others out.",) if self.away else ()


def ask_single_assembly_support(job: LessonJob) -> SingleAssemblySupport | NotAsked:
    """Leave out all stands but those under the assembly with most of them.

    Args:
        job: What is asked; one that has itself stands under one assembly only, and does not stand, is asked about that.

    Returns:
        The answer, or why there is none.
    """
    planned = _as_planned(job.assessment)
    if planned is not None:
        return planned
    shot = job.unit
    if shot is None:
        return NotAsked(NO_UNIT)
    unit = the_unit(shot)
    pieces = sorted(pieces_of(shot, unit), key=lambda piece: -len(stands_of(shot, piece)))
    kept = tuple(each.name for each in stands_of(shot, pieces[0]))
    away = tuple(each.name for piece in pieces[1:] for each in stands_of(shot, piece))
    if not away:
        return NotAsked("no two assemblies, tied by a mount only, stand on stands of their own")
    after = without(shot, away)
    stands = all(after.group_of(name).balanced for name in unit.bodies)
    return SingleAssemblySupport(shot, after, pieces[0], kept, away, stands)


def _as_planned(assessment: Assessment) -> SingleAssemblySupport | None:
    """Return the answer of a job that itself has stands under one assembly only, and does not stand; else None."""
    shot = first_unit(assessment, balanced=False)
    if shot is None:
        return None
    unit = the_unit(shot)
    under = [piece for piece in pieces_of(shot, unit) if stands_of(shot, piece)]
    if len(under) != 1 or len(unit.bodies) == len(under[0]):
        return None
    kept = tuple(each.name for each in stands_of(shot, under[0]))
    return SingleAssemblySupport(shot, shot, under[0], kept, (), stands=False)


QUESTION = LessonQuestion("Stands under one assembly only", ask_single_assembly_support)

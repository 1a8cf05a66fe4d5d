"""Cures judged before they are offered: each is done to a copy of the plan, and all steps are judged with it.

A cure is offered where the finding is gone then and nothing else is worse in any step. What else one brings is said
instead. It takes an assessment each, so the page asks for it one by one, once the plan is shown.
"""

from dataclasses import dataclass, field
from typing import NamedTuple

from pydantic import Field

from loadplan.assess import assess_in_short
from loadplan.board.changes import Cures, OfStands, text_after
from loadplan.board.draft import Draft
from loadplan.board.request_schema import WindowSize
from loadplan.board.stand_changes import Number, Typed
from loadplan.board.undo_history import Plan
from loadplan.board.verdict_cells import Plain
from loadplan.board.worker_process import Doing, here
from loadplan.model.job import Job
from loadplan.model.verdict import Assessment, FindingPlace, Sentence, Verdict
from loadplan.report.words.vocabulary import Reader

MOST_KEPT = 60
"""Most cures of one state of a plan of which is remembered what they came to."""


class FoundFault(NamedTuple):
    """What a check says of a trouble.

    Attributes:
        verdict: Caution or stop.
        says: The finding, without what would help.
    """

    verdict: Verdict
    says: Sentence


class Judging(WindowSize):
    """A cure that is to be judged, and what has to be gone with it."""

    change: OfStands | Cures = Field(discriminator="kind")
    against: tuple[tuple[Number, Typed, str], ...] = Field(min_length=1, max_length=200)


@dataclass(slots=True)
class CureJudge:
    """Judges cures, and remembers what came of them as long as the plan stays as it is.

    Attributes:
        do: Does what takes long: judging.
        known: By the plan's number its state, and what was found with each change.
    """

    do: Doing = here
    known: dict[int, tuple[int, dict[str, dict[FindingPlace, FoundFault]]]] = field(default_factory=dict)

    def look(self, number: int, plan: Plan, judging: Judging, reader: Reader) -> dict[str, Plain]:
        """Judge a cure.

        Args:
            number: Number of the plan.
            plan: The plan; nothing of it is changed.
            judging: The cure, and what has to be gone with it.
            reader: Who reads what else it brings.

        Returns:
            Whether it helps and makes nothing worse; else what it leaves or brings.

        Raises:
            InputError: If it cannot be done, or is not judged in time.
        """
        draft, revision = plan.draft, judging.revision
        before = found_in(draft.assessment)
        after = self._with(number, (draft, revision), judging)
        against = {FindingPlace(*each) for each in judging.against}
        left = [after[each] for each in sorted(against) if each in after]
        if left:
            worst = max(each.verdict for each in left)
            return {"helps": False, "brings": f"What was found is still there then: {worst.name}."}
        worse = {each: now for each, now in after.items() if each not in before or before[each].verdict < now.verdict}
        if worse:
            first = min(worse, key=lambda each: (-worse[each].verdict, each))
            return {"helps": False, "brings": f"Brings in step {first.step + 1}: {_told(worse[first], reader)}"}
        return {"helps": True, "brings": ""}

    def _with(self, number: int, now: tuple[Draft, int], judging: Judging) -> dict[FindingPlace, FoundFault]:
        """Return what is found fault with once a cure is done."""
        draft, revision = now
        key = judging.change.model_dump_json()
        state, found = self.known.get(number, (-1, {}))
        if state == revision and key in found:
            return found[key]
        step = min(judging.step, len(draft.assessment.stages) - 1)
        text, _ = text_after(draft, judging.change, step)
        after = self.do(judged_in_short, Draft(draft.path, text, draft.what_if).job)
        kept = dict(list(found.items())[-MOST_KEPT:]) if state == revision else {}
        self.known[number] = revision, {**kept, key: after}
        return after


def found_in(assessment: Assessment) -> dict[FindingPlace, FoundFault]:
    """Collect what is found fault with in all steps.

    Args:
        assessment: A job, judged.

    Returns:
        The worst of each trouble; notes are none.
    """
    found: dict[FindingPlace, FoundFault] = {}
    for stage in assessment.stages:
        for each in stage.findings:
            trouble = FindingPlace(stage.state.index, each.check.value, each.subject)
            if each.verdict > Verdict.NOTE and (trouble not in found or found[trouble].verdict < each.verdict):
                found[trouble] = FoundFault(each.verdict, each.says)
    return found


def judged_in_short(job: Job) -> dict[FindingPlace, FoundFault]:
    """Judge a job, for another process.

    Args:
        job: The job.

    Returns:
        What is found fault with.
    """
    return found_in(assess_in_short(job))


def _told(found: FoundFault, reader: Reader) -> str:
    return f"{found.verdict.name}. {reader.sentence(found.says)}"

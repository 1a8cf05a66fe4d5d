"""Changing a stand for another while the unit stands on it: the steps are shown first, then put in as one change."""

from dataclasses import dataclass, field

from loadplan.board.refusals import RefusedError
from loadplan.board.request_schema import WindowSize
from loadplan.board.shown_answer import ShownAnswer
from loadplan.board.stand_changes import Number, nth, stand_of
from loadplan.board.undo_history import Plan
from loadplan.board.verdict_cells import Plain
from loadplan.board.worker_process import Doing, here
from loadplan.model.weight_basis import poorest_basis
from loadplan.planning.mending.stand_swap import StandSwap, swap
from loadplan.report.text.swap_page import NO_WAY, NOT_CLEAN, lead, state_after, still_cautioned
from loadplan.report.words.vocabulary import Reader, first_lift, reader_of, shown_verdict
from loadplan.units import System


class Swapping(WindowSize):
    """A stand that is to go in the step in view; incoming: number of the equipment that comes, None for nothing."""

    stand: Number
    incoming: Number | None = None


@dataclass(slots=True)
class Swapper:
    """Keeps the last answer of each plan, so that what was shown is what is put in.

    Attributes:
        do: Does what takes long: searching.
        found: The answers, by the plan's number.
    """

    do: Doing = here
    found: dict[int, ShownAnswer[StandSwap]] = field(default_factory=dict)

    def look(self, number: int, plan: Plan, asked: Swapping, units: System) -> dict[str, Plain]:
        """Search, and tell the steps.

        Args:
            number: Number of the plan.
            plan: The plan; nothing of it is changed.
            asked: The stand, the step, and what comes.
            units: The reader's units.

        Returns:
            Lines for the page, and whether there is a way.

        Raises:
            RefusedError: If something is tried out: what is written is the plan with the weights of the files.
            InputError: If it does not stand there, or is nothing that is set by hand.
        """
        draft = plan.draft
        if draft.what_if:
            raise RefusedError("Weights are being tried out. Take them back, or write them into the plan, then swap.")
        job, revision = draft.job, plan.revision
        name = stand_of(draft, asked.stand).name
        comes = None if asked.incoming is None else nth(job.shop.equipment, asked.incoming, "equipment")
        found = self.do(swap, job, min(asked.step, len(job.stages) - 1), name, comes)
        self.found[number] = ShownAnswer(revision, job, found)
        reader = reader_of(found.job, units)
        if not found.steps:
            return {"says": NO_WAY, "steps": [], "rest": [], "can": False}
        shown = shown_verdict(found.verdict, poorest_basis(job))
        return {
            "says": f"{lead(found).removesuffix(':')}. From the first of these to the end of the job: {shown}.",
            "steps": _steps(found, reader),
            "rest": [*([] if found.clean else [NOT_CLEAN]), first_lift(units)],
            "can": True,
        }

    def make(self, number: int, plan: Plan) -> str:
        """Put the steps in that were shown.

        Args:
            number: Number of the plan.
            plan: The plan.

        Returns:
            What was done, in a sentence.

        Raises:
            RefusedError: If nothing was shown of the plan as it is now.
        """
        shown = self.found.get(number)
        if shown is None or shown.revision != plan.revision or not shown.found.steps:
            raise RefusedError("The plan has changed since. Look again at how the stand is changed.")
        done = (
            f"{len(shown.found.steps)} steps to change {shown.found.stand} are in the plan, behind {shown.found.stage}."
        )
        shown.put_in(plan, shown.found.job, done)
        return done


def _steps(found: StandSwap, reader: Reader) -> list[Plain]:
    """Return the steps, each with what its state comes to and what still cautions in it."""
    return [
        {
            "says": reader.sentence(step.says),
            "then": f"Then: {state_after(step, reader)}",
            "cautions": [*still_cautioned(found, stage, reader)],
        }
        for step, stage in zip(found.steps, found.stages, strict=True)
    ]

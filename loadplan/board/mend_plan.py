"""Mending the plan that is open: the fewest changes to the stands, shown first, then made as one change."""

from collections.abc import Callable
from dataclasses import dataclass, field
from math import isfinite
from time import monotonic

from loadplan.board.refusals import RefusedError
from loadplan.board.shown_answer import ShownAnswer
from loadplan.board.undo_history import Plan
from loadplan.board.verdict_cells import Plain
from loadplan.board.worker_process import Doing, here
from loadplan.model.job import Job
from loadplan.model.weight_basis import poorest_basis
from loadplan.planning.mending.fewest_changes import mend
from loadplan.planning.mending.mending_answer import Mending
from loadplan.report.words.vocabulary import Reader, reader_of, shown_verdict
from loadplan.units import System

LONGEST = 20.0
"""A search that takes longer [s] ends with the best so far, and says so."""


@dataclass(slots=True)
class Mender:
    """Keeps the last answer of each plan, so that what was shown is what is made.

    Attributes:
        do: Does what takes long: searching.
        found: The answers, by the plan's number.
    """

    do: Doing = here
    found: dict[int, ShownAnswer[Mending]] = field(default_factory=dict)

    def look(self, number: int, plan: Plan, first: int, units: System) -> dict[str, Plain]:
        """Search, and tell what to change.

        Args:
            number: Number of the plan.
            plan: The plan; nothing of it is changed.
            first: First step that is not done yet, from 0.
            units: The reader's units.

        Returns:
            Lines for the page, and whether there is anything to do.

        Raises:
            RefusedError: If something is tried out: what is written is the plan with the weights of the files.
        """
        draft = plan.draft
        if draft.what_if:
            raise RefusedError(
                "Weights are being tried out. Take them back, or write them into the plan, then mend it."
            )
        revision = plan.revision
        mending = self.do(searched, draft.job, first)
        self.found[number] = ShownAnswer(revision, draft.job, mending)
        reader = reader_of(draft.job, units)
        return {
            "says": _verdicts(mending),
            "changes": [reader.sentence(each.says) for each in mending.changes],
            "rest": _rest(mending, reader),
            "left": _left(mending, reader),
            "can": bool(mending.changes),
        }

    def make(self, number: int, plan: Plan) -> str:
        """Make the changes that were shown.

        Args:
            number: Number of the plan.
            plan: The plan.

        Returns:
            What was done, in a sentence.

        Raises:
            RefusedError: If nothing was shown of the plan as it is now.
        """
        shown = self.found.get(number)
        if shown is None or shown.revision != plan.revision or not shown.found.changes:
            raise RefusedError("The plan has changed since. Look again at what would mend it.")
        count = len(shown.found.changes)
        done = f"Mended with {count} change{'s' if count > 1 else ''}."
        shown.put_in(plan, shown.found.job, done)
        return f"{done} Undo takes them back together."


def searched(job: Job, first: int, clock: Callable[[], float] = monotonic) -> Mending:
    """Look for what would mend a plan, for as long as somebody may wait.

    Args:
        job: The plan.
        first: First step that is not done yet, from 0.
        clock: Tells the time [s].

    Returns:
        The fewest changes; the best that were found where the time was up.
    """
    until = clock() + LONGEST

    def tell(_: int, __: int) -> None:
        # The search takes an interrupt as the wish for the best so far.
        if clock() > until:
            raise KeyboardInterrupt

    return mend(job, first, tell)


def _verdicts(mending: Mending) -> str:
    """Return what the plan comes to as it is, and with the changes."""
    basis = poorest_basis(mending.job)
    before, count = shown_verdict(mending.before, basis), len(mending.changes)
    if count:
        word = "this change" if count == 1 else f"these {count} changes"
        return f"As it is: {before}. With {word}, before the weight comes on: {shown_verdict(mending.verdict, basis)}."
    if mending.nothing_to_mend:
        return f"{before}. Nothing to mend by the stands."
    if mending.interrupted:
        return f"{before}. Nothing found in {LONGEST:.0f} seconds, which does not say that nothing helps."
    return f"{before}. No few changes to the stands were found that would mend it."


def _rest(mending: Mending, reader: Reader) -> list[Plain]:
    """Return what has to be known of the changes."""
    lines: list[Plain] = []
    if mending.interrupted and mending.changes:
        lines.append(f"The search was ended after {LONGEST:.0f} seconds: this is what was found so far.")
    if mending.changes:
        proven = "No fewer changes of these kinds would do."
        lines.append(proven if mending.proven else "Not proven: fewer changes may do, not all were looked at.")
        if isfinite(mending.margin):
            lines.append(f"Nearest to tipping then, worst case: {reader.length(mending.margin)}.")
    return lines


def _left(mending: Mending, reader: Reader) -> list[Plain]:
    """Return what is still to look at, worst first, once where it reads the same in several steps."""
    left = sorted(mending.left, key=lambda each: -each.finding.verdict)
    return list(dict.fromkeys(f"{each.finding.verdict.name}. {reader.finding(each.finding)}" for each in left))

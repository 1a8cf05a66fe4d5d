"""An answer that was shown before it is made: what was found for one state of a plan, and made of no other."""

from dataclasses import dataclass
from typing import Generic, TypeVar

from loadplan.board.undo_history import Plan
from loadplan.files.toml_edit import edited_text
from loadplan.files.write_changed_stands import stand_edits
from loadplan.model.job import Job

Found = TypeVar("Found")


@dataclass(frozen=True, slots=True)
class ShownAnswer(Generic[Found]):
    """What a search came to, for one state of a plan.

    Attributes:
        revision: The state.
        job: The job that was looked at.
        found: The answer.
    """

    revision: int
    job: Job
    found: Found

    def put_in(self, plan: Plan, changed: Job, done: str) -> None:
        """Write the stands of the answer into the plan, as one change.

        Args:
            plan: The plan, in the state that was looked at.
            changed: The job with the answer made.
            done: What was done, in a sentence.
        """
        draft = plan.draft
        edits = stand_edits(draft.file, self.job, changed)
        plan.change(edited_text(draft.text, edits, draft.path), draft.what_if, done)

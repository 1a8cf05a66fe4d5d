"""What somebody changes of the steps, as the page says it, and what becomes of the file."""

from itertools import count
from typing import Annotated, Literal, NamedTuple

from pydantic import Field

from loadplan.board.draft import Draft
from loadplan.board.refusals import RefusedError
from loadplan.board.stand_changes import Number, Said, Typed, nth, quantity
from loadplan.files.edit_stages import (
    IN_PLACE,
    UNDONE,
    OppositeKeys,
    step_added,
    step_moved,
    step_named,
    step_removed,
    toggled,
)
from loadplan.files.toml_edit import Change, Edit, number, quoted
from loadplan.model.job import Job, State
from loadplan.units import Kind, System, from_si

Name = Annotated[str, Field(max_length=200)]
Lines = Annotated[str, Field(max_length=4000)]

WAYS = {
    "front": (1, 0, 0),
    "back": (-1, 0, 0),
    "left": (0, 1, 0),
    "right": (0, -1, 0),
    "up": (0, 0, 1),
    "down": (0, 0, -1),
}
"""Which way a pull goes, as directions of the vehicle's axes."""


class DoneAndBack(NamedTuple):
    """What can be brought into a state and out of it.

    Attributes:
        keys: The lists of a step.
        into: What was done, of something in it.
        out: The same, of something out of it.
    """

    keys: OppositeKeys
    into: str
    out: str


DOINGS = {"joint": DoneAndBack(UNDONE, "undone", "done up"), "support": DoneAndBack(IN_PLACE, "in place", "cleared")}


class AddStep(Said):
    """A step in which nothing happens yet is added behind the one in view."""

    kind: Literal["add_step"]

    def edits(self, draft: Draft, state: State) -> tuple[list[Edit], str]:
        """Return what changes in the file, and what to say."""
        taken = {each.name for each in draft.job.stages}
        name = next(each for number in count(len(taken) + 1) if (each := f"Step {number}") not in taken)
        return step_added(name, state.index), f"{name} is added. Give it a name, and say what happens in it."


class NameStep(Said):
    """The step in view gets another name."""

    kind: Literal["name_step"]
    text: Name

    def edits(self, _: Draft, state: State) -> tuple[list[Edit], str]:
        """Return what changes in the file, and what to say."""
        return step_named(state.index, one_line(self.text)), f"Step {state.index + 1} has another name."


class MoveStep(Said):
    """The step in view changes places with the one before or behind it."""

    kind: Literal["move_step"]
    by: Literal[-1, 1]

    def edits(self, draft: Draft, state: State) -> tuple[list[Edit], str]:
        """Return what changes in the file, and what to say.

        Raises:
            RefusedError: If there is none on that side.
        """
        to = state.index + self.by
        if not 0 <= to < len(draft.job.stages):
            raise RefusedError("There is no step on that side.")
        return step_moved(state.index, self.by), f"It is step {to + 1} now."


class RemoveStep(Said):
    """The step in view is taken out, with what happens in it."""

    kind: Literal["remove_step"]

    def edits(self, draft: Draft, state: State) -> tuple[list[Edit], str]:
        """Return what changes in the file, and what to say.

        Raises:
            RefusedError: If it is the only one.
        """
        if len(draft.job.stages) == 1:
            raise RefusedError("It is the only step: a job has at least one.")
        return step_removed(state.index), f"Step {state.index + 1} is taken out, with what happened in it."


class DoInStep(Said):
    """A joint is undone or done up from the step in view on; a support, or the lift, is put in place or cleared."""

    kind: Literal["do"]
    what: Literal["joint", "support", "lift"]
    item: Number = 0
    done: bool

    def edits(self, draft: Draft, state: State) -> tuple[list[Edit], str]:
        """Return what changes in the file, and what to say."""
        name, now = _named(self, draft, state)
        doing = DOINGS["joint" if self.what == "joint" else "support"]
        word = doing.into if self.done else doing.out
        if now is self.done:
            return [], f"{name} is {word} already."
        keys = doing.keys if self.done else doing.keys.reversed
        return toggled(draft.file, name, state.index, keys), f"{name} is {word} in this step."


class SetFlag(Said):
    """Something holds of the step in view, or does not."""

    kind: Literal["flag"]
    key: Literal["bar", "unattended", "moved", "any_order", "undone_in_order", "lift_locked"]
    on: bool

    def edits(self, _: Draft, state: State) -> tuple[list[Edit], str]:
        """Return what changes in the file, and what to say: the lift's locks hold on, so off is said too."""
        value = "true" if self.on else "false" if self.key == "lift_locked" else None
        return [Change("stage", state.index, self.key, value)], "Written into this step."


class SetLowered(Said):
    """How far the lift goes down past first touch in the step in view, or the stands come up; empty: not said."""

    kind: Literal["lowering"]
    way: Literal["lowered", "raised"]
    text: Typed

    def edits(self, draft: Draft, state: State) -> tuple[list[Edit], str]:
        """Return what changes in the file, and what to say."""
        other = "raised" if self.way == "lowered" else "lowered"
        value = _length(self.text, draft) if self.text.strip() else None
        return [
            Change("stage", state.index, other, None),
            Change("stage", state.index, self.way, value),
        ], "How far is written into this step."


class SetPull(Said):
    """A known pull on an assembly in the step in view; without a force: none."""

    kind: Literal["pull"]
    body: Number = 0
    at: tuple[Typed, Typed, Typed] = ("0", "0", "0")
    force: Typed = ""
    towards: Literal["front", "back", "left", "right", "up", "down"] = "front"

    def edits(self, draft: Draft, state: State) -> tuple[list[Edit], str]:
        """Return what changes in the file, and what to say."""
        if not self.force.strip():
            return [Change("stage", state.index, "pull", None)], "No pull in this step."
        body = nth(draft.job.vehicle.bodies, self.body, "assembly")
        system = System.US if draft.job.us_units else System.METRIC
        force = number(from_si(quantity(self.force, Kind.FORCE, draft), Kind.FORCE, system))
        at = ", ".join(_length(each, draft) for each in self.at)
        towards = ", ".join(map(str, WAYS[self.towards]))
        value = f"{{ body = {quoted(body.name)}, at = [{at}], force = {force}, towards = [{towards}] }}"
        return [Change("stage", state.index, "pull", value)], f"A pull on the {body.name} is written into this step."


class SetBoxes(Said):
    """Boxes to tick in the step in view, besides the usual ones, a line each."""

    kind: Literal["boxes"]
    text: Lines

    def edits(self, _: Draft, state: State) -> tuple[list[Edit], str]:
        """Return what changes in the file, and what to say."""
        boxes = [one_line(each) for each in self.text.splitlines() if each.strip()]
        value = f"[{', '.join(map(quoted, boxes))}]" if boxes else None
        return [Change("stage", state.index, "confirm", value)], "The boxes are written into this step."


def one_line(text: str) -> str:
    """Return a name as it is typed, without room around it.

    Args:
        text: What was typed.

    Returns:
        The name.

    Raises:
        RefusedError: If nothing is left, or it holds what does not print.
    """
    plain = text.strip()
    if not plain or not plain.isprintable():
        raise RefusedError("Not taken: it needs a name of one line.")
    return plain


def lift_in_place(job: Job, state: State) -> bool:
    """Return whether the lift holds the vehicle in a step."""
    return any(each.is_arm for each in state.supports) and job.lift is not None


def _named(change: DoInStep, draft: Draft, state: State) -> tuple[str, bool]:
    """Return the name of what something is done to, and whether it is in that state already.

    Raises:
        RefusedError: If there is none of that number.
    """
    job = draft.job
    if change.what == "joint":
        joint = nth(job.vehicle.joints, change.item, "joint")
        return joint.name, joint.name not in {each.name for each in state.done_up}
    if change.what == "support":
        support = nth(job.supports, change.item, "stand")
        return support.name, support.name in {each.name for each in state.supports}
    if job.lift is None:
        raise RefusedError("The job has no lift.")
    return job.lift.lift.name, lift_in_place(job, state)


def _length(text: str, draft: Draft) -> str:
    """Return a length as it stands in the job file."""
    system = System.US if draft.job.us_units else System.METRIC
    return number(from_si(quantity(text, Kind.LENGTH, draft), Kind.LENGTH, system))

"""What somebody changes on the page, as the page says it, and what becomes of the plan."""

from typing import Annotated, Literal, TypeAlias

from pydantic import Field

from loadplan.board.assembly_changes import DropAssembly, SetAssembly
from loadplan.board.cure_changes import MoveStands, PullLess, RaiseStands, SetLift, TakeOther
from loadplan.board.draft import Draft
from loadplan.board.lift_changes import UseLift
from loadplan.board.refusals import RefusedError
from loadplan.board.save_tried import keep_what_if
from loadplan.board.stand_changes import (
    Add,
    Duplicate,
    Equip,
    Metres,
    Move,
    Number,
    PutUnder,
    Remove,
    Said,
    SetHeight,
    Tick,
    Typed,
    nth,
    quantity,
)
from loadplan.board.stand_details import SetShim, SetTag
from loadplan.board.step_changes import (
    AddStep,
    DoInStep,
    MoveStep,
    NameStep,
    RemoveStep,
    SetBoxes,
    SetFlag,
    SetLowered,
    SetPull,
)
from loadplan.board.tried_masses import LEAST, WhatIf
from loadplan.board.undo_history import Plan
from loadplan.board.vehicle_changes import DropThing, SetThing
from loadplan.files.toml_edit import edited_text
from loadplan.files.values import HEAVIEST
from loadplan.units import Kind


class MoveCg(Said):
    """What if: the centre of gravity of an assembly lies elsewhere; together: and of all that is bolted to it."""

    kind: Literal["cg"]
    body: Number
    forward: Metres
    left: Metres
    together: bool = False

    def tried(self, draft: Draft, step: int) -> WhatIf:
        """Return what is tried out from now on."""
        body = nth(draft.job.vehicle.bodies, self.body, "assembly")
        stage = draft.assessment.stages[step]
        there = body.name in stage.state.bodies
        tried = draft.what_if.with_shift(body.name, (self.forward, self.left))
        for other in stage.statics.body(body.name).rigid_with if there and self.together else ():
            tried = tried.with_shift(other, (self.forward, self.left))
        return tried


class Weigh(Said):
    """What if: a part weighs something else; an empty text: as in the file."""

    kind: Literal["mass"]
    part: Number
    text: Typed

    def tried(self, draft: Draft, _: int) -> WhatIf:
        """Return what is tried out from now on.

        Raises:
            RefusedError: If that is no mass.
        """
        part = nth(draft.job.vehicle.parts, self.part, "part")
        if not self.text.strip():
            return draft.what_if.with_mass(part.name, None)
        mass = quantity(self.text, Kind.MASS, draft)
        if not LEAST <= mass <= HEAVIEST:
            raise RefusedError("A mass has to be from 0.1 kg to 100 t.")
        return draft.what_if.with_mass(part.name, mass)


class AsGiven(Said):
    """Nothing is tried out any more."""

    kind: Literal["as_given"]

    def tried(self, draft: Draft, step: int) -> WhatIf:
        """Return what is tried out from now on."""
        return WhatIf()


class KeepWhatIf(Said):
    """What is tried out is written into the plan."""

    kind: Literal["keep_what_if"]


OfStands: TypeAlias = (
    Move | PutUnder | Add | Remove | Duplicate | Equip | SetHeight | SetShim | SetTag | Tick | RaiseStands | SetLift
)
Cures: TypeAlias = MoveStands | TakeOther | PullLess
OfSteps: TypeAlias = AddStep | NameStep | MoveStep | RemoveStep | DoInStep | SetFlag | SetLowered | SetPull | SetBoxes
OfVehicle: TypeAlias = SetThing | DropThing | SetAssembly | DropAssembly | UseLift
WhatIfs: TypeAlias = MoveCg | Weigh | AsGiven
Change = Annotated[OfStands | OfSteps | OfVehicle | Cures | WhatIfs | KeepWhatIf, Field(discriminator="kind")]


def make(plan: Plan, change: OfStands | OfSteps | OfVehicle | Cures | WhatIfs | KeepWhatIf, step: int) -> str:
    """Make a change in a plan.

    Args:
        plan: The plan; where it does not take the change it stays as it is.
        change: The change.
        step: Number of the step in view, from 0.

    Returns:
        What was done, in a sentence.
    """
    draft = plan.draft
    step = min(step, len(draft.assessment.stages) - 1)
    match change:
        case MoveCg() | Weigh() | AsGiven():
            tried = change.tried(draft, step)
            said = "Tried out, not saved." if tried else "As the files give it."
            plan.change(draft.text, tried, said)
            return said
        case KeepWhatIf():
            return keep_what_if(plan)
        case _:
            text, said = text_after(draft, change, step)
            plan.change(text, draft.what_if, said)
            return said


def text_after(draft: Draft, change: OfStands | OfSteps | OfVehicle | Cures, step: int) -> tuple[str, str]:
    """Tell what a change makes of a plan's text; the plan stays as it is.

    Args:
        draft: The plan.
        change: The change.
        step: Number of the step in view, from 0.

    Returns:
        The text, and what is done by it, in a sentence.
    """
    match change:
        case SetThing() | DropThing() | SetAssembly() | DropAssembly() | UseLift():
            return change.text(draft)
        case _:
            edits, said = change.edits(draft, draft.assessment.stages[step].state)
            return edited_text(draft.text, edits, draft.path), said

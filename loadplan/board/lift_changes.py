"""How the job uses the lift, changed on the page: which, what it holds, where its posts and pads are."""

from typing import Annotated, Literal

from pydantic import Field

from loadplan.board.draft import Draft
from loadplan.board.refusals import RefusedError
from loadplan.board.stand_changes import Number, Said, Typed, nth, quantity
from loadplan.board.verdict_cells import Plain
from loadplan.files.own_vehicle import renamed
from loadplan.files.toml_edit import Change, Edit, edited_text, number, quoted
from loadplan.model.job import Job
from loadplan.report.words.vocabulary import Reader
from loadplan.units import Kind, System, from_si

Called = Annotated[str, Field(max_length=400)]


class UseLift(Said):
    """The lift is used so; a job without one gets it."""

    kind: Literal["use_lift"]
    use: Number
    body: Called
    columns: Typed
    pads: tuple[Called, ...] = Field(max_length=20)
    in_place: bool

    def text(self, draft: Draft) -> tuple[str, str]:
        """Return the file's new text, and what to say.

        Raises:
            RefusedError: If the job's own file says what the lift is: that is not changed here.
        """
        lift = nth(draft.job.shop.lifts, self.use, "lift")
        now = draft.job.lift
        raw = draft.file.source.raw
        values = self._values(draft, lift.name)
        if "shop" not in raw:
            if now is None or lift.name != now.lift.name:
                raise RefusedError("The lift stands in the job's own file: change it there.")
            del values["use"]
        if now is None:
            keys = "".join(f"{key} = {value}\n" for key, value in values.items() if value is not None)
            return f"{draft.text.rstrip()}\n\n[lift]\n{keys}", f"{lift.name} is in the plan."
        edits: list[Edit] = [Change("lift", 0, key, value) for key, value in values.items()]
        if lift.name != now.lift.name:
            edits += renamed(draft.file, "lift", now.lift.name, lift.name)
        return edited_text(draft.text, edits, draft.path), f"{lift.name} is written into the plan."

    def _values(self, draft: Draft, name: str) -> dict[str, str | None]:
        """Return the keys of the table with their values as TOML text, None for one that is left out."""
        system = System.US if draft.job.us_units else System.METRIC
        columns = quantity(self.columns, Kind.LENGTH, draft) if self.columns.strip() else None
        return {
            "use": quoted(name),
            "body": quoted(self.body),
            "columns": None if columns is None else number(from_si(columns, Kind.LENGTH, system)),
            "pads": f"[{', '.join(map(quoted, self.pads))}]",
            "in_place": "true" if self.in_place else None,
        }


def lift_form(job: Job, reader: Reader) -> dict[str, Plain]:
    """Tell how the lift is used, and which there are.

    Args:
        job: The job.
        reader: Who reads it.

    Returns:
        What the form shows, as JSON.
    """
    lifts: list[Plain] = [{"name": each.name, "arms": each.arms} for each in job.shop.lifts]
    use = job.lift
    if use is None:
        return {"lifts": lifts, "lift": None}
    names = [each.name for each in job.shop.lifts]
    told: dict[str, Plain] = {
        "use": names.index(use.lift.name) if use.lift.name in names else 0,
        "body": use.body,
        "columns": "" if use.columns is None else reader.length(use.columns),
        "pads": [each.point for each in use.arms],
        "in_place": use.in_place,
    }
    return {"lifts": lifts, "lift": told}

"""Writing what was tried out into the plan: never into a vehicle's file that other jobs use."""

import os
from itertools import count
from pathlib import Path

from loadplan.board.tried_masses import WhatIf
from loadplan.board.undo_history import Plan
from loadplan.files import shipped_vehicles
from loadplan.files.job_reader import read_vehicle
from loadplan.files.safe_write import write_new
from loadplan.files.toml_edit import Change, edited_text, quoted
from loadplan.files.toml_source import open_source, text_of
from loadplan.files.vehicle_shape import VEHICLE_SCHEMA


def keep_what_if(plan: Plan) -> str:
    """Write what is tried out into the plan.

    A job that holds its vehicle itself takes it into its own tables. Else a copy of the vehicle's file is written
    beside the job, and the job names that one, once it is saved.

    Args:
        plan: The plan.

    Returns:
        What was done, in a sentence.

    Raises:
        InputError: If it cannot be written without touching something else.
        OSError: If the vehicle's file cannot be written.
    """
    draft = plan.draft
    if not draft.what_if:
        return "Nothing is tried out."
    written = draft.file.head.vehicle
    if written is None:
        vehicle = draft.given.vehicle
        edits = draft.what_if.edits(vehicle.parts, vehicle.bodies, draft.file.source.system)
        plan.change(
            edited_text(draft.text, edits, draft.path), WhatIf(), "What was tried out was written into the plan."
        )
        return "Written into the plan. Save it to keep it."
    source = _vehicle_file(plan.path, written)
    text = text_of(source)
    vehicle = read_vehicle(source)
    system = open_source(source, VEHICLE_SCHEMA).system
    names = (f"{source.stem}-tried{number or ''}.toml" for number in count())
    name = next(each for each in names if not os.path.lexists(plan.path.parent / each))
    content = edited_text(text, draft.what_if.edits(vehicle.parts, vehicle.bodies, system), source)
    write_new(plan.path.parent, {name: content.encode("utf-8")})
    change = Change("", 0, "vehicle", quoted(Path(name).stem))
    plan.change(
        edited_text(draft.text, [change], draft.path), WhatIf(), "What was tried out was written into the plan."
    )
    return f"Written into {name}, a copy of the vehicle's file. Save the plan to use it."


def _vehicle_file(job: Path, written: str) -> Path:
    if written.endswith(".toml"):
        return job.parent / written
    own = job.parent / f"{written}.toml"
    return own if own.is_file() else dict(shipped_vehicles())[written]

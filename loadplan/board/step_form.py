"""The form of the step in view: what is on, done up and in place in it, and what else is said of it."""

from loadplan.board.step_changes import WAYS, lift_in_place
from loadplan.board.verdict_cells import Plain
from loadplan.model.job import Job, State
from loadplan.model.verdict import Measure, Quantity
from loadplan.report.words.vocabulary import Reader


def step_form(job: Job, state: State, reader: Reader) -> dict[str, Plain]:
    """Tell all that can be changed of a step.

    Args:
        job: The job.
        state: The step.
        reader: Who reads it.

    Returns:
        What the form shows, as JSON.
    """
    stage = state.stage
    done_up = {each.name for each in state.done_up}
    there = {each.name for each in state.supports}
    lift = job.lift
    far = stage.raised if stage.raised is not None else stage.lowered
    return {
        "name": stage.name,
        "first": state.index == 0,
        "last": state.index == len(job.stages) - 1,
        "only": len(job.stages) == 1,
        "joints": [
            {"id": number, "name": reader.words(joint.name), "done": joint.name not in done_up}
            for number, joint in enumerate(job.vehicle.joints)
            if set(joint.between) <= set(job.bodies)
        ],
        "supports": [
            {"id": number, "name": reader.words(each.name), "done": each.name in there}
            for number, each in enumerate(job.supports)
        ],
        "lift": {"name": reader.words(lift.lift.name), "done": lift_in_place(job, state)} if lift else None,
        "locks": lift is not None and lift.lift.locks,
        "flags": {
            "bar": stage.bar,
            "unattended": stage.unattended,
            "moved": stage.moved,
            "any_order": stage.any_order,
            "undone_in_order": stage.undone_in_order,
            "lift_locked": state.lift_locked,
        },
        "can_order": len(stage.undone) > 1,
        "can_any": len(stage.off) > 1,
        "way": "raised" if stage.raised is not None else "lowered",
        "far": "" if far is None else reader.length(far),
        "pull": _pull(job, state, reader),
        "boxes": "\n".join(stage.confirm),
    }


def _pull(job: Job, state: State, reader: Reader) -> dict[str, Plain] | None:
    """Return a step's pull as a form has it, None for none."""
    pull = state.stage.pull
    if pull is None:
        return None
    way = next((word for word, way in WAYS.items() if pull.towards == way), "")
    return {
        "body": [each.name for each in job.vehicle.bodies].index(pull.body),
        "at": [reader.length(each) for each in pull.at],
        "force": reader.sentence((Quantity(pull.force, Measure.FORCE),)),
        # A torque on a bar, or a pull at a slant, is kept as it stands in the file until another is given.
        "towards": way,
    }

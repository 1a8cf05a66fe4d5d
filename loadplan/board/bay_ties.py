"""What was still on, at the bay: where it is, the lines that it makes in the vehicle's file, and writing them there."""

from datetime import UTC, datetime

from loadplan.board.bay_step import BayStep
from loadplan.board.refusals import RefusedError
from loadplan.board.stand_changes import quantity
from loadplan.errors import InputError, printable
from loadplan.files.values import FARTHEST
from loadplan.files.work_record_file import add_to_record
from loadplan.files.write_ties import tie_text, vehicle_home, write_ties
from loadplan.model.forgotten_tie import ForgottenTie, TiePlace
from loadplan.model.vehicle import TieState
from loadplan.model.work_record import Deed, RecordEntry
from loadplan.planning.forgotten_ties import forgotten_ties
from loadplan.report.words.record_words import tie_place_words, ties_go_into
from loadplan.units import Kind


def tie_lines(step: BayStep) -> list[dict[str, object]]:
    """Tell of what was still on, and is not in the vehicle's file.

    Args:
        step: The step; on the last screen of a finished job all is told, else what was found in it.

    Returns:
        What the page shows of each.
    """
    return [
        {
            "words": each.words,
            "where": tie_place_words(each.place, step.reader) if each.place else "",
            "height": "Its height is taken from what it hangs by." if each.assumed_height else "",
        }
        for each in _shown(step)
    ]


def to_list(step: BayStep) -> dict[str, str]:
    """Tell which lines go into the vehicle's file.

    Args:
        step: The step.

    Returns:
        The lines and where they go; nothing before the job is finished, or while something has no place yet.
    """
    left = _shown(step) if _is_end(step) else ()
    ties = [each.tie for each in left if each.tie is not None]
    if not ties or len(ties) < len(left):
        return {}
    try:
        home = vehicle_home(step.opened.plan.path)
    except InputError:
        return {}
    says = printable(ties_go_into(home.path.name, home.source.stem if home.is_copy else ""))
    return {"lines": tie_text(home, ties), "says": says}


def listed_words(step: BayStep) -> str:
    """Tell on the last screen what this job put into the vehicle's file, once nothing is left to write.

    Args:
        step: The step.

    Returns:
        It; "" on other screens, and where nothing was listed.
    """
    told = list(dict.fromkeys(each.words for each in step.record.entries if each.deed is Deed.LISTED))
    if not told or not _is_end(step):
        return ""
    return f"In the vehicle's file now: {step.reader.words(', '.join(told))}. The next job asks for it."


def placed_entry(step: BayStep, form: dict[str, str]) -> tuple[str, TiePlace]:
    """Read where something is that was still on.

    Args:
        step: The step.
        form: What was filled in.

    Returns:
        What was said of it, and its place.

    Raises:
        RefusedError: If it is nothing that was still on, or what was typed is no place.
    """
    draft = step.opened.plan.draft
    words = form.get("words", "")
    if words not in {each.words for each in _left(step)}:
        raise RefusedError("Not kept: this is not open any more. Load the page again.")
    if form.get("body", "") not in draft.job.bodies:
        raise RefusedError("Not kept: choose the assembly that it is at.")
    if form.get("tie", "") not in {each.value for each in TieState}:
        raise RefusedError("Not kept: say whether it has to be off, or tied up.")
    if not form.get("front", "").strip() or not form.get("left", "").strip():
        raise RefusedError("Not kept: measure where it is, from the front axle line and from the centre line.")
    front, left = (quantity(form[each], Kind.LENGTH, draft) + 0.0 for each in ("front", "left"))
    typed = form.get("up", "").strip()
    up = quantity(typed, Kind.LENGTH, draft) + 0.0 if typed else None
    if max(abs(front), abs(left), abs(up or 0.0)) > FARTHEST:
        raise RefusedError(f"Not kept: that is farther than {FARTHEST:.0f} m, the most that a vehicle's file takes.")
    return words, TiePlace(form["body"], (front, left), up, TieState(form["tie"]))


def list_forgotten(step: BayStep, who: str) -> None:
    """Write what was still on into the vehicle's file, and into the record that it was.

    Args:
        step: The step.
        who: Who works there.

    Raises:
        RefusedError: If nothing is left to write, something has no place yet, or the file cannot take it.
        OSError: If it cannot be written.
    """
    if not who:
        raise RefusedError("Not kept: write down who works here first.")
    if not to_list(step):
        raise RefusedError("Not written: nothing is left to list, or something has no place yet.")
    plan, left = step.opened.plan, _left(step)
    try:
        written = write_ties(plan.path, [each.tie for each in left if each.tie is not None])
    except InputError as error:
        raise RefusedError(f"Not written: {printable(str(error.faults[0]))}") from None
    now = datetime.now(UTC).astimezone().replace(microsecond=0)
    # The file first: what stands there is not offered again, also where the program is killed in between.
    listed = [RecordEntry(now, who, step.number, each.step, Deed.LISTED, each.tie.name) for each in left if each.tie]
    if written:
        plan.reread()
    add_to_record(plan.path, *listed)


def _left(step: BayStep) -> tuple[ForgottenTie, ...]:
    return forgotten_ties(step.opened.plan.draft.job, step.record)


def _shown(step: BayStep) -> tuple[ForgottenTie, ...]:
    """Return what is told of on this screen: on the last one all that is left, else what was found in the step."""
    return tuple(each for each in _left(step) if _is_end(step) or each.step == step.name)


def _is_end(step: BayStep) -> bool:
    return step.record.is_finished and step.stage.state.index == len(step.opened.plan.draft.assessment.stages) - 1

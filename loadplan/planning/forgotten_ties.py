"""Learnt from the last job: what was still on, as it is to stand in the vehicle's file, so that the next job asks."""

import re
from collections.abc import Mapping
from dataclasses import replace

from loadplan.model.forgotten_tie import ForgottenTie, TiePlace
from loadplan.model.job import Job
from loadplan.model.vehicle import Place, TieUp
from loadplan.model.work_record import Deed, WorkRecord

LONGEST_NAME, LONGEST_SAY = 100, 300
"""Longest name and note of a tie in a vehicle's file [characters]."""


def forgotten_ties(job: Job, record: WorkRecord) -> tuple[ForgottenTie, ...]:
    """Find what was forgotten in a job and is not in its vehicle's file yet.

    Args:
        job: The job.
        record: What was done of it.

    Returns:
        In the order in which it was found, each once; what has no place yet cannot be written.
    """
    known = {each.name.casefold() for each in job.vehicle.ties}
    found: dict[str, ForgottenTie] = {}
    for entry in record.entries:
        key = tie_name(entry.words).casefold()
        if entry.deed is Deed.FORGOTTEN and key not in known:
            found.setdefault(key, ForgottenTie(entry.words, entry.step, None, None))
        elif entry.deed is Deed.PLACED and entry.place is not None and key in found:
            found[key] = replace(found[key], place=entry.place)
        elif entry.deed is Deed.LISTED:
            found.pop(key, None)
    return tuple(_completed(job, each) for each in found.values())


def placed(job: Job, forgotten: tuple[ForgottenTie, ...], places: Mapping[int, TiePlace]) -> tuple[ForgottenTie, ...]:
    """Say where some of what was forgotten is.

    Args:
        job: The job.
        forgotten: What was.
        places: Places by number, from 0.

    Returns:
        The same, with these places.
    """
    return tuple(
        _completed(job, replace(each, place=places.get(number, each.place))) for number, each in enumerate(forgotten)
    )


def tie_name(words: str) -> str:
    """Name what was forgotten: by what was said of it up to the first comma, colon or semicolon.

    Args:
        words: What was said.

    Returns:
        A name as it may stand in a vehicle's file.

    Example:
        >>> tie_name("heater hose, at the bulkhead")
        'heater hose'
    """
    return re.split(r"[,;:]", words.strip(), maxsplit=1)[0].strip()[:LONGEST_NAME].strip() or words[:LONGEST_NAME]


def _completed(job: Job, forgotten: ForgottenTie) -> ForgottenTie:
    """Return it as it goes into the file, where it is known at which place."""
    place = forgotten.place
    if place is None or place.body not in job.bodies:
        return forgotten
    name = tie_name(forgotten.words)
    before, say = _before(job, forgotten.step, place.body), forgotten.words.strip()[len(name) :].strip(" ,;:")
    height = _height(job, place.body, before) if place.up is None else place.up
    tie = TieUp(name, place.body, (*place.at, height), place.what, before, say[:LONGEST_SAY])
    return replace(forgotten, tie=tie, assumed_height=place.up is None)


def _before(job: Job, step: str, body: str) -> tuple[str, ...]:
    """Return before what it has to be done: what that step undid or took off, or the last one before it that did."""
    number = next((place for place, each in enumerate(job.stages) if each.name == step), len(job.stages) - 1)
    ties = {each.name for each in job.vehicle.joints if body in each.between}
    parts = {each.name for each in job.vehicle.parts if each.body == body}
    for stage in reversed(job.stages[: number + 1]):
        if found := tuple(each for each in (*stage.undone, *stage.off) if each in ties | parts):
            return found
    # All joints that tie it, as the file takes it where nothing is said; without any, its first part.
    joints = tuple(each.name for each in job.vehicle.joints if each.name in ties)
    return joints or tuple(each.name for each in job.vehicle.parts if each.name in parts)[:1]


def _height(job: Job, body: str, before: tuple[str, ...]) -> float:
    """Return the mean height [m] of what it has to be done before; that of the assembly's parts where none is known."""
    joints: list[Place] = [at for each in job.vehicle.joints if each.name in before for at in each.at]
    named = [each.at for each in job.vehicle.parts if each.name in before]
    places = joints or named or [each.at for each in job.vehicle.parts if each.body == body]
    return sum(at[2] for at in places) / len(places) if places else 0.0

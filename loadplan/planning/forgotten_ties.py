"""Learnt from the last job: what was still on, as it is to stand in the vehicle's file, so that the next job asks."""

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import NamedTuple

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
    known = tuple(_Said.of(f"{each.name}, {each.say}") for each in job.vehicle.ties)
    found: dict[_Said, ForgottenTie] = {}
    for entry in record.entries:
        said = _Said.of(entry.words)
        same = next((each for each in found if each.is_same(said)), None)
        if entry.deed is Deed.FORGOTTEN and same is None and not any(each.is_same(said) for each in known):
            found[said] = ForgottenTie(entry.words, entry.step, None, None)
        elif entry.deed is Deed.PLACED and entry.place is not None and same is not None:
            found[same] = replace(found[same], place=entry.place)
        elif entry.deed is Deed.LISTED and same is not None:
            found.pop(same)
    return _completed(job, tuple(found.values()))


def placed(job: Job, forgotten: tuple[ForgottenTie, ...], places: Mapping[int, TiePlace]) -> tuple[ForgottenTie, ...]:
    """Say where some of what was forgotten is.

    Args:
        job: The job.
        forgotten: What was.
        places: Places by number, from 0.

    Returns:
        The same, with these places.
    """
    now = (replace(each, place=places.get(number, each.place)) for number, each in enumerate(forgotten))
    return _completed(job, tuple(now))


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


class _Said(NamedTuple):
    """What was said of something that was forgotten: its name, and what was said besides."""

    name: str
    besides: str

    @classmethod
    def of(cls, words: str) -> "_Said":
        """Take words apart; small and capital letters are alike.

        Args:
            words: What was said.

        Returns:
            The two.
        """
        name = tie_name(words)
        return cls(name.casefold(), words.strip()[len(name) :].strip(" ,;:")[:LONGEST_SAY].casefold())

    def is_same(self, other: "_Said") -> bool:
        """Return whether both mean one thing: "hose, left" and "hose, right" are two, and each is asked for."""
        return self.name == other.name and (self.besides == other.besides or not (self.besides and other.besides))


def _completed(job: Job, forgotten: tuple[ForgottenTie, ...]) -> tuple[ForgottenTie, ...]:
    """Return each as it goes into the file, where it is known at which place."""
    names = [tie_name(each.name).casefold() for each in job.vehicle.ties]
    names += [tie_name(each.words).casefold() for each in forgotten]
    return tuple(_with_tie(job, each, names) for each in forgotten)


def _with_tie(job: Job, forgotten: ForgottenTie, names: list[str]) -> ForgottenTie:
    """Return one of them; the only one of its name goes by that, others by all that was said."""
    place = forgotten.place
    if place is None or place.body not in job.bodies:
        return forgotten
    short = tie_name(forgotten.words)
    name = short if names.count(short.casefold()) == 1 else forgotten.words.strip()[:LONGEST_NAME].strip()
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

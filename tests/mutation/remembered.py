"""What `statics/` found once, remembered for the next mutant of a room above it.

A search judges hundreds of plans, and nearly the same ones whatever is broken in it: what each comes to is computed in
the first process that asks, handed back, and known in those forked later. Of a mutant of `statics/` nothing is
remembered.
"""

import copyreg
import pickle
from collections.abc import Callable, Hashable, Mapping
from contextlib import suppress
from dataclasses import replace
from operator import itemgetter
from types import MappingProxyType, ModuleType
from typing import Any, NamedTuple, TypeVar

import pytest

from loadplan.model.answer import Statics
from loadplan.model.job import State
from loadplan.statics import group, passage, stage_sequence
from loadplan.statics.equilibrium import Frame
from loadplan.statics.resting_state import Settings, Solved
from loadplan.statics.stage_figures import group_key
from loadplan.statics.stage_sequence import Carried, StageSolver

Found = TypeVar("Found")

MOST = 200_000_000
"""Bytes that are remembered, as they are handed on: each process forked later has to share them."""

LOOKS: Mapping[object, str] = MappingProxyType({
    each: each.__name__ for each in (group.solve, group.glance, group.glance_between)
})
"""Ways to look at a group by which a stage is remembered."""

copyreg.pickle(MappingProxyType, lambda known: (MappingProxyType, (dict(known),)))


def reaches_in(item: pytest.Item) -> bool:
    """Return whether a test may put something of its own into `statics/`: what it finds then is not for others.

    Args:
        item: The test.
    """
    function = getattr(item, "function", None)
    if function is None or "monkeypatch" not in getattr(item, "fixturenames", ()):
        return False
    named = (function.__globals__.get(name) for name in function.__code__.co_names)
    homes = (each.__name__ if isinstance(each, ModuleType) else getattr(each, "__module__", "") for each in named)
    return any(str(home).startswith("loadplan.statics") for home in homes)


class Remembered:
    """What was found, by what it was asked for."""

    def __init__(self) -> None:
        """Begin with nothing, and ask before anything is solved from now on."""
        self.is_on = False
        self._size = 0
        self._known: dict[Hashable, Any] = {}
        self._kept: dict[Hashable, Any] = {}
        self._new: dict[Hashable, Any] = {}
        self._solve_group()
        self._solve_on_the_way()
        self._solve_stage()

    def keep(self) -> None:
        """Hand on what is new, too: not called where a test failed, since hardly any other asks for the same."""
        self._kept |= self._new
        self._new.clear()

    def handed_on(self) -> bytes:
        """Return what was kept, for `learn` in another process; nothing where nothing was."""
        if not self._kept or self._size > MOST:
            return b""
        rows = list(self._kept.items())
        with suppress(Exception):
            return pickle.dumps(rows, pickle.HIGHEST_PROTOCOL)
        return pickle.dumps([row for row in rows if _is_told(row)], pickle.HIGHEST_PROTOCOL)

    def learn(self, told: bytes) -> None:
        """Take over what another process found.

        Args:
            told: What `handed_on` gave there.
        """
        self._size += len(told)
        self._known.update(pickle.loads(told))

    def _found(self, key: Hashable, find: Callable[[], Found]) -> Found:
        known: Found | None = None
        try:
            known = self._known.get(key) or self._kept.get(key) or self._new.get(key)
        except TypeError:
            return find()
        if known is None:
            known = self._new[key] = find()
        return known

    def _solve_group(self) -> None:
        whole = group._looked_at
        names = {each: each.__name__ for each in (group._standing, group._glanced, group._leant_in_full)}

        def looked_at(frame: Frame, settings: Settings, standing: group.Look) -> Solved:
            if not self.is_on or standing not in names:
                return whole(frame, settings, standing)
            key = (names[standing], group_key(frame, settings))
            return self._found(key, lambda: whole(frame, settings, standing))

        group._looked_at = looked_at

    def _solve_on_the_way(self) -> None:
        whole = passage.solve_in_passing

        def in_passing(frame: Frame, settings: Settings, asked: float) -> Solved:
            if not self.is_on:
                return whole(frame, settings, asked)
            key = ("in passing", asked, group_key(frame, settings))
            return self._found(key, lambda: whole(frame, settings, asked))

        vars(stage_sequence)["solve_in_passing"] = in_passing

    def _solve_stage(self) -> None:
        whole = StageSolver.stage

        def stage(self_: StageSolver, state: State, carried: Carried) -> tuple[Statics, Carried]:
            look = LOOKS.get(self_._look)
            if not self.is_on or look is None:
                return whole(self_, state, carried)
            job = replace(self_.job, source="", title="")
            before = _flat(carried.touched), _flat(carried.motions), carried.reference, carried.level
            counts = self_._work, self_._on_the_way
            key = ("stage", look, job, self_.states, state, before)
            told = self._found(key, lambda: _watched(whole, self_, state, carried))
            self_.solved.update(told.solved)
            self_._work, self_._on_the_way = counts[0] + told.work, counts[1] + told.on_the_way
            return told.statics, told.carried

        vars(stage_sequence)["StageSolver"].stage = stage


class Told(NamedTuple):
    """A stage solved.

    Attributes:
        solved: Groups that were solved for it.
        work: Work on ways to go over that was counted for it.
        on_the_way: The same for states on the way.
        statics: What was found.
        carried: What the next one needs.
    """

    solved: Mapping[object, Solved]
    work: int
    on_the_way: int
    statics: Statics
    carried: Carried


def _is_told(row: tuple[Hashable, object]) -> bool:
    with suppress(Exception):
        return bool(pickle.dumps(row, pickle.HIGHEST_PROTOCOL))
    return False


def _watched(
    whole: Callable[[StageSolver, State, Carried], tuple[Statics, Carried]],
    solver: StageSolver,
    state: State,
    carried: Carried,
) -> Told:
    known, work, on_the_way = set(solver.solved), solver._work, solver._on_the_way
    statics, after = whole(solver, state, carried)
    new = {key: solved for key, solved in solver.solved.items() if key not in known}
    return Told(new, solver._work - work, solver._on_the_way - on_the_way, statics, after)


def _flat(known: Mapping[str, object]) -> tuple[tuple[str, object], ...]:
    return tuple(sorted(known.items(), key=itemgetter(0)))

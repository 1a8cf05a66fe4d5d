"""How many candidate places are too many to be held against each other."""

import pytest

from loadplan.errors import InputError
from loadplan.planning.placement import blocked_modes
from loadplan.planning.placement.blocked_modes import MOST_HELD, cover, motion_count
from loadplan.planning.placement.layout_space import Space, space
from tests.planning.jobs import scattered


def held(here: Space) -> int:
    return motion_count(here) * len(here.points)


@pytest.mark.parametrize(("bodies", "taken", "refused"), [(1, 430, 432), (2, 124, 126)])
def test_one_assembly_may_have_more_places_than_two_that_are_linked(bodies: int, taken: int, refused: int) -> None:
    assert held(space(scattered(0, taken, bodies))) <= MOST_HELD < held(space(scattered(0, refused, bodies)))


def test_more_places_than_there_is_memory_for_are_refused_before_any_is_looked_at(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    here = space(scattered(0, 8))
    monkeypatch.setattr(blocked_modes, "MOST_HELD", held(here))
    assert len(cover(here).blocked) == 8
    monkeypatch.setattr(blocked_modes, "MOST_HELD", held(here) - 1)
    monkeypatch.setattr(blocked_modes, "_motions", pytest.fail)
    with pytest.raises(InputError) as refused:
        cover(here)
    (fault,) = refused.value.faults
    assert (fault.file, fault.table, fault.key) == ("made-up.toml", "", "point")
    assert fault.message == (
        "8 places are too many to be held against each other: leave out of the vehicle's file those that no stand will "
        "go to. Under linked assemblies fewer can be looked at than under one"
    )

"""A swap under loads that are written down: how far is raised and lowered, what comes, and what is refused."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from math import inf
from typing import Any

import pytest

from loadplan.errors import InputError
from loadplan.model.job import Stack, Stage
from loadplan.model.shop import EquipmentKind
from loadplan.model.verdict import Verdict
from loadplan.planning.mending.stand_swap import FARTHEST, StandSwap, swap
from tests.planning.mending.plans import JACK, RATCHET, SCREW, but, plan, stand
from tests.planning.mending.swap_law import HIGH, JOB, ONE, POINT, SWAPPED, TURNS, Law, put, says


@pytest.fixture
def under(monkeypatch: pytest.MonkeyPatch) -> Callable[..., Law]:
    """Put a law in the place of all that solves and judges."""
    return partial(put, monkeypatch)


def test_the_helper_is_raised_to_the_first_mark_at_which_there_is_room_and_lowered_to_the_first_at_which_it_is_empty(
    under: Callable[..., Law],
) -> None:
    """D is empty 4 mm up, where what comes, which is set as high, finds half a millimetre; E is empty 1 mm up."""
    law = under()
    found = swap(ONE, SWAPPED, "D", RATCHET)
    assert says(found) == [
        "Set E, screw stand N1, under middle right, and bring it up to just touch.",
        "Raise E by 0.004 m, to 0.334 m, until D turns by hand.",
        "Take D away, which carries nothing.",
        "Set D2, ratchet stand S5, under rear right, set to 0.33 m with no shim. "
        "Then lower E to 0.331 m, until it turns by hand.",
        "Take E away.",
    ]
    assert (found.stage, found.stand, found.considered, found.moving) == ("Intake off", "D", 1, ("D", "D2", "E"))
    assert [(each.verdict, each.worst_margin) for each in found.steps] == [
        (Verdict.HOLDS, pytest.approx(0.1)),
        *((Verdict.NOTE, pytest.approx(0.1 + 0.01 * place)) for place in range(1, 5)),
    ]
    assert found.clean
    # Of the steps of the swap and of all that comes behind, the worst.
    assert found.verdict is Verdict.CAUTION
    assert law.whole == [found.job]
    assert [len(each.findings) for each in found.stages] == [0] * 5
    assert [each.name for each in found.job.supports] == ["A", "B", "C", "D", "E", "D2"]
    assert len(found.job.stages) == len(JOB.stages) + 5


@pytest.mark.parametrize(
    ("gone", "by"),
    [
        (0.0005, 0.001),
        (0.00095, 0.002),
        (0.0015, 0.002),
        *((whole / 1000 + 0.0005, (whole + 1) / 1000) for whole in (2, 3, 6, 7, 8, 15, 30, 31, 32, 37, 38)),
    ],
)
def test_it_is_raised_by_whole_millimetres_whatever_it_takes(gone: float, by: float, under: Callable[..., Law]) -> None:
    under(gone=gone)
    assert f"Raise E by {by:.4g} m" in says(swap(ONE, SWAPPED, "D", RATCHET))[1]


def test_it_is_raised_on_where_what_comes_needs_more_room(under: Callable[..., Law]) -> None:
    """0.05 mm are no room, 0.1 mm are; what only stands by needs none, nor does nothing."""
    for gone, by in ((0.00395, 0.005), (0.0039, 0.004)):
        under(gone=gone)
        assert f"Raise E by {by} m" in says(swap(ONE, SWAPPED, "D", RATCHET))[1]
    # With D gone half of what was raised is left.
    under(gone=0.0035, sinks=0.00045)
    assert "Raise E by 0.005 m" in says(swap(ONE, SWAPPED, "D", RATCHET))[1]
    # 40 mm are the most.
    under(gone=0.03895)
    assert "Raise E by 0.04 m" in says(swap(ONE, SWAPPED, "D", RATCHET))[1]
    under(gone=0.00395)
    assert "Raise E by 0.004 m" in says(swap(ONE, SWAPPED, "D", None))[1]
    by_hand = tuple(replace(each, standby=True) if each.name == "D" else each for each in JOB.supports)
    assert "Raise E by 0.004 m" in says(swap(replace(ONE, supports=by_hand), SWAPPED, "D", RATCHET))[1]


@pytest.mark.parametrize("more", [{"gone": 0.0395}, {"gone": 0.0381, "rests": 0.0375}, {"rests": -0.1}, {"gone": inf}])
def test_what_takes_more_than_40_mm_or_never_gets_empty_is_no_way(
    more: dict[str, float], under: Callable[..., Law]
) -> None:
    under(**more)
    job = (
        ONE
        if more != {"gone": 0.0381, "rests": 0.0375}
        else replace(ONE, supports=but(stand("D", "rear right", height=0.37)))
    )
    found = swap(job, SWAPPED, "D", RATCHET)
    assert FARTHEST == 0.04
    assert found == StandSwap(job, "Intake off", "D", (), (), clean=False, verdict=Verdict.STOP, considered=0)


def test_in_inches_it_is_raised_by_eighths(under: Callable[..., Law]) -> None:
    """Twelve eighths are 38 mm."""
    under()
    inches = replace(ONE, us_units=True)
    assert "Raise E by 0.00635 m" in says(swap(inches, SWAPPED, "D", RATCHET))[1]
    under(gone=0.0380)
    assert "Raise E by 0.0381 m" in says(swap(inches, SWAPPED, "D", None))[1]
    under(gone=0.0382)
    assert says(swap(inches, SWAPPED, "D", None)) == []


@pytest.mark.parametrize(("first", "steps"), [(0.0, 1), (1.0, 1), (1.01, 5)])
def test_what_carries_nothing_goes_without_help(first: float, steps: int, under: Callable[..., Law]) -> None:
    law = under(first=first, gone=1e-3)
    found = swap(ONE, SWAPPED, "D", RATCHET)
    assert len(found.steps) == steps
    assert len(law.ways) == 1
    if steps == 1:
        assert says(found) == [
            "Take D away, which carries nothing. "
            "Set D2, ratchet stand S5, under rear right, set to 0.33 m with no shim."
        ]
        assert found.moving == ("D", "D2")


def test_a_stand_that_turns_is_lowered_itself_where_nothing_comes(under: Callable[..., Law]) -> None:
    law = under(own=0.0065)
    found = swap(TURNS, SWAPPED, "D", None)
    assert says(found) == ["Lower D to 0.323 m, until it turns by hand.", "Take D away, which carries nothing."]
    # The other way is with a helper.
    assert (found.considered, len(law.ways), found.moving) == (2, 2, ("D",))
    assert [len(swap(TURNS, SWAPPED, "D", each).steps) for each in (RATCHET, None)] == [5, 2]
    assert len(swap(ONE, SWAPPED, "D", None).steps) == 5
    standing_by = tuple(replace(each, height=None) if each.name == "D" else each for each in TURNS.supports)
    assert len(swap(replace(TURNS, supports=standing_by), SWAPPED, "D", None).steps) != 2
    under()
    assert len(swap(TURNS, SWAPPED, "D", None).steps) == 5


# ---- what comes, and what is refused -----------------------------------------------------------------------


def test_what_comes_is_called_after_what_goes_and_set_as_near_as_it_can_be(under: Callable[..., Law]) -> None:
    under()
    new = swap(ONE, SWAPPED, "D", SCREW).job.supports[-1]
    assert (new.name, new.tag, new.height, new.shim, new.friction, new.point) == (
        "D2",
        "N1",
        0.33,
        None,
        None,
        "rear right",
    )
    # Of shims the one that brings it nearest: 342 mm are 330 mm and 12 mm.
    shimmed = tuple(
        replace(each, shim=Stack(0.012, "steel", crib=False)) if each.name == "D" else each for each in JOB.supports
    )
    new = swap(replace(ONE, supports=shimmed), SWAPPED, "D", RATCHET).job.supports[-1]
    assert (new.height, new.shim) == (pytest.approx(0.33), Stack(0.012, "steel", crib=False))
    rough = tuple(replace(each, friction=0.5) if each.name == "D" else each for each in shimmed)
    new = swap(replace(ONE, supports=rough), SWAPPED, "D", replace(SCREW, tags=())).job.supports[-1]
    assert (new.equipment.name, new.tag, new.height, new.shim, new.friction) == ("screw stand", "", 0.342, None, None)
    # A point may be called so already.
    points = tuple(replace(each, name="D2") if each.name == POINT else each for each in ONE.vehicle.points)
    named = replace(ONE, vehicle=replace(ONE.vehicle, points=points))
    assert swap(named, SWAPPED, "D", RATCHET).job.supports[-1].name == "D3"
    points = tuple(replace(points[0], name=f"D{number}", at=(9.0, number, 0.0)) for number in range(2, 10))
    named = replace(ONE, vehicle=replace(ONE.vehicle, points=(*ONE.vehicle.points, *points)))
    assert swap(named, SWAPPED, "D", RATCHET).job.supports[-1].name == "E"


def test_what_touches_is_followed_by_what_is_set_as_high_as_the_unit_stands(under: Callable[..., Law]) -> None:
    under()
    touching = tuple(replace(each, height=None) if each.name == "D" else each for each in JOB.supports)
    new = swap(replace(ONE, supports=touching), SWAPPED, "D", SCREW).job.supports[-1]
    assert new.height == HIGH
    standing_by = tuple(replace(each, height=None, standby=True) if each.name == "D" else each for each in JOB.supports)
    assert swap(replace(ONE, supports=standing_by), SWAPPED, "D", SCREW).job.supports[-1].height is None


@pytest.mark.parametrize("more", [{"floor": None}, {"lost": (JOB.supports[3].at,)}])
def test_where_nobody_can_say_how_high_it_stands_it_is_refused(more: dict[str, Any], under: Callable[..., Law]) -> None:
    under(**more)
    with pytest.raises(InputError) as told:
        swap(ONE, SWAPPED, "D", RATCHET)
    (fault,) = told.value.faults
    assert (fault.file, fault.table, fault.key) == ("made-up.toml", 'support "D"', "height")
    assert fault.message == (
        "is left out at every stand, or the unit does not stand: run `loadplan heights` with --write first"
    )


def test_what_does_not_stand_there_or_is_not_set_by_hand_is_refused(under: Callable[..., Law]) -> None:
    under()
    hung = replace(stand("E", POINT), equipment=replace(JACK, name="hoist", kind=EquipmentKind.HOIST))
    hanging = plan(*but(), hung)
    for job, name, message in (
        (ONE, "Z", 'must be a stand that is in place in step "Intake off": "A", "B", "C", "D"'),
        (hanging, "E", '"E" is an arm, a hoist, or one saddle of several: only a stand, jack or table is swapped'),
        (
            replace(ONE, stages=(Stage("up"), Stage("up still"))),
            *("A", 'must be a stand that is in place in step "up still": none'),
        ),
    ):
        with pytest.raises(InputError) as told:
            swap(job, SWAPPED, name, RATCHET)
        (fault,) = told.value.faults
        assert (fault.file, fault.table, fault.key, fault.message) == ("made-up.toml", "--stand", "", message)

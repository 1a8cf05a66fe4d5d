"""A swap under loads that are written down: what helps, at which point, and which of the ways is taken."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from math import inf

import pytest

from loadplan.model.job import Job, Stack
from loadplan.model.shop import EquipmentKind, Heights, Shim
from loadplan.model.verdict import CheckName, Finding, Measure, Verdict
from loadplan.planning.mending.stand_swap import swap
from tests.planning.mending.plans import JACK, RATCHET, SCREW, but, stand
from tests.planning.mending.swap_law import (
    JOB,
    ONE,
    POINT,
    SWAPPED,
    TURNS,
    Law,
    at_points,
    helper_of,
    put,
    says,
    shop_of,
)


@pytest.fixture
def under(monkeypatch: pytest.MonkeyPatch) -> Callable[..., Law]:
    """Put a law in the place of all that solves and judges."""
    return partial(put, monkeypatch)


def helpers(law: Law) -> list[tuple[str, str, str]]:
    """Point, kind and tag of each helper with which a way was judged."""
    found = [helper_of(each) for each in law.ways]
    return [(each.point, each.equipment.name, each.tag) for each in found if each is not None]


def test_what_turns_and_is_free_helps_at_each_free_point(under: Callable[..., Law]) -> None:
    """Two screw stands and two jacks; one screw stand stands already, and no ratchet stand turns."""
    stands = (*but(), replace(stand("A", "front left", SCREW), name="Z", body="hub", point="", at=(3.0, 0.0, 0.2)))
    stages = (replace(JOB.stages[0], in_place=("A", "B", "C", "D", "Z")), *JOB.stages[1:])
    job = shop_of(replace(at_points(POINT, "middle left"), supports=stands, stages=stages), RATCHET, SCREW, JACK)
    hoist = replace(JACK, name="hoist", kind=EquipmentKind.HOIST)
    law = under()
    swap(job, SWAPPED, "D", RATCHET)
    assert helpers(law) == [
        (point, *kind) for point in ("middle left", POINT) for kind in (("screw stand", "N2"), ("jack", "J1"))
    ]
    for kinds, name in (
        ((replace(SCREW, count=1), JACK, hoist), "jack"),
        ((replace(SCREW, count=None),), "screw stand"),
    ):
        law = under()
        swap(
            shop_of(replace(job, supports=(*stands[:4], replace(stands[4], equipment=kinds[0]))), *kinds),
            SWAPPED,
            "D",
            None,
        )
        assert {each[1] for each in helpers(law)} == {name}


def test_the_helper_is_another_piece_than_what_comes(under: Callable[..., Law]) -> None:
    law = under()
    swap(ONE, SWAPPED, "D", SCREW)
    assert helpers(law) == [(POINT, "screw stand", "N2")]
    bare = tuple(replace(each, tag="") for each in JOB.supports)
    law = under()
    found = swap(replace(ONE, supports=bare), SWAPPED, "D", SCREW)
    assert helpers(law) == [(POINT, "screw stand", "")]
    assert found.job.supports[-1].tag == ""


@pytest.mark.parametrize(
    ("highest", "shims", "shim"),
    [(0.3291, (), "none"), (0.3289, (), "does not help"), (0.3289, (Shim(0.006, "steel", 2),), "steel")],
)
def test_what_does_not_come_within_a_millimetre_does_not_help_and_with_a_shim_it_may(
    highest: float, shims: tuple[Shim, ...], shim: str, under: Callable[..., Law]
) -> None:
    """Places are 330 mm high."""
    law = under()
    low = replace(SCREW, heights=Heights(0.3, highest, ()))
    job = shop_of(ONE, low)
    found = swap(replace(job, shop=replace(job.shop, shims=shims)), SWAPPED, "D", RATCHET)
    helper = helper_of(law.ways[0]) if law.ways else None
    assert (helper is not None) is (shim != "does not help")
    if helper is not None:
        assert helper.shim == (Stack(0.006, "steel", crib=False) if shim == "steel" else None)
        # It touches at 330 mm with its shim, and is told by its saddle.
        assert f"by 0.004 m, to {0.328 if helper.shim else 0.334} m" in says(found)[1]


def test_nothing_helps_at_a_point_that_is_taken_not_there_or_in_the_way(under: Callable[..., Law]) -> None:
    """The tail is on the box: on, it bears; gone, or perhaps gone, it does not."""
    tail = at_points(POINT, "box tail")
    there = next(each for each in tail.vehicle.points if each.name == POINT)
    law = under()
    swap(tail, SWAPPED, "D", RATCHET)
    assert [each[0] for each in helpers(law)] == [POINT, "box tail"]
    first, second, third = tail.stages
    for stage in (replace(second, off=("box",)), replace(second, off=("box",), any_order=True)):
        law = under()
        swap(replace(tail, stages=(first, stage, third)), SWAPPED, "D", RATCHET)
        assert [each[0] for each in helpers(law)] == [POINT]
    # Over a stand, if higher, nothing else stands.
    over = replace(there, name="over A", at=(*JOB.supports[0].at[:2], 0.3))
    law = under()
    swap(replace(tail, vehicle=replace(tail.vehicle, points=(*tail.vehicle.points, over))), SWAPPED, "D", RATCHET)
    assert [each[0] for each in helpers(law)] == [POINT, "box tail"]
    law = under(on_paper=(POINT,))
    swap(tail, SWAPPED, "D", RATCHET)
    assert [each[0] for each in helpers(law)] == ["box tail"]
    law = under(lost=(there.at,))
    swap(tail, SWAPPED, "D", RATCHET)
    assert [each[0] for each in helpers(law)] == ["box tail"]
    other = replace(
        tail,
        vehicle=replace(tail.vehicle, points=(*tail.vehicle.points, replace(there, body="axle", at=(9.0, 9.0, 0.2)))),
    )
    law = under()
    swap(other, SWAPPED, "D", RATCHET)
    assert len(helpers(law)) == 2


# ---- which way is taken ---------------------------------------------------------------------------------


def finding(check: CheckName, verdict: Verdict, subject: str = "unit") -> Finding:
    return Finding(check, verdict, subject, 1.0, 1.0, Measure.LENGTH, ())


CALM, WORSE = (finding(CheckName.MARGIN, each) for each in (Verdict.CAUTION, Verdict.STOP))


@pytest.mark.parametrize(
    ("before", "found", "clean"),
    [
        ((), (finding(CheckName.MARGIN, Verdict.NOTE),), "clean"),
        ((), (CALM,), "not"),
        ((CALM,), (CALM,), "clean"),
        ((CALM,), (WORSE,), "not"),
        ((WORSE,), (WORSE,), "clean"),
        ((finding(CheckName.MARGIN, Verdict.NOTE),), (CALM,), "not"),
        ((finding(CheckName.MARGIN, Verdict.CAUTION, "hub"),), (CALM,), "not"),
        ((finding(CheckName.SWAY, Verdict.CAUTION),), (CALM,), "not"),
        ((), (finding(CheckName.JACK_HOLDING, Verdict.CAUTION, "E"),), "clean"),
        ((), (finding(CheckName.JACK_HOLDING, Verdict.STOP, "E"),), "not"),
        *(((), (finding(CheckName.IDLE_SUPPORT, Verdict.CAUTION, each),), "clean") for each in ("D", "D2", "E")),
        ((), (finding(CheckName.IDLE_SUPPORT, Verdict.CAUTION, "A"),), "not"),
        ((), (finding(CheckName.LOST_SUPPORT, Verdict.CAUTION, "E"),), "not"),
    ],
)
def test_it_is_clean_where_nothing_is_worse_than_before_but_what_oil_holds_and_what_is_empty_on_the_way(
    before: tuple[Finding, ...], found: tuple[Finding, ...], clean: str, under: Callable[..., Law]
) -> None:
    under(before=before, on_the_way={POINT: found})
    assert swap(ONE, SWAPPED, "D", RATCHET).clean is (clean == "clean")


def test_the_milder_way_is_taken_then_the_shorter_then_the_one_with_more_margin(under: Callable[..., Law]) -> None:
    two = at_points(POINT, "middle left")

    def taken(job: Job = two, **more: object) -> str:
        under(**more)
        found = swap(job, SWAPPED, "D", None)
        helper = helper_of(found.job)
        return helper.point if helper else "by itself"

    assert taken(margin={"middle left": 0.11}) == "middle left"
    assert taken(margin={"middle left": 0.09}) == POINT
    assert taken(margin={"middle left": 0.2}, on_the_way={"middle left": (CALM,)}) == POINT
    assert taken(margin={"middle left": 0.2}, on_the_way={"middle left": (WORSE,), POINT: (CALM,)}) == POINT
    turns = replace(two, supports=TURNS.supports)
    assert taken(turns, margin={"": 0.01}, own=0.0065) == "by itself"
    assert taken(turns, on_the_way={"": (CALM,)}, own=0.0065) == "middle left"
    # One that cannot be computed is no way.
    assert taken(margin={POINT: inf, "middle left": 0.01}) == "middle left"

"""A point that two supports share has to bear both."""

from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.checks import point
from loadplan.checks.case import Case
from loadplan.model.verdict import Verdict
from tests.checks.builders import HOIST, about, case, load, support, words
from tests.checks.small_jobs import loads, only_stage, the, unit_job


def shared(low: float, high: float) -> Case:
    """A stand under a point and a hoist at it, its limit 500 N."""
    hoist = replace(support("H", HOIST), point="place A", height=None)
    return case(support("A"), hoist, loads={"A": load(100.0, 0.0, low), "H": load(100.0, 0.0, high)})


@pytest.mark.parametrize(("stand", "verdict"), [(300.0, Verdict.HOLDS), (300.001, Verdict.STOP)])
def test_what_both_put_on_it_is_added_up(stand: float, verdict: Verdict) -> None:
    told = point.check(shared(stand, 200.0))
    for name in ("A", "H"):
        found = about(told, name)
        assert (found.verdict, found.value, found.limit) == (verdict, pytest.approx(stand + 200.0), 500.0)
    assert words(about(told, "A").says).startswith("place A (A and H) takes at most")
    assert words(about(told, "H").says).startswith("place A (H and A) takes at most")


def test_places_without_a_point_are_each_their_own() -> None:
    bare = [replace(support(name), point="", limit=500.0) for name in "AB"]
    told = point.check(case(*bare, loads={"A": load(300.0), "B": load(400.0)}))
    assert [about(told, name).value for name in "AB"] == [300.0, 400.0]


def test_from_the_file_on(tmp_path: Path) -> None:
    """Two stands under one corner share its quarter of 400 kg; the corner bears 900 N, either of them alone."""
    places = {"A": [500, 500, 200], "B": [500, -500, 200], "C": [-500, 500, 200], "D": [-500, -500, 200]}
    job = unit_job(places, limits={"uneven_touch": 0})
    job["point"] = [{"name": "corner", "body": "unit", "at": [500, 500, 200], "limit": 900}]
    job["support"] = [*job["support"][1:], *({"name": name, "use": "stand", "under": "corner"} for name in "AX")]
    job["stage"][0]["in_place"] = [*places, "X"]
    told = only_stage(job, tmp_path)
    assert max(loads(told)[name] for name in "AX") < 900
    assert the(told, "point", "A").verdict is Verdict.STOP
    assert the(told, "point", "A").value == pytest.approx(loads(told)["A"] + loads(told)["X"])

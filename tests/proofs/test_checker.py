"""The checker by hand: small made-up reports with one thing wrong each, and the same without it."""

from typing import Any

import pytest

from tests.proofs.checker import GRAVITY, faults

Table = dict[str, Any]

WEIGHT = 10 * GRAVITY
CORNERS = {"a": (500, 400), "b": (500, -400), "c": (-500, -400), "d": (-500, 400)}
STILL, OVER = {"w": 0.0, "rx": 0.0, "ry": 0.0}, {"w": 0.5, "rx": 0.0, "ry": 1.0}
"""No motion; over the edge at x = 500 mm."""


def body(name: str, x: float, *, balanced: bool, rigid_with: tuple[str, ...] = ()) -> Table:
    return {"name": name, "mass_kg": 10.0, "cg_mm": [x, 0, 600], "balanced": balanced, "rigid_with": list(rigid_with)}


def told(bodies: list[Table], proof: Table, *, corners: str = "abcd", mounts: tuple[Table, ...] = ()) -> list[str]:
    """Return the faults of a report of one stage, its corner stands under the first body."""
    supports = [{"name": each, "body": bodies[0]["name"], "at_mm": [*CORNERS[each], 200]} for each in corners]
    proof = {"bodies": [each["name"] for each in bodies]} | proof
    return faults(
        {"stages": [{"name": "one", "bodies": bodies, "supports": supports, "joints": list(mounts), "proof": [proof]}]},
        {},
    )


def loads(quarters: tuple[float, ...]) -> Table:
    shares = zip(CORNERS, quarters, strict=True)
    return {"balance": {"supports": {name: WEIGHT / 4 * share for name, share in shares}, "joints": {}}}


@pytest.mark.parametrize(
    ("x", "quarters", "wrong"),
    [
        (0, (1, 1, 1, 1), []),
        (0, (2, 0, 2, 0), []),
        (0, (2.5, -0.5, 2.5, -0.5), ["b pulls", "d pulls"]),
        (0, (1, 1, 1, 1.000001), ["unit is out of balance"] * 3),
        (250, (1.5, 1.5, 0.5, 0.5), []),
        (250, (1, 1, 1, 1), ["unit is out of balance"]),
    ],
)
def test_loads_balance_and_none_pulls(x: float, quarters: tuple[float, ...], wrong: list[str]) -> None:
    found = told([body("unit", x, balanced=True)], loads(quarters))
    assert [line.split(": ")[-1] for line in found] == wrong


@pytest.mark.parametrize(("x", "wrong"), [(510, 0), (500, 0), (499.9991, 0), (499.99, 1), (0, 1)])
def test_a_motion_that_tips_does_not_raise_the_weight(x: float, wrong: int) -> None:
    """About the edge at x = 500 mm; a centre of gravity within 0.001 mm of it counts as over."""
    found = told([body("unit", x, balanced=False)], {"tips": {"unit": OVER}})
    assert len(found) == wrong
    assert all("the weight is raised" in line for line in found)


def test_a_motion_that_tips_presses_no_support() -> None:
    found = told([body("unit", 510, balanced=False)], {"tips": {"unit": OVER | {"w": 0.4}}})
    assert [line.split(": ")[-1] for line in found] == ["a is moved", "b is moved"]


def test_a_free_motion_lifts_none_either() -> None:
    two = told([body("unit", 500, balanced=False)], {"free": {"unit": OVER}}, corners="ab")
    three = told([body("unit", 500, balanced=False)], {"free": {"unit": OVER}}, corners="abc")
    assert (two, [line.split(": ")[-1] for line in three]) == ([], ["c is moved"])


@pytest.mark.parametrize(("other", "wrong"), [(OVER, []), (STILL, ["gearbox is bent", "unit is bent"])])
def test_a_motion_bends_no_rigid_whole(other: Table, wrong: list[str]) -> None:
    bodies = [
        body("unit", 510, balanced=False, rigid_with=("gearbox",)),
        body("gearbox", 600, balanced=False, rigid_with=("unit",)),
    ]
    found = told(bodies, {"tips": {"unit": OVER, "gearbox": other}})
    assert sorted(line.split(": ")[-1] for line in found) == wrong


@pytest.mark.parametrize(("x", "wrong"), [(500, []), (510, ["mount is stretched"])])
def test_a_motion_stretches_no_mount(x: float, wrong: list[str]) -> None:
    """Only one of two bodies goes over, about a mount in the edge, or 10 mm beside it."""
    bodies = [body("unit", 510, balanced=False), body("subframe", 0, balanced=False)]
    mount = {"name": "mount", "between": ["unit", "subframe"], "at_mm": [x, 0, 300]}
    found = told(bodies, {"tips": {"unit": OVER, "subframe": STILL}}, mounts=(mount,))
    assert [line.split(": ")[-1] for line in found] == wrong

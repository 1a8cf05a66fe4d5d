"""The vehicles that ship: invented, but nothing about them that a technician would not believe.

Ranges after three measured cars (centre of gravity 0.56 to 0.75 m high, 53 to 63 % of the mass on the
front axle) and published teardown and curb masses by class, widened for the classes they do not cover.
"""

import pytest
from shapely import Polygon, box

from loadplan.files import read_vehicle
from loadplan.model.vehicle import Part, Vehicle
from tests.tracked import ROOT, shipped

KNOWN = {  # name: wheelbase [m], least and most mass [kg] on the lift without front wheels
    "van-longitudinal-diesel-rwd": (3.45, 1850, 2150),
    "hatch-transverse-four-fwd": (2.56, 1000, 1250),
    "crossover-electric-front-drive-unit": (2.70, 1600, 1900),
    "van-electric-pack": (3.10, 2000, 2400),
    "pickup-body-on-frame": (3.56, 2100, 2500),
}
SADDLE = 0.09


def vehicle(name: str) -> Vehicle:
    return read_vehicle(ROOT / "vehicles" / f"{name}.toml")


def mean(parts: tuple[Part, ...], axis: int) -> float:
    return sum(each.mass * each.at[axis] for each in parts) / sum(each.mass for each in parts)


def test_no_other_vehicle_ships_but_typical_units() -> None:
    others = sorted(path.stem for path in shipped("vehicles") if not path.stem.startswith("typical-"))
    assert others == sorted(KNOWN)


@pytest.mark.parametrize("name", KNOWN)
def test_it_is_invented_and_says_so(name: str) -> None:
    assert vehicle(name).example
    assert "invented" in (ROOT / "vehicles" / f"{name}.toml").read_text().splitlines()[0]


@pytest.mark.parametrize("name", KNOWN)
def test_it_has_15_to_30_parts_and_a_believable_mass(name: str) -> None:
    parts = vehicle(name).parts
    _, least, most = KNOWN[name]
    assert 15 <= len(parts) <= 30
    assert least <= sum(each.mass for each in parts) <= most


@pytest.mark.parametrize("name", KNOWN)
def test_its_centre_of_gravity_is_where_one_would_look_for_it(name: str) -> None:
    parts = vehicle(name).parts
    wheelbase, _, _ = KNOWN[name]
    assert 0.50 <= 1 + mean(parts, 0) / wheelbase <= 0.65
    assert abs(mean(parts, 1)) < 0.03
    assert 0.50 <= mean(parts, 2) <= 0.80


@pytest.mark.parametrize("name", KNOWN)
def test_every_part_lies_between_the_bottom_and_the_top_of_its_body(name: str) -> None:
    told = vehicle(name)
    bodies = {each.name: each for each in told.bodies}
    for part in told.parts:
        body = bodies[part.body]
        assert body.bottom is not None
        assert body.top is not None
        assert body.bottom <= part.at[2] <= body.top, part.name


@pytest.mark.parametrize("name", KNOWN)
def test_a_saddle_fits_inside_the_outline_at_every_point_and_each_has_limit_and_advice(name: str) -> None:
    told = vehicle(name)
    outlines = {each.name: Polygon(each.outline) for each in told.bodies}
    half = SADDLE / 2
    for point in told.points:
        x, y, _ = point.at
        assert outlines[point.body].covers(box(x - half, y - half, x + half, y + half)), point.name
        assert point.limit is not None
        assert point.say


@pytest.mark.parametrize("name", KNOWN)
def test_every_body_can_be_held_and_every_tie_has_its_place(name: str) -> None:
    told = vehicle(name)
    held = {each.body for each in told.points}
    assert held == {each.name for each in told.bodies}
    assert all(each.at for each in told.joints)

"""Small jobs in one file, where the lift's own keys stand beside how it is used."""

from pathlib import Path

import pytest

from loadplan.limits import GRAVITY
from tests.files.builders import Raw, faults, read, small

WHOLE = small()["lift"]
OWN = {key: WHOLE[key] for key in ("name", "rating", "arms", "stiffness")}
USE = {"use": "bay", "body": "shell", "pads": ["sill left", "sill right"]}


@pytest.mark.parametrize(
    "lift", [WHOLE, OWN | USE, [OWN, USE], [USE, OWN], [OWN | USE], [OWN | {"name": "spare"}, OWN | USE]]
)
def test_every_way_to_write_the_lift_gives_the_same(tmp_path: Path, lift: object) -> None:
    found = read(tmp_path, small(lift=lift)).lift
    assert found is not None
    assert (found.lift.name, found.lift.rating, found.body) == ("bay", pytest.approx(3000 * GRAVITY), "shell")
    assert [arm.name for arm in found.arms] == ["sill left", "sill right"]


def test_a_lift_needs_no_name_where_there_is_one(tmp_path: Path) -> None:
    lift = {key: value for key, value in WHOLE.items() if key != "name"}
    found = read(tmp_path, small(lift=lift, stage=[{"name": "Off the lift", "in_place": ["A"], "cleared": ["lift"]}]))
    assert found.lift is not None
    assert found.lift.lift.name == "lift"


def test_a_lift_that_is_not_used_is_the_shops_only(tmp_path: Path) -> None:
    job = read(tmp_path, small(lift=[OWN]))
    assert job.lift is None
    assert [lift.name for lift in job.shop.lifts] == ["bay"]


@pytest.mark.parametrize(
    ("lift", "told"),
    [
        ([OWN | USE, USE], "lift: is used 2 times: a job uses one lift"),
        (7, "lift: must be written [lift], once: the lift that the job uses"),
        ([7], "lift: must be written [lift], once: the lift that the job uses"),
        (OWN | USE | {"sealing": 3900}, 'lift 1 "bay", sealing: is not a key here; did you mean "ceiling"?'),
        (OWN | USE | {"padds": 3}, 'lift, padds: is not a key here; did you mean "pads"?'),
        (USE, 'lift, use: there is no lift in the shop "bay"; there is none at all'),
    ],
)
def test_a_lift_that_cannot_be_understood_is_told(tmp_path: Path, lift: object, told: str) -> None:
    (found,) = faults(tmp_path, small(lift=lift))
    assert str(found).endswith(told)


def test_tables_of_an_own_file_may_not_stand_here_too(tmp_path: Path) -> None:
    raw: Raw = small(shop="shop.toml", lift=None)
    assert "equipment" in [each.key for each in faults(tmp_path, raw)]

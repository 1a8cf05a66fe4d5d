"""A vehicle's tables with the unit at each number: they mean the same in a file in other units."""

from pathlib import Path

from loadplan.files.job_reader import read_vehicle
from loadplan.files.other_units import with_units
from loadplan.units import System
from tests.files.toml_text import JOBS

CRADLE = JOBS / "cradle-unit.toml"
"""Holds every key that a vehicle's tables have: `test_nothing_ignored.py` sees to that."""


def test_every_amount_of_a_vehicle_means_the_same_in_a_file_in_other_units(tmp_path: Path) -> None:
    taken_in = with_units(CRADLE.read_text("utf-8"), System.METRIC)
    path = tmp_path / CRADLE.name
    path.write_text(taken_in.replace('units = "metric"', 'units = "us"'), "utf-8")
    told = "loadplan/files/other_units.py knows what a bare number of each key measures"
    assert read_vehicle(path) == read_vehicle(CRADLE), told

"""What ships is found, in the source tree and as installed."""

from pathlib import Path

import pytest

from loadplan.files import read_vehicle, shipped, shipped_folder, shipped_vehicles


def test_every_vehicle_that_ships_can_be_read() -> None:
    names = [name for name, _ in shipped_vehicles()]
    assert "van-longitudinal-diesel-rwd" in names
    assert names == sorted(names)
    assert all(read_vehicle(path).example for _, path in shipped_vehicles())


def test_an_installed_package_finds_its_own_copy(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    package = tmp_path / "site-packages" / "loadplan"
    monkeypatch.setattr(shipped, "_PACKAGE", package)
    assert shipped_folder("demo") == tmp_path / "site-packages" / "demo"
    (package / "shipped" / "demo").mkdir(parents=True)
    assert shipped_folder("demo") == package / "shipped" / "demo"

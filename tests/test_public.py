"""What Python callers get, and how quickly."""

import subprocess
import sys
import tomllib
from datetime import UTC, datetime
from pathlib import Path

import pytest

import loadplan
from loadplan.files import shipped_folder
from loadplan.files.work_record_file import add_to_record, record_path
from loadplan.model.work_record import Deed, FoundAtStand, RecordEntry

HEAVY = ("numpy", "scipy", "matplotlib", "shapely", "pydantic", "rich")
DEMO = shipped_folder("demo") / "us-units.toml"
NOON = datetime(2026, 11, 20, 12, tzinfo=UTC)


def modules_after(code: str) -> set[str]:
    """Return the modules that are loaded after some code in a fresh interpreter."""
    run = [sys.executable, "-c", f"{code}\nimport sys\nprint('\\nmodules', *sys.modules)"]
    out = subprocess.run(run, capture_output=True, text=True, check=True).stdout
    return {name.split(".")[0] for name in out.rpartition("\nmodules")[2].split()}


def test_there_are_at_most_eight_names_and_each_is_there() -> None:
    assert len(loadplan.__all__) <= 8
    assert dir(loadplan) == sorted(loadplan.__all__)
    for name in loadplan.__all__:
        assert getattr(loadplan, name) is not None


def test_an_unknown_name_is_an_attribute_error() -> None:
    with pytest.raises(AttributeError, match="no attribute 'chekc'"):
        loadplan.chekc  # noqa: B018


def test_the_version_is_that_of_the_package() -> None:
    project = tomllib.loads((Path(loadplan.__file__).parents[1] / "pyproject.toml").read_text())["project"]
    assert project.get("version", loadplan.__version__) == loadplan.__version__


def test_the_package_is_typed() -> None:
    assert (Path(loadplan.__file__).parent / "py.typed").exists()


def test_import_alone_loads_nothing_heavy() -> None:
    assert not modules_after("import loadplan") & set(HEAVY)


def test_a_job_is_read_checked_and_told() -> None:
    report = loadplan.check(loadplan.read_job(DEMO))
    told = report.to_dict()
    assert report.verdict == told["verdict"]
    assert told["schema"] == "loadplan-report-1"
    assert told["basis"] == "example"


def test_a_file_is_checked_with_what_was_read_at_the_bay_and_a_job_without(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text(DEMO.read_text("utf-8"), "utf-8")
    planned = loadplan.check_file(path)
    assert (planned.to_dict(), planned.record) == (loadplan.check(loadplan.read_job(path)).to_dict(), ())
    step, stand = planned.assessment.stages[0].state.name, planned.assessment.stages[0].state.supports[0].name
    found = FoundAtStand(stand, 9_000.0, None, None, None)
    add_to_record(path, RecordEntry(NOON, "K", "0a1b2c3d", step, Deed.READ, "", found))
    read = loadplan.check_file(str(path))
    assert loadplan.check(loadplan.read_job(path)).verdict == planned.verdict
    assert read.assessment.verdict > planned.assessment.verdict
    told = read.to_dict()
    assert told["verdict"] == read.verdict
    assert any("counts: the verdict is the worse of the plan's and that with it" in each for each in read.record)
    assert told["record"] == list(read.record)


def test_a_record_that_cannot_be_read_is_a_caution_and_is_told(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text(DEMO.read_text("utf-8"), "utf-8")
    record_path(path).write_text("no record", "utf-8")
    report = loadplan.check_file(path)
    assert (report.verdict, loadplan.check(loadplan.read_job(path)).verdict) == ("caution", "holds")
    assert "cannot be read" in report.record[0]


def test_what_cannot_be_used_carries_file_table_key_and_message(tmp_path: Path) -> None:
    with pytest.raises(loadplan.InputError) as caught:
        loadplan.read_job(tmp_path / "nowhere.toml")
    error = caught.value
    assert error.file.endswith("nowhere.toml")
    assert (error.table, error.key) == ("", "")
    assert error.message

"""Wheel, source archive and editable install: each works from any folder, with vehicles and demo jobs in it."""

import json
import shutil
import subprocess
import sys
import sysconfig
import tarfile
import venv
import zipfile
from pathlib import Path

import pytest

from tests.house.tree import MANUAL
from tests.tracked import ROOT, project_files, shipped

pytestmark = pytest.mark.slow

SHIPPED = {f"loadplan/shipped/{folder}/{path.name}" for folder in ("demo", "vehicles") for path in shipped(folder)}


def _run(*command: str | Path, cwd: Path) -> str:
    done = subprocess.run([str(each) for each in command], cwd=cwd, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def _built(source: Path, folder: Path, *targets: str) -> Path:
    _run(sys.executable, "-m", "hatchling", "build", "-d", folder, *targets, cwd=source)
    return folder


@pytest.fixture(scope="session")
def dist(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Both archives, built from the project's own files."""
    tree = tmp_path_factory.mktemp("tree")
    for path in project_files():
        copy = tree / path.relative_to(ROOT)
        copy.parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(path, copy)
    return _built(tree, tmp_path_factory.mktemp("dist"))


@pytest.fixture
def fresh(tmp_path: Path) -> Path:
    """The folder of programs of a fresh environment, in which only what loadplan needs is to be had."""
    venv.create(tmp_path / "venv", with_pip=False)
    own = sysconfig.get_path("purelib", vars={"base": str(tmp_path / "venv"), "platbase": str(tmp_path / "venv")})
    # The packages of this environment without what its own .pth files add: an editable loadplan stays unseen.
    Path(own, "beside.pth").write_text(sysconfig.get_path("purelib") + "\n", encoding="utf-8")
    return Path(sysconfig.get_path("scripts", vars={"base": str(tmp_path / "venv")}))


def _works(programs: Path, elsewhere: Path) -> None:
    """Use the installed program from a folder that has nothing to do with it."""
    elsewhere.mkdir()
    listed = json.loads(_run(programs / "loadplan", "vehicles", "--json", cwd=elsewhere))
    assert {each["name"] for each in listed["vehicles"]} >= {path.stem for path in shipped("vehicles")}
    _run(programs / "loadplan", "demo", "jobs", cwd=elsewhere)
    assert {path.name for path in (elsewhere / "jobs").iterdir()} >= {path.name for path in shipped("demo")}
    assert "HOLDS ON PAPER" in _run(programs / "loadplan", "check", "jobs/front-unit.toml", cwd=elsewhere)


def _install(programs: Path, *what: str | Path) -> None:
    python = programs / "python"
    _run(sys.executable, "-m", "pip", "--python", python, "install", "--no-deps", "--no-index", *what, cwd=programs)


def _home(programs: Path) -> Path:
    return Path(_run(programs / "python", "-c", "import loadplan; print(loadplan.__file__)", cwd=programs).strip())


def test_the_wheel_works_from_any_folder(dist: Path, fresh: Path, tmp_path: Path) -> None:
    _install(fresh, next(dist.glob("*.whl")))
    assert tmp_path in _home(fresh).parents
    _works(fresh, tmp_path / "elsewhere")


def test_an_editable_install_works_from_any_folder(fresh: Path, tmp_path: Path) -> None:
    _install(fresh, "--no-build-isolation", "--editable", ROOT)
    assert _home(fresh) == ROOT / "loadplan" / "__init__.py"
    _works(fresh, tmp_path / "elsewhere")


def test_the_source_archive_makes_the_same_wheel(dist: Path, tmp_path: Path) -> None:
    with tarfile.open(next(dist.glob("*.tar.gz"))) as archive:
        archive.extractall(tmp_path, filter="data")
    (source,) = tmp_path.iterdir()
    again = _built(source, tmp_path / "again", "-t", "wheel")
    assert _names(next(again.glob("*.whl"))) == _names(next(dist.glob("*.whl")))


def test_vehicles_demo_manual_types_and_licence_are_in_the_wheel(dist: Path) -> None:
    wheel = next(dist.glob("*.whl"))
    assert {*SHIPPED, *(f"loadplan/manual/{topic}.md" for topic in MANUAL), "loadplan/py.typed"} <= _names(wheel)
    with zipfile.ZipFile(wheel) as archive:
        about = next(name for name in archive.namelist() if name.endswith("METADATA"))
        told = archive.read(about).decode("utf-8")
    assert "License-Expression: MIT\n" in told
    assert "Permission is hereby granted, free of charge" in told


def _names(wheel: Path) -> set[str]:
    with zipfile.ZipFile(wheel) as archive:
        return set(archive.namelist())

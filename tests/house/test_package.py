"""Wheel, source archive and editable install: each works from any folder, with vehicles and demo jobs in it."""

import json
import shutil
import subprocess
import sys
import sysconfig
import tarfile
import tomllib
import venv
import zipfile
from importlib import metadata
from pathlib import Path

import pytest
from packaging.requirements import Requirement

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


def test_the_source_archive_carries_the_licence(dist: Path) -> None:
    with tarfile.open(next(dist.glob("*.tar.gz"))) as archive:
        assert any(name.endswith("/loadplan/LICENSE") for name in archive.getnames())


def test_one_file_runs_where_python_stands_and_nothing_else_is_installed(dist: Path, tmp_path: Path) -> None:
    wheel, beside = next(dist.glob("*.whl")), tmp_path / "beside"
    single = tmp_path / "Grube Süd 2" / "loadplan.pyz"
    single.parent.mkdir()
    _run(sys.executable, "-m", "pip", "install", "--no-deps", "--no-index", "--target", beside, wheel, cwd=tmp_path)
    _copy_needed(beside)
    pack = ROOT / ".ci" / "single_file.py"
    _run(sys.executable, pack, "--site-packages", beside, "-c", "loadplan", "-o", single, cwd=tmp_path)
    venv.create(tmp_path / "bare", with_pip=False)
    bare = Path(sysconfig.get_path("scripts", vars={"base": str(tmp_path / "bare")})) / "python"
    elsewhere = tmp_path / "Höfe und Hallen"
    elsewhere.mkdir()
    # A home that takes nothing, as on a computer that is locked: what is unpacked goes where SHIV_ROOT says.
    home = tmp_path / "no-folder"
    home.write_text("")
    settings = {"SHIV_ROOT": str(tmp_path / "unpacked"), "HOME": str(home)}

    def run(where: dict[str, str], *words: str) -> subprocess.CompletedProcess[str]:
        command = [str(bare), "-I", str(single), *words]
        return subprocess.run(command, cwd=elsewhere, env=where, capture_output=True, text=True, check=False)

    def use(*words: str) -> str:
        done = run(settings, *words)
        assert (done.returncode, done.stderr) == (0, "")
        return done.stdout

    told = run({"HOME": str(home)}, "--version")
    assert (told.returncode, told.stdout) == (2, "")
    assert "name another folder by SHIV_ROOT" in told.stderr
    assert "Traceback" not in told.stderr
    use("demo", "jobs")
    assert "HOLDS ON PAPER" in use("check", "jobs/front-unit.toml")
    use("sheet", "jobs/us-units.toml", "-o", "sheet.pdf")
    assert (elsewhere / "sheet.pdf").read_bytes().startswith(b"%PDF")
    # Processes beside it find their packages, too.
    assert len(use("draw", "jobs/front-unit.toml", "-o", "plans").splitlines()) >= 24


def _copy_needed(folder: Path) -> None:
    """Copy the packages that loadplan needs out of this environment, so that nothing has to be fetched."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    wanted, seen = [project["dependencies"]], {"loadplan"}
    while wanted:
        for told in wanted.pop():
            needed = Requirement(told)
            if needed.name not in seen and (needed.marker is None or needed.marker.evaluate({"extra": ""})):
                seen.add(needed.name)
                wanted.append(metadata.requires(needed.name) or [])
                for file in metadata.files(needed.name) or ():
                    source = Path(str(file.locate()))
                    if ".." not in file.parts and source.is_file():
                        (folder / file).parent.mkdir(parents=True, exist_ok=True)
                        shutil.copy(source, folder / file)


def test_vehicles_demo_manual_types_and_licence_are_in_the_wheel(dist: Path) -> None:
    wheel = next(dist.glob("*.whl"))
    assert {*SHIPPED, *(f"loadplan/manual/{topic}.md" for topic in MANUAL), "loadplan/py.typed"} <= _names(wheel)
    with zipfile.ZipFile(wheel) as archive:
        about = next(name for name in archive.namelist() if name.endswith("METADATA"))
        told = archive.read(about).decode("utf-8")
        text = archive.read(next(name for name in archive.namelist() if name.endswith("licenses/loadplan/LICENSE")))
    assert text == (ROOT / "loadplan" / "LICENSE").read_bytes()
    assert "License-Expression: MIT\n" in told
    assert "Permission is hereby granted, free of charge" in told


def _names(wheel: Path) -> set[str]:
    with zipfile.ZipFile(wheel) as archive:
        return set(archive.namelist())

"""Each wall broken once: a guard that never fires is worse than none."""

import ast
import json
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from tests.house.tree import ROOT, files

PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
CONTRACTS = {each["id"]: each["name"] for each in PROJECT["tool"]["importlinter"]["contracts"]}

BREACHES = (
    ("floors", "loadplan/statics/mass.py", "import loadplan.report.words.vocabulary"),
    ("floors", "loadplan/attic.py", "ROOM_WITHOUT_FLOOR = 1"),
    ("report-floors", "loadplan/report/words/columns.py", "import loadplan.report.json_output"),
    ("report-floors", "loadplan/report/words/columns.py", "import loadplan.report.drawing.style"),
    ("report-floors", "loadplan/report/drawing/view.py", "import loadplan.report.pictures.cg_region"),
    ("report-floors", "loadplan/report/drawing/animation.py", "import loadplan.report.pictures.render"),
    ("report-floors", "loadplan/report/text/order_page.py", "import loadplan.report.pictures.cg_region"),
    ("report-floors", "loadplan/report/pictures/rulers.py", "import loadplan.report.text.proof"),
    ("report-floors", "loadplan/report/pictures/rulers.py", "import loadplan.report.sheet.stand_table"),
    ("report-floors", "loadplan/report/sheet/tape_plan.py", "import loadplan.report.lesson.slide"),
    ("report-floors", "loadplan/report/attic.py", "ROOM_WITHOUT_FLOOR = 1"),
    ("planning-floors", "loadplan/planning/settings/assignment.py", "import loadplan.planning.register.bookings"),
    ("planning-floors", "loadplan/planning/placement/proposal.py", "import loadplan.planning.interview.answer_parsing"),
    ("planning-floors", "loadplan/planning/whatif.py", "import loadplan.planning.lesson.lesson_unit"),
    ("planning-floors", "loadplan/planning/attic.py", "ROOM_WITHOUT_FLOOR = 1"),
    ("drawing-plain", "loadplan/report/drawing/style.py", "import loadplan.model.verdict"),
    ("drawing-plain", "loadplan/report/drawing/pen.py", "import loadplan.units"),
    ("drawing-plain", "loadplan/report/drawing/graph.py", "import loadplan.report.words.vocabulary"),
    ("drawing-plain", "loadplan/report/drawing/graph.py", "import loadplan.checks.case"),
    ("words-draw-nothing", "loadplan/report/words/columns.py", "import matplotlib.figure"),
    ("words-draw-nothing", "loadplan/report/words/columns.py", "import loadplan.report.drawing.text_width"),
    ("words-draw-nothing", "loadplan/report/text/proof.py", "import loadplan.report.drawing.text_width"),
    ("words-draw-nothing", "loadplan/report/json_output.py", "import loadplan.report.pictures.render"),
    ("one-door", "loadplan/report/sheet/floor_sheet.py", "import loadplan.files.safe_write"),
    ("one-door", "loadplan/planning/settings/set_heights.py", "import loadplan.files.safe_write"),
    ("files-apart", "loadplan/files/names.py", "import loadplan.statics.mass"),
    ("no-circles", "loadplan/model/vehicle.py", "import loadplan.model.job"),
    ("no-circles", "loadplan/report/drawing/view.py", "import loadplan.report.drawing.pen"),
    ("no-circles", "loadplan/planning/settings/removal_states.py", "import loadplan.planning.settings.removal_order"),
    ("pure-floors", "loadplan/checks/phrases.py", "import pathlib"),
    ("pure-floors", "loadplan/model/job.py", "import http.server"),
    ("reports-apart", "loadplan/report/words/vocabulary.py", "import typer"),
    ("nouns-plain", "loadplan/model/vehicle.py", "import numpy"),
    ("no-solver-library", "loadplan/statics/mass.py", "import scipy.optimize"),
)
"""Contract, a file, and the line in it that breaks the contract."""

LINT_BAIT = '''"""A file with a fault of each kind that lint has to find."""
import datetime
import os.path
LONG = '{long}'

def shown(value: int, other, flag: bool = False) -> int:
    """Show.

    Args:
        value: A number.
        other: Another.
        flag: A flag.
    """
    import json
    print(value)
    # value = 3
    try:
        return int(os.path.exists(str(value))) + datetime.datetime.now().year
    except Exception:
        raise Exception("x")

def many(a: int, b: int, c: int, d: int, e: int, f: int) -> None:
    pass
'''

LINT_FINDS = {
    "ANN001", "ARG001", "BLE001", "B904", "D103", "DOC201", "DOC501", "DTZ005", "E501", "ERA001", "F401", "FBT001",
    "I001", "PLC0415", "PLR0913", "PTH110", "T201", "TRY002",
}  # fmt: skip

TYPES_BAIT = '''"""A match that forgets a case."""

from enum import Enum


class Side(Enum):
    LEFT = 1
    RIGHT = 2


def word(side: Side) -> str:
    match side:
        case Side.LEFT:
            word = "left"
    return word
'''


def _run(*command: str, cwd: Path, stdin: str = "") -> tuple[int, str]:
    done = subprocess.run(
        [sys.executable, "-m", *command], cwd=cwd, input=stdin, capture_output=True, text=True, check=False
    )
    return done.returncode, done.stdout + done.stderr


def _lint_imports(tree: Path, contract: str) -> tuple[int, str]:
    call = f"lint_imports(limit_to_contracts=({contract!r},), no_cache=True)"
    code = f"from importlinter.cli import lint_imports; raise SystemExit({call})"
    done = subprocess.run([sys.executable, "-c", code], cwd=tree, capture_output=True, text=True, check=False)
    return done.returncode, done.stdout + done.stderr


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    shutil.copytree(ROOT / "loadplan", tmp_path / "loadplan", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    return tmp_path


@pytest.mark.slow
@pytest.mark.parametrize(("contract", "file", "line"), BREACHES)
def test_a_breach_of_each_wall_is_found(copy: Path, contract: str, file: str, line: str) -> None:
    path = copy / file
    before = path.read_text("utf-8") if path.exists() else ""
    path.write_text(f"{before}\n{line}\n", encoding="utf-8")
    code, told = _lint_imports(copy, contract)
    assert code == 1, told
    assert f"{CONTRACTS[contract]} BROKEN" in told


def test_every_wall_is_broken_once_here() -> None:
    assert {contract for contract, _, _ in BREACHES} == set(CONTRACTS)


def test_only_the_command_line_imports_late() -> None:
    rooms = [path.relative_to(ROOT) for path in files({".py"}) if ROOT / "loadplan" in path.parents and _late(path)]
    elsewhere = [str(room) for room in rooms if room.parent.name != "cli"]
    # Names when they are asked for; scipy where a step wants it; what paints and measures words where one process does;
    # the words of a record where there is one.
    late = [
        "loadplan/__init__.py",
        "loadplan/board/printing.py",
        "loadplan/planning/judged_readings.py",
        "loadplan/report/drawing/picture_file.py",
        "loadplan/report/drawing/text_width.py",
        "loadplan/report/record_beside.py",
        "loadplan/statics/load_bounds.py",
        "loadplan/statics/readings_together.py",
    ]
    assert sorted(elsewhere) == late
    assert len(rooms) > len(elsewhere)


def _late(path: Path) -> list[int]:
    tree = ast.parse(path.read_text("utf-8"))
    bodies = [each for each in ast.walk(tree) if isinstance(each, ast.FunctionDef | ast.AsyncFunctionDef)]
    imports = (ast.Import, ast.ImportFrom)
    return [inner.lineno for body in bodies for inner in ast.walk(body) if isinstance(inner, imports)]


def test_lint_finds_a_fault_of_each_kind() -> None:
    options = ("--no-cache", "--output-format=json", "--stdin-filename=loadplan/bait.py")
    _, told = _run("ruff", "check", *options, "-", cwd=ROOT, stdin=LINT_BAIT.replace("{long}", "x" * 120))
    assert LINT_FINDS - {each["code"] for each in json.loads(told)} == set()


def test_types_find_a_case_that_is_forgotten(tmp_path: Path) -> None:
    (tmp_path / "bait.py").write_text(TYPES_BAIT, encoding="utf-8")
    config = str(ROOT / "pyproject.toml")
    code, told = _run("mypy", "--config-file", config, "--cache-dir", str(tmp_path / "cache"), "bait.py", cwd=tmp_path)
    assert code == 1
    assert "exhaustive-match" in told


def test_branches_are_measured_with_a_floor() -> None:
    coverage = PROJECT["tool"]["coverage"]
    assert coverage["run"]["branch"] is True
    assert coverage["report"]["fail_under"] >= 95
    # Without decimals 94.5 would round up to the floor.
    assert coverage["report"]["precision"] >= 2

"""What a start loads: the command line answers before anything heavy is there."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.house.tree import ROOT

HEAVY = ("numpy", "scipy", "matplotlib", "shapely")

LOOK = """
import sys
sys.argv = ["loadplan", *{arguments!r}]
try:
    from loadplan.cli import main
    main()
except SystemExit as end:
    code = end.code
print("\\nloaded:", *sorted(name for name in {asked!r} if name in sys.modules), "code:", code)
"""


ASKED = (*HEAVY, "pydantic", "typer")


def _loaded(*arguments: str) -> str:
    code = LOOK.format(arguments=arguments, asked=ASKED)
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    return done.stdout.splitlines()[-1]


def test_help_waits_for_nothing() -> None:
    assert _loaded("--help") == "loaded: typer code: 0"


@pytest.mark.parametrize("arguments", [("--version",), ("check", "--help"), ("draw", "--help"), ("manual",)])
def test_what_computes_nothing_waits_for_nothing_heavy(arguments: tuple[str, ...]) -> None:
    # typer itself may read options with pydantic.
    assert _loaded(*arguments) in {"loaded: typer code: 0", "loaded: pydantic typer code: 0"}


def test_a_check_draws_nothing_and_asks_no_solver_library() -> None:
    assert _loaded("check", "demo/front-unit.toml") == "loaded: numpy pydantic shapely typer code: 0"


@pytest.mark.parametrize("said", [{}, {"OPENBLAS_NUM_THREADS": "3"}])
def test_small_matrices_are_left_to_one_thread_unless_somebody_says_otherwise(said: dict[str, str]) -> None:
    code = LOOK.format(arguments=("--version",), asked=ASKED) + "\nimport os; print(os.environ['OPENBLAS_NUM_THREADS'])"
    there = {name: value for name, value in os.environ.items() if name != "OPENBLAS_NUM_THREADS"} | said
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True, env=there)
    # It has to be said before numpy is loaded: what is said later is not heard.
    loaded, threads = done.stdout.splitlines()[-2:]
    assert "numpy" not in loaded
    assert threads == said.get("OPENBLAS_NUM_THREADS", "1")


def test_the_package_alone_loads_nothing() -> None:
    code = f"import sys, loadplan; print([name for name in {ASKED!r} if name in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout == "[]\n"


@pytest.mark.parametrize(
    ("arguments", "scipy"),
    [
        (("check", "demo/us-units.toml"), []),
        (("draw", "demo/us-units.toml", "-o", "{folder}", "--as", "svg"), []),
        (("sheet", "demo/us-units.toml", "-o", "{folder}/sheet.pdf"), []),
        (("check", "demo/us-units.toml", "--recheck"), ["scipy"]),
        (("weigh", "demo/readings.toml"), ["scipy"]),
    ],
)
def test_scipy_is_loaded_only_where_it_is_used(arguments: tuple[str, ...], scipy: list[str], tmp_path: Path) -> None:
    told = _loaded(*(each.format(folder=tmp_path) for each in arguments))
    assert [name for name in told.split() if name in {"scipy", "numpy"}] == ["numpy", *scipy]


def test_the_live_plan_does_without_scipy() -> None:
    code = "import sys, loadplan.board.server; print('scipy' in sys.modules, 'starlette' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout == "False True\n"

"""The README's commands, and what runs them."""

import os
import subprocess

from loadplan.cli import app
from tests.house.tree import ROOT, blocks, rows, section

FIRST, SECOND = range(2)


def test_each_block_is_one_command() -> None:
    assert len(blocks("sh")) == len(blocks("powershell")) == 2
    assert all("\n" not in block for block in (*blocks("sh"), *blocks("powershell")))


def test_the_first_checks_the_demo_and_then_draws_it_and_the_second_runs_all_tests() -> None:
    first, second = (block.split(" && ") for block in blocks("sh"))
    assert first[-2:] == [
        ".venv/bin/loadplan check demo/front-unit.toml",
        ".venv/bin/loadplan draw demo/front-unit.toml -o plans",
    ]
    assert second[-1] == ".venv/bin/python -m pytest"


def test_powershell_does_the_same() -> None:
    assert [_in_powershell(block) for block in blocks("sh")] == blocks("powershell")


def _in_powershell(command: str) -> str:
    steps = command.replace("python3", "py").replace(".venv/bin/", ".venv\\Scripts\\").replace("demo/", "demo\\")
    first, *others = steps.split(" && ")
    return "; ".join([first, *(f"if ($LASTEXITCODE -eq 0) {{ {step} }}" for step in others)])


def test_every_command_is_listed() -> None:
    known = {each.name or getattr(each.callback, "__name__", "") for each in app.registered_commands}
    listed = {row[0].strip("`").split()[1] for row in rows(section("Commands"))}
    assert listed == known | {"COMMAND"}


def test_what_runs_before_a_change_lands_takes_its_commands_from_the_readme() -> None:
    script = ROOT / ".ci" / "run"
    text = script.read_text("utf-8")
    reads = text[text.index("readme() {") : text.index("}\n\nstep") + 1]
    for number, block in enumerate(blocks("sh"), start=1):
        told = subprocess.run(["bash", "-c", f"{reads}\nreadme {number}"], cwd=ROOT, capture_output=True, text=True)
        assert told.stdout.strip() == block
    for tool in (
        "ruff",
        "format",
        "mypy",
        "lint-imports",
        "--cov",
        "-m slow",
        "OPENBLAS_CORETYPE=",
        "LOADPLAN_EXAMPLES=",
    ):
        assert tool in text
    assert os.access(script, os.X_OK)

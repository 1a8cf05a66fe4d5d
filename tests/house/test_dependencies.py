"""What is imported is asked for, what is asked for has its reason, and nothing binds the licence."""

import ast
import re
import sys
import tomllib

from tests.house.tree import ROOT, files

PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text("utf-8")

IMPORTED_AS = {
    "pynitefea": "Pynite",
    "pillow": "PIL",
    "zxing-cpp": "zxingcpp",
    "pytest-cov": "pytest_cov",
    "pytest-xdist": "xdist",
    "import-linter": "importlinter",
    "mujoco-core": "mujoco",
    "axe-playwright-python": "axe_playwright_python",
    "fontpkg-atkinson-hyperlegible": "fontpkg_atkinson_hyperlegible",
}
"""Packages whose module has another name."""

TOOLS = {
    "coverage",
    "hatchling",
    "importlinter",
    "mypy",
    "pytest_cov",
    "ruff",
    "scipy-stubs",
    "shiv",
    "types-shapely",
    "xdist",
}
"""Run, or read by a tool, not imported by tests."""


def _asked(requirements: list[str]) -> set[str]:
    names = {re.split(r"[<>=!~ \[;]", each, maxsplit=1)[0].lower() for each in requirements}
    return {IMPORTED_AS.get(name, name) for name in names}


RUN = _asked(PROJECT["dependencies"]) | _asked(PROJECT["optional-dependencies"]["tls"])
TEST = _asked(PROJECT["optional-dependencies"]["test"])


def _imported(*rooms: str) -> set[str]:
    found: set[str] = set()
    for path in files({".py"}):
        if path.relative_to(ROOT).parts[0] in rooms:
            for node in ast.walk(ast.parse(path.read_text("utf-8"))):
                match node:
                    case ast.Import(names=names):
                        found |= {each.name.partition(".")[0] for each in names}
                    case ast.ImportFrom(module=str(module), level=0):
                        found.add(module.partition(".")[0])
    return found - set(sys.stdlib_module_names) - {"loadplan", "tests"}


def test_the_package_imports_what_it_asks_for() -> None:
    # What pydantic validates with comes with it.
    assert _imported("loadplan", "figures") - {"pydantic_core"} == RUN


def test_tests_import_what_the_test_extra_asks_for() -> None:
    assert _imported("tests") - {"pydantic_core"} <= RUN | TEST
    assert _imported("tests") >= TEST - TOOLS - RUN


def test_each_package_has_its_reason() -> None:
    reasons = DEVELOPERS[DEVELOPERS.index("## What it stands on") : DEVELOPERS.index("## Decisions")]
    named = {name for row in re.findall(r"^\| ([^|]+) \|", reasons, re.MULTILINE) for name in row.lower().split(", ")}
    assert {IMPORTED_AS.get(name, name) for name in named} - {"package", "---"} == RUN | TEST


def test_what_binds_the_licence_stays_out_of_the_package() -> None:
    assert "quadprog" in TEST - RUN

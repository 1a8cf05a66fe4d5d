"""Which tests run what is broken, and for a constant which run what reads it."""

from pathlib import Path

import pytest
from coverage import CoverageData

from tests.mutation import covering
from tests.mutation.covering import Covering
from tests.mutation.mutants import Mutant

FILE = "loadplan/statics/made_for_a_test.py"

CODE = '''"""Made for a test."""

LIMIT = 2.0
OTHER = (
    "a",
    "b",
)
DOUBLE = 2 * LIMIT


def share(load: float) -> float:
    return load / DOUBLE


def names() -> tuple[str, ...]:
    return OTHER
'''


@pytest.fixture
def made(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Covering:
    monkeypatch.setattr(covering, "ROOT", tmp_path)
    path = tmp_path / FILE
    path.parent.mkdir(parents=True)
    path.write_text(CODE, "utf-8")
    for each in (covering._tree, covering.reading, covering.constant):
        each.cache_clear()
    data = CoverageData(str(tmp_path / "coverage"))
    for context, lines in {"": [1, 3, 4, 8, 11, 15], "test_share|run": [12], "test_names|run": [16]}.items():
        data.set_context(context)
        data.add_lines({str(path): lines})
    data.write()
    return Covering([tmp_path / "coverage"])


def _tests(made: Covering, line: int) -> list[str]:
    return made.tests(Mutant(FILE, (line, line), "", "", ""))


def test_a_line_is_run_by_who_runs_it(made: Covering) -> None:
    assert _tests(made, 12) == ["test_share"]


@pytest.mark.parametrize(("line", "tests"), [(8, ["test_share"]), (5, ["test_names"])])
def test_a_constant_is_tried_by_who_runs_what_reads_it(made: Covering, line: int, tests: list[str]) -> None:
    assert _tests(made, line) == tests


def test_what_is_read_on_import_is_tried_by_all_of_the_file(made: Covering) -> None:
    assert _tests(made, 3) == ["test_names", "test_share"]

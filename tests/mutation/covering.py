"""Which tests run a line: as coverage saw it, the nearest tests first."""

import ast
from collections import Counter
from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path, PurePath

from coverage import CoverageData

from tests.mutation.mutants import ROOT, Mutant

NEAR = {
    "statics": (
        "tests/statics/",
        "tests/checks/",
        "tests/planning/settings/test_removal_order.py",
        "tests/test_passing.py",
    ),
    "checks": ("tests/checks/",),
    "planning": ("tests/planning/",),
    "units": ("tests/test_units.py", "tests/test_unit_spellings.py"),
    "stages": ("tests/test_stages.py",),
}
"""Where a room's tests are: what statics computes for orders and findings is held there."""


class Covering:
    """The tests that run each line, read from what `pytest --cov --cov-context=test` left behind."""

    def __init__(self, paths: Iterable[Path]) -> None:
        """Read the files.

        Args:
            paths: Coverage's files.
        """
        self._by_file: dict[str, dict[int, set[str]]] = {}
        for path in paths:
            data = CoverageData(str(path))
            data.read()
            for file in data.measured_files():
                self._add(file, data.contexts_by_lineno(file))

        self._lines = {file: _lines_by_test(lines) for file, lines in self._by_file.items()}
        self._totals = Counter[str]()
        for counts in self._lines.values():
            self._totals.update(counts)

    def share(self, file: str, test: str) -> float:
        """Return how much of what a test runs is in a file: the more, the more probably it notices what changes there.

        Args:
            file: Path in the repository.
            test: Its name.
        """
        return self._lines[file][test] / self._totals[test] if self._totals[test] else 0.0

    def _add(self, file: str, lines: Mapping[int, Iterable[str]]) -> None:
        parts = PurePath(file).parts
        last = len(parts) - 1 - parts[::-1].index("loadplan")
        known = self._by_file.setdefault("/".join(parts[last:]), {})
        for line, names in lines.items():
            known.setdefault(line, set()).update(names)

    def rounds(self, mutant: Mutant) -> tuple[list[str], list[str], list[str]]:
        """List the tests that run what a mutant changes, those that most probably notice it first.

        Args:
            mutant: What is broken.

        Returns:
            Tests of one file, so that little has to be imported: the file of the same name, or the one with most of
            them; the other tests of the room; all others, or the room's own where none is known to run it.
        """
        tests = self.tests(mutant)
        near = [test for test in tests if _file(test).startswith(_near(mutant.file))]
        first = _first(mutant, near)
        rest = [test for test in near if _file(test) != first]
        far = [test for test in tests if test not in set(near)]
        return [test for test in near if _file(test) == first], rest, far if tests else list(_near(mutant.file)[1:])

    def tests(self, mutant: Mutant) -> list[str]:
        """List the tests that run what a mutant changes.

        Args:
            mutant: What is broken.
        """
        lines = self._by_file.get(mutant.file, {})
        first, last = mutant.lines
        found = {name for line in range(first, last + 1) for name in lines.get(line, ())}
        # What runs on import belongs to no test: then each that runs what reads the constant, or anything of the file.
        found = found if found - {""} else self._reading(mutant) or {name for each in lines.values() for name in each}
        tests = {name.rpartition("|")[0] for name in found} - {""}
        return sorted(tests)

    def _reading(self, mutant: Mutant) -> set[str]:
        """Return the tests that run what reads a constant; nothing where it is none, or is read on import, too."""
        name = constant(mutant.file, mutant.lines[0])
        if not name:
            return set()
        read = [(file, line) for file in self._by_file for line in reading(file, name)]
        found = [self._by_file[file].get(line, set()) for file, line in read]
        return set[str]() if {""} in found else {name for names in found for name in names}


@cache
def constant(file: str, line: int) -> str:
    """Return the name of the constant of a file that is given its value in a line; "" where none is.

    Args:
        file: Path in the repository.
        line: A line of what is on the right, or of the whole.
    """
    for each in _tree(file).body:
        if each.lineno <= line <= (each.end_lineno or each.lineno):
            match each:
                case ast.Assign(targets=[ast.Name(id=name)]) | ast.AnnAssign(target=ast.Name(id=name)):
                    return name
                case _:
                    return ""
    return ""


@cache
def reading(file: str, name: str) -> tuple[int, ...]:
    """Return the lines of a file in which a name is read.

    Args:
        file: Path in the repository.
        name: The name, alone or after a module's.
    """
    if name not in (ROOT / file).read_text("utf-8"):
        return ()
    found = (each for each in ast.walk(_tree(file)) if isinstance(each, ast.Name | ast.Attribute))
    read = (each for each in found if isinstance(each.ctx, ast.Load))
    return tuple(each.lineno for each in read if name == (each.id if isinstance(each, ast.Name) else each.attr))


@cache
def _tree(file: str) -> ast.Module:
    return ast.parse((ROOT / file).read_text("utf-8"))


def _lines_by_test(lines: Mapping[int, Iterable[str]]) -> Counter[str]:
    return Counter(test for names in lines.values() for test in {name.rpartition("|")[0] for name in names})


def _near(file: str) -> tuple[str, ...]:
    """Return where the tests of a file are: the file itself, for its examples, and its room's tests."""
    *folder, name = PurePath(file).parts[1:]
    return (file, *NEAR[folder[0] if folder else PurePath(name).stem])


def _first(mutant: Mutant, tests: list[str]) -> str:
    own = f"test_{PurePath(mutant.file).name}"
    counts = Counter(_file(test) for test in tests)
    return max(counts, key=lambda file: (PurePath(file).name == own, counts[file]), default="")


def _file(test: str) -> str:
    return test.partition("::")[0]

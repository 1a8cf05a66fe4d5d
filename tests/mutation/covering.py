"""Which tests run a line: as coverage saw it, the nearest tests first."""

from pathlib import Path, PurePath

from coverage import CoverageData

from tests.mutation.mutants import ROOT, Mutant

TESTS = ROOT / "tests"


class Covering:
    """The tests that run each line, read from what `pytest --cov --cov-context=test` left behind."""

    def __init__(self, path: Path) -> None:
        """Read the file.

        Args:
            path: Coverage's file.
        """
        data = CoverageData(str(path))
        data.read()
        self._by_file = {}
        for file in data.measured_files():
            parts = PurePath(file).parts
            if "loadplan" in parts:
                last = len(parts) - 1 - parts[::-1].index("loadplan")
                self._by_file["/".join(parts[last:])] = data.contexts_by_lineno(file)

    def near(self, mutant: Mutant) -> list[str]:
        """List the tests of the same room that run what a mutant changes, those of the same name first."""
        return [test for test in self._tests(mutant) if test.startswith((_room(mutant.file), "loadplan/"))]

    def far(self, mutant: Mutant) -> list[str]:
        """List the other tests that run it, and the room's own tests if none are known to."""
        rest = [test for test in self._tests(mutant) if test not in set(self.near(mutant))]
        return rest or ([] if self._tests(mutant) else [_room(mutant.file)])

    def _tests(self, mutant: Mutant) -> list[str]:
        lines = self._by_file.get(mutant.file, {})
        first, last = mutant.lines
        found = {name for line in range(first, last + 1) for name in lines.get(line, ())}
        # What runs on import belongs to no test: then each test that runs anything of the file.
        found = found if found - {""} else {name for names in lines.values() for name in names}
        tests = {name.rpartition("|")[0] for name in found} - {""}
        return sorted(tests, key=lambda test: (_far(mutant.file, test), test))


def _room(file: str) -> str:
    """Return where the tests of a file are: its own test file, or the folder it shares with its neighbours."""
    folder = PurePath(file).parts[1:-1]
    return f"tests/{folder[0]}/" if folder else f"tests/test_{PurePath(file).name}"


def _far(file: str, test: str) -> int:
    same = PurePath(test.partition("::")[0]).name == f"test_{PurePath(file).name}" or test.startswith(file)
    return 0 if same else 1

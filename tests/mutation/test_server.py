"""What becomes of mutants in forks of one process."""

import subprocess
import sys
from collections.abc import Iterator

import pytest

from tests.mutation.client import Client
from tests.mutation.mutants import ROOT, Mutant
from tests.mutation.tried import Spot

FILE = "loadplan/statics/lean.py"
TESTS = "tests/statics/test_lean.py"

LOST = "lost: Array = (np.maximum(along, 0.0) @ carried.sum(axis=0)).max(axis=1)"

CHANGES = {
    ("max(axis=1)\n    return lost", "min(axis=1)\n    return lost"): "caught",
    (LOST, f"{LOST}\n    ~ 0"): "survived",
    (LOST, f"{LOST}\n    while True: pass"): "timed out",
    ("class Lean:", "class Lean(object):"): "anew",
}

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Client]:
    made = Client([TESTS], tmp_path_factory.mktemp("times") / "times.json")
    yield made
    made.close()


def changed(old: str, new: str) -> Mutant:
    source = (ROOT / FILE).read_text("utf-8")
    assert source.count(old) == 1
    return Mutant(FILE, (1, 1), old, new, source.replace(old, new))


@pytest.mark.parametrize(("change", "became"), CHANGES.items())
def test_each_change_ends_as_it_should(client: Client, change: tuple[str, str], became: str) -> None:
    assert client.fate(changed(*change), client.tests, 5.0).fate == became


@pytest.mark.parametrize(("change", "became"), list(CHANGES.items())[:2])
def test_a_process_of_its_own_says_the_same(change: tuple[str, str], became: str) -> None:
    """Started anew: in this process other tests may have imported the file already, and it would not be changed."""
    imports = f"from {__name__} import TESTS, changed; from tests.mutation.judge import fate"
    code = f"{imports}; print(fate(changed(*{change!r}), [TESTS], 60).value)"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.split()[-1:] == became.split()[-1:]


def test_what_was_not_collected_is_never_asked(client: Client) -> None:
    known = client.ordered(Spot(FILE, 1), dict.fromkeys(client.tests, 0.5))
    assert known
    assert client.fails() == []
    assert client.ordered(Spot(FILE, 1), {f"{TESTS}::test_that_is_not_there": 1.0}) == []

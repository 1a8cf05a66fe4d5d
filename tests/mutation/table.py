"""Breaks the places of whole rooms piece by piece, and keeps what became of each in a table.

`python -m tests.mutation.table --minutes 60` goes on where the last run ended, over all rooms mixed: first one place of
each statement, then the others in the order of their hashes, so that at any time what stands in the table is an even
picture. A row holds until the function it is in is edited; a row whose place is gone is dropped. The repository keeps
the table as a letter a place (`packed`), so that no run on another machine begins anew.
"""

import argparse
import resource
import sys
import time
from collections.abc import Mapping
from functools import cache
from itertools import accumulate
from pathlib import Path
from typing import NamedTuple

# Loaded once, for every process to come.
import hypothesis.strategies  # noqa: F401
import numpy  # noqa: F401
import scipy.optimize  # noqa: F401

from tests.mutation.__main__ import NEAR
from tests.mutation.client import Answer, Client
from tests.mutation.covering import Covering
from tests.mutation.infected import Infected
from tests.mutation.infected import known as known_infected
from tests.mutation.judge import fate
from tests.mutation.mutants import ROOT, Change, Mutant, broken, changes
from tests.mutation.packed import FILE, packed, unpacked
from tests.mutation.places import Place, places
from tests.mutation.rows import Row, add, keep, kept
from tests.mutation.standing import LIVES, standing, write
from tests.mutation.survivors import explained, reason, row
from tests.mutation.tried import Spot

FOLDER = ROOT / "build" / "mutation"
"""Where the table lies, and what a later run would have to find out again."""


class Terms(NamedTuple):
    """How a run goes on.

    Attributes:
        coverage: Coverage's files.
        end: When it ends, by the monotonic clock.
        budget: Seconds that the tests of one place may take.
        infected: Which tests a place infects, by its name, where that was looked for.
    """

    coverage: list[Path]
    end: float
    budget: float
    infected: Mapping[str, Infected]


WORDING = 0.5
"""What is added to the chance that a test of kept texts notices a changed wording."""

ANEW = 1.0
"""Seconds that a place has to be given before one is tried that takes an import: that takes several by itself."""

EXPLAINED = Answer("explained", "", 0.0)

TESTS = (
    *(f"tests/{room}" for room in ("statics", "checks", "planning", "validation", "reference", "proofs", "laws")),
    *("tests/test_first_plan.py", "tests/test_passing.py", "tests/test_stages.py", "tests/test_units.py"),
    *("tests/test_answer.py", "tests/test_unit_spellings.py", "tests/test_assess.py", "tests/test_undone_joints.py"),
    *("tests/test_mending_commands.py", "tests/test_planning_commands.py", "tests/test_weigh_step.py"),
    *("tests/files", "tests/test_forgotten.py", "tests/test_begin.py", "tests/test_ten_mistakes.py"),
    *("loadplan/statics", "loadplan/checks", "loadplan/planning", "loadplan/units.py", "loadplan/stages.py"),
)
"""What is run: the rooms' own tests, and those of the whole that end soon."""


def mutant_of(place: Place) -> Mutant:
    """Return what is broken in a place."""
    return broken(place.file, _changes(place.file)[place.number])


@cache
def _changes(file: str) -> list[Change]:
    return changes(file)


def main() -> None:
    """Go on with the table for the time given, and say how far it is."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutation.table", description=__doc__)
    parser.add_argument("--minutes", type=float, default=60, help="0: only write how far it is")
    parser.add_argument("--coverage", type=Path, nargs="+", default=[ROOT / ".coverage"])
    parser.add_argument("--folder", type=Path, default=FOLDER)
    parser.add_argument("--budget", type=float, default=2.0, help="seconds that the tests of one place may take")
    parser.add_argument("--only", nargs="+", default=[""], help="what the paths of the files tried begin with")
    parser.add_argument("--again", nargs="*", default=[], help="try places once more of which this became")
    asked = parser.parse_args()
    table = asked.folder / "table.csv"
    known = places(asked.folder / "places.json")
    rows = unpacked(FILE.read_text("utf-8"), known) | kept(table)
    rows = {name: row for name, row in rows.items() if row.fate not in asked.again}
    keep(table, rows, known)
    infected = known_infected(asked.folder)
    terms = Terms(asked.coverage, time.monotonic() + 60 * asked.minutes, asked.budget, infected)
    if asked.minutes > 0:
        _go_on(table, rows, _left(known, rows, asked.only), terms)
    _explain(rows, known)
    keep(table, rows, known)
    FILE.write_text(packed(rows, known), "utf-8")
    write(rows, known, lambda place: mutant_of(place).change)
    sys.stdout.write("\n".join(standing(rows, known)) + "\n")


def _left(known: list[Place], rows: dict[str, Row], only: list[str]) -> list[Place]:
    return [place for place in known if place.name not in rows and place.file.startswith(tuple(only))]


def _explain(rows: dict[str, Row], known: list[Place]) -> None:
    """Mark what lives and has been given a reason since it was tried."""
    reasons = explained()
    for place in known:
        tried = rows.get(place.name)
        if tried and tried.fate in LIVES and reason(mutant_of(place), reasons):
            rows[place.name] = tried._replace(fate="explained")


def _go_on(table: Path, rows: dict[str, Row], left: list[Place], terms: Terms) -> None:
    """Try what is left, in order, until the time is up."""
    covering, client, reasons = Covering(terms.coverage), Client(TESTS, table.with_name("times.json")), explained()
    for known in rows.values():
        if known.fate in {"caught", "timed out"} and known.by:
            client.remember(Spot(known.file, int(known.line)), known.by, noticed=True)
    for place in left:
        if time.monotonic() > terms.end:
            break
        mutant = mutant_of(place)
        answer = EXPLAINED if reason(mutant, reasons) else _answer(client, covering, place, terms)
        rows[place.name] = Row(place.name, place.file, str(place.line), answer.fate, answer.by, f"{answer.seconds:.3f}")
        add(table, rows[place.name])
        if answer.fate in LIVES:
            sys.stdout.write(f"# {answer.fate} {place.file}:{place.line}: {mutant.change}\n{row(mutant)}\n")
            sys.stdout.flush()
    client.close()


def _answer(client: Client, covering: Covering, place: Place, terms: Terms) -> Answer:
    """Try a place with as many of the tests that run it as the time allows, those that it infects before others."""
    mutant, budget = mutant_of(place), terms.budget
    shares = {test: covering.share(mutant.file, test) for test in covering.tests(mutant)}
    if mutant.is_wording:
        shares |= {test: share + WORDING for test, share in shares.items() if "/test_kept_" in test}
    tests = client.ordered(mutant.spot, shares)
    known = terms.infected.get(place.name)
    tests = known.first(tests) if known else tests
    answer = client.fate(mutant, tests, budget)
    if answer.fate != "anew":
        return answer
    return _imported_anew(client, mutant, tests, budget) if budget >= ANEW else answer._replace(fate="unfinished")


def _imported_anew(client: Client, mutant: Mutant, tests: list[str], budget: float) -> Answer:
    """Try what shows only where its file is imported: in a process that has not imported any file of the package."""
    totals = accumulate(client.seconds(mutant.file, test) for test in tests)
    within = tests[: max(sum(total <= budget for total in totals), 1)]
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    found = fate(mutant, within, NEAR).value
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    cut = found == "survived" and len(within) < len(tests)
    used = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return Answer("unfinished" if cut else found, "", used)


if __name__ == "__main__":
    main()

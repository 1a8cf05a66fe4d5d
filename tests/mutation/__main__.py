"""Breaks a sample of places, one at a time, and says which of them the tests notice.

`python -m tests.mutation statics --sample 60` needs a .coverage file that says which test runs which line:
`pytest --cov=loadplan --cov-context=test` leaves one.
"""

import argparse
import sys
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

# Loaded once, for every process to come.
import hypothesis.strategies  # noqa: F401
import numpy  # noqa: F401
import scipy.optimize  # noqa: F401

from tests.mutation.covering import Covering
from tests.mutation.judge import Fate, fate
from tests.mutation.mutants import ROOMS, ROOT, Mutant, broken, files
from tests.mutation.places import digest, numbered
from tests.mutation.survivors import explained, reason, row

CONTROLS = 3
"""How many files are tried as they are, too."""

NEAR = 120
FAR = 240
"""Seconds of a processor's time that the room's own tests, and all others that run a line, may take on one mutant."""


def main() -> int:
    """Run what was asked for, and return 1 where too few were noticed."""
    asked = _asked()
    covering = Covering(asked.coverage)
    reasons = explained()
    told: Counter[str] = Counter()
    for number, mutant in enumerate(_sample(asked.room, asked.skip, asked.skip + asked.sample)):
        if number < CONTROLS:
            _control(mutant, covering)
        start = time.monotonic()
        word = "explained" if reason(mutant, reasons) else _tried(mutant, covering, near_only=asked.near).value
        told[word] += 1
        sys.stdout.write(f"{word} {mutant.file}:{mutant.lines[0]} {time.monotonic() - start:.1f} s\n")
        if word == Fate.SURVIVED.value:
            sys.stdout.write(row(mutant))
        sys.stdout.flush()
    return _judged(told, asked.mark)


def _control(mutant: Mutant, covering: Covering) -> None:
    """Try a file as it is: where tests fail on that, what they notice of others means nothing.

    Raises:
        SystemExit: If they do.
    """
    whole = replace(mutant, source=(ROOT / mutant.file).read_text("utf-8"))
    if fate(whole, covering.rounds(mutant)[0], NEAR) is not Fate.SURVIVED:
        raise SystemExit(f"{mutant.file}: its tests fail on it as it is")


def _asked() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__)
    parser.add_argument("room", choices=[*ROOMS])
    parser.add_argument("--sample", type=int, default=60, help="how many mutants")
    parser.add_argument("--skip", type=int, default=0, help="how many to pass over first")
    parser.add_argument("--mark", type=float, default=90, help="percent that have to be noticed or explained")
    parser.add_argument("--near", action="store_true", help="run only the room's own tests")
    parser.add_argument("--coverage", type=Path, nargs="+", default=[ROOT / ".coverage"])
    return parser.parse_args()


def _sample(room: str, start: int, end: int) -> Iterator[Mutant]:
    """Draw mutants by a hash of what changes, so that an edit elsewhere leaves the others in the sample."""
    found = [(digest(file, change, number), file, change) for file in files(room) for number, change in numbered(file)]
    for _, file, change in sorted(found, key=lambda each: each[0])[start:end]:
        yield broken(file, change)


def _tried(mutant: Mutant, covering: Covering, *, near_only: bool) -> Fate:
    first, near, far = covering.rounds(mutant)
    for tests in (first, near):
        found = fate(mutant, tests, NEAR)
        if found is not Fate.SURVIVED or (tests is near and near_only):
            return found
    found = fate(mutant, far, FAR)
    # Whether these would end on the file as it is was not asked.
    return Fate.SURVIVED if found is Fate.TIMED_OUT else found


def _judged(told: Counter[str], mark: float) -> int:
    tried = told.total()
    share = 100 * (tried - told[Fate.SURVIVED.value]) / tried
    counts = ", ".join(f"{number} {word}" for word, number in sorted(told.items()))
    sys.stdout.write(f"{tried} mutants: {counts}. {share:.1f} % noticed or explained, at least {mark:g} % asked.\n")
    return 0 if share >= mark else 1


if __name__ == "__main__":
    sys.exit(main())

"""A campaign with made-up input, counted: `python -m tests.hostile.campaign quantity --inputs 100000 --first 0`.

Each input follows from target and number alone, so that any can be made again. What breaks a line of the program, or
keeps it busy for longer than an input may, is left in the folder that is named, and told; the campaign goes on. At the
end of each piece it says how many were tried, how many of these were answered and not refused, and the memory taken.
"""

import argparse
import random
import resource
import sys
import tempfile
import time
import traceback
import warnings
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

from tests.hostile.corpus import changed, corpus
from tests.hostile.fuzz import LONGEST, SECONDS, place_of
from tests.hostile.open_server import OpenServer
from tests.hostile.spoiling import spoilt
from tests.hostile.targets import TARGETS, Bench

LARGEST = 40_000
"""Largest input [bytes]."""

PIECE = 1_000
"""After so many inputs it is told how far it is, and the folder is laid out anew."""

MANY_WORDS = ("quantity", "answer", "command_line", "server", "interview", "photograph", "upload")
"""Targets whose input is no TOML: their bytes are changed, not their tables."""


class Counted(NamedTuple):
    """What came of a campaign: inputs tried, places that broke, and the longest that one took [s]."""

    tried: int
    broken: frozenset[str]
    longest: float


def input_of(target: str, number: int, starts: list[bytes]) -> bytes:
    """Make an input.

    Args:
        target: What it is for.
        number: Which.
        starts: What it is made from.

    Returns:
        The input.
    """
    dice = random.Random(f"{target}-{number}")
    start = dice.choice(starts)
    if target not in MANY_WORDS and dice.random() < 0.6:
        new = changed(start, dice.randrange(2**32), LARGEST)
        if new is not None:
            return new
    return spoilt(start, dice, LARGEST, dice.choice(starts))


def campaign(target: str, numbers: range, keep: Path, tell: Callable[[str], None]) -> Counted:
    """Try made-up inputs.

    Args:
        target: What they are for.
        numbers: Which.
        keep: Where what broke something is left.
        tell: Tells a line.

    Returns:
        What came of it.
    """
    starts = list(corpus(target if target != "server" else "request"))
    broken: set[str] = set()
    longest, tried = 0.0, 0
    for begin in range(numbers.start, numbers.stop, PIECE):
        with tempfile.TemporaryDirectory(prefix=f"campaign-{target}-") as name:
            does = _taker(target, Path(name))
            for number in range(begin, min(begin + PIECE, numbers.stop)):
                content = input_of(target, number, starts)
                start = time.process_time()
                place = _broken(does, content, tell)
                busy = time.process_time() - start
                if not place and busy > LONGEST.get(target, SECONDS):
                    place = f"busy-{number}"
                    tell(f"busy for {busy:.1f} s")
                if place and place not in broken:
                    broken.add(place)
                    (keep / f"{target}-{place}").write_bytes(content)
                    tell(f"BROKEN by {target} {number}: {place}")
                longest, tried = max(longest, busy), tried + 1
        memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
        tell(f"{target}: {tried} tried, {len(broken)} places broken, longest {longest:.2f} s, memory {memory} MB")
    return Counted(tried, frozenset(broken), longest)


def _taker(target: str, folder: Path) -> Callable[[bytes], None]:
    """Return what takes an input, over a folder that is laid out anew."""
    if target == "server":
        return OpenServer(folder).take
    bench = Bench(folder)
    return lambda content: TARGETS[target](bench, content)


def _broken(does: Callable[[bytes], None], content: bytes, tell: Callable[[str], None]) -> str:
    """Return what an input breaks, "" for nothing."""
    try:
        does(content)
    except Exception as error:  # noqa: BLE001 - whatever it is, it is what is looked for
        tell("".join(traceback.format_exception(error)[-4:]))
        return place_of(error)
    return ""


def main() -> None:
    """Try what is asked for."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("target", choices=[*TARGETS, "server"])
    asked.add_argument("--inputs", type=int, default=5_000)
    asked.add_argument("--first", type=int, default=0)
    asked.add_argument("--keep", type=Path, default=Path.cwd())
    told = asked.parse_args()
    # A warning would stand in the terminal of whoever sent such input.
    warnings.simplefilter("error")

    def tell(line: str) -> None:
        sys.stderr.write(f"{line}\n")
        sys.stderr.flush()

    counted = campaign(told.target, range(told.first, told.first + told.inputs), told.keep, tell)
    tell(f"{counted.tried} tried; broken: {', '.join(sorted(counted.broken)) or 'none'}")


if __name__ == "__main__":
    main()

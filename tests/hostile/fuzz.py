"""A coverage-guided fuzzer over what reads input: `python -m tests.hostile.fuzz job -max_total_time=300`.

Needs atheris, which the tests do without. The first input that breaks a line of the program, or keeps it busy for
longer than an input may, is left in the folder it is run in, and what it broke is told; the fuzzer goes on. Mended,
the input belongs into tests/hostile/found/. Where the whole is stopped by its own limits, the input is in `timeout-...`
or `oom-...`.
"""

import importlib
import sys
import tempfile
import time
import traceback
from collections.abc import Collection
from pathlib import Path

LIMITS = ("-timeout=60", "-rss_limit_mb=500", "-max_len=40000", "-len_control=0", "-print_final_stats=1")
"""When the fuzzer stops by itself: an input that never ends [s], most memory [MiB]; and the longest input [bytes]."""

SECONDS = 2
LONGEST = {"judged": 20, "planned": 60, "command_line": 20}
"""Longest that a target may be busy with an input [s]. Judging and planning are no reading."""


def main() -> None:
    """Fuzz the target that is named."""
    # Not asked for by the tests, which read this file too: where it is not installed, only this program is missing.
    atheris = importlib.import_module("atheris")
    with atheris.instrument_imports(include=["loadplan"]):
        from tests.hostile.corpus import changed, corpus  # noqa: PLC0415
        from tests.hostile.targets import TARGETS, Bench  # noqa: PLC0415
    target, options = _named(TARGETS), sys.argv[2:]
    folder = Path(tempfile.mkdtemp(prefix=f"fuzz-{target}-"))
    seeds = folder / "corpus"
    seeds.mkdir()
    for number, content in enumerate(corpus(target)):
        (seeds / f"{number:03}").write_bytes(content)
    place = folder / "files"
    place.mkdir()
    bench = Bench(place)

    def mutate(data: bytes, largest: int, seed: int) -> bytes:
        new = changed(data, seed, largest) if seed % 4 else None
        return new if new is not None else bytes(atheris.Mutate(data, largest))

    broken: set[str] = set()

    def one(data: bytes) -> None:
        start = time.process_time()
        try:
            TARGETS[target](bench, data)
        except Exception as error:  # noqa: BLE001 - whatever it is, it is what is looked for
            keep(data, place_of(error), "".join(traceback.format_exception(error)))
        busy = time.process_time() - start
        if busy > LONGEST.get(target, SECONDS):
            keep(data, f"busy-{len(broken)}", f"busy for {busy:.1f} s")

    def keep(data: bytes, place: str, told: str) -> None:
        if place not in broken:
            broken.add(place)
            Path(f"{target}-{place}").write_bytes(data)
            sys.stderr.write(f"BROKEN {place}\n{told}\n")

    plain = target in {"answer", "quantity", "command_line", "request"}
    atheris.Setup([sys.argv[0], *LIMITS, *options, str(seeds)], one, **({} if plain else {"custom_mutator": mutate}))
    atheris.Fuzz()


def _named(targets: Collection[str]) -> str:
    """Return the target that is named, or end."""
    if len(sys.argv) < 2 or sys.argv[1] not in targets:
        sys.exit(f"name a target: {', '.join(targets)}")
    return sys.argv[1]


def place_of(error: Exception) -> str:
    """Name the kind of an error and the line of ours that it came from."""
    frames = traceback.extract_tb(error.__traceback__)
    last = [frames[0], *(each for each in frames if "loadplan" in Path(each.filename).parts)][-1]
    return f"{type(error).__name__}-{Path(last.filename).stem}-{last.lineno}"


if __name__ == "__main__":
    main()

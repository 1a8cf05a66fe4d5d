"""How long each command takes with the largest jobs that it is documented to take, and the most memory it holds.

    python -m tests.bench.bench_cliffs

Made-up jobs at the sizes where a command stops to look at everything, or is as slow as it gets: `check` and `sheet` of
the largest chains, `place` over many points, `order` of as many parts as are ordered for certain and of three times as
many, and the live plan with 60 stands. Each command runs in a process of its own, from a cold start.
"""

import sys
import time
from math import cos, sin
from pathlib import Path
from statistics import median, quantiles
from tempfile import TemporaryDirectory

from playwright.sync_api import sync_playwright

from tests.bench.bench_board import FOLLOWING, started
from tests.bench.bench_check import peak_memory, told
from tests.bench.bench_sizes import chain
from tests.board.chromium import launched, settled
from tests.reference.random_jobs import Job as Raw
from tests.reference.random_jobs import write_job

LARGEST = ((2, 60, 1), (4, 20, 12))
"""Assemblies, stands, and steps."""

POINTS = (40, 120, 400)
"""How many points `place` chooses from."""

PARTS = (20, 60)
"""How many parts come off in the step that `order` orders."""

MOVES = 12
"""How often a stand of 60 is moved."""


def with_points(points: int) -> Raw:
    """Return a job of one assembly with points all over it, no three in line, and no stand yet."""
    spiral = [(450 * ((number + 0.5) / points) ** 0.5, 2.4 * number) for number in range(points)]
    places = [[round(far * f(turn)) for f in (cos, sin)] for far, turn in spiral]
    rim = [[500, 500], [-500, 500], [-500, -500], [500, -500]]
    return {
        "body": [{"name": "unit", "outline": rim, "bottom": 200}],
        "part": [
            {"name": f"p{number}", "body": "unit", "mass": 40, "at": [60 * number - 150, 30 * number - 90, 450]}
            for number in range(6)
        ],
        "point": [
            {"name": f"point {number}", "body": "unit", "at": [*place, 200]} for number, place in enumerate(places)
        ],
        "equipment": [{"name": "stand", "kind": "stand", "rating": 3000, "rated_for": "each"}],
        "stage": [{"name": "all"}],
    }


def with_parts(parts: int) -> Raw:
    """Return a job of one assembly on four stands from which parts on all sides come off in one step."""
    names = [f"p{number}" for number in range(parts)]
    under = {
        name: [x, y, 200] for name, x, y in (("A", 400, 300), ("B", 400, -300), ("C", -400, 300), ("D", -400, -300))
    }
    return {
        "body": [{"name": "unit"}],
        "part": [
            {"name": name, "body": "unit", "mass": 4, "at": [round(350 * f(2.4 * number)) for f in (cos, sin)] + [500]}
            for number, name in enumerate(names)
        ]
        + [{"name": "rest", "body": "unit", "mass": 150, "at": [0, 0, 450], "at_pm": 5}],
        "equipment": [{"name": "stand", "kind": "stand", "rating": 3000, "rated_for": "each"}],
        "support": [{"name": name, "use": "stand", "body": "unit", "at": at} for name, at in under.items()],
        "stage": [{"name": "all", "in_place": [*under]}, {"name": "strip", "off": names}],
    }


def main() -> None:
    """Print time and memory of each."""
    with TemporaryDirectory() as name:
        folder = Path(name)
        for assemblies, stands, steps in LARGEST:
            path = write_job(chain(assemblies, stands, steps), folder, f"{assemblies}-{stands}-{steps}.toml")
            of = f"{assemblies} assemblies on {stands} stands, {steps} steps"
            _timed(f"check: {of}", ["check", str(path)])
            _timed(f"sheet: {of}", ["sheet", str(path), "-o", str(folder / "sheet.pdf"), "--force"])
        for points in POINTS:
            path = write_job(with_points(points), folder, f"points-{points}.toml")
            _timed(f"place: {points} points", ["place", str(path)])
        _timed("place --anywhere: the fewest of 40 points", ["place", str(folder / "points-40.toml"), "--anywhere"])
        for parts in PARTS:
            path = write_job(with_parts(parts), folder, f"parts-{parts}.toml")
            _timed(f"order: {parts} parts", ["order", str(path), "--stage", "strip"])
        _live(write_job(chain(2, 60, 1), folder, "live.toml"))


def _timed(name: str, command: list[str]) -> None:
    began = time.perf_counter()
    memory = peak_memory([sys.executable, "-m", "loadplan", *command])
    told(f"{name}: {time.perf_counter() - began:.1f} s from a cold start, at most {memory:.0f} MB")


def _live(job: Path) -> None:
    with sync_playwright() as playwright:
        browser = launched(playwright)
        page = browser.new_page(viewport={"width": 1280, "height": 800})
        began = time.monotonic()
        process, address = started(job)
        try:
            page.goto(address)
            page.wait_for_selector("#drawing svg")
            visible = time.monotonic() - began
            page.wait_for_selector("body[data-ready]")
            settled(page)
            spent = page.evaluate(FOLLOWING, MOVES)
        finally:
            process.terminate()
            process.wait(10)
        browser.close()
    told(
        f"live plan, 60 stands: {visible:.1f} s to the plan, pointer move to new number {median(spent):.0f} ms, "
        f"19 of 20 within {quantiles(spent, n=20)[-1]:.0f} ms"
    )


if __name__ == "__main__":
    main()

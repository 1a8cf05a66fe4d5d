"""How fast the live plan follows a pointer and judges what is let go of; how soon it is there, and its sheet.

    python -m tests.bench.bench_board [JOB]

Needs Debian's Chromium. Times are the page's own: from a pointer's move to the new number on the screen, from letting
go to the judged numbers, and on to their drawing, from asking for the sheet to its last byte. Each stands beside what
it is held against: a frame of the screen, a whole drawing for every move, `assess` on the same job, the command that
prints the same sheet.
"""

import compileall
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path
from statistics import median, quantiles

from playwright.sync_api import Page, sync_playwright

import loadplan
from loadplan import read_job
from loadplan.assess import assess
from loadplan.model.job import Job
from tests.bench.bench_sizes import chain
from tests.board.chromium import launched, settled
from tests.board.desk import DEMO
from tests.reference.random_jobs import write_job

MOVES, DROPS, SHEETS = 60, 7, 3
"""How often each is done."""

ADDITIONS = 2_000_000
"""How many numbers are added up to see how fast the machine is just now: a virtual one may take twice as long."""

FRAME = 1000 / 60
"""A frame of most screens [ms]."""

POINTER = """
  const target = document.getElementById("target-2"), box = target.getBoundingClientRect();
  const plan = document.getElementById("plan");
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  const send = (kind, across, down) => target.dispatchEvent(new PointerEvent(kind, {
    bubbles: true, cancelable: true, pointerId: 1, isPrimary: true, button: 0, pointerType: "mouse",
    clientX: across, clientY: down }));
  plan.setPointerCapture = () => {};
  plan.releasePointerCapture = () => {};
"""
"""A pointer over a stand: where that is, and what sends an event there."""

FOLLOWING = f"""
async (moves) => {{
  {POINTER}
  const spent = [];
  send("pointerdown", x, y);
  for (let move = 1; move <= moves; move += 1) {{
    const shown = new Promise((done) => document.addEventListener("board:glance", done, {{ once: true }}));
    const began = performance.now();
    // Every time somewhere else: a place where a stand was looked at before is remembered.
    send("pointermove", x + 10 + 1.5 * move, y - 10 - 5 * (move % 3));
    await shown;
    spent.push(performance.now() - began);
    await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
  }}
  send("pointercancel", x, y);
  return spent;
}}
"""

WHOLE = """
async ([moves, step]) => {
  const box = document.getElementById("plan").getBoundingClientRect();
  const spent = [];
  for (let move = 0; move < moves; move += 1) {
    const began = performance.now();
    const answer = await fetch(`${location.pathname}/screen?step=${step}&wide=${Math.round(box.width)}&high=600`);
    const screen = await answer.json();
    const drawn = new DOMParser().parseFromString(screen.svg, "image/svg+xml").documentElement;
    document.getElementById("drawing").replaceChildren(document.importNode(drawn, true));
    spent.push(performance.now() - began);
  }
  return spent;
}
"""

DROP = f"""
async (number) => {{
  {POINTER}
  // Every time somewhere else: what was judged before is not judged again.
  const way = number % 2 ? -1 : 1;
  const [across, down] = [x + way * (24 + 5 * number), y - way * 24];
  const heard = (name) => new Promise((done) => document.addEventListener(name, done, {{ once: true }}));
  send("pointerdown", x, y);
  const glanced = heard("board:glance");
  send("pointermove", across, down);
  await glanced;
  const judged = heard("board:screen"), drawn = heard("board:drawing"), began = performance.now();
  const since = (shown) => shown.then(() => performance.now() - began);
  send("pointerup", across, down);
  return Promise.all([since(judged), since(drawn)]);
}}
"""

SHEET = """
async () => {
  const began = performance.now();
  const answer = await fetch(`${location.pathname}/sheet.pdf`);
  if (!answer.ok) throw new Error(await answer.text());
  await answer.arrayBuffer();
  return performance.now() - began;
}
"""


def started(job: Path) -> tuple[subprocess.Popen[str], str]:
    """Start the program as a user would, and return where it serves."""
    command = [sys.executable, "-m", "loadplan", "board", str(job), "--no-open"]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env={**os.environ, "PYTHONUNBUFFERED": "1"})
    assert process.stdout is not None
    found = re.search(r"http://\S+", process.stdout.readline())
    assert found is not None
    return process, found[0]


def main() -> None:
    """Print the times of the demo, or of the job that is named, and of one with twenty stands."""
    source = Path(sys.argv[1]) if len(sys.argv) > 1 else DEMO / "front-unit.toml"
    with tempfile.TemporaryDirectory() as name, sync_playwright() as playwright:
        for each in source.parent.glob("*.toml"):
            shutil.copy(each, name)
        many = write_job(chain(2, 20, 1), Path(name), "twenty-stands.toml")
        browser = launched(playwright)
        # An installed program is compiled; where this runs from the tree, it may be forbidden to keep what it compiles.
        compileall.compile_dir(Path(loadplan.__file__).parent, quiet=1)
        for job, step in ((Path(name) / source.name, 2), (many, 0)):
            page = browser.new_page(viewport={"width": 1280, "height": 800})
            began = time.monotonic()
            process, address = started(job)
            try:
                page.goto(address)
                page.wait_for_selector("#drawing svg")
                visible = time.monotonic() - began
                _tell(job, visible, _measured(page, job, step))
            finally:
                process.terminate()
                process.wait(10)
                page.close()
        browser.close()


def _measured(page: Page, job: Path, step: int) -> dict[str, list[float]]:
    """Return times [ms] of what a hand does, each beside what it is held against, in turn."""
    page.wait_for_selector("body[data-ready]")
    settled(page)
    if step:
        page.locator(f"#strip [data-step='{step}']").click()
        settled(page)
    machine = [_spent(_additions)]
    told: dict[str, list[float]] = {"follow": page.evaluate(FOLLOWING, MOVES)}
    settled(page)
    told |= {"machine": machine, "drop": [], "drawing": [], "assess": [], "sheet": [], "command": []}
    plan = read_job(job)
    assess(plan)
    for number in range(DROPS):
        judged, drawn = page.evaluate(DROP, number)
        told["drop"].append(judged)
        told["drawing"].append(drawn)
        settled(page)
        told["assess"].append(_spent(partial(assess, _elsewhere(plan, number))))
    command = [sys.executable, "-m", "loadplan", "sheet", str(job), "-o", str(job.with_suffix(".pdf")), "--force"]
    for _ in range(SHEETS):
        told["sheet"].append(page.evaluate(SHEET))
        told["command"].append(_spent(lambda: subprocess.run(command, check=False, capture_output=True)))
    told["machine"] += [_spent(_additions)]
    told["whole"] = page.evaluate(WHOLE, [MOVES // 4, step])
    return told


def _elsewhere(plan: Job, number: int) -> Job:
    """Return a plan with the dropped stand somewhere else each time, as it is after a drop: nothing of it is known."""
    stand = plan.supports[2]
    moved = replace(stand, at=(stand.at[0] - 0.03 - 0.005 * number, stand.at[1] + 0.03, stand.at[2]))
    return replace(plan, supports=(*plan.supports[:2], moved, *plan.supports[3:]))


def _additions() -> None:
    total = 0
    for number in range(ADDITIONS):
        total += number


def _spent(does: Callable[[], object]) -> float:
    """Return how long something takes [ms]."""
    began = time.perf_counter()
    does()
    return 1000 * (time.perf_counter() - began)


def _tell(job: Path, visible: float, spent: dict[str, list[float]]) -> None:
    """Print the times of a job, each beside what it should not exceed."""
    middle = {name: median(times) for name, times in spent.items()}
    late = quantiles(spent["follow"], n=20)[-1]
    follow, whole = middle["follow"], middle["whole"]
    early, after = spent["machine"]
    held = {"drop": "assess", "drawing": "assess", "sheet": "command"}
    drop, drawing, sheet = (
        f"{middle[each]:8.1f} ms, {middle[each] / middle[by]:.2f} times" for each, by in held.items()
    )
    lines = [
        f"{job.stem}",
        f"  start to plan visible          {visible:8.2f} s   (1.5 s)",
        f"  pointer move to new number     {follow:8.1f} ms, 19 of 20 within {late:.1f} ms (a frame: {FRAME:.1f} ms)",
        f"  a whole screen for every move  {whole:8.1f} ms, {whole / follow:.1f} times a move",
        f"  drop to judged numbers         {drop} assess ({middle['assess']:.1f} ms; 1.3)",
        f"  drop to their drawing          {drawing} assess; until then the one before stands there, marked",
        f"  sheet from the board           {sheet} the command ({middle['command']:.1f} ms; 1.2)",
        f"  the machine meanwhile          {ADDITIONS:,} additions took {early:.0f} ms before, {after:.0f} ms after",
    ]
    sys.stdout.write("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()

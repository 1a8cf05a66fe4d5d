"""How fast the live plan follows a pointer, beside a whole drawing for every move; and how soon it is there.

    python -m tests.bench.bench_board [JOB]

Needs Debian's Chromium. Times are the page's own: from a pointer's move to the new number on the screen.
"""

import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

from playwright.sync_api import Page, sync_playwright

from tests.board.chromium import launched, settled
from tests.board.desk import DEMO

MOVES = 60

FOLLOWING = """
async (moves) => {
  const target = document.getElementById("target-2"), box = target.getBoundingClientRect();
  const plan = document.getElementById("plan");
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  const send = (kind, across, down) => target.dispatchEvent(new PointerEvent(kind, {
    bubbles: true, cancelable: true, pointerId: 1, isPrimary: true, button: 0, pointerType: "mouse",
    clientX: across, clientY: down }));
  plan.setPointerCapture = () => {};
  plan.releasePointerCapture = () => {};
  const spent = [];
  send("pointerdown", x, y);
  for (let move = 1; move <= moves; move += 1) {
    const shown = new Promise((done) => document.addEventListener("board:glance", done, { once: true }));
    const began = performance.now();
    send("pointermove", x + 10 + (move % 2) * 8, y - 10 - move % 7);
    await shown;
    spent.push(performance.now() - began);
    await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
  }
  send("pointercancel", x, y);
  return spent;
}
"""

WHOLE = """
async (moves) => {
  const box = document.getElementById("plan").getBoundingClientRect();
  const spent = [];
  for (let move = 0; move < moves; move += 1) {
    const began = performance.now();
    const answer = await fetch(`${location.pathname}/screen?step=2&wide=${Math.round(box.width)}&high=600`);
    const screen = await answer.json();
    const drawn = new DOMParser().parseFromString(screen.svg, "image/svg+xml").documentElement;
    document.getElementById("drawing").replaceChildren(document.importNode(drawn, true));
    spent.push(performance.now() - began);
  }
  return spent;
}
"""


def _started(job: Path) -> tuple[subprocess.Popen[str], str]:
    """Start the program as a user would, and return where it serves."""
    command = [sys.executable, "-m", "loadplan", "board", str(job), "--no-open"]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env={**os.environ, "PYTHONUNBUFFERED": "1"})
    assert process.stdout is not None
    found = re.search(r"http://\S+", process.stdout.readline())
    assert found is not None
    return process, found[0]


def _measured(page: Page, address: str) -> tuple[list[float], list[float]]:
    page.goto(address)
    page.wait_for_selector("body[data-ready]")
    settled(page)
    page.locator("#strip [data-step='2']").click()
    settled(page)
    following: list[float] = page.evaluate(FOLLOWING, MOVES)
    settled(page)
    return following, page.evaluate(WHOLE, MOVES // 4)


def main() -> None:
    """Print the times."""
    source = Path(sys.argv[1]) if len(sys.argv) > 1 else DEMO / "front-unit.toml"
    with tempfile.TemporaryDirectory() as name, sync_playwright() as playwright:
        for each in source.parent.glob("*.toml"):
            shutil.copy(each, name)
        browser = launched(playwright)
        page = browser.new_page(viewport={"width": 1280, "height": 800})
        began = time.monotonic()
        process, address = _started(Path(name) / source.name)
        try:
            page.goto(address)
            page.wait_for_selector("#drawing svg")
            visible = time.monotonic() - began
            following, whole = _measured(page, address)
        finally:
            process.terminate()
            process.wait(10)
            browser.close()
    quick, slow = median(following), median(whole)
    sys.stdout.write(f"start to plan visible            {visible:8.2f} s\n")
    sys.stdout.write(
        f"pointer move to new number       {quick:8.1f} ms (median of {len(following)}, longest {max(following):.1f})\n"
    )
    sys.stdout.write(f"a whole screen for every move    {slow:8.1f} ms (median of {len(whole)})\n")
    sys.stdout.write(f"a whole screen / a move          {slow / quick:8.1f} times\n")


if __name__ == "__main__":
    main()

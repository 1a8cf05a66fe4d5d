"""Debian's Chromium over a live plan that this process serves; where there is none the tests are left out, or fail."""

import os
import shutil
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest
import uvicorn
from playwright.sync_api import Browser, Page, Playwright

from loadplan.board.connection_limits import BoundedConnection
from loadplan.board.open_plans import Desk
from loadplan.board.owner_keys import OwnerKeys
from loadplan.board.request_guard import Pass
from loadplan.board.routes import board
from loadplan.board.server import ServeOptions, listen

CHROMIUM = shutil.which("chromium")
FLAGS = (
    *("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-sync"),
    *("--disable-background-networking", "--disable-component-update"),
    # Whatever is asked of another machine fails, and is seen among the requests.
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1, EXCLUDE localhost",
)


def need_chromium() -> None:
    """Leave the test out where there is no Chromium; fail where there has to be one."""
    if CHROMIUM is None:
        message = "no Chromium: install Debian's package chromium"
        if os.environ.get("LOADPLAN_BROWSER") == "required":
            pytest.fail(message)
        pytest.skip(message)


def launched(playwright: Playwright) -> Browser:
    """Start Chromium."""
    return playwright.chromium.launch(executable_path=CHROMIUM, args=list(FLAGS))


@dataclass
class Served:
    """A live plan that is served.

    Attributes:
        address: Where.
        desk: What is open.
        folder: Its folder.
        held: What lets a request in.
    """

    address: str
    desk: Desk
    folder: Path
    held: Pass

    @property
    def plan(self) -> str:
        return f"{self.address}/plan/0"


@contextmanager
def served(folder: Path, name: str | None, keys: OwnerKeys | None = None) -> Iterator[Served]:
    """Serve a job of a folder, from this process; with keys this machine's own user needs one, too."""
    desk = Desk(folder, None)
    if name is not None:
        desk.open(folder / name)
    listener = listen(ServeOptions(None, 0, opens=False, lan=False, units=None))
    port = listener.getsockname()[1]
    held = Pass(frozenset({f"127.0.0.1:{port}"}), keys=keys)
    app = board(desk, held, lambda _: None)
    server = uvicorn.Server(
        uvicorn.Config(app, log_level="critical", lifespan="off", access_log=False, http=BoundedConnection)
    )
    thread = threading.Thread(target=server.run, args=([listener],), daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.01)
    try:
        yield Served(f"http://127.0.0.1:{port}", desk, folder, held)
    finally:
        desk.stopping.set()
        server.should_exit = True
        thread.join(10)
        listener.close()


def ready(page: Page, address: str) -> Page:
    """Load a plan, and wait until its script has taken over and its drawing has the size of its box."""
    page.goto(address)
    page.wait_for_selector("body[data-ready]")
    settled(page)
    return page


SETTLED = """
() => {
  const { waiting, pending } = document.body.dataset, box = document.getElementById("plan");
  const { wide: width, high: height } = document.querySelector("#drawing svg").dataset;
  const fits = (drawn, side) => Math.abs(drawn / 0.75 - Math.min(Math.max(side, 160), 2400)) <= 9;
  if (waiting !== undefined || pending !== undefined) return false;
  return fits(width, box.clientWidth) && fits(height, box.clientHeight);
}
"""
"""Nothing is asked, nothing held, and the drawing (in points, 3/4 px) has the size of its box (160 to 2400 px)."""


def settled(page: Page) -> None:
    """Wait until nothing is asked of the server any more, nothing is held, and the drawing fits its box."""
    page.wait_for_function(SETTLED)

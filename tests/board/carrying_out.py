"""Somebody who carries out a job on a tablet at the bay, while the program is killed now and then and started again."""

import os
import re
import signal
import socket
import subprocess
import sys
import threading
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from typing import NamedTuple

from playwright.sync_api import Error, Page

from loadplan.files.work_record_file import read_record
from loadplan.model.work_record import WorkRecord

ROOT = Path(__file__).parents[2]
TABLET = (820, 1180)

LATEST_KILL = 0.25
"""The program is killed so long after a tap at the latest [s]: before, in the middle of, or after what it does."""

SHOWN = """
() => [
  document.querySelector("h1 bdi").textContent,
  [...document.querySelectorAll(".bay-line[aria-checked=true]")]
    .map((each) => each.form.querySelector("[name=line]").value),
  [...document.querySelectorAll(".bay-log li")].map((each) => each.textContent),
]
"""


class Shown(NamedTuple):
    """What a page shows as kept: in which step, the lines that are ticked, and what was done last."""

    step: str
    ticked: list[str]
    log: list[str]


class Program:
    """The program as a user starts it, always on the same port, so that the tablet finds it again."""

    def __init__(self, job: Path) -> None:
        self.job = job
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port: int = free.getsockname()[1]
        self._process: subprocess.Popen[str] | None = None

    def start(self) -> str:
        """Start it, and return the address that it tells."""
        command = [sys.executable, "-m", "loadplan", "board", self.job.name, "--no-open", "--port", str(self.port)]
        path = os.pathsep.join([str(ROOT), os.environ.get("PYTHONPATH", "")])
        self._process = subprocess.Popen(
            command,
            cwd=self.job.parent,
            env={**os.environ, "PYTHONPATH": path, "PYTHONUNBUFFERED": "1"},
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
        )
        assert self._process.stdout is not None
        found = re.search(r"http://\S+", self._process.stdout.readline())
        assert found is not None
        return found[0]

    def kill(self) -> None:
        """Kill it as a power cut would: nothing of its own runs any more."""
        if self._process is not None:
            self._process.send_signal(signal.SIGKILL)
            self._process.communicate()
            self._process = None


@dataclass
class Worker:
    """Who works at the tablet.

    Attributes:
        page: The page in the browser.
        program: What serves it.
        chance: Says when the program is killed.
        shown: What the last page showed as kept.
        record: What lay on the disk when it did.
        lost: How many kills were so early that nothing of what was tapped had been kept.
        kept: How many were late enough that all of it had.
    """

    page: Page
    program: Program
    chance: Random
    shown: Shown = field(default_factory=lambda: Shown("", [], []))
    record: WorkRecord = field(default_factory=WorkRecord)
    lost: int = 0
    kept: int = 0

    def go(self, step: int | str = "") -> None:
        """Go to a step, or to the one that is next."""
        self.page.goto(f"http://127.0.0.1:{self.program.port}/plan/0/bay?step={step}")
        self.look()

    def look(self) -> None:
        """Hold what the page shows as kept against the disk, and what lies there against what lay there before."""
        self.shown, before = Shown(*self.page.evaluate(SHOWN)), self.record
        self.record = read_record(self.program.job)
        assert self.record.entries[: len(before.entries)] == before.entries
        assert not self.record.edited
        assert not set(self.shown.ticked) - {each.words for each in self.record.entries}
        assert len(self.record.entries) >= len([each for each in self.shown.log if each != "Nothing yet."])

    def tap(self, selector: str) -> None:
        """Tap something that is kept before the page is shown again."""
        self.name_who_answers()
        with self.page.expect_navigation():
            self.page.locator(selector).first.tap()
        self.look()

    def tap_and_die(self, selector: str) -> None:
        """Tap something while the program is killed, start it again, and look whether all is there that was shown."""
        self.name_who_answers()
        before, count = self.shown, len(self.record.entries)
        dying = threading.Timer(self.chance.uniform(0.0, LATEST_KILL), self.program.kill)
        try:
            # The finger comes down first: it is the answer, not the tap, that the kill is to meet.
            with self.page.expect_navigation(timeout=5_000):
                self.page.locator(selector).first.evaluate("(each) => setTimeout(() => each.click(), 0)")
                dying.start()
        except Error:
            pass
        dying.join()
        if self.page.locator(".bay-log").count():
            # An answer came before the end: then what it shows counts, also where it is the page from before.
            before = Shown(*self.page.evaluate(SHOWN))
        self.page.goto(self.program.start())
        self.go()
        if before.step != self.shown.step:
            steps = self.page.locator("h1").text_content() or ""
            found = re.search(r"Step (\d+) of", steps)
            assert found is not None
            self.go(int(found[1]) - 2)
        assert before.step == self.shown.step
        assert set(before.ticked) <= set(self.shown.ticked)
        if len(self.record.entries) == count:
            self.lost += 1
        else:
            self.kept += 1

    def name_who_answers(self) -> None:
        """Type the name of the qualified person wherever the page asks for it."""
        for each in self.page.locator("input[name=by]").all():
            each.fill("Q. Person")

    def open_lines(self) -> int:
        """Return how many lines of the step may be ticked and are not."""
        return self.page.locator(OPEN).count()

    def tick_all(self) -> None:
        """Tick every line of the step, one tap each, or a part at once where the page offers it."""
        while self.open_lines():
            self.tap(ALL_AT_ONCE if self.page.locator(ALL_AT_ONCE).count() else OPEN)

    def read(self, support: str, typed: str) -> str:
        """Type what a scale reads, and return what the page says of it."""
        stand = self.page.locator(f".bay-stand:has(input[value='{support}'])")
        self.unfold(f".bay-stand:has(input[value='{support}'])")
        stand.locator("[name=load]").fill(typed)
        with self.page.expect_navigation():
            stand.locator("button:has-text('Keep the reading')").tap()
        self.look()
        return self.page.locator(f".bay-stand:has(input[value='{support}'])").text_content() or ""

    def unfold(self, selector: str) -> None:
        """Open the first fold in or around something, unless it is open."""
        within = self.page.locator(f"{selector} details, details:has({selector})").first
        if within.get_attribute("open") is None:
            within.locator("summary").first.tap()

    def says(self) -> str:
        """Return all that the page says."""
        return self.page.locator("main").text_content() or ""


OPEN = ".bay-line[aria-checked=false]:not([disabled])"
ALL_AT_ONCE = ".bay-part:has(.bay-line[aria-checked=false]:not([disabled])) > form button"
DONE = ".bay-done button"

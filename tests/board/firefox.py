"""Debian's Firefox over a live plan, driven by WebDriver BiDi (W3C, Working Draft), which it speaks itself."""

import json
import os
import re
import shutil
import subprocess
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from websockets.sync.client import ClientConnection, connect

from tests.board.chromium import SETTLED

FIREFOX = shutil.which("firefox-esr") or shutil.which("firefox")

SECONDS = 120.0
"""Longest wait for anything [s]: other tests may run beside."""

QUIET = {
    "app.normandy.enabled": False,
    "app.update.auto": False,
    "browser.aboutwelcome.enabled": False,
    "browser.safebrowsing.downloads.remote.enabled": False,
    "browser.shell.checkDefaultBrowser": False,
    "datareporting.policy.dataSubmissionEnabled": False,
    "extensions.update.enabled": False,
    "network.captive-portal-service.enabled": False,
    "network.connectivity-service.enabled": False,
    "services.settings.server": "data:,",
    "toolkit.telemetry.enabled": False,
}
"""What it would otherwise ask of other machines."""


def need_firefox() -> str:
    """Return where Firefox is; leave the test out where there is none, and fail where there has to be one."""
    if FIREFOX is None:
        message = "no Firefox: install Debian's package firefox-esr"
        if os.environ.get("LOADPLAN_FIREFOX") == "required":
            pytest.fail(message)
        pytest.skip(message)
    return FIREFOX


class Window:
    """A window of Firefox."""

    def __init__(self, line: ClientConnection) -> None:
        """Begin a session, and take the window that is there."""
        self._line, self._asked = line, 0
        self.wrong: list[str] = []
        self._say("session.new", capabilities={})
        self._say("session.subscribe", events=["log.entryAdded"])
        self._context = self._say("browsingContext.getTree")["contexts"][0]["context"]

    def _say(self, method: str, /, **params: object) -> dict[str, Any]:
        """Send a command and return what it comes to; what the page complains of meanwhile is kept."""
        self._asked += 1
        self._line.send(json.dumps({"id": self._asked, "method": method, "params": params}))
        while True:
            told = json.loads(self._line.recv(SECONDS))
            if told.get("method") == "log.entryAdded" and told["params"]["level"] == "error":
                self.wrong.append(str(told["params"]["text"]))
            if told.get("id") == self._asked:
                assert told["type"] == "success", told
                result: dict[str, Any] = told["result"]
                return result

    def size(self, wide: int, high: int) -> None:
        """Give the window a size [css px]."""
        self._say("browsingContext.setViewport", context=self._context, viewport={"width": wide, "height": high})

    def show(self, address: str) -> None:
        """Load a plan, and wait until its script has taken over and its drawing fits."""
        self._say("browsingContext.navigate", context=self._context, url=address, wait="complete")
        self.wait("document.body.dataset.ready !== undefined")
        self.settled()

    def value(self, expression: str) -> Any:  # noqa: ANN401  # whatever the page says
        """Return what an expression of the page comes to."""
        told = self._say(
            "script.evaluate",
            expression=f"Promise.resolve({expression}).then((value) => JSON.stringify(value ?? null))",
            target={"context": self._context},
            awaitPromise=True,
        )
        assert told["type"] == "success", told
        return json.loads(told["result"]["value"])

    def wait(self, expression: str) -> None:
        """Wait until an expression holds."""
        until = time.monotonic() + SECONDS
        while not self.value(expression):
            assert time.monotonic() < until, expression
            time.sleep(0.05)

    def settled(self) -> None:
        """Wait until nothing is asked of the server any more, nothing is held, and the drawing fits its box."""
        self.wait(f"({SETTLED.strip()})()")

    def middle(self, target: str) -> tuple[int, int]:
        """Return where the middle of something is in the window [css px]."""
        box = self.value(f"document.getElementById({json.dumps(target)}).getBoundingClientRect()")
        return round(box["x"] + box["width"] / 2), round(box["y"] + box["height"] / 2)

    def move(self, kind: str, places: Sequence[tuple[int, int]], *, lift: bool) -> None:
        """Press at the first place and go through the others, with a mouse or a finger ("touch")."""
        (x, y), *others = places
        steps: list[dict[str, object]] = [
            {"type": "pointerMove", "x": x, "y": y},
            {"type": "pointerDown", "button": 0},
            *({"type": "pointerMove", "x": x, "y": y, "duration": 30} for x, y in others),
        ]
        self._act(kind, [*steps, *([{"type": "pointerUp", "button": 0}] if lift else [])])

    def lift(self, kind: str) -> None:
        """Let go."""
        self._act(kind, [{"type": "pointerUp", "button": 0}])

    def _act(self, kind: str, steps: list[dict[str, object]]) -> None:
        hand = {"type": "pointer", "id": kind, "parameters": {"pointerType": kind}, "actions": steps}
        self._say("input.performActions", context=self._context, actions=[hand])


@contextmanager
def firefox_window(folder: Path) -> Iterator[Window]:
    """Start Firefox with a profile of its own in a folder, and yield its window."""
    prefs = "".join(f"user_pref({json.dumps(key)}, {json.dumps(value)});\n" for key, value in QUIET.items())
    (folder / "user.js").write_text(prefs, "utf-8")
    command = [need_firefox(), "--headless", "--no-remote", "--profile", str(folder), "--remote-debugging-port=0"]
    process = subprocess.Popen(command, env={**os.environ, "HOME": str(folder)}, stderr=subprocess.PIPE, text=True)
    assert process.stderr is not None
    try:
        lines = iter(process.stderr.readline, "")
        found = next(found for line in lines if (found := re.search(r"BiDi listening on (ws://\S+)", line)))
        with connect(f"{found[1]}/session", max_size=None, compression=None, proxy=None) as line:
            yield Window(line)
    finally:
        process.kill()
        process.communicate()

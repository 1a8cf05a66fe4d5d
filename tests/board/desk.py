"""A live plan on a copy of the demo, asked as the page asks, without a browser."""

import shutil
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from httpx2 import Response
from starlette.testclient import TestClient

from loadplan.board.draft import Draft
from loadplan.board.login_rate_limit import Login
from loadplan.board.open_plans import Desk
from loadplan.board.request_guard import Pass
from loadplan.board.routes import board
from tests.tracked import shipped

DEMO = Path(__file__).parents[2] / "demo"
HOST = "127.0.0.1:8000"
ORIGIN = f"http://{HOST}"
ANSWERED = frozenset({200, 303, 307, 400, 403, 404, 405, 409, 413, 422})
"""What an answer may begin with: never a fault of the server's own."""


@dataclass
class Page:
    """What a page knows: where it asks, its token, and the last screen."""

    client: TestClient
    held: Pass
    path: Path
    seen: dict[str, Any]
    desk: Desk

    @property
    def draft(self) -> Draft:
        return self.desk.plans[0].plan.draft

    def show(self, step: int = 0, **asked: object) -> dict[str, Any]:
        answer = self.client.get("/plan/0/screen", params={"step": step, **asked})
        assert answer.status_code == 200, answer.text
        self.seen = answer.json()
        return self.seen

    def post(self, name: str, /, **said: object) -> Response:
        window = {"revision": self.seen["revision"], "step": self.seen["step"]}
        return self.client.post(f"/plan/0/{name}", json={**window, **said}, headers=self.headers)

    @property
    def headers(self) -> dict[str, str]:
        return {"x-token": self.held.token, "origin": ORIGIN}

    def change(self, kind: str, **said: object) -> dict[str, Any]:
        answer = self.post("change", change={"kind": kind, **said})
        assert answer.status_code == 200, answer.text
        self.seen = answer.json()
        return self.seen

    def refused(self, kind: str, **said: object) -> str:
        answer = self.post("change", change={"kind": kind, **said})
        assert answer.status_code == 422, answer.text
        told: str = answer.json()["refused"]
        return told

    def stand(self, name: str) -> dict[str, Any]:
        found: dict[str, Any] = next(each for each in self.seen["stands"] if each["name"] == name)
        return found


def page_on(folder: Path, name: str = "front-unit") -> Page:
    """Open a copy of a demo job."""
    for source in shipped("demo", "*.toml"):
        shutil.copy(source, folder)
    return opened(folder, folder / f"{name}.toml")


def opened(folder: Path, path: Path | None, *, code: str = "", client: str = "127.0.0.1") -> Page:
    """Open a job file, or none."""
    desk = Desk(folder, None)
    if path is not None:
        desk.open(path)
    held = Pass(frozenset({HOST}), login=Login(code))
    app = board(desk, held, lambda _: None)
    asking = TestClient(app, base_url=ORIGIN, client=(client, 5000), follow_redirects=False)
    page = Page(asking, held, path or folder, {"revision": 0, "step": 0}, desk)
    if path is not None and client == "127.0.0.1":
        page.show()
    return page

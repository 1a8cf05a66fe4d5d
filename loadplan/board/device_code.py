"""The door for other devices: a code, shown in the terminal, that lets one device in."""

from collections.abc import Callable
from dataclasses import dataclass
from urllib.parse import parse_qsl

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from loadplan.board.request_guard import COOKIE, Pass

WRONG = "That is not the code. Look at the terminal of the other machine."
SHUT = "Too many wrong codes came: no device is let in any more. Stop loadplan on the other machine and start it again."


@dataclass(frozen=True, slots=True)
class Door:
    """Lets devices in.

    Attributes:
        held: What lets a request in.
        page: Renders a page.
        tell: Tells the next code, where the server was started.
    """

    held: Pass
    page: Callable[..., Response]
    tell: Callable[[str], None]

    async def show(self, request: Request) -> Response:
        """Return the page that asks for the code."""
        return self.page("enter.html", fault="")

    async def enter(self, request: Request) -> Response:
        """Return the way in for a device that typed the right code."""
        body = (await request.body()).decode("ascii", "replace")
        device = self.held.login.admit(dict(parse_qsl(body)).get("code", ""))
        if device is None:
            refused = self.page("enter.html", fault=SHUT if self.held.login.shut else WRONG)
            refused.status_code = 403
            return refused
        self.tell(self.held.login.code)
        answer = RedirectResponse("/", 303)
        answer.set_cookie(COOKIE, device, httponly=True, samesite="strict")
        return answer

"""The door for other devices: a code, shown in the terminal, that lets one device in."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from math import ceil
from urllib.parse import parse_qsl

from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response

from loadplan.board.login_rate_limit import Login
from loadplan.board.request_guard import Pass, is_this_machine
from loadplan.board.request_schema import SentAway, said

WRONG = "That is not the code. Look at the terminal of the other machine."
USED = "This address has been used, or is none of this program. Open the one that stands in its terminal."
WAIT = "A wrong code came from this device. Wait {seconds} s, then type the code again: earlier it is not looked at."

NOT_HERE = "Devices are sent away on the machine on which loadplan was started."

GONE = "That device is not let in any more."


@dataclass(frozen=True, slots=True)
class Door:
    """Lets devices in.

    Attributes:
        held: What lets a request in.
        page: Renders a page.
        tell: Tells the next code and who is let in, where the server was started.
    """

    held: Pass
    page: Callable[..., Response]
    tell: Callable[[str], None]

    async def show(self, request: Request) -> Response:
        """Return the page that asks for the code."""
        return self._asks("")

    async def own(self, request: Request) -> Response:
        """Return the way in for this machine's own user, to the page that was asked for; the key stays behind."""
        keys, here = self.held.keys, is_this_machine(_address(request))
        shown = keys.admit(request.path_params["key"]) if keys is not None and here else None
        if shown is None:
            return self._asks(USED)
        number = request.query_params.get("plan", "")
        answer = RedirectResponse(f"/plan/{number}" if number.isascii() and number.isdecimal() else "/", 303)
        self._hand_out(answer, shown)
        return answer

    def _asks(self, fault: str) -> Response:
        """Return the page that asks for the code, and what was wrong with the last one, "" for nothing."""
        asking = self.page("enter.html", fault=fault, encrypted=bool(self.held.fingerprint))
        asking.status_code = 403 if fault else 200
        return asking

    def _hand_out(self, answer: Response, shown: str) -> None:
        secure = self.held.scheme == "https"
        answer.set_cookie(self.held.cookie, shown, httponly=True, samesite="strict", secure=secure)

    async def enter(self, request: Request) -> Response:
        """Return the way in for a device that typed the right code."""
        body = (await request.body()).decode("ascii", "replace")
        login, address = self.held.login, _address(request)
        waiting = login.wait(address)
        device = login.admit(dict(parse_qsl(body)).get("code", ""), address)
        if device is None:
            return self._asks(WAIT.format(seconds=ceil(waiting)) if waiting else WRONG)
        self.tell(f"A device was let in. The code for the next one is {login.code}.\n{listed(login)}")
        answer = RedirectResponse("/", 303)
        self._hand_out(answer, device)
        return answer

    async def send_away(self, request: Request) -> Response:
        """Return that a device is let in no more; only this machine's own user may say so."""
        if not is_this_machine(_address(request)):
            return JSONResponse({"refused": NOT_HERE}, 403)
        told = await said(request, SentAway)
        login = self.held.login
        gone = login.send_away(told.device)
        if gone is not None:
            self.tell(f"The device at {gone.address} was sent away.\n{listed(login)}")
        return JSONResponse({"said": GONE})


def listed(login: Login) -> str:
    """Write the devices that are let in, a line each.

    Args:
        login: How devices are let in.

    Returns:
        The lines, for the terminal.
    """
    lines = (f"  {each.address}, since {clock_time(each.since)}\n" for each in login.devices)
    return "".join(("Devices that are let in now:\n", *lines)) if login.devices else "No other device is let in now.\n"


def clock_time(since: float) -> str:
    """Return the time of day of a moment [s since 1970], as the clock on the wall shows it."""
    return datetime.fromtimestamp(since).astimezone().strftime("%H:%M")


def _address(request: Request) -> str:
    return request.client.host if request.client else ""

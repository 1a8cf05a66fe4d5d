"""Who may ask, and what the answer lets a page do: host, origin, token, size, and a strict content policy.

A page of this program may be open beside pages of strangers, whose scripts can send requests to any address that the
browser reaches. None of it is refused by a browser on its own, so each request is looked at here.
"""

import hmac
import re
import secrets
from collections.abc import Iterable
from dataclasses import dataclass, field

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from loadplan.board.login_rate_limit import Login
from loadplan.board.owner_keys import OwnerKeys
from loadplan.files.photograph_file import LARGEST_PHOTOGRAPH

LARGEST_BODY = 64_000
"""Largest body of a request that is read [bytes]: a form of a first job has some 5 kB."""

LARGEST_UPLOAD = LARGEST_PHOTOGRAPH + 10_000
"""Largest body of one that brings a photograph [bytes]."""

UPLOADS = re.compile(r"/plan/[0-9]{1,9}/bay/photograph")
"""Where photographs are sent."""

MOST_HEADERS = 100
"""Most lines of a head: a browser sends some twenty."""

POLICY = "; ".join((
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "style-src-attr 'unsafe-inline'",
    "img-src 'self' data:",
    "font-src 'self'",
    "connect-src 'self'",
    "form-action 'self'",
    "base-uri 'none'",
    "frame-ancestors 'none'",
))
"""What a page may load: nothing from elsewhere, no script that stands in it. Drawings have styles on their strokes."""

HEADERS = (
    ("content-security-policy", POLICY),
    ("x-content-type-options", "nosniff"),
    ("referrer-policy", "same-origin"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
    ("cache-control", "no-store"),
)

UNWRITTEN_PORTS = {"http": 80, "https": 443}
"""The port that a browser does not write (RFC 9110, 4.2.1 and 4.2.2)."""

COOKIE = "loadplan-device"

ENTRANCE = "/key/"
"""Where this machine's own user comes in; the key stands behind it."""


@dataclass(frozen=True, slots=True)
class Pass:
    """What lets a request in.

    Attributes:
        hosts: Names and ports under which this server is asked for.
        token: Stands in our own pages, and comes back with every write.
        login: How other devices are let in.
        scheme: "http", or "https" where what passes is encrypted.
        cookie: Under which name a browser keeps what it shows; two servers on one machine need two names.
        keys: Lets this machine's own user in, whose browser brings one in the address that is opened; None: everybody
            on this machine is let in.
        fingerprint: Of the certificate, "" where nothing is encrypted.
    """

    hosts: frozenset[str]
    token: str = field(default_factory=lambda: secrets.token_urlsafe(24))
    login: Login = field(default_factory=Login)
    scheme: str = "http"
    cookie: str = COOKIE
    keys: OwnerKeys | None = None
    fingerprint: str = ""

    def admits(self, address: str, headers: Headers) -> bool:
        """Return whether somebody is let in.

        Args:
            address: Where the connection comes from.
            headers: What came with the request.

        Returns:
            Whether it is this machine's own user, or a device that was let in and not sent away.
        """
        shown = shown_by(headers, self.cookie)
        if is_this_machine(address) and (self.keys is None or self.keys.knows(shown)):
            return True
        return self.login.knows(shown)

    def is_own(self, host: str, scope: Scope) -> bool:
        """Return whether a request calls this server by a name of its own.

        A machine in two networks has an address in each; it is told by the one, and asked at either. No page of a
        stranger gets there by a name of his that leads here: an address is no name.

        Args:
            host: What the request calls it, in small letters.
            scope: What came with the request: at which address of this machine the connection was made.

        Returns:
            Whether it is one of the known names, or where other devices are let in that very address.
        """
        at = scope.get("server") if self.login.code else None
        return host in self.hosts or (at is not None and host in hosts_of([at[0]], at[1], self.scheme))

    def is_token(self, told: str) -> bool:
        """Return whether that is the token."""
        return hmac.compare_digest(told.encode(), self.token.encode())


class Guard:
    """Looks at every request before anything else does."""

    def __init__(self, app: ASGIApp, held: Pass) -> None:
        """Stand before an application.

        Args:
            app: The application.
            held: What lets a request in.
        """
        self._app, self._held = app, held

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request through, or refuse it."""
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self._app(scope, receive, send)
            return
        refused = self._refused(scope)
        if refused is not None:
            await refused(scope, receive, _with_headers(send))
            return
        await self._app(scope, _limited(receive, largest_body(scope["path"])), _with_headers(send))

    def _refused(self, scope: Scope) -> Response | None:
        """Return why a request is not let through, cheapest question first; None where it is."""
        headers = Headers(scope=scope)
        if len(scope["headers"]) > MOST_HEADERS:
            return PlainTextResponse("This is more than is read.", 431)
        if not self._held.is_own(headers.get("host", "").lower(), scope):
            return PlainTextResponse("This address is not the one that was opened.", 400)
        if scope["method"] not in {"GET", "HEAD"} and not self._is_ours(headers, scope):
            return PlainTextResponse("This request comes from another page.", 403)
        size = headers.get("content-length", "0")
        most = largest_body(scope["path"])
        known = size.isascii() and size.isdecimal() and len(size) <= 12
        # The bay says of a photograph itself, on its page, that it is too large; it reads none of it.
        if not known or (int(size) > most and most == LARGEST_BODY):
            return PlainTextResponse("This is more than is read.", 413)
        return self._at_the_door(scope, headers)

    def _is_ours(self, headers: Headers, scope: Scope) -> bool:
        """Return whether a write comes from a page of this server."""
        told = headers.getlist("origin")  # two are none: which of them somebody else reads is not known
        origin = told[0] if len(told) == 1 else ""
        site = headers.get("sec-fetch-site", "same-origin")
        scheme, _, host = origin.lower().partition("://")
        return scheme == self._held.scheme and self._held.is_own(host, scope) and site == "same-origin"

    def _at_the_door(self, scope: Scope, headers: Headers) -> Response | None:
        """Return where a device has to type the code first; this machine's own user came with a key instead."""
        client = (scope.get("client") or ("", 0))[0]
        path = scope["path"]
        if path == "/enter" or path.startswith(("/static/", ENTRANCE)):
            return None
        if self._held.admits(client, headers):
            return None
        if scope["method"] in {"GET", "HEAD"}:
            return RedirectResponse("/enter", 303)
        return PlainTextResponse("Type the code first.", 403)


def hosts_of(names: Iterable[str], port: int, scheme: str = "http") -> frozenset[str]:
    """List what a request may call this server: a browser leaves out the port that it would take anyway.

    Args:
        names: Names and addresses of this machine.
        port: Where it listens.
        scheme: "http" or "https".

    Returns:
        Each with the port, and at the scheme's own port without.
    """
    names = tuple(names)
    return frozenset({*(f"{name}:{port}" for name in names), *(names if port == UNWRITTEN_PORTS[scheme] else ())})


def largest_body(path: str) -> int:
    """Return how large the body of a request may be [bytes].

    Args:
        path: What it asks for.

    Example:
        >>> largest_body("/plan/0/bay"), largest_body("/plan/0/bay/photograph")
        (64000, 20010000)
    """
    return LARGEST_UPLOAD if UPLOADS.fullmatch(path) else LARGEST_BODY


def is_this_machine(address: str) -> bool:
    """Return whether a connection comes from this machine itself.

    Args:
        address: The address at its other end.

    Returns:
        Whether that is the machine's own.
    """
    return address in {"127.0.0.1", "::1"}


def shown_by(headers: Headers, cookie: str) -> str:
    """Return what a browser shows under the name of a cookie, "" for nothing."""
    for piece in headers.get("cookie", "").split(";"):
        name, _, value = piece.strip().partition("=")
        if name == cookie:
            return value
    return ""


class TooLargeError(Exception):
    """A body that says less about its size than it sends."""


def _limited(receive: Receive, most: int) -> Receive:
    """Return a channel that ends where more comes than is read."""
    came = 0

    async def limited() -> Message:
        nonlocal came
        message = await receive()
        came += len(message.get("body", b""))
        if came > most:
            raise TooLargeError
        return message

    return limited


def _with_headers(send: Send) -> Send:
    """Return a channel that adds the policy to every answer, whichever route or refusal it comes from."""

    async def with_headers(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS:
                headers.setdefault(name, value)
        await send(message)

    return with_headers

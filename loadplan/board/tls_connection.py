"""Connections that are encrypted (TLS): the handshake has its time and counts as a connection, like any other.

The event loop's own way counts a connection only once the handshake is through, and waits for it a minute: who begins
a thousand and ends none would shut everybody else out. So each begins as a plain connection, which is turned over.
"""

import asyncio
import ssl
from collections.abc import Callable
from dataclasses import dataclass

import uvicorn
from uvicorn.server import ServerState

from loadplan.board.connection_limits import HEAD_SECONDS, BoundedConnection, one_too_many

GOODBYE_SECONDS = 1.0
"""Longest wait for the other end to take leave [s]; nothing is lost by not waiting."""


@dataclass(frozen=True, slots=True)
class Certificate:
    """What shows who serves.

    Attributes:
        context: Holds the certificate and its key.
        fingerprint: SHA-256 of the certificate, as browsers show it: pairs of signs with colons between.
    """

    context: ssl.SSLContext
    fingerprint: str


class HandshakeConnection(asyncio.Protocol):
    """A connection until its handshake is through; then what answers requests takes over."""

    def __init__(self, context: ssl.SSLContext, behind: BoundedConnection) -> None:
        """Stand before what answers requests.

        Args:
            context: Holds certificate and key.
            behind: What answers.
        """
        self._context, self._behind = context, behind
        self.loop = behind.loop
        self.client: tuple[str, int] | None = None
        self._early = bytearray()
        self._task: asyncio.Task[None] | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Begin the handshake, unless there are too many connections."""
        self.transport = transport
        self.client = transport.get_extra_info("peername")
        self._behind.connections.add(self)  # type: ignore[arg-type]
        if one_too_many(self, self._behind.connections):
            transport.abort()
            return
        # What comes belongs to the handshake: nothing may be read before that has begun.
        transport.pause_reading()
        self._task = self.loop.create_task(self._shake_hands(transport))

    def connection_lost(self, exc: Exception | None) -> None:
        """Let go of the connection."""
        self._behind.connections.discard(self)

    def data_received(self, data: bytes) -> None:
        """Keep what comes right behind the handshake, before its end was heard of here."""
        self._early += data

    def shutdown(self) -> None:
        """End, as the server stops."""
        self.transport.abort()

    async def _shake_hands(self, plain: asyncio.Transport) -> None:
        """Encrypt the connection and hand it over; what does not get so far is closed without a word."""
        try:
            secret = await self.loop.start_tls(
                plain,
                self,
                self._context,
                server_side=True,
                ssl_handshake_timeout=HEAD_SECONDS,
                ssl_shutdown_timeout=GOODBYE_SECONDS,
            )
        except OSError:  # an alert, a broken-off or a late handshake: each is one (ssl.SSLError is)
            plain.abort()
            secret = None
        self._behind.connections.discard(self)
        if secret is None or secret.is_closing():
            return
        secret.set_protocol(self._behind)
        self._behind.connection_made(secret)
        if self._early:
            self._behind.data_received(bytes(self._early))


def encrypted(context: ssl.SSLContext) -> Callable[..., asyncio.Protocol]:
    """Return what makes connections that are encrypted.

    Args:
        context: Holds certificate and key.

    Returns:
        Takes what the server hands to each of its connections.
    """

    def made(
        config: uvicorn.Config,
        server_state: ServerState,
        app_state: dict[str, object],
        _loop: asyncio.AbstractEventLoop | None = None,
    ) -> asyncio.Protocol:
        return HandshakeConnection(context, BoundedConnection(config, server_state, app_state, _loop))

    return made

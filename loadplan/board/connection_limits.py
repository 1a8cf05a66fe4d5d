"""Limits of a connection: how long a request may take to come and an answer to go, and how many may be open.

A page asks in some thousandths of a second. What sends half a request and waits, or asks and does not read, holds a
connection for nothing: enough of these, and nobody else gets in, nor does the server stop.
"""

import asyncio
from collections.abc import Iterable

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol

from loadplan.board.request_guard import LARGEST_BODY, is_this_machine, largest_body

HEAD_SECONDS = 5.0
"""Longest time in which the head of a request has to come, from when the connection is made or begins to ask [s]."""

BODY_SECONDS = 5.0
"""Longest time in which the body has to come, from the end of the head [s]: 64 kB at most (`request_guard.py`)."""

PHOTOGRAPH_SECONDS = 60.0
"""The same for a photograph [s]: 20 MB at most, which a tablet at the far end of the shop sends at some 3 Mbit/s."""

READ_SECONDS = 10.0
"""Longest time for which an answer may wait for who asked to read on [s]."""

MOST_OF_ONE = 24
"""Most connections of one other address. A browser makes six, and one more for each window's stream."""

MOST_OF_OTHERS = 96
"""Most connections of all other addresses together."""

MOST_OF_THIS_MACHINE = 128
"""Most connections from this machine, counted for themselves: no other device can use them up."""

TIMED_OUT = b"HTTP/1.1 408 Request Timeout\r\nconnection: close\r\ncontent-length: 0\r\n\r\n"


class BoundedConnection(H11Protocol):
    """A connection that ends where it takes too long, or is one too many."""

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Take a connection, unless there are too many."""
        super().connection_made(transport)
        # Nothing here speaks WebSocket; where a package for it is installed, it would take the connection over, and
        # with it every limit and every question of the guard.
        self.ws_protocol_class = None
        self._late: asyncio.TimerHandle | None = None
        self._unread: asyncio.TimerHandle | None = None
        self._waits_for: object | None = None
        if one_too_many(self, self.connections):
            transport.abort()
            return
        self._wait_for(h11.IDLE, HEAD_SECONDS)

    def connection_lost(self, exc: Exception | None) -> None:
        """Let go of a connection."""
        self._no_wait()
        self._end(self._unread)
        super().connection_lost(exc)

    def data_received(self, data: bytes) -> None:
        """Take what came; what is still to come of the request has to come in time."""
        super().data_received(data)
        state = self.conn.their_state
        if state is h11.IDLE:
            self._wait_for(h11.IDLE, HEAD_SECONDS)
        elif state is not h11.SEND_BODY:
            self._no_wait()

    def handle_events(self) -> None:
        """Begin what is asked; its body has to come in time, also where it was sent behind another request."""
        super().handle_events()
        if self.conn.their_state is h11.SEND_BODY:
            uploads = largest_body(self.scope["path"]) > LARGEST_BODY
            self._wait_for(h11.SEND_BODY, PHOTOGRAPH_SECONDS if uploads else BODY_SECONDS)

    def pause_writing(self) -> None:
        """Wait until who asked reads on, but not for ever."""
        super().pause_writing()
        self._end(self._unread)
        self._unread = self.loop.call_later(READ_SECONDS, self.transport.abort)

    def resume_writing(self) -> None:
        """Write on."""
        super().resume_writing()
        self._end(self._unread)

    def _wait_for(self, part: object, seconds: float) -> None:
        """Begin to count the time for a part of a request; more of the same part does not begin it anew."""
        if self._waits_for is part and self._late is not None:
            return
        self._no_wait()
        self._waits_for = part
        self._late = self.loop.call_later(seconds, self._too_late)

    def _no_wait(self) -> None:
        self._end(self._late)
        self._late = self._waits_for = None

    def _too_late(self) -> None:
        """End a connection whose request did not come whole; say so where no answer has begun."""
        if self.conn.our_state in {h11.IDLE, h11.SEND_RESPONSE}:
            self.transport.write(TIMED_OUT)
        # What is written goes at once if it can; who does not read it does not keep the connection open.
        self.transport.close()
        self.loop.call_later(1.0, self.transport.abort)

    @staticmethod
    def _end(timer: asyncio.TimerHandle | None) -> None:
        if timer is not None:
            timer.cancel()


def one_too_many(connection: object, connections: Iterable[object]) -> bool:
    """Tell whether there are more connections of a kind than may be open.

    Args:
        connection: The one that came last.
        connections: All that are open, this one among them.

    Returns:
        Whether it has to go.
    """
    address = _address(connection)
    if is_this_machine(address):
        return sum(is_this_machine(_address(each)) for each in connections) > MOST_OF_THIS_MACHINE
    others = [each for each in map(_address, connections) if not is_this_machine(each)]
    return len(others) > MOST_OF_OTHERS or others.count(address) > MOST_OF_ONE


def _address(connection: object) -> str:
    """Return the address at the other end of a connection, "" where it is not known."""
    client = getattr(connection, "client", None)
    return str(client[0]) if client else ""

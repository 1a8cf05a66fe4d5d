"""Stopping the server: one signal ends it in some seconds, whatever hangs, and what was not saved is put aside."""

import logging
import os
import signal
import socket
import sys
import threading
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass

import uvicorn

FINISH_SECONDS = 1.5
"""What is being answered may take so long after the signal [s]; then its connection is closed."""

SERVER_SECONDS = 3.0
"""Then the server itself has ended, or is not waited for [s after the signal]."""

ASIDE_SECONDS = 1.5
"""Longest wait for plans to be put aside [s]; the folder may be on a disk that does not answer."""


class BoundedServer(uvicorn.Server):
    """A server that closes what is still open some time after it is asked to stop."""

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """Stop: first what is idle, then everything."""
        # From here on what is cut off is cut off on purpose: nobody wants to read of it.
        logging.getLogger("uvicorn.error").setLevel(logging.CRITICAL)
        for connection in list(self.server_state.connections):
            timer = connection.transport.abort
            connection.loop.call_later(FINISH_SECONDS, timer)
        await super().shutdown(sockets)


def heed_signals() -> threading.Event:
    """Heed Ctrl+C, and that the terminal is closed or the machine goes down.

    Returns:
        What is set once a signal came.
    """
    stopped = threading.Event()
    for name in ("SIGINT", "SIGTERM", "SIGHUP"):
        number = getattr(signal, name, None)  # Windows has no SIGHUP
        # What somebody else handles or ignores (nohup) stays so; Ctrl+C is ours.
        if number is not None and (name == "SIGINT" or signal.getsignal(number) is signal.SIG_DFL):
            signal.signal(number, lambda *_: stopped.set())
    return stopped


@dataclass(frozen=True, slots=True)
class Serving:
    """A server that is to be run.

    Attributes:
        server: The server.
        listener: Where it listens.
        stopped: What is set once a signal came.
    """

    server: uvicorn.Server
    listener: socket.socket
    stopped: threading.Event


def run(asked: Serving, put_aside: Callable[[], None]) -> None:
    """Serve until a signal comes, then end within five seconds.

    The server runs beside, and this thread does nothing but wait: so a signal is heard also while the server computes,
    and what hangs is left behind.

    Args:
        asked: What is run.
        put_aside: Puts aside what was not saved.

    Raises:
        OSError: If that cannot be written.
    """
    serving = _beside(lambda: asked.server.run([asked.listener]), asked.stopped.set)
    asked.stopped.wait()
    asked.server.should_exit = True
    serving.join(SERVER_SECONDS)
    failed: list[OSError] = []

    def aside() -> None:
        try:
            put_aside()
        except OSError as error:
            failed.append(error)

    putting = _beside(aside, lambda: None)
    putting.join(ASIDE_SECONDS)
    if failed:
        raise failed[0]
    if _hangs():
        for stream in (sys.stdout, sys.stderr):
            with suppress(OSError, ValueError):
                stream.flush()
        os._exit(0)


def _beside(does: Callable[[], None], after: Callable[[], None]) -> threading.Thread:
    """Return a thread that does something, and keeps nobody from ending."""

    def whole() -> None:
        try:
            does()
        finally:
            after()

    thread = threading.Thread(target=whole, daemon=True)
    thread.start()
    return thread


def _hangs() -> bool:
    """Return whether something still runs that would keep the program from ending."""
    return any(each.is_alive() for each in threading.enumerate() if each is not threading.current_thread())

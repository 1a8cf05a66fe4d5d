"""Starting the live plan: where it listens, who may ask, and what is told in the terminal."""

import socket
import threading
import webbrowser
from collections.abc import Callable, Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path

import uvicorn

from loadplan.board.connection_limits import BoundedConnection
from loadplan.board.early_judging import Workers
from loadplan.board.garbage_collection import keep_what_is_loaded
from loadplan.board.login_rate_limit import Login, new_code
from loadplan.board.open_plans import Desk
from loadplan.board.owner_keys import OwnerKeys
from loadplan.board.request_guard import COOKIE, ENTRANCE, Pass, hosts_of
from loadplan.board.routes import board
from loadplan.board.stopping import BoundedServer, Serving, heed_signals, run
from loadplan.board.tls_connection import Certificate, encrypted
from loadplan.board.undo_history import Plan
from loadplan.errors import Fault, InputError, printable
from loadplan.units import System

LOOPBACK = "127.0.0.1"
ANYWHERE = "0.0.0.0"

LAN_WARNING = """\
Other devices in this network can reach this plan at {address} once they type the code {code}.
{passes} Stop it when you are done.
"""

NOT_ENCRYPTED = "What passes between them is not encrypted: use it only in a network that you trust, or with --tls."

ENCRYPTED = "What passes between them is encrypted."

KEPT = """\
{name} was not saved, and nothing can be written beside it. What you changed is kept in {folder}:
the next `loadplan board` of this job shows it again.
"""

TLS_NOTE = """\
The certificate was made just now, so no browser knows it, and each warns. Let it show the certificate, and go on only
if its SHA-256 fingerprint is this one:
  {first}
  {second}
"""


@dataclass(frozen=True, slots=True)
class ServeOptions:
    """How the live plan is to be started.

    Attributes:
        job: The job file; None: the start page.
        port: Where it listens; 0: any free one.
        opens: Whether a browser is opened.
        lan: Whether other devices are let in.
        units: The reader's units; None: those of each job file.
        certify: Makes a certificate for names and addresses of this machine; None: what passes is not encrypted.
    """

    job: Path | None
    port: int
    opens: bool
    lan: bool
    units: System | None
    certify: Callable[[Sequence[str]], Certificate] | None = None


def serve(asked: ServeOptions, workers: Workers, tell: Callable[[str], None]) -> None:
    """Serve the live plan until it is stopped.

    Args:
        asked: How.
        workers: The processes that judge and print; they are ended with the server.
        tell: Tells a line in the terminal.

    Raises:
        InputError: If the job cannot be used, or the port is taken.
    """
    folder = (asked.job.parent if asked.job else Path.cwd()).resolve()
    try:
        _serve(asked, Desk(folder, asked.units, tell=tell, do=workers.judging.do, do_long=workers.printing.do))
    finally:
        workers.end()


def _serve(asked: ServeOptions, desk: Desk) -> None:
    """Serve what lies on a desk until it is stopped.

    Raises:
        InputError: If the job cannot be used, or the port is taken.
    """
    tell = desk.tell
    plan = f"?plan={desk.open(asked.job)}" if asked.job else ""
    listener = listen(asked)
    port = listener.getsockname()[1]
    names = [LOOPBACK, "localhost", *([_own_address()] if asked.lan else [])]
    keys = OwnerKeys()
    certificate = asked.certify(names) if asked.certify else None
    scheme = "https" if certificate else "http"
    held = Pass(
        hosts_of(names, port, scheme),
        login=Login(new_code() if asked.lan else ""),
        scheme=scheme,
        cookie=f"{COOKIE}-{port}",
        keys=keys,
        fingerprint=certificate.fingerprint if certificate else "",
    )
    entrance = f"{scheme}://{LOOPBACK}:{port}{ENTRANCE}"
    desk.stopping = heed_signals()
    tell(f"The plan is at {entrance}{keys.lasting}{plan}\nStop it with Ctrl+C.\n")
    if asked.lan:
        address, passes = f"{scheme}://{names[-1]}:{port}/", ENCRYPTED if certificate else NOT_ENCRYPTED
        tell(LAN_WARNING.format(address=address, code=held.login.code, passes=passes))
    if certificate:
        pairs = certificate.fingerprint
        half = len(pairs) // 2 + 1
        tell(TLS_NOTE.format(first=pairs[:half], second=pairs[half:]))
    config = uvicorn.Config(
        board(desk, held, tell),
        log_level="error",
        access_log=False,
        server_header=False,
        date_header=False,
        lifespan="off",
        # Who asks is decided by the connection: a header that says so would open the door (request_guard.py).
        proxy_headers=False,
        http=encrypted(certificate.context) if certificate else BoundedConnection,  # type: ignore[arg-type]
        timeout_graceful_shutdown=2,
    )
    if asked.opens:
        # At once: what it asks waits at the socket, which listens already, until the server takes it.
        address = f"{entrance}{keys.single()}{plan}"
        threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()
    keep_what_is_loaded()
    run(Serving(BoundedServer(config), listener, desk.stopping), lambda: put_aside(desk, tell))


def put_aside(desk: Desk, tell: Callable[[str], None]) -> None:
    """Write every plan that was not saved beside its job file; one that cannot be written keeps no other from it.

    Args:
        desk: What is open.
        tell: Tells a line in the terminal.

    Raises:
        OSError: If one can be written nowhere and no journal has it, once all were tried.
    """

    def one(plan: Plan) -> None:
        name, kept = printable(plan.path.name), plan.kept_in
        try:
            aside = printable(str(plan.put_aside()))
        except OSError:
            if kept is None:
                raise
            tell(KEPT.format(name=name, folder=printable(str(kept))))
        else:
            tell(f"{name} was not saved. What you changed is in {aside}.\n")

    # The stack calls each even where one before raised, and raises at its end.
    with ExitStack() as each_of_them:
        for opened in reversed(desk.plans):
            if opened.plan.unsaved:
                each_of_them.callback(one, opened.plan)


def listen(asked: ServeOptions) -> socket.socket:
    """Listen where it was asked for.

    Args:
        asked: How the live plan is to be started.

    Returns:
        The socket.

    Raises:
        InputError: If the port is taken.
    """
    # With the protocol named, asyncio sends each answer at once; without, the second half of it waits some 40 ms.
    listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    # What elsewhere means that a port may be had again at once means on Windows that two programs may have it.
    alone = getattr(socket, "SO_EXCLUSIVEADDRUSE", socket.SO_REUSEADDR)
    listener.setsockopt(socket.SOL_SOCKET, alone, 1)
    try:
        listener.bind((ANYWHERE if asked.lan else LOOPBACK, asked.port))
        listener.listen()  # a browser that is quicker than the server waits
    except OSError:
        listener.close()
        message = f"cannot be listened on: something else is at port {asked.port}, or it needs rights; name another"
        raise InputError(Fault("", "", "--port", message)) from None
    return listener


def _own_address() -> str:
    """Return the address by which other devices in the network reach this machine."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # nothing is sent: it only asks which way that would go (RFC 5737)
        except OSError:
            return LOOPBACK
        address: str = probe.getsockname()[0]
    return address

"""What the server tells a window of its own accord: that the plan, or a file under it, changed, and that it stops."""

import asyncio
import json
from collections.abc import AsyncIterator, Callable
from dataclasses import dataclass, replace
from itertools import count

from starlette.concurrency import run_in_threadpool

from loadplan.board.device_code import clock_time
from loadplan.board.login_rate_limit import Login
from loadplan.board.open_plans import Desk, Open
from loadplan.board.record_news import NO_NEWS, RecordNews, record_news

GLANCES = 0.25
"""Time between two looks at the plan and at whether the server stops [s]."""

LOOKS = 4
"""Glances to one look at the files, which is one each second."""

BEATS = 12
"""Glances after which something is told anyway, every 3 s: a page that hears nothing for longer is not connected."""


@dataclass(frozen=True, slots=True)
class Server:
    """What a window has to know of the server.

    Attributes:
        born: Tells this server from the one that is started next.
        login: How other devices are let in.
        admits: Tells whether who listens is still let in.
    """

    born: str
    login: Login
    admits: Callable[[], bool]


@dataclass(frozen=True, slots=True)
class Heard:
    """What a window has to know.

    Attributes:
        born: Tells this server from the one that is started next.
        revision: Of the plan.
        changed: Names of the files that changed on the disk.
        own: Whether the job's own file is among them.
        state: A sum of what stands in these files now.
        devices: Number and words of each other device that is let in.
        record: What the record of the work is.
    """

    born: str
    revision: int
    changed: tuple[str, ...] = ()
    own: bool = False
    state: str = ""
    devices: tuple[tuple[int, str], ...] = ()
    record: RecordNews = NO_NEWS

    @property
    def line(self) -> str:
        """The same as an event of the stream."""
        told = {
            "born": self.born,
            "revision": self.revision,
            "changed": list(self.changed),
            "own": self.own,
            "state": self.state,
            "devices": [{"id": number, "words": words} for number, words in self.devices],
            "record": self.record.state,
            "moved": self.record.moved,
        }
        return f"data: {json.dumps(told)}\n\n"


async def events(desk: Desk, opened: Open, server: Server) -> AsyncIterator[str]:
    """Tell a window what it has to know, as soon as that changes, until the server stops.

    Args:
        desk: All that is open.
        opened: The plan.
        server: The server.

    Yields:
        Server-sent events.
    """
    told, since, heard = None, 0, Heard(server.born, opened.plan.revision)
    for glance in count():
        if not server.admits():
            yield 'data: {"sent_away": true}\n\n'
            return
        if desk.stopping.is_set():
            yield 'data: {"going": true}\n\n'
            return
        if (
            glance % LOOKS == 0
            or heard.revision != opened.plan.revision
            or len(heard.devices) != len(server.login.devices)
        ):
            now: Heard | None = await run_in_threadpool(_heard, opened, server)
            # The record is looked at also while the plan is being worked with: that something moved waits for nothing.
            news = await run_in_threadpool(record_news, opened.plan.path, heard.record)
            heard = replace(now or heard, record=news)
        if heard != told or since >= BEATS:
            yield heard.line
            told, since = heard, 0
        since += 1
        await asyncio.sleep(GLANCES)


def _heard(opened: Open, server: Server) -> Heard | None:
    """Return what there is to know of the plan and of the files under it; None while the plan is being worked with."""
    # Not waited for: a stream that falls silent counts as cut off.
    if not opened.turn.acquire(blocking=False):
        return None
    try:
        opened.plan.take_day()
        revision, there = opened.plan.revision, opened.plan.changed_on_disk()
    finally:
        opened.turn.release()
    names = tuple(path.name for path in there)
    state = ".".join(content.hex()[:16] for content in there.values())
    devices = tuple((each.number, f"{each.address}, since {clock_time(each.since)}") for each in server.login.devices)
    return Heard(server.born, revision, names, opened.plan.path in there, state, devices)

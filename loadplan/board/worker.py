"""Judging and drawing beside the socket: in a thread, one change of a plan at a time, with a budget of time."""

import asyncio
from collections.abc import Callable
from typing import TypeVar

from starlette.concurrency import run_in_threadpool

from loadplan.board.open_plans import Open
from loadplan.board.refusals import RefusedError

BUDGET = 30.0
"""Longest time that an answer is waited for [s]: the demo takes 0.3 s, a job of many steps a few."""

LATE = (
    "Not finished within {seconds:.0f} s. It goes on; what stands here is from before. Wait, and load the page again."
)

Told = TypeVar("Told")


async def worked(opened: Open, does: Callable[[], Told]) -> Told:
    """Do something with a plan in a thread, so that everybody else is answered meanwhile.

    Args:
        opened: The plan; what else is asked of it waits its turn.
        does: What is done.

    Returns:
        What came of it.

    Raises:
        RefusedError: If it is not finished in time. It goes on all the same: half done it would be worse.
    """

    def in_turn() -> Told:
        with opened.turn:
            opened.plan.take_day()
            return does()

    work = asyncio.ensure_future(run_in_threadpool(in_turn))
    # Should it fail after nobody waits any more, that is nobody's mistake.
    work.add_done_callback(lambda done: done.cancelled() or done.exception())
    try:
        return await asyncio.wait_for(asyncio.shield(work), BUDGET)
    except TimeoutError:
        raise RefusedError(LATE.format(seconds=BUDGET)) from None

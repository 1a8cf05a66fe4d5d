"""Judging and drawing beside the socket: in a thread, one change of a plan at a time, with a budget of time."""

import asyncio
from collections.abc import Callable
from typing import TypeVar

from starlette.concurrency import run_in_threadpool

from loadplan.board.open_plans import Open
from loadplan.board.refusals import RefusedError

BUDGET = 30.0
"""Longest time that an answer is waited for [s]: the demo takes 0.3 s, a job of many steps a few."""

MOST_ASKED, MOST_ASKED_OF_ALL = 8, 24
"""How much may be asked of a plan at once, and of all together: each holds a thread, of which the server has 40, and a
window asks one thing at a time."""

BUSY = "Not done: too much is being asked at once. Wait until what is on the screen is finished, and try again."

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
        RefusedError: If it is not finished in time; it goes on all the same: half done it would be worse. Or, at once,
            if too much is being asked already.
    """
    counts = (opened.asked, opened.asked_of_all)
    if any(each.now >= most for each, most in zip(counts, (MOST_ASKED, MOST_ASKED_OF_ALL), strict=True)):
        raise RefusedError(BUSY)

    def in_turn() -> Told:
        with opened.turn:
            opened.plan.take_day()
            return does()

    def ended(work: "asyncio.Future[Told]") -> None:
        for each in counts:
            each.now -= 1
        # Should it fail after nobody waits any more, that is nobody's mistake.
        _ = work.cancelled() or work.exception()

    for each in counts:
        each.now += 1
    work = asyncio.ensure_future(run_in_threadpool(in_turn))
    work.add_done_callback(ended)
    try:
        return await asyncio.wait_for(asyncio.shield(work), BUDGET)
    except TimeoutError:
        raise RefusedError(LATE.format(seconds=BUDGET)) from None

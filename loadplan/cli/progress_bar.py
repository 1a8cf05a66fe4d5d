"""A bar that shows how far long work is: on the terminal's error line only, and gone when the work is done."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

WIDE = 30
"""Characters of the whole bar."""


@contextmanager
def progress_bar(what: str) -> Iterator[Callable[[int, int], None]]:
    """Show a bar while work goes on; where the errors do not go to a terminal, nothing is shown.

    Args:
        what: What is being made.

    Yields:
        What is told, after each piece, how many are done of how many.
    """
    stream = sys.stderr
    if not stream.isatty():
        yield lambda _done, _whole: None
        return

    def told(done: int, whole: int) -> None:
        full = WIDE * done // max(whole, 1)
        stream.write(f"\r{what} [{'#' * full}{'.' * (WIDE - full)}] {done} of {whole} ")
        stream.flush()

    try:
        yield told
    finally:
        stream.write(f"\r{' ' * (len(what) + WIDE + 24)}\r")
        stream.flush()

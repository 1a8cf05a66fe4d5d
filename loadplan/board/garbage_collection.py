"""Garbage collection: what a program loads stays to its end, and need not be gone through again and again.

Python looks through everything it holds for circles that nobody holds any more. Of all that is loaded here that takes
some 50 ms, several times while it loads, and then now and again just while a hand moves a stand.
"""

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def held_off() -> Iterator[None]:
    """Look for nothing while a program loads: until it says what stays, or ends.

    Yields:
        Nothing.
    """
    gc.disable()
    try:
        yield
    finally:
        gc.enable()


def keep_what_is_loaded() -> None:
    """Take what there is for what stays, and look from now on at what comes after it."""
    gc.freeze()
    gc.enable()

"""How many examples a test of a law draws: few, and each time the same, unless more are asked for."""

import os

from hypothesis import settings

TIMES = "LOADPLAN_EXAMPLES"
"""Environment variable: how many times as many examples every law is tried on."""


def examples(number: int) -> settings:
    """Return what draws so many examples, times as many as the environment asks for."""
    return settings(max_examples=number * int(os.environ.get(TIMES, "1")))

"""Exit codes: what a command tells the shell."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from loadplan.model.verdict import Verdict

STOP, UNUSABLE, CLOSED = 1, 2, 141
"""The plan does not hold; the input cannot be used; nobody reads the output any more (as by SIGPIPE)."""


def exit_code(verdict: "Verdict", *, strict: bool) -> int:
    """Return the exit code of a verdict; strict: a caution fails, too."""
    return STOP if verdict.words in ({"stop", "caution"} if strict else {"stop"}) else 0

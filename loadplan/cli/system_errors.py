"""What the machine would not do: which file, why, and what would help."""

import errno
from collections.abc import Mapping
from types import MappingProxyType

from loadplan.errors import printable

NO_ROOM = "free some room there, or name another place"
NOT_ALLOWED = "ask who may write there, or name another place"

WAYS_OUT: Mapping[int, str] = MappingProxyType({
    errno.ENOSPC: NO_ROOM,
    errno.EDQUOT: NO_ROOM,
    errno.EFBIG: NO_ROOM,
    errno.EACCES: NOT_ALLOWED,
    errno.EPERM: NOT_ALLOWED,
    errno.EROFS: NOT_ALLOWED,
    errno.ENOENT: "look at its name, and make its folder first",
})
"""What would help, by the number of the error."""


def trouble(error: OSError) -> str:
    """Tell an error of the machine.

    Args:
        error: The error; without a file it came from what is printed.

    Returns:
        File, what is wrong, and what would help where that is known.

    Example:
        >>> trouble(OSError(errno.EROFS, "Read-only file system", "plans/loads.svg"))
        'plans/loads.svg: Read-only file system: ask who may write there, or name another place'
    """
    name = printable(str(error.filename or "")) or "what is printed"
    way_out = WAYS_OUT.get(error.errno or 0, "")
    return f"{name}: {error.strerror or error}{f': {way_out}' if way_out else ''}"

"""Files that only grow: whole lines, on the disk before anybody is told that they are kept."""

import os
from contextlib import suppress
from pathlib import Path

try:
    import fcntl
except ImportError:  # Windows
    fcntl = None  # type: ignore[assignment]


def append_whole(file: int, content: bytes, size: int) -> None:
    """Write to the end of a file and wait until the disk has it.

    Args:
        file: Its descriptor, opened to append.
        content: What is written.
        size: How long the file is [bytes].

    Raises:
        OSError: If that fails; then what came of the content is cut off again, where that is possible.
    """
    try:
        rest = memoryview(content)
        while rest:
            rest = rest[os.write(file, rest) :]
        os.fsync(file)
    except OSError:
        with suppress(OSError):
            os.ftruncate(file, size)
        raise


def lock_alone(file: int, *, waits: bool) -> bool:
    """Lock a file for this program alone.

    Args:
        file: Its descriptor.
        waits: Whether to wait until another program lets go of it.

    Returns:
        Whether it is ours alone now; where the system locks none, or not there, it is.
    """
    if fcntl is None:
        return True
    try:
        fcntl.flock(file, fcntl.LOCK_EX | (0 if waits else fcntl.LOCK_NB))
    except BlockingIOError:
        return False
    except OSError:
        return True
    return True


def flush_names(folder: Path) -> None:
    """Send a folder's names to the disk, where the system can.

    Args:
        folder: The folder.
    """
    with suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)

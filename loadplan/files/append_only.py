"""Files that only grow: whole lines, on the disk before anybody is told that they are kept."""

import errno
import os
from contextlib import suppress
from pathlib import Path

try:
    import fcntl
except ImportError:  # Windows
    fcntl = None  # type: ignore[assignment]


DISK_FAULTS = frozenset({errno.EIO, errno.ENOSPC, errno.EROFS, *({errno.EDQUOT} if hasattr(errno, "EDQUOT") else ())})
"""What a disk says that cannot take something; anything else means that a system cannot do it at all."""


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
            written = os.write(file, rest)
            if not written:
                raise OSError(errno.EIO, os.strerror(errno.EIO))
            rest = rest[written:]
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
        flush_names_surely(folder)


def flush_names_surely(folder: Path) -> None:
    """Send a folder's names to the disk; where the system has no way to do that, they go by themselves.

    Args:
        folder: The folder.

    Raises:
        OSError: If the disk cannot take them.
    """
    try:
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
    except OSError as error:
        if error.errno in DISK_FAULTS:
            raise


def must_be_there(file: int, path: Path) -> None:
    """Make sure that a file that was written is still the one of its name: it may have been moved or replaced.

    Args:
        file: Its descriptor.
        path: Where it should be.

    Raises:
        OSError: If it is not.
    """
    try:
        there = os.path.samestat(os.fstat(file), os.lstat(path))
    except FileNotFoundError:
        there = False
    if not there:
        raise OSError(errno.ENOENT, "it was taken away or replaced while it was written", str(path))

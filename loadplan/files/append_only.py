"""Files that only grow: whole lines, on the disk before anybody is told that they are kept."""

import errno
import os
import time
from contextlib import suppress
from pathlib import Path
from typing import Any

try:
    import fcntl
except ImportError:  # Windows
    fcntl = None  # type: ignore[assignment]

msvcrt: Any
try:
    import msvcrt
except ImportError:  # anything but Windows
    msvcrt = None


DISK_FAULTS = frozenset({errno.EIO, errno.ENOSPC, errno.EROFS, *({errno.EDQUOT} if hasattr(errno, "EDQUOT") else ())})
"""What a disk says that cannot take something; anything else means that a system cannot do it at all."""


HELD = frozenset({errno.EACCES, errno.EDEADLK})
"""What Windows says of a range that another program has locked."""

FAR = 2**30
"""The byte that is locked for a whole file where a system locks ranges: none of our files grows so long."""

ATTEMPTS = 0.01
"""Time between two attempts to lock a range [s]."""


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
        return msvcrt is None or _lock_byte(file, waits=waits)
    try:
        fcntl.flock(file, fcntl.LOCK_EX | (0 if waits else fcntl.LOCK_NB))
    except BlockingIOError:
        return False
    except OSError:
        return True
    return True


def _lock_byte(file: int, *, waits: bool) -> bool:
    """Lock a file as Windows does it: one byte, far behind all content, since what is locked nobody else can read.

    Returns:
        Whether it is ours alone now; where this disk knows no locks, it is.
    """
    at = os.lseek(file, 0, os.SEEK_CUR)
    os.lseek(file, FAR, os.SEEK_SET)
    try:
        while True:
            try:
                msvcrt.locking(file, msvcrt.LK_NBLCK, 1)
            except OSError as error:
                if error.errno not in HELD:
                    return True
                if not waits:
                    return False
                time.sleep(ATTEMPTS)
            else:
                return True
    finally:
        os.lseek(file, at, os.SEEK_SET)


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

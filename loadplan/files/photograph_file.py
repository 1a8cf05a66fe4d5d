"""Photographs beside a job: each is judged by its content, and one that is sent is made anew from its pixels alone.

A file that says it is a picture may be anything: a link that leads elsewhere, a pipe that never ends, a few kilobytes
that unpack to gigabytes (a decompression bomb), a page for a browser. So only files that lie in the job's folder
themselves are opened, only as JPEG and PNG, and how many pixels there are is read from the head before any is unpacked.
What a tablet sends holds more than is seen (where it was taken, by whose device): of that nothing is kept.
"""

import os
import stat
import struct
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from hashlib import sha256
from io import BytesIO
from pathlib import Path

from PIL import Image, ImageOps

from loadplan.errors import Fault, InputError, printable
from loadplan.files.find_jobs import changed_at
from loadplan.files.safe_write import write_new
from loadplan.model.hung_photograph import HungPhotograph, SmallPicture
from loadplan.model.work_record import Deed, WorkRecord

KINDS = ("JPEG", "PNG")
"""Kinds of pictures that are opened, by what stands in them (ISO/IEC 10918-1; ISO/IEC 15948)."""

ENDINGS = frozenset({".jpg", ".jpeg", ".png"})
"""How their files' names end."""

LARGEST_PHOTOGRAPH = 20_000_000
"""Largest photograph [bytes]: a telephone's has some 5 MB."""

MOST_PIXELS = 50_000_000
"""Most pixels of a photograph: unpacked these take 150 MB."""

KEPT_SIDE = 2400
"""Longest side of what is kept of a photograph that is sent [pixels]: a label is still read on it."""

SMALL_SIDE = 360
"""Longest side of one that is printed [pixels]: 50 mm of paper at some 180 dots an inch."""

QUALITY = 85
"""How finely what is kept is packed, of 100; common practice, no source."""

MOST_PRINTED = 60
"""Most photographs that are printed: each takes some 0.3 MB of the file."""

MOST_LOOKED_AT = 2_000
"""Most names of a folder that are looked at."""

SUM_DIGITS = 16
"""Hexadecimal digits of a sum."""

FAULTS = (
    OSError,
    ValueError,
    SyntaxError,
    struct.error,
    EOFError,
    LookupError,
    TypeError,
    ArithmeticError,
    MemoryError,
)
"""What Pillow raises for content that only looks like a picture."""

NO_PICTURE = "is no photograph that can be read: JPEG and PNG are"
TOO_LARGE = f"is too large: {LARGEST_PHOTOGRAPH // 1_000_000} MB are the most"
TOO_MANY = f"is too large: {MOST_PIXELS // 1_000_000} million pixels are the most"
NOT_HERE = "is not a photograph in the job's folder: one lies there itself, without a link, and ends in .jpg or .png"


@dataclass(frozen=True, slots=True)
class FolderPhotograph:
    """A file that may be a photograph.

    Attributes:
        name: Its name.
        at: When it was last written.
    """

    name: str
    at: datetime


def folder_photographs(folder: Path) -> list[FolderPhotograph]:
    """List what may be photographs in a folder, by their names; none is opened.

    Args:
        folder: The folder.

    Returns:
        Files that lie there themselves, newest first.
    """
    told: list[FolderPhotograph] = []
    with os.scandir(folder) as entries:
        for _, entry in zip(range(MOST_LOOKED_AT), entries, strict=False):
            if not _may_be(entry.name) or not entry.is_file(follow_symlinks=False):
                continue
            at = changed_at(entry.stat(follow_symlinks=False).st_mtime)
            told.append(FolderPhotograph(entry.name, at))
    return sorted(told, key=lambda each: (-each.at.timestamp(), each.name))


def photograph_content(folder: Path, name: str) -> bytes:
    """Read a photograph of a folder; whether its content is one does not count.

    Args:
        folder: The folder.
        name: Its file.

    Returns:
        What stands in it.

    Raises:
        InputError: If no such file lies in the folder itself, or it is too large.
    """
    if not _may_be(name):
        raise InputError(_fault(name, NOT_HERE))
    # Without these a link would lead out of the folder, and a pipe would be waited for.
    flags = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    try:
        file = os.open(folder / name, flags)
    except (OSError, ValueError):
        raise InputError(_fault(name, NOT_HERE)) from None
    try:
        about = os.fstat(file)
        if not stat.S_ISREG(about.st_mode):
            raise InputError(_fault(name, NOT_HERE))
        if about.st_size > LARGEST_PHOTOGRAPH:
            raise InputError(_fault(name, TOO_LARGE))
        with os.fdopen(os.dup(file), "rb") as stream:
            return stream.read(LARGEST_PHOTOGRAPH)
    except OSError:
        raise InputError(_fault(name, "cannot be read")) from None
    finally:
        os.close(file)


def made_anew(content: bytes) -> bytes:
    """Make a photograph anew from its pixels: upright, no larger than is kept, and without anything else it holds.

    Args:
        content: What was sent.

    Returns:
        A JPEG.

    Raises:
        InputError: If it is no photograph, or too large.
    """
    seen = _unpacked(content, KEPT_SIDE)
    stream = BytesIO()
    seen.save(stream, format="JPEG", quality=QUALITY)
    return stream.getvalue()


def small_picture(content: bytes) -> SmallPicture:
    """Make a photograph small.

    Args:
        content: What stands in its file.

    Returns:
        It, as it is printed.

    Raises:
        InputError: If it is no photograph, or too large.
    """
    seen = _unpacked(content, SMALL_SIDE)
    return SmallPicture(*seen.size, seen.tobytes())


def printed_photographs(job: Path, record: WorkRecord) -> dict[HungPhotograph, SmallPicture | str]:
    """Make small what hangs on the steps of a job.

    Args:
        job: The job file.
        record: What was done.

    Returns:
        Each photograph; or why it cannot be shown.
    """
    told: dict[HungPhotograph, SmallPicture | str] = {}
    for entry in record.entries:
        hung = HungPhotograph(entry.words, entry.picture)
        if entry.deed is not Deed.PHOTOGRAPHED or hung in told:
            continue
        if len(told) == MOST_PRINTED:
            told[hung] = f"not shown: {MOST_PRINTED} are the most"
            continue
        try:
            content = photograph_content(job.parent, hung.name)
            same = content_sum(content) == hung.picture
            told[hung] = small_picture(content) if same else "not shown: its file is another by now"
        except InputError:
            told[hung] = "not shown: its file is not there any more, or cannot be read"
    return told


def content_sum(content: bytes) -> str:
    """Return the sum by which a record knows a photograph again.

    Example:
        >>> content_sum(b"")
        'e3b0c44298fc1c14'
    """
    return sha256(content).hexdigest()[:SUM_DIGITS]


def keep_photograph(job: Path, content: bytes, at: datetime) -> HungPhotograph:
    """Keep a photograph beside a job, under a name of our own; nothing is ever written over.

    Args:
        job: The job file.
        content: What `made_anew` made of it.
        at: When it came.

    Returns:
        Its name, and the sum over it.

    Raises:
        InputError: If a hundred others came in that second.
        OSError: If it cannot be written; then nothing is.
    """
    stem = f"{job.stem}-photo-{at:%Y%m%d-%H%M%S}"
    for number in range(1, 101):
        name = f"{stem}.jpg" if number == 1 else f"{stem}-{number}.jpg"
        if not os.path.lexists(job.parent / name):
            write_new(job.parent, {name: content})
            return HungPhotograph(name, content_sum(content))
    raise InputError(_fault(f"{stem}.jpg", "is there already, and so are a hundred others of that second"))


def _may_be(name: str) -> bool:
    """Return whether a name is a plain one, in no other folder, and ends as a photograph's does."""
    plain = Path(name).name == name and not name.startswith(".") and printable(name) == name and "\\" not in name
    return plain and len(name) <= 200 and Path(name).suffix.lower() in ENDINGS


def _unpacked(content: bytes, side: int) -> Image.Image:
    """Return a photograph upright, in red, green and blue, with no side longer than that, and no more than its pixels.

    Raises:
        InputError: If it is no photograph, or too large.
    """
    if len(content) > LARGEST_PHOTOGRAPH:
        raise InputError(_fault("the photograph", TOO_LARGE))
    with _without_warnings():
        try:
            seen = Image.open(BytesIO(content), formats=KINDS)
            if seen.width * seen.height > MOST_PIXELS:
                raise InputError(_fault("the photograph", TOO_MANY))
            # A JPEG is unpacked at an eighth of its size where that is enough.
            seen.draft("RGB", (side, side))
            upright = ImageOps.exif_transpose(seen).convert("RGB")
            upright.thumbnail((side, side))
            # A new image: comments, places and colour profiles stay behind.
            return Image.frombytes("RGB", upright.size, upright.tobytes())
        except Image.DecompressionBombError:
            # So many that Pillow does not open it.
            raise InputError(_fault("the photograph", TOO_MANY)) from None
        except FAULTS:
            raise InputError(_fault("the photograph", NO_PICTURE)) from None


@contextmanager
def _without_warnings() -> Iterator[None]:
    """Let Pillow say nothing of odd pictures in the terminal: what is wrong is told to who sent them."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        yield


def _fault(name: str, message: str) -> Fault:
    return Fault(name, "", "", message)

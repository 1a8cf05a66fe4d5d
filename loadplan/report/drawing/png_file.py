"""A picture of dots as a PNG file: red, green and blue, a byte each, and how many dots an inch has.

Layout of the file: W3C, Portable Network Graphics (PNG) Specification, second edition (ISO/IEC 15948:2003), chapters 5,
9 and 11. Our pages are flat areas and letters: rows that are packed as they are get smaller than with what is usual,
each row as its difference to the one above or beside it, and in a third of the time.
"""

import struct
import zlib

import numpy as np
from numpy.typing import NDArray

HARD = 3
"""How hard rows are packed, of 9."""

INCH = 0.0254
"""An inch [m]."""


def png_file(dots: NDArray[np.uint8], an_inch: float) -> bytes:
    """Write a picture.

    Args:
        dots: Red, green and blue of each dot (rows, columns, 3), from the top.
        an_inch: Dots an inch.

    Returns:
        Content of the file; equal for equal input.

    Example:
        >>> png_file(np.zeros((2, 3, 3), dtype=np.uint8), 96)[1:4]
        b'PNG'
    """
    high, wide, colours = dots.shape
    # Each row begins with the number of its filter: 0, none.
    rows = np.zeros((high, 1 + wide * colours), dtype=np.uint8)
    rows[:, 1:] = dots.reshape(high, wide * colours)
    a_metre = round(an_inch / INCH)
    return b"".join((
        b"\x89PNG\r\n\x1a\n",
        _chunk(b"IHDR", struct.pack(">IIBBBBB", wide, high, 8, 2, 0, 0, 0)),
        _chunk(b"pHYs", struct.pack(">IIB", a_metre, a_metre, 1)),
        _chunk(b"IDAT", zlib.compress(rows.data, HARD)),
        _chunk(b"IEND", b""),
    ))


def _chunk(kind: bytes, content: bytes) -> bytes:
    """Return a chunk: length, kind, content, and a check sum of the last two (chapter 5.3)."""
    return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", zlib.crc32(content, zlib.crc32(kind)))

"""Made-up photographs, and what only looks like one."""

import struct
import zlib
from io import BytesIO

from PIL import Image

SECRET = b"taken at the kerb of 12 Example Street"


def jpeg(width: int = 64, height: int = 48, *, upright: int = 1) -> bytes:
    """A photograph whose left half is red and right half is blue, with a place in its EXIF and in a comment."""
    red, blue = Image.new("L", (width, height), 200), Image.new("L", (width, height), 20)
    for band, value in ((red, 20), (blue, 200)):
        band.paste(value, (width // 2, 0, width, height))
    # More colours than a palette has: a document then holds each pixel as it is.
    image = Image.merge("RGB", (red, Image.linear_gradient("L").resize((width, height)).point(lambda v: v // 2), blue))
    exif = Image.Exif()
    exif[0x0112] = upright
    exif[0x010E] = SECRET.decode()
    exif.get_ifd(0x8825)[1] = "N"
    stream = BytesIO()
    image.save(stream, format="JPEG", exif=exif, comment=SECRET)
    return stream.getvalue()


def chunk(kind: bytes, content: bytes) -> bytes:
    """A chunk of a PNG (ISO/IEC 15948, 5.3)."""
    return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", zlib.crc32(kind + content))


def png(width: int, height: int, packed: bytes = b"") -> bytes:
    """A PNG of one bit a pixel that says it is so large, whatever stands in it."""
    head = struct.pack(">IIBBBBB", width, height, 1, 0, 0, 0, 0)
    body = packed or zlib.compress(b"\0" * ((width + 7) // 8 + 1) * height, 9)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


NO_PHOTOGRAPHS = {
    "nothing": b"",
    "text": b"no photograph at all",
    "page": b"<!doctype html><script>alert(1)</script>",
    "drawing": b'<svg xmlns="http://www.w3.org/2000/svg"/>',
    "half a photograph": jpeg()[:300],
    "head only": png(40, 40)[:33],
    "spoilt": png(40, 40, b"not packed"),
    "animation": b"GIF89a\x01\x00\x01\x00\x80\x00\x00\xff\xff\xff\x00\x00\x00!\xf9\x04\x01\x00\x00\x00\x00,",
    "no size": png(0, 0, b"\0"),
}

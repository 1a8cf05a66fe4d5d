"""The mark by which a file is known again as one that this program wrote and nobody has changed since.

The mark is a comment of the file's own kind with a checksum of everything else in it, so that any reader passes over
it: a comment in PDF (ISO 32000-1, 7.2.4) and GIF (GIF89a, 24), a tEXt chunk in PNG (ISO/IEC 15948, 11.3.4.3), a
comment in XML, HTML and Markdown, a line that begins with # in TOML and plain text. CSV and JSON have no comment that
every reader passes over: they get no mark, and are never known again. The checksum keeps no secret and stops nobody
who means to forge it; it tells an honest change.
"""

import re
import zlib
from dataclasses import dataclass
from hashlib import sha256

MARK = b"loadplan-file-1 "
"""What a mark begins with; the checksum follows."""

DIGITS = 32
"""Hexadecimal digits of the checksum."""

PNG = b"\x89PNG\r\n\x1a\n"
PNG_END = 12
"""Length of the chunk that ends a PNG."""

WITHOUT = frozenset({".csv", ".json"})
"""Endings of texts that have no comments."""

TAGGED = frozenset({".svg", ".xml", ".html", ".htm", ".md"})
"""Endings of texts whose comments are tags."""

OWN_TOML = re.compile(rb"""^[ \t]*["']?schema["']?[ \t]*=[ \t]*["']loadplan-""", re.MULTILINE)
"""What a file that this program reads says of itself, whatever its name ends in."""


@dataclass(frozen=True, slots=True)
class _Comment:
    """How a kind of file takes a comment.

    Attributes:
        before: What stands before the mark.
        after: What stands behind it; a PNG has the sum of the chunk there besides.
        end: What the comment stands before, where the file has it; else it stands at the end.
        summed: Length of the sum behind the mark that a reader checks.
    """

    before: bytes
    after: bytes
    end: bytes = b""
    summed: int = 0


_PDF = _Comment(b"%", b"\n", end=b"startxref")
_GIF = _Comment(b"!\xfe" + bytes([len(MARK) + DIGITS]), b"\0", end=b";")
_PNG = _Comment((len(MARK) + DIGITS + 8).to_bytes(4, "big") + b"tEXtComment\0", b"", summed=4)
_TAG = _Comment(b"<!-- ", b" -->\n")
_LINE, _CRLF = _Comment(b"# ", b"\n"), _Comment(b"# ", b"\r\n")


def marked(content: bytes, ending: str) -> bytes:
    """Put the mark into a file, in the place of an earlier one.

    Args:
        content: Content of the file.
        ending: Ending of its name, with the full stop.

    Returns:
        The content with the mark; equal for equal input. As it is where its kind can have none.
    """
    kind = _kind(content, ending)
    if kind is None:
        return content
    bare = _bare(content, kind)
    where = _where(bare, kind)
    mark = MARK + sha256(bare).hexdigest()[:DIGITS].encode()
    told = kind.before + mark + kind.after
    if kind.summed:
        told += zlib.crc32(told[4:]).to_bytes(kind.summed, "big")
    return bare[:where] + told + bare[where:]


def unmarked(content: bytes, ending: str) -> bytes:
    """Take the mark out of a file: it is going to be somebody's own.

    Args:
        content: Content of the file.
        ending: Ending of its name, with the full stop.

    Returns:
        The content without a mark, right or not.
    """
    kind = _kind(content, ending)
    return content if kind is None else _bare(content, kind)


def is_ours(content: bytes, ending: str) -> bool:
    """Tell whether this program wrote a file and nobody has changed it since.

    Args:
        content: Content of the file.
        ending: Ending of its name, with the full stop.

    Returns:
        Whether it has a mark that fits everything else in it.

    Example:
        >>> text = marked(b"height = 350", ".toml")
        >>> is_ours(text, ".toml"), is_ours(text.replace(b"350", b"400"), ".toml"), is_ours(b"height = 350", ".toml")
        (True, False, False)
    """
    return MARK in content and _kind(content, ending) is not None and marked(content, ending) == content


def _kind(content: bytes, ending: str) -> _Comment | None:
    """Return how a file takes a comment, by what it says of itself; of other texts the ending of its name decides."""
    for begins, kind in ((b"%PDF-", _PDF), (PNG, _PNG), (b"GIF8", _GIF)):
        if content.startswith(begins):
            return kind
    ending = ending.lower()
    toml = OWN_TOML.search(content) is not None
    if (ending in WITHOUT and not toml) or b"\0" in content:
        return None
    if (ending in TAGGED and not toml) or content.lstrip().startswith(b"<"):
        return _TAG
    return _CRLF if content.endswith(b"\r\n") else _LINE


def _bare(content: bytes, kind: _Comment) -> bytes:
    pattern = re.escape(kind.before + MARK) + b"[0-9a-f]{%d}" % DIGITS + re.escape(kind.after) + b".{%d}" % kind.summed
    return re.sub(pattern, b"", content, flags=re.DOTALL)


def _where(bare: bytes, kind: _Comment) -> int:
    """Return where the mark goes: in front of what ends the file."""
    if kind is _PNG:
        return max(len(bare) - PNG_END, len(PNG))
    found = bare.rfind(kind.end) if kind.end else -1
    return len(bare) if found < 0 else found

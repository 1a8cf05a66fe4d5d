"""A form with a file in it, as a browser sends it: cut into its fields, nothing else (RFC 7578; RFC 2046, 5.1)."""

import re
from dataclasses import dataclass

from starlette.requests import Request

from loadplan.board.refusals import RefusedError
from loadplan.board.request_guard import Pass

BOUNDARY = re.compile(r'multipart/form-data;\s*boundary="?([0-9A-Za-z\'()+_,./:=?-]{1,70})"?\s*')
"""What the head of the request says; at most 70 signs (RFC 2046, 5.1.1)."""

FIELD = re.compile(rb'content-disposition:\s*form-data;\s*name="([a-z]{1,20})"(;[^\r\n]*)?', re.IGNORECASE)
"""The line that names a field; what its file is called on the device does not count."""

MOST_FIELDS = 10
"""Most fields that are read: the page sends four."""

LONGEST_HEAD = 2_000
"""Longest head of a field [bytes]: a file's name on the device stands in it."""

LONGEST_FIELD = 1_000
"""Longest field that is no file [bytes]."""


@dataclass(frozen=True, slots=True)
class UploadedFile:
    """What a form said, and the file in it.

    Attributes:
        fields: What was filled in, by field.
        content: What stands in the file.
    """

    fields: dict[str, str]
    content: bytes


async def uploaded(request: Request, held: Pass, name: str) -> UploadedFile:
    """Read a form with a file.

    Args:
        request: The request.
        held: What lets it in.
        name: The field that holds the file.

    Returns:
        What was filled in, and the file.

    Raises:
        RefusedError: If the form is not of this server's own page, or cannot be understood.
    """
    found = BOUNDARY.fullmatch(request.headers.get("content-type", ""))
    fields = _fields(await request.body(), found[1].encode()) if found else None
    if fields is None or any(len(each) > LONGEST_FIELD for key, each in fields.items() if key != name):
        raise RefusedError("The form is not understood. Load the page again.")
    content = fields.pop(name, b"")
    told = {key: each.decode("utf-8", "replace") for key, each in fields.items()}
    if not held.is_token(told.pop("token", "")):
        raise RefusedError("This page is from another time. Load it again.")
    if not content:
        raise RefusedError("Not kept: no photograph was chosen.")
    return UploadedFile(told, content)


def _fields(body: bytes, boundary: bytes) -> dict[str, bytes] | None:
    """Return what stands in each field; None where it is no form, or has a field twice."""
    # The line before the first boundary may be left out.
    pieces = (b"\r\n" + body).split(b"\r\n--" + boundary, MOST_FIELDS + 2)
    if len(pieces) > MOST_FIELDS + 2 or len(pieces) < 2 or pieces[0].strip() or pieces[-1].strip() != b"--":
        return None
    told: dict[str, bytes] = {}
    for piece in pieces[1:-1]:
        head, parted, content = piece.partition(b"\r\n\r\n")
        lines = head.split(b"\r\n") if len(head) <= LONGEST_HEAD else []
        names = [found[1].decode() for line in lines if (found := FIELD.fullmatch(line))]
        if not parted or len(names) != 1 or names[0] in told:
            return None
        told[names[0]] = content
    return told

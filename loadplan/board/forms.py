"""Plain forms of a page: what was filled in, if it comes from our own page."""

from urllib.parse import parse_qsl

from starlette.requests import Request

from loadplan.board.refusals import RefusedError
from loadplan.board.request_guard import Pass

MOST_FIELDS = 600
"""Most fields that are read."""


async def filled_in(request: Request, held: Pass) -> dict[str, str]:
    """Read a form.

    Args:
        request: The request.
        held: What lets it in.

    Returns:
        What was filled in, by field.

    Raises:
        RefusedError: If the form is not of this server's own page, or cannot be understood.
    """
    body = await request.body()
    try:
        pairs = parse_qsl(body.decode("ascii"), keep_blank_values=True, strict_parsing=True, max_num_fields=MOST_FIELDS)
    except ValueError:
        raise RefusedError("The form is not understood. Load the page again.") from None
    fields = dict(pairs)
    if not held.is_token(fields.pop("token", "")):
        raise RefusedError("This page is from another time. Load it again.")
    return fields

"""What is refused on the page, in a sentence."""

from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from loadplan.errors import Fault, InputError


class RefusedError(InputError):
    """Something that a page asks for and does not get.

    Example:
        >>> str(RefusedError("There is no such stand any more."))
        'There is no such stand any more.'
    """

    def __init__(self, says: str) -> None:
        """Keep the sentence.

        Args:
            says: Why, and what would help.
        """
        super().__init__(Fault("", "", "", says))


async def too_large(request: Request, error: Exception) -> Response:
    """Return what answers a request that says less about its size than it sends."""
    return JSONResponse({"refused": "This is more than is read."}, 413)


def not_written(error: OSError) -> RefusedError:
    """Return in a sentence that the disk does not take something."""
    return RefusedError(f"Cannot be written: {error.strerror or 'the disk says no'}. Nothing was changed on the disk.")


async def gone(request: Request, error: Exception) -> Response:
    """Return what nobody reads: who asked hung up in the middle, which is no fault to tell of in the terminal."""
    return Response(status_code=400)

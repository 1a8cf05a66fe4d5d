"""What is refused on the page, in a sentence."""

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


def told(error: InputError) -> str:
    """Tell what is wrong, on a page.

    Args:
        error: Any error of a user's input.

    Returns:
        A line each fault, with its file where it has one.
    """
    return "\n".join(str(fault) if fault.file else fault.message for fault in error.faults)

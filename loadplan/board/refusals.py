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

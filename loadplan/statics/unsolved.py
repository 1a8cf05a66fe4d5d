"""What a stage that cannot be computed ends in; where the job is known it becomes an error of the user's input."""


class UnsolvedError(Exception):
    """A stage could not be computed.

    Attributes:
        says: What is wrong, and what would be right, to stand behind the stage's name.
    """

    says = (
        "cannot be computed: its stiffnesses, weights, sizes or heights lie too far apart. "
        "Look for a figure in the wrong unit"
    )


class TooManyError(UnsolvedError):
    """There are more combinations than can be looked at."""

    says = (
        "has too many stands under too many linked assemblies: there are more ways to go over than can be looked at. "
        "Use fewer stands, or leave out assemblies that are carried elsewhere by naming the others in bodies"
    )

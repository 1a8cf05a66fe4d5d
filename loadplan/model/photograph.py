"""A photograph that hangs on a step: by which name and content the record knows it, and small as it is printed."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class HungPhotograph:
    """A photograph as a record names it.

    Attributes:
        name: Its file, in the job's folder.
        picture: Sum over its content: another file of that name is told.
    """

    name: str
    picture: str


@dataclass(frozen=True, slots=True)
class SmallPicture:
    """A picture small enough to stand beside a line.

    Attributes:
        width: Its width [pixels].
        height: Its height [pixels].
        colours: Red, green and blue of each pixel, a byte each, row by row from the top.
    """

    width: int
    height: int
    colours: bytes

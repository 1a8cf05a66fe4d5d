"""What a page may say to the server, and nothing else."""

from enum import Enum
from typing import TypeVar

from pydantic import BaseModel, ConfigDict, Field, ValidationError
from starlette.requests import Request

from loadplan.board.changes import Change
from loadplan.board.open_plans import Around, OpenStep
from loadplan.board.refusals import RefusedError
from loadplan.board.stand_changes import Metres, Number

FIRST_SIZE = (820.0, 640.0)
"""Size of the drawing before the page has said how large its box is [px]."""

Told = TypeVar("Told", bound=BaseModel)


class WindowSize(BaseModel):
    """What a window shows, and the plan that it shows it of."""

    model_config = ConfigDict(extra="forbid", frozen=True)
    revision: int = Field(0, ge=0)
    step: Number = 0
    wide: float = Field(FIRST_SIZE[0], ge=1, le=10_000, allow_inf_nan=False)
    high: float = Field(FIRST_SIZE[1], ge=1, le=10_000, allow_inf_nan=False)
    without: Number | None = None
    around: Around = Around.AUTO

    @property
    def view(self) -> OpenStep:
        """What it shows."""
        return OpenStep(self.step, (self.wide, self.high), self.without, self.around)


class Drawing(Enum):
    """Whether an answer waits for the drawing: numbers that are there need not."""

    WITH_IT = "with it"
    LATER = "later"


class Changed(WindowSize):
    """A change made in a window."""

    change: Change
    drawing: Drawing = Drawing.WITH_IT


class Moving(WindowSize):
    """A stand on its way."""

    stand: Number
    x: Metres
    y: Metres
    snap: float = Field(0.0, ge=0.0, le=1.0, allow_inf_nan=False)


class Saving(WindowSize):
    """A plan to be written."""

    name: str = Field("", max_length=120)
    sure: bool = False


class SentAway(BaseModel):
    """A device that is to be let in no more."""

    model_config = ConfigDict(extra="forbid", frozen=True)
    device: int = Field(ge=0, le=1_000_000_000)


async def said(request: Request, kind: type[Told]) -> Told:
    """Read what a page says.

    Args:
        request: The request.
        kind: What it should be.

    Returns:
        What it says.

    Raises:
        RefusedError: If it says something else.
    """
    try:
        return kind.model_validate_json(await request.body())
    except ValidationError:
        raise RefusedError("The page said something that is not understood. Load it again.") from None


def asked(request: Request, kind: type[Told]) -> Told:
    """Read what a page asks for in its address.

    Args:
        request: The request.
        kind: What it should be.

    Returns:
        What it asks for.

    Raises:
        RefusedError: If it asks for something else.
    """
    try:
        return kind.model_validate(dict(request.query_params))
    except ValidationError:
        raise RefusedError("The page asked for something that is not understood. Load it again.") from None

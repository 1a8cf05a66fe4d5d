"""A step of an open plan from the left, from the front or in space: the drawing and the words that belong to it."""

from math import radians
from typing import Literal

from pydantic import Field

from loadplan.board.open_plans import Open, within_limits
from loadplan.board.request_schema import WindowSize
from loadplan.board.verdict_cells import Plain
from loadplan.checks.phrases import names
from loadplan.model.answer import Mode
from loadplan.report.drawing.inline_svg import for_page
from loadplan.report.pictures.elevation_shapes import ViewSide
from loadplan.report.pictures.live_side_view import SideView, Turned, first_to_go, side_view_words
from loadplan.report.pictures.plan_content import hangs_something
from loadplan.report.pictures.render import side_view_picture
from loadplan.report.words.vocabulary import Reader

FURTHEST = 8.0
"""Most that the unit is tilted on the page [degrees]."""


class Viewing(WindowSize):
    """A step looked at from another side than from above."""

    side: Literal["left", "front", "turn"] = "turn"
    azimuth: float = Field(30.0, ge=0.0, lt=360.0, allow_inf_nan=False)
    tilt: float = Field(0.0, ge=0.0, le=FURTHEST, allow_inf_nan=False)


def side_view(opened: Open, asked: Viewing) -> dict[str, Plain]:
    """Draw a step from a side.

    Args:
        opened: The plan.
        asked: From where, and how large.

    Returns:
        The drawing, what it shows in words, whether the vehicle is in it, and what lets the unit tilt.
    """
    seen, _ = opened.seen(asked.view)
    assessment, stage, reader = seen.assessment, seen.stage, seen.reader
    around = asked.view.shows_all(assessment, stage)
    turned = Turned(radians(asked.azimuth), radians(asked.tilt))
    looked = turned if asked.side == "turn" else ViewSide.SIDE if asked.side == "left" else ViewSide.FRONT
    view = SideView(assessment, stage, looked, around)
    mode = first_to_go(assessment, stage)
    return {
        "revision": opened.plan.revision,
        "step": stage.state.index,
        "svg": for_page(opened.do(side_view_picture, view, within_limits(asked.view.size), reader)),
        "says": [reader.words(each) for each in side_view_words(view)],
        "around": around,
        "can_around": hangs_something(assessment, stage),
        "can_tilt": mode is not None,
        "goes": _goes(mode, reader),
    }


def _goes(mode: Mode | None, reader: Reader) -> str:
    """Return about what a step goes over first, and from which tilt on by itself."""
    if mode is None:
        return "Nothing here has an edge to go over."
    about = reader.words(f"Let go: over {names(mode.about)}" if mode.about else "Let go")
    if mode.tip_angle is None:
        return f"{about}. It does not stand: it goes by itself."
    return f"{about}. From {reader.angle(mode.tip_angle)} on it goes by itself."

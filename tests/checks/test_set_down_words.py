"""Set-down in words: one unit or several, and no end to the window where there is none."""

from dataclasses import replace

import pytest

from loadplan.checks import set_down
from loadplan.checks.case import Case
from loadplan.model.lowering import Lowering, SetDownAnswer
from tests.checks.builders import ARMS, about, lifted, support, words

PADS = tuple(each.name for each in ARMS)


def coming_down(bodies: tuple[str, ...], lowered: float, drop: float | None = 0.003, end: float | None = 0.01) -> Case:
    """The stands carry enough from 4 mm on; the arms empty evenly over 12 mm."""
    levels = (0.0, lowered)
    arms = tuple(tuple(1000.0 * (1 - level / 0.012) for level in levels) for _ in PADS)
    down = SetDownAnswer(
        bodies=bodies,
        weight=1000.0,
        start=0.004,
        end=end,
        lowered=lowered,
        given=True,
        drop=drop,
        lowering=Lowering(levels, ("A", *PADS), ((0.0, 500.0), *arms)),
    )
    judged = lifted(support("A"))
    return replace(judged, statics=replace(judged.statics, set_down=down))


def said(judged: Case) -> str:
    down = judged.statics.set_down
    assert down is not None
    return words(about(set_down.check(judged), ", ".join(down.bodies)).says)


@pytest.mark.parametrize(
    ("bodies", "drops", "it_drops", "it_does"),
    [
        (("unit",), "the unit drops when", "and it drops by", "and it does not stand"),
        (("unit", "cradle"), "the unit and cradle drop when", "and they drop by", "and they do not stand"),
    ],
)
def test_one_drops_and_several_drop(bodies: tuple[str, ...], drops: str, it_drops: str, it_does: str) -> None:
    assert drops in said(coming_down(bodies, 0.006))
    assert it_drops in said(coming_down(bodies, 0.002))
    assert it_does in said(coming_down(bodies, 0.002, drop=None))


def test_the_vehicle_comes_off_its_pads_only_where_that_was_found() -> None:
    assert "more, and the vehicle comes off its pads" in said(coming_down(("unit",), 0.006))
    assert said(coming_down(("unit",), 0.006, end=None)).endswith("Less, and the unit drops when unbolted.")

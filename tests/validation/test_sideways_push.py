"""Sideways pushes on one unit, against hand formulas and an exact friction cone.

Four stands at (0, 0), (600, 0), (0, 500), (600, 500) mm carry 3400 N at (420, 290) mm; friction 0.5; pushed 350 mm
over the saddles. By hand: slides at µ W = 1700 N; tips over the front edge at W · 180 / 350 = 1748.57 N, over the left
one at W · 210 / 350 = 2040 N. Pushed to the left at the back edge it turns where it stands at 855.48 N: derived for
this project by a second-order cone programme with the round cone (two solvers agree to 1e-6).
"""

from pathlib import Path

import pytest

from loadplan.model.disturbance import PullAnswer
from tests.validation.cases import G, lump, solved, stand_job

WEIGHT = 3400.0
SPOTS = {"A": [0.0, 0.0, 200.0], "B": [600.0, 0.0, 200.0], "C": [0.0, 500.0, 200.0], "D": [600.0, 500.0, 200.0]}
CONE = 0.005
"""The 32 faces lie inside the round cone by at most 1 − cos(π / 32)."""


def pushed(folder: Path, friction: float, at: tuple[float, float], towards: tuple[int, int]) -> PullAnswer:
    """Push the unit 350 mm over its saddles at a place [mm], with 1 N."""
    job = stand_job(SPOTS, [lump("unit", WEIGHT / G, [420, 290, 450])])
    job["equipment"][0] |= {"friction": friction, "stiffness": 1e9}  # hand values are those of rigid stands
    job["stage"][0]["pull"] = {"body": "unit", "at": [*at, 550], "force": 1, "towards": [*towards, 0]}
    answer = solved(job, folder)[0].statics.pull
    assert answer is not None
    assert answer.factor is not None
    return answer


def test_pushed_forward_through_its_centre_it_slides(tmp_path: Path) -> None:
    answer = pushed(tmp_path, 0.5, (420, 290), (1, 0))
    assert answer.first == "slides"
    assert answer.factor == pytest.approx(1700, rel=1e-6)  # square to a face: no loss by the faces


@pytest.mark.parametrize(("towards", "force", "about"), [((1, 0), 1748.571, ("B", "D")), ((0, 1), 2040.0, ("C", "D"))])
def test_where_nothing_slides_it_tips(
    tmp_path: Path, towards: tuple[int, int], force: float, about: tuple[str, ...]
) -> None:
    answer = pushed(tmp_path, 2.0, (420, 290), towards)
    assert (answer.first, answer.about) == ("tips", about)
    assert answer.factor == pytest.approx(force, rel=1e-6)


def test_pushed_aside_at_its_back_edge_it_turns_where_it_stands(tmp_path: Path) -> None:
    answer = pushed(tmp_path, 0.5, (0, 290), (0, 1))
    assert answer.first == "slides"
    assert answer.factor is not None
    assert 855.48 * (1 - CONE) <= answer.factor <= 855.48 * (1 + 1e-5)

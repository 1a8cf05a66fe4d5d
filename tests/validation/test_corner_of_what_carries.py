"""A unit on stands of its own on another one: where the lower one's centre is off, it tilts both. By hand."""

from math import hypot
from pathlib import Path

import pytest

from tests.reference.random_jobs import Job
from tests.validation.cases import G, lump, solved


def stacked(off: float) -> Job:
    """Return 60 kg on three stands on 300 kg on four soft ones, whose centre may be so far off along y [mm]."""
    equipment = {"kind": "stand", "rating": 9000, "rated_for": "each"}
    lower = {"A": (300, 300), "B": (300, -300), "C": (-300, 300), "D": (-300, -300)}
    upper = {"E": (150, 150), "F": (150, -150), "G": (-150, 0)}
    return {
        "limits": {"uneven": 0, "uneven_touch": 0, "floor_slope": 0},
        "body": [{"name": "lower"}, {"name": "upper"}],
        "part": [
            lump("l", 300, [0, 0, 700], "lower") | {"at_pm": [0, off, 0]},
            lump("u", 60, [0, 0, 1100], "upper"),
        ],
        "equipment": [
            equipment | {"name": "soft", "stiffness": 100},
            equipment | {"name": "hard", "stiffness": 2500},
        ],
        "support": [
            *({"name": n, "use": "soft", "body": "lower", "at": [*at, 200], "height": 300} for n, at in lower.items()),
            *({"name": n, "use": "hard", "body": "upper", "on": "lower", "at": [*at, 800]} for n, at in upper.items()),
        ],
        "stage": [{"name": "on stands", "in_place": list("ABCDEFG")}],
    }


def test_the_upper_unit_leans_with_what_carries_it(tmp_path: Path) -> None:
    """W e turns the lower one against 4 k a² (1 − sway), and the upper one's centre, 300 mm up, leans with it.

    Its nearest edges run from G to E and F, and of the lean along y they see 0.3 over hypot(0.15, 0.3).
    """
    margins = []
    for off in (0, 40):
        (stage,) = solved(stacked(off), tmp_path)
        margins.append(stage.statics.body("upper").worst_margin or 0.0)
        sway = stage.statics.groups[0].sway or 0.0
    tilt = 300 * G * 0.04 / (4 * 100e3 * 0.3**2 * (1 - sway))
    assert margins[0] - margins[1] == pytest.approx(0.3 * tilt * 0.3 / hypot(0.15, 0.3), rel=0.02)

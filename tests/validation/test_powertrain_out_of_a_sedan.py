"""A vehicle on a lift before and after its powertrain comes out (derived for this project from a public data set).

Vehicle data: commonroad-vehicle-models 3.0.2 (BSD), vehicle 2: 1093.30 kg, centre of gravity 1.15620 m behind the front
axle, wheelbase 2.57892 m. A powertrain of 180 kg, 0.05 m ahead of the front axle, comes out; pads at 0.55 and 2.05 m
behind the front axle. What is left: 913.30 kg, 1.3939 m behind the axle (0.2377 m further back); pads before 651.46 and
441.83 kg (325.7 and 220.9 an arm), after 399.46 and 513.83 kg (199.7 and 256.9).
"""

from pathlib import Path

import pytest

from loadplan.model.verdict import StageAssessment
from tests.reference.random_jobs import Job
from tests.validation.cases import G, expected, lump, solved

WHOLE, OUT = 1093.30, 180.0
PADS = {"FL": [-550, 700, 180], "FR": [-550, -700, 180], "RL": [-2050, 700, 180], "RR": [-2050, -700, 180]}
STANDS = {"A": [150, 300, 200], "B": [150, -300, 200], "C": [-100, 0, 200]}


def stages(folder: Path) -> tuple[StageAssessment, ...]:
    """Return the vehicle whole on the lift, and parted from its powertrain, which stands on three stands."""
    rest = (1156.2 * WHOLE + 50 * OUT) / (WHOLE - OUT)
    job: Job = {
        "body": [{"name": "shell"}, {"name": "powertrain"}],
        "part": [
            lump("shell", WHOLE - OUT, [-rest, 0, 600], body="shell"),
            lump("powertrain", OUT, [50, 0, 500], body="powertrain"),
        ],
        "joint": [{"name": "bolts", "kind": "bolted", "between": ["shell", "powertrain"], "at": [0, 0, 400]}],
        "point": [{"name": name, "body": "shell", "at": at} for name, at in PADS.items()],
        "equipment": [{"name": "stand", "kind": "stand", "rating": 1500, "rated_for": "each"}],
        "support": [{"name": name, "use": "stand", "body": "powertrain", "at": at} for name, at in STANDS.items()],
        "lift": {"name": "bay", "rating": 4000, "arms": 4, "use": "bay", "body": "shell", "pads": list(PADS)},
        "stage": [{"name": "whole"}, {"name": "out", "in_place": list(STANDS), "undone": ["bolts"]}],
    }
    return solved(job, folder)


def test_the_centre_of_gravity_moves_back(tmp_path: Path) -> None:
    """1.15620 m before, 1.3939 m after: 0.2377 m; to the rear pads 0.894 m before, 0.656 m after."""
    before, after = (stage.statics.lift for stage in stages(tmp_path))
    assert before is not None
    assert after is not None
    assert (before.mass, before.cg[0]) == pytest.approx((1093.30, -1.15620), abs=1e-9)
    assert before.shift == pytest.approx(0, abs=1e-12)
    assert after.mass == pytest.approx(913.30, abs=1e-9)
    assert after.cg[0] == pytest.approx(-1.3939, abs=5e-5)
    assert after.shift == pytest.approx(0.2377, abs=5e-5)
    assert 2.05 + before.cg[0] == pytest.approx(0.894, abs=5e-4)
    assert 2.05 + after.cg[0] == pytest.approx(0.656, abs=5e-4)


def test_the_arms_before_and_after(tmp_path: Path) -> None:
    """A pair of arms in front and one behind: 325.7 and 220.9 kg an arm before, 199.7 and 256.9 after."""
    before, after = (expected(stage) for stage in stages(tmp_path))
    kilograms = [[loads[name] / G for name in PADS] for loads in (before, after)]
    assert kilograms[0] == pytest.approx([325.73, 325.73, 220.92, 220.92], abs=0.01)
    assert kilograms[1] == pytest.approx([199.73, 199.73, 256.92, 256.92], abs=0.01)
    assert sum(kilograms[0][:2]) == pytest.approx(651.46, abs=0.01)
    assert sum(kilograms[0][2:]) == pytest.approx(441.83, abs=0.01)
    assert sum(kilograms[1][:2]) == pytest.approx(399.46, abs=0.01)
    assert sum(kilograms[1][2:]) == pytest.approx(513.83, abs=0.01)

"""A light unit on stands that stand on an assembly, pushed in mujoco (Apache licence) until it slides or goes over.

What is printed is to be no more than a tenth above what the simulator bears, and may be half of it where the unit ties
floor and assembly by friction. Layouts are invented.
"""

from pathlib import Path

import pytest

from tests.reference.random_jobs import Job
from tests.reference.scenes import all_scenes, read_plan
from tests.validation.cases import lump, solved
from tests.validation.simulated import Push, Simulated

FLOOR = {"A": (400, 380), "B": (400, -380), "C": (-420, 390), "D": (-410, -370)}
UPPER = {"E": (260, 240), "F": (-250, 230), "G": (20, -280)}


def stacked(high: tuple[int, int, int], floor: tuple[str, ...]) -> Job:
    """Return 35 kg, the highest 5 of them there, on a cradle of 90 kg on four stands; some stands on the floor."""
    row = {"name": "stand", "kind": "stand", "rating": 9000, "rated_for": "each", "friction": 0.5}
    own = {"use": "stand", "body": "upper"}
    return {
        "limits": {"uneven": 0, "uneven_touch": 0, "floor_slope": 0, "friction": 0.5},
        "body": [{"name": "lower"}, {"name": "upper"}],
        "part": [
            lump("frame", 90, [10, -20, 280], "lower"),
            lump("case", 30, [0, 20, 430], "upper"),
            lump("mast", 5, [*high], "upper"),
        ],
        "equipment": [row],
        "support": [
            *(
                {"name": name, "use": "stand", "body": "lower", "at": [*at, 200], "height": 350}
                for name, at in FLOOR.items()
            ),
            *(
                {"name": name, "at": [*at, 400]} | own | ({"height": 550} if name in floor else {"on": "lower"})
                for name, at in UPPER.items()
            ),
        ],
        "stage": [{"name": "down", "in_place": [*FLOOR, *UPPER]}],
    }


@pytest.mark.slow
@pytest.mark.parametrize(
    ("high", "floor"),
    [((30, 40, 450), ()), ((250, -200, 450), ()), ((250, -200, 450), ("G",)), ((-200, 150, 900), ())],
    ids=["low", "off the middle", "partly on the floor", "high"],
)
def test_a_printed_push_is_not_far_above_what_the_simulator_bears(
    high: tuple[int, int, int], floor: tuple[str, ...], tmp_path: Path
) -> None:
    raw = stacked(high, floor)
    (scene,) = all_scenes(raw, read_plan(raw))
    simulated = Simulated(scene, {})
    assert not simulated.fell
    (stage,) = solved(raw, tmp_path)
    pushes = [each for group in stage.statics.groups for each in group.pushes]
    assert {each.body for each in pushes} == {"lower", "upper"}
    for each in pushes:
        # The halving leaves up to 4 % open.
        borne = simulated.borne_push(Push(each.body, each.at, each.force, each.direction))
        assert 0.4 < each.force / borne < 1.14, (each.body, each.first, each.force, borne)

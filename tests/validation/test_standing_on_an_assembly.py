"""A unit on stands that stand on an assembly, in mujoco (Apache licence): tip angles and pushes as printed.

What is printed is to be no more than a tenth above what the simulator bears. Layouts are invented.
"""

import tempfile
from collections.abc import Iterator
from math import inf
from pathlib import Path
from random import Random

import pytest

from loadplan.model.answer import GroupAnswer
from tests.reference.scenes import all_scenes, read_plan
from tests.validation.cases import solved
from tests.validation.simulated import NEAR, Push, Simulated
from tests.validation.standing_on_an_assembly import on_an_assembly
from tests.validation.test_six_families import way_over

TENTH = 1.1


def layout(seed: int) -> tuple[Simulated, GroupAnswer]:
    """Return a layout in both worlds."""
    raw = on_an_assembly(Random(seed))
    with tempfile.TemporaryDirectory() as folder:
        (stage,) = solved(raw, Path(folder))
    (scene,) = all_scenes(raw, read_plan(raw))
    return Simulated(scene, {}), stage.statics.groups[0]


def tilted(simulated: Simulated, group: GroupAnswer) -> float:
    """Return the least printed tip angle over what is borne; the halving leaves that open by a little."""
    mode = min(group.modes, key=lambda each: each.tip_angle or inf)
    printed = mode.tip_angle or inf
    return printed / (simulated.borne_angle(printed, way_over(mode)) + NEAR * printed)


def pushed(simulated: Simulated, group: GroupAnswer) -> Iterator[float]:
    """Yield each printed push over what is borne."""
    for each in (push for push in group.pushes if push.force > 0):
        borne = simulated.borne_push(Push(each.body, each.at, each.force, each.direction))
        yield each.force / (borne + NEAR * each.force)


@pytest.mark.parametrize("seed", [52, 92])
def test_a_tip_angle_counts_the_saddles_that_a_leaning_assembly_takes_along(seed: int) -> None:
    """Without them they would be 1.4 and 1.2 times what the simulator bears."""
    simulated, group = layout(seed)
    assert not simulated.fell
    assert 0.8 < tilted(simulated, group) <= TENTH


@pytest.mark.slow
@pytest.mark.parametrize("first", range(0, 60, 10))
def test_what_is_printed_is_borne_or_a_tenth_less(first: int) -> None:
    """What falls by itself does not settle with us, either."""
    for seed in range(first, first + 10):
        simulated, group = layout(seed)
        if not group.balanced or group.sway is None:
            continue
        assert not simulated.fell, seed
        assert tilted(simulated, group) <= TENTH, seed
        assert max(pushed(simulated, group), default=0.0) <= TENTH, seed

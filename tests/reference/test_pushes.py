"""Pushes and pulls of random jobs against the judge's programme in 3D.

loadplan's friction cone has 32 inscribed sides, which is up to 0.5 % on the safe side; the judge's up to 0.06 %.
"""

from pathlib import Path
from random import Random
from typing import Any

import numpy as np
import pytest

from loadplan import read_job
from loadplan.assess import assess
from tests.reference.elastic import Array
from tests.reference.exact import Frame
from tests.reference.figures import QUICK
from tests.reference.pushing import force_on, friction_of, highest_part, hold_of, lean_under, least_push
from tests.reference.random_jobs import hoist, one_body, stacked, two_bodies, write_job
from tests.reference.solver import judge

LOWEST, HIGHEST = 0.994, 1.001
LOWEST_PULL = 0.985
"""A pull that presses down makes its own friction, so the cone's half per cent counts more than once."""


def slippery_or_not(seed: int) -> dict[str, Any]:
    """Return a random job of one stage with friction, bases, heights and castors, and a known pull."""
    rng = Random(seed)
    job = [one_body, two_bodies, two_bodies, hoist, stacked][seed % 5](rng)
    job["limits"] = {"friction": rng.choice([0.15, 0.3, 1.0, 2.0])}
    for item in job["equipment"]:
        if rng.random() < 0.6:
            item["base"] = rng.choice([200, {"circle": 260}, [400, 300]])
        if rng.random() < 0.4:
            item["friction"] = rng.choice([0.1, 0.25, 0.6])
        if rng.random() < 0.2:
            item |= {"wheels": True, "locks": rng.random() < 0.5}
        item["heights"] = {"from": 200, "to": 600}
    for support in job["support"]:
        if rng.random() < 0.2:
            support["friction"] = 0.2
    job["stage"] = job["stage"][:1]
    part = rng.choice(job["part"])
    pull = {"body": part["body"], "at": [rng.randint(-200, 200), rng.randint(-300, 300), rng.randint(300, 700)]}
    towards = [rng.choice([-1, 0, 1]), rng.choice([-1, 1]), rng.choice([-1, 0, 0, 1])]
    job["stage"][0]["pull"] = pull | {"force": 300, "towards": towards}
    return job


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(15))
def test_least_push_and_pull(seed: int, tmp_path: Path) -> None:
    """The least push on every rigid whole of a group that stands, and the factor on the known pull.

    Of linked wholes: what the programme allows, upright or leaning, less the sway. Of one whole: at what is told it
    stands with the lean that its springs have then, and upright it would stand as much.
    """
    raw = slippery_or_not(seed)
    statics = assess(read_job(write_job(raw, tmp_path))).stages[0].statics
    figures = judge(raw, QUICK)[0]
    pull = raw["stage"][0]["pull"]
    for group in statics.groups:
        if not group.pushes:
            continue
        frame = figures.frames[group.bodies]
        friction = friction_of(raw, frame)
        holds = [hold_of(frame, friction), hold_of(frame, friction, figures.lean)]
        sway = figures.sway[group.bodies[0]]
        assert sway is not None
        assert len(group.pushes) == len(frame.wholes)
        assert [each.force for each in group.pushes] == sorted(each.force for each in group.pushes)
        for push in group.pushes:
            body, at = highest_part(raw, frame.scene.wholes[frame.scene.whole_of(push.body)])
            assert push.body == body
            least = min(least_push(hold, frame, body, at) for hold in holds)
            if len(frame.wholes) > 1:
                assert LOWEST * least * (1 - sway) <= push.force <= HIGHEST * least * (1 - sway) + 1e-6
                continue
            assert push.force <= HIGHEST * least + 1e-6
            towards = (np.cos(push.direction), np.sin(push.direction), 0.0)
            one = force_on(frame, body, at, towards)
            found = [
                share * push.force <= hold_of(frame, friction, dict.fromkeys(group.bodies, lean)).most(one)
                if (lean := lean_under(frame, figures.gap, share * push.force * one)) is not None
                else False
                for share in (0.999, 1.01)
            ]
            assert found == [True, False]
        if statics.pull is not None and pull["body"] in group.bodies:
            most = min(hold.most(pulled(frame, pull)) for hold in holds)
            if not np.isfinite(most):
                assert statics.pull.factor is None
            elif len(frame.wholes) > 1:
                assert statics.pull.factor is not None
                assert LOWEST_PULL * most * (1 - sway) <= statics.pull.factor <= HIGHEST * most * (1 - sway) + 1e-9
            else:
                assert statics.pull.factor is not None
                assert statics.pull.factor <= HIGHEST * most + 1e-9


def pulled(frame: Frame, pull: dict[str, Any]) -> Array:
    """Return the pull as a column of forces."""
    force = np.array(pull["towards"]) / np.linalg.norm(pull["towards"]) * pull["force"]
    return force_on(frame, pull["body"], tuple(pull["at"]), tuple(force))

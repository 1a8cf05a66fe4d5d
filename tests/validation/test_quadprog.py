"""Expected loads against quadprog, a dense quadratic programming solver (Goldfarb and Idnani, 1983).

The energy's dual: minimise Σ r²/2k + Σ r·gap + Σ f²/2k over the forces that balance every rigid whole, r >= 0. Random
jobs of one and two bodies, mounts without preload (no lift), read and assessed as users' files are.
"""

from pathlib import Path
from random import Random

import numpy as np
import pytest
import quadprog

from loadplan import read_job
from loadplan.assess import assess
from loadplan.model.answer import Statics
from loadplan.model.job import Job
from loadplan.model.vehicle import Place
from tests.reference.random_jobs import one_body, two_bodies, write_job

G = 9.80665
SCALE = 1000.0
"""Forces in kN keep the programme's numbers near 1."""


def by_quadprog(job: Job, statics: Statics) -> dict[str, float]:
    """Return the loads of a first stage in which all bodies make one group and no joint is bolted [N]."""
    row = {body: number for number, body in enumerate(job.bodies)}

    def column(at: Place, over: str, under: str = "") -> list[float]:
        entries = np.zeros(3 * len(row))
        for sign, body in ((1, over), (-1, under)):
            if body:
                entries[3 * row[body] : 3 * row[body] + 3] += sign * np.array([1, at[1], -at[0]])
        return list(entries)

    standing = [support for support in job.supports if support.name in job.stages[0].in_place]
    gaps = {each.name: each.gap for each in statics.supports}
    columns = [column(support.at, support.body) for support in standing]
    columns += [column(joint.at[0], *joint.between) for joint in job.vehicle.joints]
    stiffness = [support.equipment.stiffness for support in standing]
    stiffness += [joint.stiffness for joint in job.vehicle.joints]
    weight = np.sum([np.array(column(p.at, p.body)) * p.mass * G for p in job.vehicle.parts], axis=0)
    count = len(standing)
    linear = [-gaps[support.name] * SCALE for support in standing] + [0.0] * len(job.vehicle.joints)
    found, *_ = quadprog.solve_qp(
        np.diag(SCALE**2 / np.array(stiffness)),
        np.array(linear),
        np.hstack([np.array(columns), np.eye(len(columns))[:, :count]]),
        np.concatenate([weight / SCALE, np.zeros(count)]),
        len(weight),
    )
    return dict(zip((support.name for support in standing), found[:count] * SCALE, strict=True))


@pytest.mark.parametrize("seed", range(16))
def test_expected_loads_of_random_jobs(seed: int, tmp_path: Path) -> None:
    """Loads agree to 1e-9 of the weight wherever the group is balanced, lifted-off stands among them."""
    make = two_bodies if seed % 2 else one_body
    job = read_job(write_job(make(Random(seed)), tmp_path))
    statics = assess(job).stages[0].statics
    weight = sum(part.mass for part in job.vehicle.parts) * G
    if len(statics.groups) == 1 and statics.groups[0].balanced:
        found = by_quadprog(job, statics)
        for support in statics.supports:
            assert support.load is not None
            assert support.load.expected == pytest.approx(found[support.name], abs=1e-9 * weight)


def test_enough_of_these_jobs_are_balanced_and_some_stands_lift_off(tmp_path: Path) -> None:
    """Guards the test above: it must not pass because nothing is compared."""
    balanced = lifted = 0
    for seed in range(16):
        make = two_bodies if seed % 2 else one_body
        statics = assess(read_job(write_job(make(Random(seed)), tmp_path))).stages[0].statics
        loads = [support.load.expected for support in statics.supports if support.load is not None]
        balanced += bool(loads)
        lifted += any(load == 0 for load in loads)
    assert balanced >= 8
    assert lifted >= 3

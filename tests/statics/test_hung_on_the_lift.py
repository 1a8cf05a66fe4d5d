"""What hangs from the vehicle on the lift loads the lift as well: a beam across the wings, an engine on its hooks."""

from pathlib import Path

import pytest

from loadplan.model.lowering import LiftAnswer
from loadplan.model.verdict import Verdict
from tests.checks.small_jobs import STAND, G, Raw, judged, lifted_job, loads, part, the

BEAM = {"name": "beam", "kind": "hoist", "rating": 500, "rated_for": "each"}


def hung_engine(**more: object) -> Raw:
    """A shell of 800 kg, and an engine of 200 kg on two hooks 100 mm in front of it and a stand 300 mm behind it."""
    hooks = {"hook left": [100, 200, 800], "hook right": [100, -200, 800]}
    hang = [{"name": name, "use": "beam", "body": "unit", "at": at, "on": "shell"} for name, at in hooks.items()]
    job = lifted_job(
        part=[part("shell", "shell", 800, [-1250, 0, 600]), part("engine", "unit", 200, [0, 0, 500])],
        equipment=[STAND, BEAM],
        support=[*hang, {"name": "G", "use": "stand", "body": "unit", "at": [-300, 0, 200]}],
        stage=[{"name": "hung", "in_place": [*hooks, "G"], "undone": ["bolts"], "lift_locked": True}],
    )
    job["lift"] |= more
    return job


def on_lift(job: Raw, folder: Path) -> LiftAnswer:
    told = judged(job, folder).stages[0].statics.lift
    assert told is not None
    return told


def test_it_holds_what_its_arms_carry(tmp_path: Path) -> None:
    """By hand: three quarters of 200 kg on the hooks, so 950 kg; (800 · −1.25 + 150 · 0.1) / 950 = −1.0368 m."""
    told = judged(hung_engine(), tmp_path).stages[0]
    lift = told.statics.lift
    assert lift is not None
    arms = sum(load for name, load in loads(told).items() if name in {"FL", "FR", "RL", "RR"})
    assert lift.mass == pytest.approx(950.0)
    assert lift.mass * G == pytest.approx(arms)
    assert lift.cg[:2] == pytest.approx((-985 / 950, 0.0))


def test_its_rating_counts_the_most_that_the_hooks_carry(tmp_path: Path) -> None:
    told = judged(hung_engine(rating=900, arm_rating=900), tmp_path).stages[0]
    most = sum(each.load.at_most for each in told.statics.supports if each.load and each.name.startswith("hook"))
    assert on_lift(hung_engine(), tmp_path).mass_upper == pytest.approx(800 + most / G)
    assert the(told, "lift", "bay").verdict is Verdict.STOP


def test_its_centre_counts_it_too(tmp_path: Path) -> None:
    """With everything on it was (800 · −1.25 + 0) / 1000 = −1.0 m: it went back by 0.0368 m, not by 0.25."""
    assert on_lift(hung_engine(), tmp_path).shift == pytest.approx(985 / 950 - 1.0)


def test_a_unit_that_is_joined_and_hangs_is_counted_once(tmp_path: Path) -> None:
    """Still on its three mounts, with hooks that carry some of it: hooks and mounts lead to the same vehicle."""
    job = hung_engine()
    places = {"left": [0, 300, 500], "right": [0, -300, 500], "rear": [-300, 0, 500]}
    tie = {"kind": "mount", "between": ["unit", "shell"], "stiffness": 300}
    job["joint"] = [{"name": name, "at": at} | tie for name, at in places.items()]
    job["stage"] = [{"name": "up"}, {"name": "hooked on", "in_place": ["hook left", "hook right"], "lift_locked": True}]
    told = judged(job, tmp_path).stages[1].statics
    assert told.lift is not None
    assert told.lift.mass == pytest.approx(1000.0)
    assert told.lift.mass_upper == pytest.approx(1000.0)

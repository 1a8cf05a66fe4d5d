"""A beam across the wings, a table, a dolly and a jack, from the file to the verdict."""

from pathlib import Path

import pytest

from loadplan.model.verdict import Assessment, StageAssessment, Verdict
from loadplan.units import System
from tests.checks.small_jobs import STAND, G, Raw, found, judged, lifted_job, loads, part, said, the, unit_job

BEAM = {
    "name": "beam",
    "kind": "hoist",
    "rating": 500,
    "rated_for": "each",
    "stiffness": 1000,
    "heights": {"from": 0, "to": 900},
}
FOUR = {"A": [500, 500, 200], "B": [500, -500, 200], "C": [-500, 500, 200], "D": [-500, -500, 200]}


# ---- a beam across the wings ---------------------------------------------------------------------


def hung_engine() -> Raw:
    """An engine of 200 kg, its mounts undone, on two hooks of a beam on the shell and one stand under its gearbox."""
    hooks = {"hook left": [100, 200, 800], "hook right": [100, -200, 800]}
    hang = [{"name": name, "use": "beam", "body": "unit", "at": at, "on": "shell"} for name, at in hooks.items()]
    job = lifted_job(
        part=[part("shell", "shell", 800, [-1250, 0, 600]), part("engine", "unit", 200, [0, 0, 500])],
        equipment=[STAND, BEAM],
        support=[*hang, {"name": "G", "use": "stand", "body": "unit", "at": [-300, 0, 200]}],
        stage=[{"name": "hung", "in_place": [*hooks, "G"], "undone": ["bolts"], "lift_locked": True}],
    )
    job["joint"][0]["at"] = [0, 0, 500]
    return job


def hanging(folder: Path) -> StageAssessment:
    return judged(hung_engine(), folder).stages[0]


def test_a_beam_across_the_wings_puts_its_load_into_the_vehicle(tmp_path: Path) -> None:
    """200 kg at 0, hooks at 100, stand at −300 mm: three quarters on the hooks; the pads carry that as well."""
    told = hanging(tmp_path)
    carried = loads(told)
    assert carried["G"] == pytest.approx(50 * G, rel=1e-6)
    assert carried["hook left"] + carried["hook right"] == pytest.approx(150 * G, rel=1e-6)
    front = carried["FL"] + carried["FR"]
    assert front == pytest.approx((800 * 0.5 + 150 * (2000 + 100) / 1500) * G, rel=1e-6)
    assert front + carried["RL"] + carried["RR"] == pytest.approx(950 * G, rel=1e-6)


def test_engine_and_vehicle_are_one_group_that_is_not_pushed(tmp_path: Path) -> None:
    told = hanging(tmp_path)
    assert [group.bodies for group in told.statics.groups] == [("shell", "unit")]
    assert found(told, "push") == []
    assert {"sway", "lift", "balance"} <= {each.check for each in told.findings}


def test_a_chain_or_a_spindle_that_does_not_lock_is_a_caution(tmp_path: Path) -> None:
    told = hanging(tmp_path)
    assert {each.subject for each in found(told, "jack holding")} == {"hook left", "hook right"}
    assert {each.verdict for each in found(told, "jack holding")} == {Verdict.CAUTION}
    assert all("Only its chain brake holds" in said(each) for each in found(told, "jack holding"))


def test_what_hangs_under_the_vehicle_is_no_prop_and_needs_no_clearance(tmp_path: Path) -> None:
    assert found(hanging(tmp_path), "clearance") == []
    held = the(hanging(tmp_path), "lift", "heavy end")
    assert "stands under that end" not in said(held)


# ---- a table -------------------------------------------------------------------------------------


def on_table(**table: object) -> Raw:
    whole = STAND | {"name": "table", "kind": "table", "rating": 600, "base": [1400, 1200], "count": 1} | table
    places = [
        {"name": name, "use": "table", "body": "unit", "at": at, "height": 500, "piece": "T"}
        for name, at in FOUR.items()
    ]
    return unit_job(FOUR, equipment=[whole], support=places)


def test_a_table_is_one_piece_with_one_rating_and_one_footprint(tmp_path: Path) -> None:
    told = judged(on_table(), tmp_path).stages[0]
    rating = the(told, "rating")
    assert (rating.subject, rating.verdict) == ("T", Verdict.HOLDS)
    assert rating.value == pytest.approx(400 * G)
    assert the(told, "count").verdict is Verdict.HOLDS
    assert [each for each in found(told, "overlap") if each.verdict > Verdict.NOTE] == []
    weak = judged(on_table(rating=390), tmp_path).stages[0]
    assert the(weak, "rating").verdict is Verdict.STOP


def test_a_dolly_that_is_rolled_is_not_judged_but_one_that_is_worked_on_is(tmp_path: Path) -> None:
    job = on_table(wheels=True)
    job["stage"] = [{"name": "set down", "in_place": list(FOUR)}, {"name": "rolled", "moved": True}]
    assessment: Assessment = judged(job, tmp_path)
    worked, rolled = assessment.stages
    assert {each.verdict for each in found(worked, "wheels")} == {Verdict.CAUTION}
    assert the(worked, "push").verdict is Verdict.STOP
    assert the(worked, "push").value == pytest.approx(0.02 * 400 * G, rel=6e-3)
    assert [each.check for each in rolled.findings] == ["wheels"]
    assert "NOT CHECKED" in said(rolled.findings[0])


# ---- a jack --------------------------------------------------------------------------------------


def with_jack(kind: str = "jack", **stage: object) -> Raw:
    jack = STAND | {"name": "jack", "kind": kind, "rating": 300}
    job = unit_job(FOUR, equipment=[STAND, jack])
    job["support"][3] |= {"use": "jack"}
    job["stage"] = [{"name": "on a jack", "in_place": list(FOUR)} | stage]
    return job


def test_a_jack_is_sunk_by_10_mm_and_what_that_does_is_told(tmp_path: Path) -> None:
    """Jack and one stand let go, B and C carry 200 kg each; the unit hangs over without it: told as going over."""
    told = judged(with_jack(), tmp_path).stages[0]
    held = the(told, "jack holding", "D")
    assert held.verdict is Verdict.CAUTION
    assert "Only oil holds D: without it the unit goes over, turning about B and C" in said(held)
    assert "sunk by 10 mm nothing is overloaded or out of level" in said(held)
    assert "sunk by 3/8 in nothing is overloaded or out of level" in said(held, System.US)


def test_what_passes_its_limit_when_the_jack_sinks_is_named(tmp_path: Path) -> None:
    job = with_jack()
    job["point"] = [{"name": "weak", "body": "unit", "at": FOUR["B"], "limit": 1500}]
    job["support"][1] = {"name": "B", "use": "stand", "under": "weak"}
    told = said(the(judged(job, tmp_path).stages[0], "jack holding", "D"))
    assert "the place at B takes 200 kg of 153 kg" in told


def test_left_alone_on_oil_is_a_stop_and_on_a_lock_nothing(tmp_path: Path) -> None:
    alone = judged(with_jack(unattended=True), tmp_path).stages[0]
    assert the(alone, "jack holding").verdict is Verdict.STOP
    locked = judged(with_jack("stand", unattended=True), tmp_path).stages[0]
    assert found(locked, "jack holding") == []

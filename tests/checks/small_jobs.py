"""Small made-up jobs that go the whole way: written as a file, read, computed and judged."""

from pathlib import Path
from typing import Any, TypeAlias

import loadplan
from loadplan.assess import assess
from loadplan.model.verdict import Assessment, Finding, StageAssessment, Verdict
from loadplan.report.words.number_format import write_finding
from loadplan.units import System
from tests.reference.random_jobs import write_job

Raw: TypeAlias = dict[str, Any]
"""A job as TOML holds it."""

G = 9.80665

EXACT = {"mass_pm": 0, "at_pm": 0}

STAND = {
    "name": "stand",
    "kind": "stand",
    "rating": 20000,
    "rated_for": "each",
    "stiffness": 2500,
    "heights": {"from": 100, "to": 900},
    "friction": 0.5,
    "saddle": 90,
}

PADS = {"FL": [-500, 700], "FR": [-500, -700], "RL": [-2000, 700], "RR": [-2000, -700]}


def part(name: str, body: str, mass: float, at: list[float]) -> Raw:
    return {"name": name, "body": body, "mass": mass, "at": at} | EXACT


def stands(places: dict[str, list[float]], body: str, height: float | None = None) -> list[Raw]:
    """Stands under places [mm] of a body."""
    rest = {} if height is None else {"height": height}
    return [{"name": name, "use": "stand", "body": body, "at": at} | rest for name, at in places.items()]


def unit_job(places: dict[str, list[float]], **more: object) -> Raw:
    """One body of 400 kg, its centre at (0, 0, 500), on stands that just touch."""
    return {
        "body": [{"name": "unit"}],
        "part": [part("block", "unit", 400, [0, 0, 500])],
        "equipment": [STAND],
        "support": stands(places, "unit"),
        "stage": [{"name": "on stands", "in_place": list(places)}],
    } | more


def lifted_job(**more: object) -> Raw:
    """A shell of 800 kg on four arms with a unit of 400 kg bolted into it, both centred between the pads."""
    places = {"A": [-1050, 300, 200], "B": [-1050, -300, 200], "C": [-1450, 300, 200], "D": [-1450, -300, 200]}
    return {
        "body": [{"name": "shell", "bottom": 180, "top": 1480}, {"name": "unit", "bottom": 200, "top": 700}],
        "part": [part("shell", "shell", 800, [-1250, 0, 600]), part("block", "unit", 400, [-1250, 0, 450])],
        "joint": [{"name": "bolts", "kind": "bolted", "between": ["unit", "shell"], "at": [-1250, 0, 500]}],
        "point": [{"name": name, "body": "shell", "at": [*at, 180], "limit": 20000} for name, at in PADS.items()],
        "equipment": [STAND],
        "lift": {
            "name": "bay",
            "rating": 4000,
            "arms": 4,
            "stiffness": 400,
            "locks": True,
            "lock_step": 0,
            "use": "bay",
            "body": "shell",
            "pads": list(PADS),
            "columns": -1250,
        },
        "support": stands(places, "unit", 350),
        "stage": [
            {"name": "set down", "in_place": list(places), "lowered": 10, "lift_locked": True},
            {"name": "unbolted", "undone": ["bolts"]},
        ],
    } | more


def judged(job: Raw, folder: Path) -> Assessment:
    return assess(loadplan.read_job(write_job(job, folder)))


def found(stage: StageAssessment, check: str, subject: str | None = None) -> list[Finding]:
    return [each for each in stage.findings if each.check == check and subject in {None, each.subject}]


def the(stage: StageAssessment, check: str, subject: str | None = None) -> Finding:
    those = found(stage, check, subject)
    assert len(those) == 1, [(each.check, each.subject) for each in stage.findings]
    return those[0]


def worst(stage: StageAssessment, check: str) -> Verdict:
    return max(each.verdict for each in found(stage, check))


def said(finding: Finding, units: System = System.METRIC) -> str:
    return write_finding(finding, units)


def loads(stage: StageAssessment) -> dict[str, float]:
    return {each.name: each.load.expected for each in stage.statics.supports if each.load is not None}


# ---- a vehicle of 900 kg on pads at −500 and −2000 mm, an engine in front of them that comes off ----------

TAIL = {"name": "tail", "body": "shell", "at": [-3500, 0, 250], "say": "on the cross member"}


def heavy_tail(x: float, *points: Raw, **more: object) -> Raw:
    """A shell of 900 kg with its centre at x, an engine of 100 kg in front that comes off, no tolerance, even pads."""
    job = lifted_job(
        part=[part("shell", "shell", 900, [x, 0, 600]), part("engine", "shell", 100, [900, 0, 600])],
        body=[{"name": "shell"}],
        joint=[],
        support=[],
        limits={"uneven_touch": 0},
        stage=[{"name": "engine out", "off": ["engine"], "lift_locked": True}],
    )
    job["point"] = [*job["point"], *points]
    return job | more


def only_stage(job: Raw, folder: Path) -> StageAssessment:
    (one,) = judged(job, folder).stages
    return one


def cautions(told: StageAssessment) -> set[str]:
    return {each.subject for each in found(told, "lift") if each.verdict is Verdict.CAUTION}

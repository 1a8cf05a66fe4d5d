"""Every stage proves its verdict; the checker believes nothing else."""

import copy
import tomllib
from pathlib import Path

import pytest

import loadplan
from tests.proofs.checker import faults
from tests.reference.maker import write_job
from tests.reference.random_jobs import random_job

DEMO = Path(__file__).parents[2] / "demo"
JOBS = sorted(path for path in DEMO.glob("*.toml") if 'schema  = "loadplan-job-1"' in path.read_text("utf-8"))


def _on(table: dict) -> dict[str, str]:
    return {each["name"]: each.get("on") for each in table.get("support", [])}


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_every_stage_of_every_demo_proves_what_it_says(path: Path) -> None:
    report = loadplan.check(loadplan.read_job(path)).to_dict()
    assert not faults(report, _on(tomllib.loads(path.read_text("utf-8"))))


def test_random_jobs_prove_what_they_say(tmp_path: Path) -> None:
    kinds = set()
    for seed in range(1000, 2000):
        table = random_job(seed)
        report = loadplan.check(loadplan.read_job(write_job(table, tmp_path, f"{seed}.toml"))).to_dict()
        assert not faults(report, _on(table)), seed
        kinds |= {kind for stage in report["stages"] for proof in stage["proof"] for kind in proof if kind != "bodies"}
    assert kinds == {"balance", "tips", "free"}


@pytest.mark.parametrize("path", JOBS[:3], ids=lambda path: path.stem)
def test_a_tampered_proof_is_found_out(path: Path) -> None:
    on = _on(tomllib.loads(path.read_text("utf-8")))
    report = loadplan.check(loadplan.read_job(path)).to_dict()
    for number, stage in enumerate(report["stages"]):
        for place, proof in enumerate(stage["proof"]):
            wrong = copy.deepcopy(report)
            changed = wrong["stages"][number]["proof"][place]
            if "balance" in proof:
                name = next(iter(changed["balance"]["supports"]))
                changed["balance"]["supports"][name] += 0.01
            else:
                kind = "free" if "free" in proof else "tips"
                first = next(iter(changed[kind]))
                changed[kind][first]["w"] += 1e-3
            assert faults(wrong, on)

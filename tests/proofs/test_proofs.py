"""Every stage proves its verdict; the checker believes nothing else."""

import copy
import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest

import loadplan
from tests.proofs.checker import faults
from tests.reference.maker import Job, write_job
from tests.reference.parts_off import parts_off
from tests.reference.random_jobs import random_job
from tests.tracked import shipped

pytestmark = pytest.mark.slow

JOBS = [path for path in shipped("demo", "*.toml") if 'schema  = "loadplan-job-1"' in path.read_text("utf-8")]


def _on(table: dict) -> dict[str, str]:
    return {each["name"]: each.get("on") for each in table.get("support", [])}


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_every_stage_of_every_demo_proves_what_it_says(path: Path) -> None:
    report = loadplan.check(loadplan.read_job(path)).to_dict()
    assert not faults(report, _on(tomllib.loads(path.read_text("utf-8"))))


def test_a_few_random_jobs_prove_what_they_say(tmp_path: Path) -> None:
    assert "balance" in _proven([random_job(seed) for seed in range(1000, 1030)], tmp_path)


@pytest.mark.slow
def test_what_stands_under_air_and_what_hangs_on_a_link_is_no_part_of_a_proof(tmp_path: Path) -> None:
    assert _proven([parts_off(seed) for seed in range(2000, 2012)], tmp_path) >= {"balance", "free"}


@pytest.mark.slow
def test_random_jobs_prove_what_they_say(tmp_path: Path) -> None:
    assert _proven([random_job(seed) for seed in range(1030, 2000)], tmp_path) == {"balance", "tips", "free"}


def _proven(jobs: list[Job], tmp_path: Path) -> set[str]:
    """Check every proof of jobs, and return which kinds there were."""
    kinds = set()
    for number, table in enumerate(jobs):
        report = loadplan.check(loadplan.read_job(write_job(table, tmp_path, f"{number}.toml"))).to_dict()
        assert not faults(report, _on(table)), number
        kinds |= {kind for stage in report["stages"] for proof in stage["proof"] for kind in proof if kind != "bodies"}
    return kinds


Change = Callable[[dict], object]

TAMPERED: dict[str, tuple[str, Change]] = {
    "a load": ("balance", lambda proof: _add(proof["balance"]["supports"], 0.01)),
    "a load that pulls": ("balance", lambda proof: _add(proof["balance"]["supports"], -1e5)),
    "a motion the other way": ("tips", lambda proof: [_turn(way) for way in proof["tips"].values()]),
    "a height": ("free", lambda proof: [_add(way, 1e-3) for way in proof["free"].values()]),
    "no motion": ("free", lambda proof: [way.update(w=0, rx=0, ry=0) for way in proof["free"].values()]),
    "another kind": ("tips", lambda proof: proof.update(free=proof.pop("tips"))),
}


def _add(figures: dict, change: float) -> None:
    figures[next(iter(figures))] += change


def _turn(way: dict) -> None:
    way.update({key: -figure for key, figure in way.items()})


@pytest.fixture(scope="module")
def proven(tmp_path_factory: pytest.TempPathFactory) -> list[tuple[dict, dict[str, str]]]:
    """Reports, with what their supports stand on, that hold every kind of proof."""
    folder = tmp_path_factory.mktemp("jobs")
    tables = [random_job(seed) for seed in range(1000, 1042)]
    return [(loadplan.check(loadplan.read_job(write_job(table, folder))).to_dict(), _on(table)) for table in tables]


@pytest.mark.parametrize("change", TAMPERED)
def test_a_tampered_proof_is_found_out(change: str, proven: list[tuple[dict, dict[str, str]]]) -> None:
    kind, tamper = TAMPERED[change]
    found = 0
    for report, on in proven:
        for number, stage in enumerate(report["stages"]):
            borne = {support["body"] for support in stage["supports"]}
            shown = [
                place for place, proof in enumerate(stage["proof"]) if kind in proof and borne & {*proof["bodies"]}
            ]
            for place in shown:
                wrong = copy.deepcopy(report)
                tamper(wrong["stages"][number]["proof"][place])
                assert faults(wrong, on)
                found += 1
    assert found


def test_a_proof_that_is_left_out_or_contradicted_is_found_out(proven: list[tuple[dict, dict[str, str]]]) -> None:
    report, on = proven[0]
    for change in (lambda stage: stage["proof"].pop(), lambda stage: stage["bodies"][0].update(balanced=None)):
        wrong = copy.deepcopy(report)
        change(wrong["stages"][0])
        assert faults(wrong, on)

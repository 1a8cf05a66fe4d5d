"""The proof as a reader gets it: the sums come to nothing, and a tampered one would show."""

from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.assess import assess
from loadplan.files import read_job
from loadplan.model.answer import Balanced
from loadplan.report.text.proof import proof_page
from loadplan.units import System
from tests.demo.jobs import with_stands_under_the_subframe_only

DEMO = Path(__file__).parents[3] / "demo"


@pytest.mark.parametrize("name", ["front-unit", "rocking-on-two-stands", "us-units", "weighed-unit"])
@pytest.mark.parametrize("units", list(System))
def test_every_sum_on_the_page_comes_to_nothing(name: str, units: System) -> None:
    page = proof_page(assess(read_job(DEMO / f"{name}.toml")), units)
    sums = [line.split()[1:] for line in page.splitlines() if line.split()[:1] == ["sum"]]
    assert sums
    assert all(float(number) == 0 for row in sums for number in row)
    assert max(len(line) for line in page.splitlines()) <= 100


def test_a_load_that_does_not_balance_shows_in_the_sum() -> None:
    assessment = assess(read_job(DEMO / "us-units.toml"))
    stage = assessment.stages[0]
    group = stage.statics.groups[0]
    assert isinstance(group.proof, Balanced)
    (name, load), *others = group.proof.supports
    wrong = replace(group, proof=replace(group.proof, supports=((name, load + 1.0), *others)))
    tampered = replace(stage, statics=replace(stage.statics, groups=(wrong, *stage.statics.groups[1:])))
    page = proof_page(replace(assessment, stages=(tampered,)), System.METRIC)
    sums = [line.split()[1:] for line in page.splitlines() if line.split()[:1] == ["sum"]]
    assert sums[0][0] == "1.000"


def test_what_is_free_to_move_is_shown_by_a_motion_that_presses_no_stand() -> None:
    page = proof_page(assess(with_stands_under_the_subframe_only()), System.METRIC)
    assert "subframe and powertrain are free to move" in page
    after = page[page.index("are free to move") :]
    rows = [line.split() for line in after.splitlines() if line.split()[:1] in (["A"], ["B"], ["C"], ["D"])]
    assert [row[1] for row in rows[:4]] == ["+0.000000"] * 4

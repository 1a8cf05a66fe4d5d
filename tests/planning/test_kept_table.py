"""A table that stays counts as one piece, whatever number of supports it makes."""

from pathlib import Path

import pytest

import loadplan
from loadplan.model.job import Job
from loadplan.planning.placement.layout_space import space
from loadplan.planning.placement.proposal import Placement, propose
from tests.checks.small_jobs import STAND, Raw, unit_job
from tests.reference.random_jobs import write_job

CORNERS = {"p1": [500, 500, 200], "p2": [500, -500, 200], "p3": [-500, 500, 200], "p4": [-500, -500, 200]}


def kept_table(rating: float) -> Raw:
    """400 kg on four stands of 2500 N/mm and a table of twice 1500 in their middle: it takes 3/13 of that, 92.3 kg."""
    job = unit_job({}, limits={"uneven_touch": 0})
    table = {"name": "table", "kind": "table", "rating": rating, "rated_for": "each", "stiffness": 1500}
    tops = {"T1": [0, 150, 200], "T2": [0, -150, 200]}
    return job | {
        "point": [{"name": name, "body": "unit", "at": at, "limit": 20000} for name, at in CORNERS.items()],
        "equipment": [STAND, table | {"friction": 0.5}],
        "support": [
            {"name": name, "use": "table", "body": "unit", "at": at, "piece": "T", "keep": True}
            for name, at in tops.items()
        ],
        "stage": [{"name": "down", "in_place": list(tops)}],
    }


def proposed(rating: float, folder: Path) -> Placement:
    job: Job = loadplan.read_job(write_job(kept_table(rating), folder))
    return propose(space(job), 4, lambda _: None)


def test_its_share_is_that_of_the_whole_table(tmp_path: Path) -> None:
    answer = proposed(200, tmp_path).answer
    assert answer is not None
    assert answer.share == pytest.approx(400 * 3 / 13 / 200)


def test_a_layout_that_loads_it_beyond_the_share_is_excluded(tmp_path: Path) -> None:
    assert proposed(124, tmp_path).answer is not None
    told = proposed(122, tmp_path)
    assert told.answer is None
    assert told.against == (("rating", 1),)

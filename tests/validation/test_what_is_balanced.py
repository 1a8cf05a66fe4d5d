"""What counts as balanced, by the definitions: full rank, and every way of going over lifts the weight.

A centre of gravity within 0.001 mm of an edge counts as tipping. Derived by hand for this project.
"""

from pathlib import Path

import pytest

from loadplan.model.answer import Balanced, GroupAnswer, Loose, Tips
from tests.reference.random_jobs import Job
from tests.validation.cases import lump, solved, stand_job

SQUARE = {"A": [0.0, 0.0, 200.0], "B": [500.0, 0.0, 200.0], "C": [500.0, 400.0, 200.0], "D": [0.0, 400.0, 200.0]}


def group(job: Job, folder: Path) -> GroupAnswer:
    """Return the only group of the first stage."""
    return solved(job, folder)[0].statics.groups[0]


@pytest.mark.parametrize(
    ("x", "proof"),
    [(0.002, Balanced), (0.0011, Balanced), (0.0009, Tips), (0.0, Tips), (-0.002, Tips), (-5.0, Tips)],
)
def test_a_thousandth_of_a_millimetre_from_the_edge(x: float, proof: type, tmp_path: Path) -> None:
    """At the edge x = 0: 0.0011 mm inside stands, 0.0009 mm inside counts as tipping."""
    answer = group(stand_job(SQUARE, [lump("load", 100.0, [x, 150, 700])]), tmp_path)
    assert isinstance(answer.proof, proof)


def test_the_way_it_goes_over_is_about_the_near_edge(tmp_path: Path) -> None:
    """5 mm outside the edge through A and D: the motion is about x = 0 and lowers the weight."""
    answer = group(stand_job(SQUARE, [lump("load", 100.0, [-5, 150, 700])]), tmp_path)
    assert isinstance(answer.proof, Tips)
    motion = dict(answer.proof.motions)["unit"]
    assert motion.up_at(0.0, 0.0) == pytest.approx(0, abs=1e-12)
    assert motion.up_at(0.0, 0.4) == pytest.approx(0, abs=1e-12)
    assert motion.up_at(0.5, 0.2) > 0
    assert motion.up_at(-0.005, 0.15) < 0


@pytest.mark.parametrize("names", ["A", "AB", "ABE"])
def test_one_stand_two_or_three_in_a_line_leave_it_free(names: str, tmp_path: Path) -> None:
    """The centre of gravity is exactly over the line through the stands: still free to move."""
    spots = {name: at for name, at in (SQUARE | {"E": [250.0, 0.0, 200.0]}).items() if name in names}
    answer = group(stand_job(spots, [lump("load", 100.0, [200, 0, 700])]), tmp_path)
    assert isinstance(answer.proof, Loose)
    motion = dict(answer.proof.motions)["unit"]
    for x, y, _ in spots.values():
        assert motion.up_at(x / 1000, y / 1000) == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize(
    ("x", "stand", "proof"), [(100, True, Balanced), (0, True, Tips), (-1, True, Tips), (0, False, Loose)]
)
def test_a_lever_hinged_on_two_mounts(x: int, stand: object, proof: type, tmp_path: Path) -> None:
    """A beam on two mounts at x = 0 and a stand at x = 400 holds only with its weight on the stand's side.

    Without the stand it is free, even with the weight exactly over the line of its mounts.
    """
    job = stand_job(SQUARE, [lump("base", 50.0, [250, 200, 300]), lump("beam", 100.0, [x, 200, 500], body="beam")])
    job["body"].append({"name": "beam"})
    job["joint"] = [
        {"name": f"mount {y}", "kind": "mount", "between": ["beam", "unit"], "at": [0, y, 400]} for y in (100, 300)
    ]
    if stand:
        job["support"].append({"name": "E", "use": "stand", "body": "beam", "at": [400, 200, 300]})
        job["stage"][0]["in_place"].append("E")
    answer = group(job, tmp_path)
    assert isinstance(answer.proof, proof)
    if isinstance(answer.proof, Balanced):
        assert min(margin for mode in answer.modes for name, margin in mode.margins if name == "beam") == (
            pytest.approx(0.1, abs=1e-12)
        )

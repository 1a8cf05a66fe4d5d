"""A height on an assembly counts from that assembly, not from the floor."""

from pathlib import Path

import pytest

from loadplan.files import read_job
from loadplan.model.job import Job
from loadplan.model.verdict import Verdict
from tests.checks.small_jobs import STAND, Raw, judged, part, stands
from tests.reference.random_jobs import write_job

LEGS = {"A": [400, 400, 400], "B": [400, -400, 400], "C": [-400, 400, 400], "D": [-400, -400, 400]}
FEET = {"E": [300, 0, 700], "F": [-300, 300, 700], "G": [-300, -300, 700]}


def stacked(heights: dict[str, float], **cradle: object) -> Raw:
    """A unit of 200 kg on three stands on a cradle of 100 kg, its top at 500, that stands on four of 400 mm."""
    outline = [[500, 500], [500, -500], [-500, -500], [-500, 500]]
    on_top = [
        row | {"on": "cradle", "height": heights[row["name"]]} if row["name"] in heights else row | {"on": "cradle"}
        for row in stands(FEET, "unit")
    ]
    return {
        "body": [
            {k: v for k, v in ({"name": "cradle", "outline": outline, "top": 500} | cradle).items() if v is not None},
            {"name": "unit", "outline": outline},
        ],
        "part": [part("frame", "cradle", 100, [0, 0, 450]), part("block", "unit", 200, [-100, 0, 800])],
        "equipment": [STAND],
        "support": [*stands(LEGS, "cradle", 400), *on_top],
        "stage": [{"name": "stacked", "in_place": [*LEGS, *FEET]}],
    }


def gaps(folder: Path, raw: Raw) -> dict[str, float]:
    return judged(raw, folder).stages[0].statics.gaps


def read(folder: Path, raw: Raw) -> Job:
    return read_job(write_job(raw, folder))


def feet(job: Job) -> list[float | None]:
    return [each.foot for each in job.supports if each.on]


def test_a_stand_on_a_cradle_set_as_high_as_the_unit_over_it_just_touches(tmp_path: Path) -> None:
    """700 less 500 is 200: all gaps are nothing, and it stands as it does where nobody gave a height."""
    told = judged(stacked(dict.fromkeys("EFG", 200.0)), tmp_path)
    by_hand = judged(stacked({}), tmp_path)
    assert list(told.stages[0].statics.gaps.values()) == pytest.approx([0.0] * 7)
    loads = [each.load.expected for each in told.stages[0].statics.supports if each.load]
    assert loads == pytest.approx([each.load.expected for each in by_hand.stages[0].statics.supports if each.load])
    assert told.verdict < Verdict.STOP


def test_a_stand_too_low_on_a_cradle_has_its_gap_and_one_too_high_reaches_further(tmp_path: Path) -> None:
    told = gaps(tmp_path, stacked({"E": 190.0, "F": 203.0, "G": 200.0}))
    assert [told[name] for name in "EFG"] == pytest.approx([0.010, -0.003, 0.0])


def test_without_a_top_the_stand_that_reaches_highest_just_touches(tmp_path: Path) -> None:
    told = gaps(tmp_path, stacked({"E": 190.0, "F": 203.0, "G": 200.0}, top=None))
    assert [told[name] for name in "EFG"] == pytest.approx([0.013, 0.0, 0.003])


def test_a_stand_far_under_the_top_stands_on_a_lower_place(tmp_path: Path) -> None:
    """320 mm under a point at 700 is a foot at 380, 120 mm under the cradle's top; the others stand on that."""
    assert feet(read(tmp_path, stacked({"E": 320.0, "F": 200.0}))) == pytest.approx([0.380, 0.500, 0.500])


def test_a_top_that_is_not_given_is_told(tmp_path: Path) -> None:
    told = read(tmp_path, stacked(dict.fromkeys("EF", 200.0), top=None)).assumed
    assert any("No top is given for the cradle" in each and "E; F" in each for each in told)
    assert not any("No top" in each for each in read(tmp_path, stacked(dict.fromkeys("EF", 200.0))).assumed)

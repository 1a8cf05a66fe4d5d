"""A vehicle that stands on stands once its lift has gone is pushed like any other rigid whole."""

from pathlib import Path

import pytest

from loadplan.model.verdict import StageAssessment
from tests.checks.small_jobs import G, Raw, found, judged, lifted_job, said, stands, the

UNDER_SHELL = {"E": [-600, 600, 180], "F": [-600, -600, 180], "G": [-1900, 600, 180], "H": [-1900, -600, 180]}


def on_stands(folder: Path, **more: object) -> StageAssessment:
    job: Raw = lifted_job()
    job["support"] += stands(UNDER_SHELL, "shell", 350)
    job["stage"] += [{"name": "shell on stands", "in_place": list(UNDER_SHELL)} | more]
    return judged(job, folder).stages[-1]


def test_once_the_lift_has_gone_the_vehicle_is_pushed(tmp_path: Path) -> None:
    """800 kg at friction 0.5 slide at 3923 N; at 600 mm, 420 mm over the saddles, they tip at W · 600 / 420."""
    stage = on_stands(tmp_path, cleared=["bay"])
    told = the(stage, "push", "shell")
    assert told.value == pytest.approx(0.5 * 800 * G, rel=0.02)
    assert "it slides" in said(told)


def test_heights_are_told_over_the_floor(tmp_path: Path) -> None:
    """The highest part lies 420 mm over saddles set to 350 mm: 770 mm over the floor, less 0.8 mm that they give."""
    assert "769 mm over the floor" in said(the(on_stands(tmp_path, cleared=["bay"]), "push", "shell"))


def test_while_the_lift_holds_it_is_not_pushed(tmp_path: Path) -> None:
    assert [each.subject for each in found(on_stands(tmp_path), "push")] == ["unit"]

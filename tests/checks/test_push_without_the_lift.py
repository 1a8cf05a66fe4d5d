"""A vehicle that stands on stands once its lift has gone: its push is not computed, and that is told."""

from pathlib import Path

from tests.checks.small_jobs import Raw, found, judged, lifted_job, stands

UNDER_SHELL = {"E": [-600, 600, 180], "F": [-600, -600, 180], "G": [-1900, 600, 180], "H": [-1900, -600, 180]}
SAYS = "What sideways push the shell stands without the lift: not checked."


def on_stands(**more: object) -> Raw:
    job = lifted_job()
    job["support"] += stands(UNDER_SHELL, "shell", 350)
    job["stage"] += [{"name": "shell on stands", "in_place": list(UNDER_SHELL)} | more]
    return job


def test_once_the_lift_has_gone_it_is_told(tmp_path: Path) -> None:
    told = judged(on_stands(cleared=["bay"]), tmp_path)
    assert (SAYS,) in told.not_checked
    assert [each.subject for each in found(told.stages[-1], "push")] == ["unit"]


def test_while_the_lift_holds_it_is_not(tmp_path: Path) -> None:
    assert (SAYS,) not in judged(on_stands(), tmp_path).not_checked

"""Every single change that is thought of for bad plans, with what it makes of them, held against kept texts."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

import pytest

from loadplan.files import read_job, shipped_folder
from loadplan.model.job import Job, Support
from loadplan.model.shop import Equipment, EquipmentKind, Square
from loadplan.model.verdict import Verdict
from loadplan.planning.mending.candidate_changes import candidates
from loadplan.planning.mending.judged_plan import judged
from tests.kept_text import assert_kept
from tests.planning.mending.bad_plans import bad_plans
from tests.planning.mending.plans import RATCHET, SCREW, but, plan, stand, steel
from tests.planning.mending.written import differences, sentence

KEPT = Path(__file__).parent / "kept"
BAD = bad_plans()
TABLE = replace(SCREW, name="table", kind=EquipmentKind.TABLE, base=Square(0.6, 0.4), count=1, tags=())
TURNING = replace(SCREW, count=5, tags=())


class Start(NamedTuple):
    """A plan to be mended.

    Attributes:
        job: The plan.
        first: Number of the first step that is not done yet.
        least: As bad as this may no finding be.
    """

    job: Job
    first: int = 0
    least: Verdict = Verdict.STOP


def _demo(name: str) -> Start:
    return Start(read_job(shipped_folder("demo") / f"{name}.toml"), 0, Verdict.CAUTION)


def _untagged(support: Support, equipment: Equipment) -> Support:
    return replace(support, equipment=equipment, tag="")


def _on_a_table() -> Job:
    """Two saddles of one table in front, set too low, and two stands behind of which one is to be kept."""
    front = [replace(_untagged(each, TABLE), piece="T", height=0.32) for each in but()[:2]]
    return plan(*front, replace(but()[2], keep=True), replace(but()[3], shim=steel(0.012)), shop=(RATCHET, SCREW))


def _that_carries() -> Job:
    """The middle stand goes while it still carries."""
    job = plan(*but(stand("D", "rear right", replace(SCREW, count=2))), stand("E", "middle right"), shop=(RATCHET,))
    away = replace(job.stages[2], cleared=("E",), unattended=False)
    return replace(job, stages=(*job.stages[:2], away))


def _with_its_part() -> Job:
    """A stand goes with the part that it stands under, is put back with it, and is set anew once in between."""
    stands = (*(_untagged(each, TURNING) for each in but()), stand("E", "box tail", TURNING, height=0.335))
    job = plan(*stands, off=("box", "intake"))
    down, bare, night = job.stages
    back = replace(bare, name="Box on", off=(), on=("box",))
    return replace(job, stages=(down, bare, night, back, replace(night, name="Away", cleared=("E",), unattended=False)))


STARTS: Mapping[str, Start] = {
    "too-high-for-the-stand": Start(BAD["a setting above the stand's range"]),
    "all-in-front": Start(BAD["three stands, all in front"]),
    "out-of-use": Start(BAD["a piece that is out of use"]),
    "under-what-comes-off": Start(_with_its_part()),
    "too-few-plates": Start(BAD["more plates than the shop has"]),
    "done-in-part": Start(BAD["oil overnight"], 1),
    "on-a-table": Start(_on_a_table(), 0, Verdict.CAUTION),
    "still-carrying": Start(_that_carries(), 0, Verdict.CAUTION),
    "in-inches": Start(replace(BAD["one stand set far too high"], us_units=True)),
    "drive-unit-on-oil": _demo("drive-unit-on-oil"),
    "shell-nose-off": _demo("shell-nose-off"),
    "rocking-on-two-stands": _demo("rocking-on-two-stands"),
}


def _written(start: Start) -> Iterator[str]:
    told = judged(start.job, start.first, start.least)
    for trouble in sorted(told.troubles):
        yield f"step {trouble.stage}, {trouble.check.value}: {trouble.subject}"
    for each in candidates(told, start.first):
        made = each.make(start.job)
        says = sentence(made.says) if made else "cannot be made"
        yield f"{each.kind} {each.about}{' (no point)' * each.at_cell}: {says}"
        if made:
            yield from (f"    {made.support} <- {line}" for line in differences(start.job, made.job))


@pytest.mark.parametrize("name", STARTS)
def test_the_changes_that_are_thought_of_are_those_that_are_kept(name: str) -> None:
    assert_kept(KEPT / f"changes-{name}.txt", "\n".join([*_written(STARTS[name]), ""]))

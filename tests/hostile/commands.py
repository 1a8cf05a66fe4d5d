"""Every command that writes, over what is there from an earlier run; what it writes is made once, or made up."""

import io
import sys
from collections.abc import Callable
from contextlib import nullcontext
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import NamedTuple

import pytest

from loadplan import cli
from loadplan.assess import assess_in_short
from loadplan.files import read_job, shipped_folder
from loadplan.files.file_mark import marked
from loadplan.model.job import Job
from loadplan.model.verdict import Verdict
from loadplan.planning.mending import fewest_changes, stand_swap
from loadplan.planning.mending.mending_answer import DoneChange, Mending
from loadplan.planning.mending.plan_change import ChangeKind
from loadplan.planning.mending.stand_swap import StandSwap, SwapStep
from loadplan.planning.placement import proposal
from loadplan.planning.placement.layout_space import space
from loadplan.planning.placement.proposal import Placement
from loadplan.report.drawing.side_by_side import ALONE

DEMO = shipped_folder("demo")
VEHICLE = "van-longitudinal-diesel-rwd.toml"
OLD = marked(b"%PDF-old", ".pdf")


class Ran(NamedTuple):
    """What a call of the command line came to."""

    code: int
    out: str
    err: str


Run = Callable[..., Ran]


@dataclass(frozen=True, slots=True)
class Writer:
    """A command that writes.

    Attributes:
        arguments: Command line; `job.toml` and the like lie in the folder it runs in.
        target: A file that it writes.
        there: Whether the file may be there before.
    """

    arguments: tuple[str, ...]
    target: str
    there: bool = True


WRITERS = {
    "draw": Writer(("draw", "job.toml", "-o", "out"), "out/two.svg"),
    "sheet": Writer(("sheet", "job.toml", "-o", "sheet.pdf"), "sheet.pdf"),
    "lesson": Writer(("lesson", "job.toml", "-o", "out"), "out/two.svg"),
    "shop": Writer(("shop", "shop.toml", "job.toml", "-o", "all.pdf"), "all.pdf"),
    "heights": Writer(("heights", "job.toml", "--write", "job.toml"), "job.toml"),
    "place": Writer(("place", "job.toml", "--write", "job.toml"), "job.toml"),
    "mend": Writer(("mend", "job.toml", "--write", "job.toml"), "job.toml"),
    "swap": Writer(("swap", "job.toml", "--stage", "1", "--stand", "A", "--write", "job.toml"), "job.toml"),
    "weigh": Writer(("weigh", "readings.toml", "--write", VEHICLE, "--body", "powertrain"), VEHICLE),
    "demo": Writer(("demo", "new"), "new/shop.toml", there=False),
    "new": Writer(("new", "first.toml"), "first.toml.part"),
}


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Work in a folder with a job, its shop and vehicle, readings, and what earlier runs left."""
    for name, source in {"job.toml": "heights-open.toml", "shop.toml": "shop.toml", "readings.toml": ""}.items():
        (tmp_path / name).write_bytes((DEMO / (source or name)).read_bytes())
    (tmp_path / VEHICLE).write_bytes((shipped_folder("vehicles") / VEHICLE).read_bytes())
    (tmp_path / "first.toml.part").write_text('schema = "loadplan-answers-1"\n[answers]\nunits = "us"\n', "utf-8")
    (tmp_path / "out").mkdir()
    for name in ("out/one.svg", "out/two.svg", "sheet.pdf", "all.pdf"):
        (tmp_path / name).write_bytes(OLD)
    monkeypatch.chdir(tmp_path)
    _draw_quickly(monkeypatch)
    return tmp_path


def _draw_quickly(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let what is drawn be made up: how it is drawn is another matter."""
    pictures = {"one.svg": b"<svg>" + b"1" * 5000, "two.svg": b"<svg>" + b"2" * 5000}
    for maker in ("pictures.render.drawn_files", "lesson.trainer_set.lesson_files"):
        monkeypatch.setattr(f"loadplan.report.{maker}", lambda *_: pictures)
    for maker in ("sheet.floor_sheet.sheet_pdf", "sheet.register_pdf.register_pdf"):
        monkeypatch.setattr(f"loadplan.report.{maker}", lambda *_: b"%PDF-" + b"new" * 3000)
    monkeypatch.setattr("loadplan.report.lesson.lesson_plan.plan_lesson", lambda *_: None)
    monkeypatch.setattr("loadplan.report.drawing.side_by_side.helpers", lambda *_: nullcontext(ALONE))
    monkeypatch.setattr(proposal, "propose", lambda *_: _placement())
    monkeypatch.setattr(fewest_changes, "mend", lambda job, *_: _mending(job))
    monkeypatch.setattr(stand_swap, "swap", lambda job, *_: _swap(job))


_propose = proposal.propose


@cache
def _placement() -> Placement:
    return _propose(space(read_job(DEMO / "heights-open.toml")), 4, lambda _: None)


def _mending(job: Job) -> Mending:
    """Return a mending that raises one stand: how it is found is another matter."""
    done = DoneChange(ChangeKind.HEIGHT, "A", ("Raise A.",))
    raised = _raised(job)
    return Mending(
        raised,
        (done,),
        1,
        Verdict.STOP,
        Verdict.HOLDS,
        proven=True,
        margin=0.1,
        left=(),
        looked_at=1,
        interrupted=False,
    )


def _swap(job: Job) -> StandSwap:
    """Return a swap of one step that raises one stand."""
    step = SwapStep(("Raise A.",), Verdict.HOLDS, 0.1)
    stages = assess_in_short(job).stages[:1]
    stage = job.stages[0].name
    return StandSwap(_raised(job), stage, "A", (step,), stages, clean=True, verdict=Verdict.HOLDS, considered=1)


def plan_quickly() -> None:
    """Let mend and swap find something at once, in a process of its own."""
    fewest_changes.mend = lambda job, *_: _mending(job)
    stand_swap.swap = lambda job, *_: _swap(job)


def _raised(job: Job) -> Job:
    first, *others = job.supports
    return replace(job, supports=(replace(first, height=0.41), *others))


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    """Run the command line in this process."""

    def call(*arguments: str | Path) -> Ran:
        monkeypatch.setattr(sys, "argv", ["loadplan", *map(str, arguments)])
        monkeypatch.setattr(sys, "stdin", io.StringIO("Clutch\n"))
        with pytest.raises(SystemExit) as ended:
            cli.main()
        out, err = capsys.readouterr()
        return Ran(int(ended.value.code or 0), out, err)

    return call


def contents(folder: Path) -> dict[str, bytes]:
    """Return every file of a folder and of the folders in it."""
    files = sorted(path for path in folder.rglob("*") if path.is_file() or path.is_symlink())
    return {str(path.relative_to(folder)): path.read_bytes() for path in files}

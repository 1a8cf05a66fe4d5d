"""What computes for too long is ended, says so, and the next question is answered."""

import os
import signal
import subprocess
import sys
import threading
import time
import urllib.request
from collections.abc import Iterator
from contextlib import suppress
from multiprocessing.process import BaseProcess
from pathlib import Path

import pytest

from loadplan.assess import assess
from loadplan.board import open_plans
from loadplan.board.open_plans import Desk, OpenStep
from loadplan.board.refusals import RefusedError
from loadplan.board.tried_masses import WhatIf
from loadplan.board.worker_process import MOST_WAITING, WorkerProcess
from loadplan.errors import InputError
from tests.board.desk import page_on
from tests.board.test_serving import started


@pytest.fixture
def worker() -> Iterator[WorkerProcess]:
    found = WorkerProcess(60.0)
    yield found
    found.end()


def _for_ever(*_: object) -> str:
    while True:
        time.sleep(0.01)


def _ended(*_: object) -> str:
    os.kill(os.getpid(), signal.SIGKILL)
    return "not reached"


def _refused(*_: object) -> str:
    raise RefusedError("Not so.")


@pytest.mark.slow
def test_what_comes_of_it_is_what_comes_of_it_here(worker: WorkerProcess, tmp_path: Path) -> None:
    job = page_on(tmp_path).draft.job
    assert worker.do(assess, job) == assess(job)


def test_what_never_ends_is_given_up_and_the_next_question_is_answered(worker: WorkerProcess) -> None:
    worker.do(os.getpid)
    worker._seconds = 0.3
    with pytest.raises(InputError, match="given up"):
        worker.do(_for_ever)
    worker._seconds = 60.0
    assert worker.do(os.getpid) != os.getpid()


def test_more_than_may_wait_are_refused_at_once(worker: WorkerProcess) -> None:
    worker.do(os.getpid)
    worker._seconds = 30.0
    told: list[str] = []

    def wait() -> None:
        try:
            worker.do(time.sleep, 1.0)
        except InputError as error:
            told.append(str(error))

    waiting = [threading.Thread(target=wait, daemon=True) for _ in range(MOST_WAITING + 3)]
    for each in waiting:
        each.start()
    for each in waiting:
        each.join(60)
    assert [each.partition(":")[0] for each in told] == ["Not done"] * 3
    assert worker.do(os.getpid) != os.getpid()


def test_who_waits_for_a_turn_does_not_wait_for_ever(worker: WorkerProcess) -> None:
    worker.do(os.getpid)

    def wait() -> None:
        with suppress(InputError):
            worker.do(_for_ever)

    waiting = threading.Thread(target=wait, daemon=True)
    worker._seconds = 0.5
    waiting.start()
    time.sleep(0.1)
    with pytest.raises(InputError, match="given up"):
        worker.do(_for_ever)
    waiting.join(60)
    assert not waiting.is_alive()


def test_a_process_that_breaks_off_is_told_and_another_one_answers(worker: WorkerProcess) -> None:
    with pytest.raises(InputError, match="broke off"):
        worker.do(_ended)
    assert worker.do(len, "four") == 4


def test_what_is_refused_there_is_refused_here(worker: WorkerProcess) -> None:
    with pytest.raises(InputError, match="Not so") as refused:
        worker.do(_refused)
    assert isinstance(refused.value, RefusedError)
    first = worker.do(os.getpid)
    assert worker.do(os.getpid) == first


def test_where_no_process_can_be_started_it_is_done_all_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    def none_allowed(_: BaseProcess) -> None:
        raise OSError(11, "Resource temporarily unavailable")

    monkeypatch.setattr(BaseProcess, "start", none_allowed)
    assert WorkerProcess().do(os.getpid) == os.getpid()


def test_a_change_that_is_given_up_leaves_the_plan_as_it_was(
    worker: WorkerProcess, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = page_on(tmp_path)
    desk = Desk(tmp_path, None, do=worker.do)
    plan = desk.plans[desk.open(page.path)].plan
    before = desk.plans[0].screen(OpenStep(0, (400, 300)))
    worker._seconds = 0.3
    monkeypatch.setattr("loadplan.board.draft.judged", _for_ever)
    text = plan.draft.text
    with pytest.raises(InputError, match="given up"):
        plan.change(text + "# a note\n", WhatIf())
    monkeypatch.undo()
    worker._seconds = 60.0
    assert plan.draft.text == text
    assert not plan.can_undo
    assert not [each for each in tmp_path.iterdir() if each.name.endswith(".changes")]
    assert desk.plans[0].screen(OpenStep(0, (400, 300))) == before


def test_a_drawing_that_is_given_up_is_told(
    worker: WorkerProcess, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = page_on(tmp_path)
    desk = Desk(tmp_path, None, do=worker.do)
    desk.open(page.path)
    _ = desk.plans[0].plan.draft.assessment
    worker._seconds = 0.3
    monkeypatch.setattr(open_plans, "live_picture", _for_ever)
    with pytest.raises(InputError, match="given up"):
        desk.plans[0].screen(OpenStep(0, (400, 300)))


ALONE = """
import os, sys, time
from loadplan.board.worker_process import MOST_WAITING, WorkerProcess
from tests.board.test_worker_process import _for_ever

if __name__ == "__main__":
    worker = WorkerProcess()
    print(worker.do(os.getpid), flush=True)
    worker.do(_for_ever)
"""


@pytest.mark.slow
@pytest.mark.skipif(sys.platform != "linux", reason="looks for the process where Linux lists it")
def test_no_process_is_left_when_the_program_is_killed_in_the_middle_of_something(tmp_path: Path) -> None:
    (tmp_path / "alone.py").write_text(ALONE, "utf-8")
    root = Path(__file__).parents[2]
    path = os.pathsep.join([str(root), os.environ.get("PYTHONPATH", "")])
    alone = subprocess.Popen(
        [sys.executable, tmp_path / "alone.py"],
        env={**os.environ, "PYTHONPATH": path},
        stdout=subprocess.PIPE,
        text=True,
    )
    assert alone.stdout is not None
    number = int(alone.stdout.readline())
    assert Path(f"/proc/{number}").exists()
    alone.kill()
    alone.communicate()
    for _ in range(600):
        if not Path(f"/proc/{number}").exists():
            return
        time.sleep(0.05)
    pytest.fail("the process goes on")


def _threads(process: Path) -> int:
    return len(list((process / "task").iterdir()))


@pytest.mark.slow
@pytest.mark.skipif(sys.platform != "linux", reason="looks for the processes where Linux lists them")
def test_a_served_plan_is_judged_beside_the_server_and_again_after_its_process_was_killed(tmp_path: Path) -> None:
    path = page_on(tmp_path).path
    with started(tmp_path, path.name) as (process, address):
        children = Path(f"/proc/{process.pid}/task/{process.pid}/children").read_text("ascii").split()
        assert len(children) == 2
        for each in children:
            os.kill(int(each), signal.SIGKILL)
            there = Path(f"/proc/{each}")
            # Ended with all its threads, and not looked at by the server yet (proc(5), stat and task).
            while (there / "stat").read_text("ascii").rpartition(")")[2].split()[0] != "Z" or _threads(there) > 1:
                time.sleep(0.01)
        with urllib.request.urlopen(f"{address}/screen?step=1") as answer:
            assert answer.status == 200
        with urllib.request.urlopen(f"{address}/sheet.pdf") as answer:
            assert answer.read(5) == b"%PDF-"

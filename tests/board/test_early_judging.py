"""What is shown first is judged once, while the server is loaded; what loads later is not waited for."""

import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from loadplan.assess import assess_as_it_is
from loadplan.board.early_judging import Workers, begun, judged
from loadplan.board.undo_history import Plan
from tests.board.desk import page_on
from tests.house.tree import ROOT

JOB = "front-unit.toml"


def _times_judged() -> int:
    return judged.cache_info().misses


def _hits() -> int:
    return judged.cache_info().hits


@pytest.fixture
def workers(tmp_path: Path) -> Iterator[Workers]:
    path = page_on(tmp_path).path
    judged.cache_clear()  # the process begins as a copy of this one
    found = begun(path)
    yield found
    found.end()


def test_what_is_opened_was_judged_ahead_and_is_not_judged_again(workers: Workers, tmp_path: Path) -> None:
    plan = Plan(tmp_path / JOB, do=workers.judging.do)
    assessment = plan.draft.assessment
    assert workers.judging.do(_times_judged) == 1
    assert workers.judging.do(_hits) == 1
    assert assessment == assess_as_it_is(plan.draft.job)


def test_a_job_that_differs_is_judged_anew(workers: Workers, tmp_path: Path) -> None:
    path = tmp_path / JOB
    path.write_text(path.read_text("utf-8") + "# a note\n", "utf-8")
    plan = Plan(path, do=workers.judging.do)
    _ = plan.draft.assessment
    assert workers.judging.do(_times_judged) == 1  # a remark changes nothing that is judged
    changed = re.sub(r'(?m)^(title\s*=\s*")', r"\1Another: ", plan.draft.text, count=1)
    assert changed != plan.draft.text
    plan.change(changed, plan.draft.what_if)
    assert workers.judging.do(_times_judged) == 2
    assert plan.draft.assessment.job.title.startswith("Another: ")
    plan.step(-1)
    assert not plan.draft.assessment.job.title.startswith("Another: ")
    assert workers.judging.do(_times_judged) == 2  # back to what was judged


@pytest.mark.parametrize("name", ["there-is-none.toml", "shop.toml"])
def test_a_file_that_cannot_be_used_is_left_to_whoever_opens_it(tmp_path: Path, name: str) -> None:
    page_on(tmp_path)
    workers = begun(tmp_path / name)
    try:
        assert workers.judging.do(len, "four") == 4
    finally:
        workers.end()


def test_the_server_loads_nothing_that_paints_or_measures_words() -> None:
    code = "import sys, loadplan.board.server; print([each for each in ('matplotlib', 'segno') if each in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout == "[]\n"

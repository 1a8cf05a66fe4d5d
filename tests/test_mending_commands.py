"""The commands that mend a plan and swap a stand: what they print, what they write, and how they end."""

import json
from pathlib import Path

import pytest

from loadplan.assess import assess
from loadplan.files import read_job, shipped_folder
from loadplan.model.verdict import Verdict
from loadplan.report.text.mending_page import MendingProgress
from loadplan.report.words.cautions import cautions
from loadplan.units import System
from tests.command_line import Run

DEMO = shipped_folder("demo")
OPEN = DEMO / "heights-open.toml"
US = DEMO / "us-units.toml"


@pytest.fixture
def spoilt(tmp_path: Path) -> Path:
    """The US demo with one stand set between two of its steps: a stop."""
    job = tmp_path / "spoilt.toml"
    text = US.read_text("utf-8")
    at = text.index("height", text.index("[[support]]"))
    line = text[at : text.index("\n", at)]
    height = float(line.split("=")[1].split("#")[0]) + 0.3
    job.write_text(text.replace(line, f"height = {height}  # by mistake", 1), "utf-8")
    assert assess(read_job(job)).verdict is Verdict.STOP
    return job


# ---- mend ----------------------------------------------------------------------------------------


def test_mend_tells_what_to_change_and_what_it_comes_to(run: Run, spoilt: Path) -> None:
    code, out, _ = run("mend", spoilt)
    assert code == 0
    assert "As planned: FOR PRACTICE: STOP. With 1 change:" in out
    assert "Before the weight comes on:" in out
    assert "  1. " in out
    assert max(map(len, out.splitlines())) <= 100
    basis = assess(read_job(spoilt)).basis
    for caution in cautions(basis, System.US):
        assert " ".join(caution.split()) in " ".join(out.split())


def test_what_mend_writes_reads_back_and_checks_as_told_and_keeps_comments(run: Run, spoilt: Path) -> None:
    before = spoilt.read_text("utf-8")
    code, out, err = run("mend", spoilt, "--write", spoilt, "--json")
    told = json.loads(out)
    assert list(told) == ["schema", "proven_fewest", "ended_by", "changes", "verdict"]
    assert told["schema"] == "loadplan-mending-1"
    assert set(told["changes"][0]) == {"kind", "support", "says"}
    assert (code, told["proven_fewest"]) == (0, True)
    assert err.endswith(f"is written; its old text is in {spoilt}.before.\n")
    after = spoilt.read_text("utf-8")
    assert assess(read_job(spoilt)).verdict.words == told["verdict"]
    assert [line for line in before.splitlines() if line.startswith("#")] == [
        line for line in after.splitlines() if line.startswith("#")
    ]
    changed = [line for line in after.splitlines() if line not in before.splitlines()]
    assert len(changed) <= 2
    assert spoilt.with_name(f"{spoilt.name}.before").read_text("utf-8") == before


def test_where_nothing_is_to_mend_nothing_is_written_and_said_so(run: Run, tmp_path: Path) -> None:
    target = tmp_path / "never.toml"
    code, out, _ = run("mend", US, "--write", target)
    assert code == 0
    assert "Nothing to mend: nothing is written." in out
    assert not target.exists()


def test_mend_from_a_step_that_is_none_is_told(run: Run) -> None:
    code, out, err = run("mend", US, "--from", "9")
    assert (code, out) == (2, "")
    assert "--from" in err
    assert "from 1 to 4" in err


def test_mend_begins_at_a_step_by_number_or_by_name(run: Run) -> None:
    name = read_job(US).stages[1].name
    assert run("mend", US, "--from", "2") == run("mend", US, "--from", name)


# ---- check --from --------------------------------------------------------------------------------


def test_check_from_a_step_tells_no_finding_of_the_steps_before(run: Run, spoilt: Path) -> None:
    told = json.loads(run("check", spoilt, "--from", "3", "--json")[1])
    assert [len(stage["findings"]) > 0 for stage in told["stages"]] == [False, False, True, True]
    assert [stage["verdict"] for stage in told["stages"][:2]] == ["note", "note"]
    assert "What is done before step 3 is not judged: it stands as it stands." in told["not_checked"]


def test_a_stop_in_a_step_that_is_done_is_none_of_what_is_left(run: Run, tmp_path: Path) -> None:
    """Lowered far past the window: a stop in the set-down, of which nothing is left once the unit is free."""
    job = tmp_path / "job.toml"
    text = (DEMO / "front-unit.toml").read_text("utf-8")
    job.write_text(text.replace("lowered     = 8", "lowered     = 40"), "utf-8")
    (tmp_path / "shop.toml").write_bytes((DEMO / "shop.toml").read_bytes())
    assert run("check", job)[0] == 1
    assert run("check", job, "--from", "2")[0] == 0


# ---- swap ----------------------------------------------------------------------------------------


@pytest.fixture
def heights_set(run: Run, tmp_path: Path) -> Path:
    """The gearbox on four stands, their heights set."""
    job = tmp_path / "set.toml"
    assert run("heights", OPEN, "--write", job)[0] == 0
    return job


def test_swap_tells_each_step_with_its_verdict_and_writes_them_as_stages(run: Run, heights_set: Path) -> None:
    job = read_job(heights_set)
    stage = job.stages[0].name
    target = heights_set.with_name("swapped.toml")
    code, out, _ = run("swap", heights_set, "--stage", stage, "--stand", "C", "--json", "--write", target)
    told = json.loads(out)
    assert list(told) == ["schema", "steps", "verdict"]
    assert told["schema"] == "loadplan-swap-1"
    if told["steps"]:
        assert set(told["steps"][0]) == {"says", "verdict", "worst_margin_mm"}
        after = read_job(target)
        count = len(told["steps"])
        assert len(after.stages) == len(job.stages) + count
        assert [each.verdict.words for each in assess(after).stages[1 : 1 + count]] == [
            each["verdict"] for each in told["steps"]
        ]
    assert code == (1 if told["verdict"] == "stop" else 0)


def test_swap_of_a_stand_that_is_not_there_names_those_that_are(run: Run, heights_set: Path) -> None:
    stage = read_job(heights_set).stages[0].name
    for asked in (stage, "1"):
        code, out, err = run("swap", heights_set, "--stage", asked, "--stand", "Q")
        assert (code, out) == (2, "")
        assert '"A", "B", "C", "D"' in err


def test_swap_with_and_away_together_is_refused(run: Run, heights_set: Path) -> None:
    stage = read_job(heights_set).stages[0].name
    code, _, err = run("swap", heights_set, "--stage", stage, "--stand", "A", "--away", "--with", "pin stand 5 t")
    assert code == 2
    assert "--away" in err


def test_swap_with_what_the_shop_does_not_have_names_what_it_has(run: Run, heights_set: Path) -> None:
    stage = read_job(heights_set).stages[0].name
    code, _, err = run("swap", heights_set, "--stage", stage, "--stand", "A", "--with", "pin stand 6 t")
    assert code == 2
    assert "pin stand 5 t" in err


def test_the_page_from_a_step_on_takes_its_figures_from_what_is_left(run: Run, tmp_path: Path) -> None:
    """Nearest to tipping is the fourth step of the front unit: from the sixth on it is another one."""
    job = tmp_path / "job.toml"
    job.write_bytes((DEMO / "front-unit.toml").read_bytes())
    (tmp_path / "shop.toml").write_bytes((DEMO / "shop.toml").read_bytes())
    whole, left = run("check", job)[1], run("check", job, "--from", "6")[1]
    nearest = [next(line for line in page.splitlines() if "Nearest to tipping" in line) for page in (whole, left)]
    assert "step 4" in nearest[0]
    assert "step 6" in nearest[1]
    assert "How far to lower" in whole
    assert "How far to lower" not in left


def test_a_search_that_is_ended_writes_nothing(run: Run, spoilt: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def impatient(_self: MendingProgress, looked: int, _planned: int) -> None:
        if looked > 3:
            raise KeyboardInterrupt

    monkeypatch.setattr(MendingProgress, "tell", impatient)
    target = spoilt.with_name("never.toml")
    code, out, _ = run("mend", spoilt, "--write", target)
    assert code == 1
    assert "nothing is written" in out
    assert not target.exists()

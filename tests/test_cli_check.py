"""`check`: the short page, one step or all of it in full, and a folder of jobs with the worst one's exit code."""

import json
import re
import shutil
from pathlib import Path

import pytest

from loadplan.files import shipped_folder
from tests.command_line import Run, runner

DEMO = shipped_folder("demo")
HOLDS, CAUTIONS, STOPS = (DEMO / f"{name}.toml" for name in ("us-units", "drive-unit-on-oil", "rocking-on-two-stands"))


@pytest.fixture
def check(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    """Run `check` in this process."""
    return runner(monkeypatch, capsys, "check")


@pytest.fixture
def jobs(tmp_path: Path) -> Path:
    """Return a folder with the demo's shop and no job in it."""
    folder = tmp_path / "jobs"
    folder.mkdir()
    shutil.copy(DEMO / "shop.toml", folder)
    return folder


def test_the_page_is_short_and_a_step_or_all_of_it_is_had_in_full(check: Run) -> None:
    short, step, whole = (check(HOLDS, *options).out for options in ([], ["--step", "2"], ["--all"]))
    assert "Step 2 of 4" not in short
    assert re.findall(r"^Step \d of 4: ", step, re.MULTILINE) == ["Step 2 of 4: "]
    assert re.findall(r"^Step \d of 4: ", whole, re.MULTILINE) == [f"Step {number} of 4: " for number in range(1, 5)]
    assert len(short.splitlines()) < 60
    for page in (short, step, whole):
        assert page.count("8 When anything moves that the plan did not say, stop.") == 1


def test_a_step_is_named_by_name_or_number_and_a_number_wins(check: Run, jobs: Path) -> None:
    assert check(HOLDS, "--step", "Inverter off").out == check(HOLDS, "--step", "2").out
    text = HOLDS.read_text("utf-8")
    assert text.count('"Inverter off"') == 1
    (jobs / "job.toml").write_text(text.replace('"Inverter off"', '"3"'), encoding="utf-8")
    assert "Step 3 of 4: " in check(jobs / "job.toml", "--step", "3").out


@pytest.mark.parametrize("wanted", ["inverter off", "Inverter of", " INVERTER OF"])
def test_a_beginning_of_its_name_will_do_in_any_case_where_no_other_step_has_it(check: Run, wanted: str) -> None:
    assert check(HOLDS, "--step", wanted).out == check(HOLDS, "--step", "2").out


def test_a_beginning_that_two_steps_have_is_no_name(check: Run) -> None:
    ran = check(HOLDS, "--step", "Inverter")
    assert (ran.code, ran.out) == (2, "")
    assert '"Inverter on, bolts tightened"' in ran.err


@pytest.mark.parametrize(
    "wanted", ["0", "5", "-1", "", "Invertor off", "²", pytest.param("9" * 5000, id="5,000 digits")]
)
def test_a_step_that_is_not_there_is_told_with_those_that_are(check: Run, wanted: str) -> None:
    ran = check(HOLDS, "--step", wanted)
    assert (ran.code, ran.out) == (2, "")
    assert "us-units.toml, --step: must be a number from 1 to 4, or the name of a step: " in ran.err
    assert '"Inverter off"' in ran.err


def test_a_folder_is_told_a_line_a_job_stops_first(check: Run, jobs: Path) -> None:
    for each in (HOLDS, CAUTIONS, STOPS):
        shutil.copy(each, jobs)
    (jobs / "notes.txt").write_text("no job")
    ran = check(jobs)
    assert (ran.code, ran.err) == (1, "")
    assert f"{jobs}: 3 jobs, 1 stop, 1 caution" in ran.out.replace("\n", " ")
    files = [HOLDS.name, CAUTIONS.name, STOPS.name]
    lines = [line.split() for line in ran.out.splitlines() if any(name in line for name in files)]
    assert [line[-1] for line in lines] == [STOPS.name, CAUTIONS.name, HOLDS.name]
    assert [line[2] for line in lines] == ["STOP", "CAUTION", "HOLDS"]
    assert all(line[:2] == ["FOR", "PRACTICE:"] for line in lines)
    assert "jack holding: D, step 2" in ran.out
    assert "No jobs: notes.txt and shop.toml" in ran.out
    assert "8 When anything moves that the plan did not say, stop." in ran.out
    assert max(map(len, ran.out.splitlines()[1:])) <= 100


@pytest.mark.parametrize(
    ("those", "options", "code"),
    [
        ([HOLDS], [], 0),
        ([HOLDS, CAUTIONS], [], 0),
        ([HOLDS, CAUTIONS], ["--strict"], 1),
        ([HOLDS, STOPS], [], 1),
        ([HOLDS, STOPS], ["--json"], 1),
    ],
)
def test_a_folder_has_the_exit_code_of_its_worst_job(
    check: Run, jobs: Path, those: list[Path], options: list[str], code: int
) -> None:
    for each in those:
        shutil.copy(each, jobs)
    assert check(jobs, *options).code == code


def test_a_job_that_cannot_be_used_is_the_worst_and_the_others_are_told(check: Run, jobs: Path) -> None:
    shutil.copy(STOPS, jobs)
    (jobs / "bad.toml").write_text('schema = "loadplan-job-1"\nfoo = 1\n')
    ran = check(jobs)
    assert ran.code == 2
    assert "Cannot be used" in ran.out
    assert "bad.toml, foo" in ran.out
    assert STOPS.name in ran.out
    told = json.loads(check(jobs, "--json").out)
    assert (told["schema"], told["verdict"]) == ("loadplan-folder-1", "stop")
    assert [Path(each["file"]).name for each in told["jobs"]] == [STOPS.name]
    assert told["jobs"][0]["first"]["step"] == 2
    assert [Path(each["file"]).name for each in told["unusable"]] == ["bad.toml"]
    assert [Path(each).name for each in told["no_jobs"]] == ["shop.toml"]


def test_a_fault_of_a_file_that_several_jobs_use_is_told_once(check: Run, jobs: Path) -> None:
    for name in ("front-unit.toml", "rocking-on-two-stands.toml"):
        shutil.copy(HOLDS.parent / name, jobs)
    with (jobs / "shop.toml").open("a", encoding="utf-8") as shop:
        shop.write("\n[nonsense]\n")
    ran = check(jobs)
    assert "2 cannot be used" in " ".join(ran.out.split())
    assert ran.out.count("nonsense") == 1


def test_a_folder_without_jobs_is_told_and_what_is_for_one_job_is_refused(check: Run, jobs: Path) -> None:
    ran = check(jobs)
    assert (ran.code, ran.out) == (2, "")
    assert "holds no job" in ran.err
    shutil.copy(HOLDS, jobs)
    for option in (["--all"], ["--step", "1"], ["--proof"], ["--recheck"]):
        ran = check(jobs, *option)
        assert (ran.code, ran.out) == (2, "")
        assert option[0] in ran.err

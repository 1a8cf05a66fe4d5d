"""What commands say where a record, or what tells how long it was, is spoilt: careful, and never a traceback."""

import json
from pathlib import Path

import pytest

import loadplan
from loadplan.files.work_record_file import record_path
from tests.command_line import Run
from tests.spoilt_records import OF_EACH, STEP, Pair, holding_job, is_in_doubt, spoilt_jobs, with_work

DOUBT = "What was read at the bay cannot be told: "
CANNOT_BE_READ = "cannot be read"


@pytest.fixture
def jobs(tmp_path: Path) -> dict[Pair, Path]:
    """Return a job for each pair, which holds but for that."""
    whole = with_work(holding_job(tmp_path))
    made = spoilt_jobs(whole, OF_EACH)
    for path in whole.parent.glob("*.*"):
        path.unlink()
    return made


def due(jobs: dict[Pair, Path]) -> dict[str, str]:
    """The verdict of each job."""
    return {str(path): "caution" if is_in_doubt(*pair) else "holds" for pair, path in jobs.items()}


def test_check_of_each_is_careful_in_words_in_numbers_and_by_its_code(run: Run, jobs: dict[Pair, Path]) -> None:
    for pair, path in jobs.items():
        doubt = is_in_doubt(*pair)
        code, out, err = run("check", path)
        words = " ".join(out.split())
        assert (code, err, DOUBT in words) == (0, "", doubt), pair
        assert out.startswith("CAUTION" if doubt else "HOLDS ON PAPER"), pair
        assert run("check", path, "--strict").code == int(doubt), pair
        told = json.loads(run("check", path, "--json").out)
        about = [each["subject"] for each in told["stages"][0]["findings"] if each["verdict"] == "caution"]
        assert (told["verdict"], about) == (("caution", ["the record"]) if doubt else ("holds", [])), pair
        report = loadplan.check_file(path)
        assert (report.verdict, list(report.record)) == (told["verdict"], told.get("record", [])), pair


def test_of_a_folder_each_is_told_at_its_job_and_no_record_is_one(run: Run, jobs: dict[Pair, Path]) -> None:
    folder = next(iter(jobs.values())).parents[1]
    told = json.loads(run("check", folder, "--json").out)
    assert {each["file"]: each["verdict"] for each in told["jobs"]} == due(jobs)
    assert told["unusable"] == []
    first = {each["file"]: each["first"] and each["first"]["subject"] for each in told["jobs"]}
    assert first == {file: "the record" if verdict == "caution" else None for file, verdict in due(jobs).items()}
    assert run("check", folder).code == 0
    assert run("check", folder, "--strict").code == 1


def test_the_register_says_it_of_each_job(run: Run, jobs: dict[Pair, Path]) -> None:
    shop = next(iter(jobs.values())).parents[1] / "shop.toml"
    shop.write_text('schema = "loadplan-shop-1"\nunits = "metric"\n', "utf-8")
    code, out, err = run("shop", shop, shop.parent, "--json")
    assert err == ""
    told = {each["file"]: each for each in json.loads(out)["jobs"]}
    assert {file: each["verdict"] for file, each in told.items()} == due(jobs)
    for file, verdict in due(jobs).items():
        remarks = " ".join(told[file]["remarks"])
        in_doubt = "since what was read at the bay cannot be told" in remarks
        assert in_doubt is (verdict == "caution"), file
        assert (DOUBT in remarks or CANNOT_BE_READ in remarks) is in_doubt, file
    assert code in {0, 1}


def test_weighing_and_paper_say_it_or_why_they_cannot(run: Run, jobs: dict[Pair, Path]) -> None:
    for pair, path in jobs.items():
        code, out, err = run("weigh", path, "--stage", STEP)
        assert (code, record_path(path).name in err) in {(0, False), (2, True)}, pair
        assert (DOUBT in " ".join(out.split()) or code == 2) is is_in_doubt(*pair), pair
        code, out, err = run("sheet", path, "--record", "-o", path.with_name("done.pdf"))
        assert (code, record_path(path).name in err) in {(0, False), (2, True)}, pair

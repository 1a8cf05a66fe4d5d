"""What the live plan shows where a record, or what tells how long it was, is spoilt: careful, and never a fault."""

import shutil
from html import unescape
from pathlib import Path

from loadplan.files.work_record_file import record_path
from tests.board.desk import opened
from tests.spoilt_records import OF_EACH, holding_job, is_in_doubt, spoilt_jobs, with_work


def put_beside(job: Path, spoilt: Path) -> None:
    """Put what lies beside a spoilt job in the place of what lies beside another."""
    for each in job.parent.glob(f"{job.stem}-record.*"):
        shutil.rmtree(each) if each.is_dir() and not each.is_symlink() else each.unlink()
    for each in spoilt.parent.glob(f"{job.stem}-record.*"):
        each.rename(job.with_name(each.name))


def test_the_bay_and_the_list_of_jobs_are_careful(tmp_path: Path) -> None:
    job = with_work(holding_job(tmp_path))
    jobs, page = spoilt_jobs(job, OF_EACH), opened(tmp_path, job)
    for pair, path in jobs.items():
        doubt = is_in_doubt(*pair)
        put_beside(job, path)
        told = page.client.get("/verdict", params={"job": job.name}).json()
        assert told["key"] == ("caution" if doubt else "holds"), (pair, told)
        assert ("CAUTION, since what was read at the bay cannot be told" in told["says"]) is doubt, (pair, told)
        bay = page.client.get("/plan/0/bay", headers={"accept": "text/html"})
        shown = unescape(bay.text)
        assert (bay.status_code, record_path(job).name in shown) in {(200, False), (422, True)}, pair
        careful = bay.status_code == 422 or "CAUTION, since what was read cannot be told" in shown
        assert careful is doubt, pair

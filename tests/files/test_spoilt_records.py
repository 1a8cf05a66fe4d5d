"""Every way in which record and count were spoilt, against each other: a caution wherever something may be lost."""

from contextlib import suppress
from pathlib import Path

import pytest

from loadplan.errors import InputError
from loadplan.files import read_job
from loadplan.files.work_record_file import add_to_record, record_or_why
from loadplan.model.verdict import Verdict
from loadplan.model.work_record import Deed, RecordEntry
from loadplan.planning.record_doubt import record_findings
from loadplan.report.record_beside import record_beside
from loadplan.report.words.record_words import standing_words
from tests.spoilt_records import COUNTS, EIGHT, RECORDS, holding_job, is_in_doubt, spoilt_jobs, with_work


@pytest.mark.parametrize("finished", [False, True])
@pytest.mark.parametrize("record", RECORDS)
def test_what_may_be_lost_is_a_caution_and_told(tmp_path: Path, record: str, finished: bool) -> None:  # noqa: FBT001
    whole = with_work(holding_job(tmp_path), finished=finished)
    job = read_job(whole)
    for (_, count), path in spoilt_jobs(whole, [(record, count) for count in COUNTS]).items():
        told = record_or_why(path)
        found = [each.verdict for _, each in record_findings(job, told)]
        assert found == [Verdict.CAUTION] * is_in_doubt(record, count), count
        says = " ".join(record_beside(path, job).says)
        assert says or not found, count
        assert "the verdict is the plan's" not in says or not found, count
        assert told.standing is None or standing_words(told.standing, []), count


@pytest.mark.parametrize("record", RECORDS)
def test_no_doubt_goes_away_by_a_note_that_somebody_writes(tmp_path: Path, record: str) -> None:
    whole = with_work(holding_job(tmp_path))
    job = read_job(whole)
    note = RecordEntry(EIGHT, "K", "0a1b2c3d", "", Deed.NOTED, "went on")
    for (_, count), path in spoilt_jobs(whole, [(record, count) for count in COUNTS]).items():
        # Some take no more, and say why.
        with suppress(InputError, OSError):
            add_to_record(path, note)
        found = [each.verdict for _, each in record_findings(job, record_or_why(path))]
        assert found == [Verdict.CAUTION] * is_in_doubt(record, count), count

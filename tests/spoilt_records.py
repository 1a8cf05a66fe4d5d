"""Records of work, and what tells how long they were, spoilt in every way that somebody came upon; and what is due."""

import os
import shutil
from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TypeAlias

from loadplan.files import read_job
from loadplan.files.record_length import length_path
from loadplan.files.work_record_file import add_to_record, record_path
from loadplan.model.work_record import Deed, RecordEntry
from loadplan.report.sheet.sheet_number import sheet_number
from tests.checks.small_jobs import Raw, unit_job
from tests.reference.random_jobs import write_job

THREE = {"A": [400, 300, 200], "B": [400, -300, 200], "C": [-400, 0, 200]}
STEP = "on stands"
EIGHT = datetime(2026, 11, 20, 8, tzinfo=UTC)
BOM = b"\xef\xbb\xbf"

Pair: TypeAlias = tuple[str, str]
"""What befell a record, and what tells how long it was."""

Spoil: TypeAlias = Callable[[Path], None]


def holding_job(folder: Path) -> Path:
    """A job of one step that holds, with a scale under one of its stands."""
    block: Raw = {"name": "block", "body": "unit", "mass": 100, "mass_pm": 1, "at": [100, 0, 300], "at_pm": 5}
    stage = [{"name": STEP, "in_place": list(THREE), "readings": [{"support": "A", "load": 33, "pm": 5}]}]
    return write_job(unit_job(THREE, part=[block | {"known": "weighed"}], stage=stage), folder)


def with_work(job: Path, *, finished: bool = False) -> Path:
    """Put a morning's work beside a job: a whole record, and what tells how long it is."""
    number = sheet_number(read_job(job))
    begun = RecordEntry(EIGHT, "K", number, "", Deed.BEGUN)
    noted = RecordEntry(EIGHT + timedelta(minutes=5), "K", number, STEP, Deed.NOTED, "a clip was still on")
    over = [replace(noted, deed=Deed.STEP_DONE, words=""), replace(begun, deed=Deed.FINISHED)] if finished else []
    add_to_record(job, begun, noted, *over)
    return job


def content(made: Callable[[bytes], bytes]) -> Spoil:
    """Make what stands in a file anew from what stood there."""
    return lambda path: path.write_bytes(made(path.read_bytes())) and None


def instead(put: Spoil) -> Spoil:
    """Put something else in the place of a file."""

    def spoil(path: Path) -> None:
        path.unlink()
        put(path)

    return spoil


def elsewhere(path: Path) -> None:
    """Move a file away, and leave a link to it."""
    kept = path.with_name(f"{path.name}.kept")
    shutil.move(path, kept)
    path.symlink_to(kept.name)


ANY: dict[str, Spoil] = {
    "gone": Path.unlink,
    "empty": content(lambda _: b""),
    "edited": content(lambda text: text.replace(b"2026-11-20", b"2026-11-21")),
    "a folder": instead(Path.mkdir),
    "a link": elsewhere,
    "a link to nowhere": instead(lambda path: path.symlink_to("nowhere")),
    "a link to a device": instead(lambda path: path.symlink_to("/dev/zero")),
    "a pipe": instead(os.mkfifo),
    "noughts": content(lambda text: bytes(len(text))),
    "no text": content(lambda text: b"\xff\x00\x01" + text),
    "huge": content(lambda text: text + b"# x\n" * 600_000),
    "with other line ends": content(lambda text: text.replace(b"\n", b"\r\n")),
    "with a mark of its encoding": content(lambda text: BOM + text),
}
"""What befalls either of the two."""

RECORDS: dict[str, Spoil] = {
    "whole": lambda _: None,
    **ANY,
    "blank": content(lambda _: b"\n \n"),
    "cut": content(lambda text: text[:-30]),
    "cut in its head": content(lambda text: text[:20]),
    "without its last entry": content(lambda text: text[: text.rindex(b"\n[[done]]")]),
    "without any entry": content(lambda text: text[: text.index(b"\n[[done]]")]),
    "written on by hand": content(lambda text: text + b'\n[[done]]\nwords = "A reads 90 kg"\n'),
    "written otherwise": content(lambda text: text.replace(b"[[done]]", b"[[ done ]]")),
    "of another kind": content(lambda text: text.replace(b"loadplan-record-1", b"loadplan-job-1")),
}
COUNTS: dict[str, Spoil] = {
    "whole": lambda _: None,
    **ANY,
    "cut": content(lambda text: text[:-9]),
    "of one more": content(lambda text: text.replace(b"entries = 2", b"entries = 3").replace(b"= 4", b"= 5")),
    "of none": content(lambda text: text.replace(b"entries = 2", b"entries = 0").replace(b"= 4", b"= 0")),
    "of another record": content(lambda text: text.replace(b'sum = "', b'sum = "0')[:-30] + text[-29:]),
}

OF_EACH = [
    *((each, ("whole", "gone")[place % 2]) for place, each in enumerate(RECORDS)),
    *(("whole", each) for each in COUNTS if each != "whole"),
]
"""What befell each of them, the other one whole or gone."""

WHOLE = {"whole", "a link", "with other line ends", "with a mark of its encoding"}
"""Records that say all that they said."""

NO_DOUBT = {"whole", "gone", "edited", "with other line ends", "with a mark of its encoding"}
"""What may stand beside one that does: the day of the last entry is told where none is there any more, no more."""

ALONE = {"without its last entry"}
"""What nothing shows once what tells their length is gone, too."""


def is_in_doubt(record: str, count: str) -> bool:
    """Whether somebody has to be told that a stop may have been read."""
    if count == "gone" and record in {"gone", *ALONE}:
        return False
    return not (record in WHOLE and count in NO_DOUBT)


def spoilt_jobs(whole: Path, pairs: Iterable[Pair]) -> dict[Pair, Path]:
    """Copy a job with its record for each pair of what befell both, into a folder of its own, and spoil it so."""
    jobs = {}
    for place, (record, count) in enumerate(pairs):
        (folder := whole.parent / f"spoilt {place}").mkdir()
        for each in (whole, record_path(whole), length_path(record_path(whole))):
            shutil.copyfile(each, folder / each.name)
        jobs[record, count] = job = folder / whole.name
        COUNTS[count](length_path(record_path(job)))
        RECORDS[record](record_path(job))
    return jobs

"""A search for changes that is out of looks says so, and once nothing stops it says that only cautions are left."""

from io import StringIO
from pathlib import Path

import pytest

from loadplan.files import read_job
from loadplan.model.verdict import Verdict
from loadplan.planning.mending import change_search, fewest_changes
from loadplan.planning.mending.fewest_changes import mend
from loadplan.report.text.mending_page import MendingProgress, mending_dict, mending_page
from loadplan.units import System

DEMO = Path(__file__).parents[3] / "demo"


def test_out_of_looks_terminal_and_machine_say_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(change_search, "MOST_LOOKS", 20)
    found = mend(read_job(DEMO / "rocking-on-two-stands.toml"), 0, lambda *_: None)
    assert found.ran_out
    assert mending_dict(found, System.METRIC)["ended_by"] == "budget"
    page = " ".join(mending_page(found, 0, System.METRIC).split())
    assert "stopped at its budget" in page
    assert "does not say that nothing better exists" in page


def test_the_progress_says_when_only_cautions_are_left() -> None:
    stream = StringIO()
    progress = MendingProgress(stream)
    progress.nothing_stops()
    assert "nothing stops any more; looking for what takes away the cautions" in stream.getvalue()


def test_cautions_get_a_share_of_the_looks_once_stops_are_mended() -> None:
    assert 0 < fewest_changes.CALM_SHARE < 1
    start = fewest_changes.judged(read_job(DEMO / "heights-open.toml"), 0, Verdict.CAUTION)
    whole, part = (change_search.LooksTaken(lambda *_: None, share=share) for share in (1.0, 0.25))
    most = [change_search.ChangeSearch(start, 0, Verdict.CAUTION, each)._most for each in (whole, part)]
    assert most[1] == pytest.approx(most[0] / 4)

"""What is loaded is not gone through again while a hand moves a stand."""

import gc
import subprocess
import sys
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest

from loadplan.board import server
from loadplan.board.early_judging import begun
from loadplan.board.garbage_collection import held_off, keep_what_is_loaded
from loadplan.board.server import ServeOptions, serve
from loadplan.board.stopping import Serving
from tests.house.tree import ROOT

LOOKED_AT = """
import gc
from loadplan.board.garbage_collection import held_off, keep_what_is_loaded
with held_off():
    loading = gc.isenabled()
    import loadplan.board.server
    before = len(gc.get_objects())
    keep_what_is_loaded()
    print(loading, gc.isenabled(), before > 20 * len(gc.get_objects()))
"""


@pytest.fixture(autouse=True)
def thawed() -> Iterator[None]:
    yield
    gc.unfreeze()


def test_what_was_loaded_is_looked_at_no_more() -> None:
    done = subprocess.run([sys.executable, "-c", LOOKED_AT], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout == "False True True\n"


def test_where_loading_fails_it_goes_on_as_before() -> None:
    with suppress(ValueError), held_off():
        assert not gc.isenabled()
        raise ValueError
    assert gc.isenabled()


def test_both_the_server_and_the_process_that_judges_keep_what_they_loaded(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    workers = begun(None)
    kept = []

    def run(asked: Serving, *_: object) -> None:
        asked.listener.close()
        kept.append(gc.get_freeze_count())
        while not workers.judging.do(gc.get_freeze_count):
            pass

    monkeypatch.setattr(server, "run", run)
    gc.unfreeze()
    serve(ServeOptions(None, 0, opens=False, lan=False, units=None), workers, lambda _: None)
    assert kept[0] > 0
    keep_what_is_loaded()
    assert gc.isenabled()

"""Some hundred changes leave no memory taken; an hour's work is replayed by hand (`python -m tests.board.soak`)."""

import sys
from pathlib import Path

import pytest

from tests.board.soak import replayed

CHANGES = 150

MOST = 12.0
"""Most growth [MB]: 200 states are kept as texts of 2 kB, and the allocator keeps some pages. The assessment of each
change, were it kept, would come to some 200 kB, and all of them to 30."""


@pytest.mark.slow
@pytest.mark.skipif(sys.platform != "linux", reason="memory is looked up where Linux lists it")
def test_work_leaves_no_memory_taken(tmp_path: Path) -> None:
    before, after = replayed(tmp_path, CHANGES)
    assert after.server - before.server < MOST
    assert after.worker - before.worker < MOST

"""A page on a copy of the demo's front unit."""

from pathlib import Path

import pytest

from tests.board.desk import Page, page_on


@pytest.fixture
def page(tmp_path: Path) -> Page:
    return page_on(tmp_path)

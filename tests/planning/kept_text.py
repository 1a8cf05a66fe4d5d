"""Texts that are kept whole: what the program says now is held against what was read and found right."""

from pathlib import Path

import pytest


def assert_kept(file: Path, text: str) -> None:
    """Hold a text against the file in which it is kept; a file that was taken away is written anew, and fails once."""
    if not file.exists():
        file.parent.mkdir(exist_ok=True)
        file.write_text(text, "utf-8")
        pytest.fail(f"{file.name} was missing and is written: read it")
    assert text == file.read_text("utf-8")

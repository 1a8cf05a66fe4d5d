"""What stands in the tree, and what must not."""

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from tests.house.tree import files, top_level
from tests.tracked import ROOT, files_of

ENTRIES = {"README.md", "DEVELOPERS.md", "pyproject.toml", "loadplan", "vehicles", "tests", "figures", "demo"}

LONGEST = 400
"""Most lines of a file of code."""

TEXT = frozenset({".py", ".md", ".toml", ".svg", ".json", ".txt", ""})


def test_nothing_else_stands_at_the_top() -> None:
    assert {name for name in top_level() if not name.startswith(".")} == ENTRIES


def test_no_file_is_longer_than_a_reader_bears() -> None:
    lengths = {str(path.relative_to(ROOT)): len(path.read_text("utf-8").splitlines()) for path in files({".py"})}
    assert {name: length for name, length in lengths.items() if length > LONGEST} == {}


def test_no_file_knows_the_machine_it_was_written_on() -> None:
    places = "|".join(("/" + "work/", "/" + "root/", "/" + "home/", "/" + "tmp/", r"\b[A-Z]:\\" + "Users"))
    found = [str(path.relative_to(ROOT)) for path in files(TEXT) if re.search(places, path.read_text("utf-8"))]
    assert found == []


def test_texts_are_utf_8_with_plain_line_ends() -> None:
    ends = {str(path.relative_to(ROOT)): path.read_bytes() for path in files(TEXT) if path.name != "py.typed"}
    assert [name for name, content in ends.items() if content.decode("utf-8") and b"\r" in content] == []
    assert [name for name, content in ends.items() if content and not content.endswith(b"\n")] == []


def test_the_version_stands_in_one_place() -> None:
    about = (ROOT / "loadplan" / "__init__.py").read_text("utf-8")
    version = re.search(r'^__version__ = "(.+)"$', about, re.MULTILINE)
    assert version
    others = [path for path in files({".toml", ".py"}) if path.parent == ROOT or ROOT / "loadplan" in path.parents]
    elsewhere = [path.name for path in others if version[1] in path.read_text("utf-8")]
    assert elsewhere == ["__init__.py"]


@pytest.mark.skipif(shutil.which("git") is None, reason="git is not here")
def test_a_file_beside_what_git_tracks_is_the_users_own(tmp_path: Path) -> None:
    own = _tree(tmp_path)
    for command in (["init", "--quiet"], ["add", *own]):
        subprocess.run(["git", *command], cwd=tmp_path, check=True)
    (tmp_path / "my-job.toml").touch()
    assert [str(path.relative_to(tmp_path)) for path in files_of(tmp_path)] == own


def test_without_git_what_tools_made_is_left_out(tmp_path: Path) -> None:
    own = _tree(tmp_path)
    (tmp_path / "plans").mkdir()
    (tmp_path / "plans" / "1.svg").touch()
    assert [str(path.relative_to(tmp_path)) for path in files_of(tmp_path)] == own


def _tree(folder: Path) -> list[str]:
    (folder / "demo").mkdir()
    own = ["demo/job.toml", "pyproject.toml"]
    for name in own:
        (folder / name).touch()
    return own

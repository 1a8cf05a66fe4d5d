"""What stands in the tree, and what must not."""

import re

from tests.house.tree import ROOT, files, top_level

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

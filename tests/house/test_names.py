"""One thing, one word, one place: no two files, and no two classes, of one name in the package."""

import ast
from collections import Counter
from pathlib import Path

from tests.house.tree import ROOT, files

FILES = [path for path in files({".py"}) if ROOT / "loadplan" in path.parents]


def _twice(names: list[str]) -> list[str]:
    return sorted(name for name, count in Counter(names).items() if count > 1)


def _classes(path: Path) -> list[str]:
    return [node.name for node in ast.walk(ast.parse(path.read_text("utf-8"))) if isinstance(node, ast.ClassDef)]


def test_no_two_files_have_one_name() -> None:
    assert _twice([path.name for path in FILES if path.name != "__init__.py"]) == []


def test_no_file_is_called_like_a_room() -> None:
    rooms = {path.parent.name for path in FILES}
    assert sorted(rooms & {path.stem for path in FILES}) == []


def test_no_two_classes_have_one_name() -> None:
    assert _twice([name for path in FILES for name in _classes(path)]) == []


def test_two_of_one_name_are_told() -> None:
    assert _twice(["push.py", "pull.py", "push.py"]) == ["push.py"]

"""What of the tree is the project's: what git tracks, so that a user's own job or drawing beside it changes no test."""

import os
import shutil
import subprocess
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]

MADE = frozenset((ROOT / ".gitignore").read_text(encoding="utf-8").split())
"""What .gitignore names: made by tools, not part of the tree."""


def shipped(folder: str, pattern: str = "*") -> list[Path]:
    """Every file of the project that stands right in a folder, such as `demo`, and whose name is like the pattern."""
    return [path for path in project_files() if path.parent == ROOT / folder and path.match(pattern)]


@cache
def project_files() -> tuple[Path, ...]:
    """Every file of the project, in order."""
    return files_of(ROOT)


def files_of(root: Path) -> tuple[Path, ...]:
    """Every file of a tree that git tracks; without git (a source archive) every one that no tool has made."""
    listed = _listed(root)
    # An archive unpacked inside somebody's own repository is not what that repository tracks.
    if root / "pyproject.toml" not in listed:
        return tuple(_below(root))
    return tuple(path for path in listed if path.is_file())


def _listed(root: Path) -> list[Path]:
    """What git says it tracks below a folder; nothing where there is no git, or no repository."""
    if shutil.which("git") is None:
        return []
    # A hook of git's own points these at another tree.
    environment = {name: value for name, value in os.environ.items() if not name.startswith("GIT_")}
    command = ["git", "-c", "safe.directory=*", "ls-files", "-z", "--cached"]
    done = subprocess.run(command, cwd=root, env=environment, capture_output=True, check=False)
    return sorted(root / os.fsdecode(name) for name in done.stdout.split(b"\0") if name)


def _below(folder: Path) -> list[Path]:
    found: list[Path] = []
    for path in sorted(folder.iterdir()):
        if path.name != ".git" and not any(path.match(pattern.rstrip("/")) for pattern in MADE):
            found += _below(path) if path.is_dir() else [path]
    return found

"""One small change to one place of one file: every such change that mutmut's operators know."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import libcst as cst
from libcst.metadata import MetadataWrapper, PositionProvider
from mutmut.mutation.mutators import mutation_operators

ROOT = Path(__file__).parents[2]

ROOMS = {
    "statics": ("loadplan/statics/*.py", "loadplan/units.py"),
    "checks": ("loadplan/checks/*.py", "loadplan/stages.py"),
    "planning": ("loadplan/planning/**/*.py",),
}
"""Which files are broken, by the name of a run."""


@dataclass(frozen=True, slots=True)
class Mutant:
    """A file with one change.

    Attributes:
        file: Path in the repository.
        lines: First and last line of what is changed, of the file as it is.
        was: The lines that change, as they are.
        now: The same lines, changed.
        source: The whole file with the change.
    """

    file: str
    lines: tuple[int, int]
    was: str
    now: str
    source: str

    @property
    def key(self) -> tuple[str, str, str]:
        """What names it for good: its line numbers move whenever something above it is written."""
        return self.file, self.was, self.now


@dataclass(frozen=True, slots=True)
class Change:
    """A place in a file, and what else might stand there."""

    lines: tuple[int, int]
    module: cst.Module
    node: cst.CSTNode
    new: cst.CSTNode


def files(room: str) -> list[str]:
    """List the files of a room, in order."""
    found = {path for pattern in ROOMS[room] for path in ROOT.glob(pattern)}
    return sorted(str(path.relative_to(ROOT)) for path in found)


def changes(file: str) -> list[Change]:
    """List every change to a file, in the order of its lines."""
    wrapper = MetadataWrapper(cst.parse_module((ROOT / file).read_text("utf-8")))
    seen = _Changes(wrapper.module)
    wrapper.visit(seen)
    return sorted(seen.changes, key=lambda change: change.lines)


def broken(file: str, change: Change) -> Mutant:
    """Make a change, in memory: nothing is written."""
    new = change.module.deep_replace(change.node, change.new)
    assert isinstance(new, cst.Module)
    was, now = _difference(change.module.code.splitlines(), new.code.splitlines())
    return Mutant(file, change.lines, was, now, new.code)


class _Changes(cst.CSTVisitor):
    """All changes of what runs: not of annotations, decorators, imports and docstrings."""

    METADATA_DEPENDENCIES = (PositionProvider,)

    def __init__(self, module: cst.Module) -> None:
        super().__init__()
        self.module = module
        self.changes: list[Change] = []

    def on_visit(self, node: cst.CSTNode) -> bool:
        if isinstance(node, cst.Annotation | cst.Decorator | cst.Import | cst.ImportFrom) or _is_unread(node):
            return False
        place = self.get_metadata(PositionProvider, node, None)
        if place is not None:
            lines = place.start.line, place.end.line
            self.changes += [Change(lines, self.module, node, new) for new in _others(node)]
        return True


def _others(node: cst.CSTNode) -> Iterator[cst.CSTNode]:
    for kind, operator in mutation_operators:
        if isinstance(node, kind):
            yield from operator(node)


def _is_unread(node: cst.CSTNode) -> bool:
    """Return whether something is a docstring, or a name for a type: the program runs without."""
    match node:
        case cst.Expr(value=cst.SimpleString() | cst.ConcatenatedString()):
            return True
        case cst.AnnAssign(annotation=cst.Annotation(annotation=cst.Name("TypeAlias"))):
            return True
        case _:
            return False


def _difference(old: list[str], new: list[str]) -> tuple[str, str]:
    """Return the lines between the first and the last that differ, each on one line."""
    start = _same(old, new)
    end = _same(old[start:][::-1], new[start:][::-1])
    was, now = old[start : len(old) - end], new[start : len(new) - end]
    return " ".join(" ".join(was).split()), " ".join(" ".join(now).split())


def _same(old: list[str], new: list[str]) -> int:
    """Count the lines that are the same from the start."""
    pairs = enumerate(zip(old, new, strict=False))
    return next((number for number, (a, b) in pairs if a != b), min(len(old), len(new)))

"""One small change to one place of one file: every such change that mutmut's operators know."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import libcst as cst
from libcst.metadata import MetadataWrapper, PositionProvider
from mutmut.mutation.mutators import mutation_operators

from tests.mutation.tried import Spot

ROOT = Path(__file__).parents[2]

ROOMS = {
    "statics": ("loadplan/statics/*.py", "loadplan/units.py"),
    "checks": ("loadplan/checks/*.py", "loadplan/stages.py"),
    "planning": ("loadplan/planning/**/*.py",),
}
"""Which files are broken, by the name of a run."""

ABOVE_STATICS = ("loadplan/checks/", "loadplan/planning/")
"""Where what is broken changes nothing of what `loadplan/statics` finds."""

AROUND = 40
"""Signs that are told on either side of what changes."""


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

    @property
    def spot(self) -> Spot:
        """Where it is."""
        return Spot(self.file, self.lines[0])

    @property
    def is_wording(self) -> bool:
        """Whether only letters of a text change."""
        return self.was.casefold() == self.now.casefold() or self.was == self.now.replace("XX", "")

    @property
    def change(self) -> str:
        """What changes and what it becomes, between arrows, with some words on either side."""
        start = _same(self.was, self.now)
        end = _same(self.was[start:][::-1], self.now[start:][::-1])
        was, now = (text[start : len(text) - end] for text in (self.was, self.now))
        after = self.was[len(self.was) - end :][:AROUND]
        return f"{self.was[max(start - AROUND, 0) : start]}<{was} -> {now}>{after}"


@dataclass(frozen=True, slots=True)
class Change:
    """A place in a file, and what else might stand there.

    Attributes:
        lines: First and last line of the place.
        module: The whole file.
        part: Which part of the file (a function, a class, a constant) the place is in.
        statement: First line of the statement it is in.
        node: What is there.
        new: What might be.
    """

    lines: tuple[int, int]
    module: cst.Module
    part: int
    statement: int
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
    body = change.module.body
    # Only the part that changes is written anew: that is many times sooner than the whole file.
    new = body[change.part].deep_replace(change.node, change.new)
    assert isinstance(new, cst.CSTNode)
    parts = [*texts(change.module)]
    parts[change.part + 1] = change.module.code_for_node(new)
    code = "".join(parts)
    was, now = _difference(_lines(change.module), code.splitlines())
    return Mutant(file, change.lines, was, now, code)


@cache
def texts(module: cst.Module) -> tuple[str, ...]:
    """Return what makes up a file.

    Args:
        module: The file.

    Returns:
        What stands first, its parts, what stands last.
    """
    parts = [module.code_for_node(each) for each in module.body]
    head, foot = module.code.split("".join(parts))
    return head, *parts, foot


@cache
def _lines(module: cst.Module) -> list[str]:
    return module.code.splitlines()


class _Changes(cst.CSTVisitor):
    """All changes of what runs: not of annotations, decorators, imports and docstrings."""

    METADATA_DEPENDENCIES = (PositionProvider,)

    def __init__(self, module: cst.Module) -> None:
        super().__init__()
        self.module = module
        self.changes: list[Change] = []
        self._parts = {id(each): number for number, each in enumerate(module.body)}
        self._part = -1
        self._statement = 0

    def on_visit(self, node: cst.CSTNode) -> bool:
        if isinstance(node, cst.Annotation | cst.Decorator | cst.Import | cst.ImportFrom) or _is_unread(node):
            return False
        self._part = self._parts.get(id(node), self._part)
        place = self.get_metadata(PositionProvider, node, None)
        if place is not None and self._part >= 0:
            lines = place.start.line, place.end.line
            if isinstance(node, cst.BaseSmallStatement | cst.BaseCompoundStatement):
                self._statement = lines[0]
            where = self.module, self._part, self._statement
            self.changes += [Change(lines, *where, node, new) for new in _others(node)]
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


def _same(old: Sequence[str], new: Sequence[str]) -> int:
    """Count the lines, or the signs, that are the same from the start."""
    pairs = enumerate(zip(old, new, strict=False))
    return next((number for number, (a, b) in pairs if a != b), min(len(old), len(new)))

"""A job file being changed: its drafts forward and back, and saving the one in view."""

import codecs
import os
from dataclasses import dataclass
from itertools import count
from pathlib import Path

from loadplan.board.draft import Draft, changed_lines
from loadplan.board.refusals import RefusedError
from loadplan.board.tried_masses import WhatIf
from loadplan.errors import Fault, InputError
from loadplan.files.job_file import open_job
from loadplan.files.moved_job import moved
from loadplan.files.safe_write import rewrite, write_new
from loadplan.files.toml_edit import edited_text
from loadplan.files.toml_source import LARGEST

MOST_BACK = 200
"""Most changes that can be taken back."""


@dataclass(frozen=True, slots=True)
class Conflict:
    """The file is not what it was when it was read.

    Attributes:
        yours: What you changed, line by line.
        theirs: What somebody else changed since.
    """

    yours: list[str]
    theirs: list[str]


class Plan:
    """A job file being changed: drafts, forward and back, and the file as it was read.

    Attributes:
        path: The job file.
        revision: Grows with every change, also with one that is taken back.
    """

    def __init__(self, path: Path) -> None:
        """Read a job file.

        Args:
            path: The file.

        Raises:
            InputError: If it cannot be used.
        """
        self.path = path
        self.revision = 0
        self._disk = _read(path)
        self._drafts = [Draft(path, _text(self._disk, path), WhatIf())]
        self._now = 0
        # A file that cannot be used is refused before anything is shown of it.
        _ = self.draft.job

    @property
    def draft(self) -> Draft:
        """The state in view."""
        return self._drafts[self._now]

    @property
    def unsaved(self) -> bool:
        """Whether the draft says something else than the file that was read."""
        return self.draft.text != _text(self._disk, self.path)

    @property
    def can_undo(self) -> bool:
        """Whether there is a change to take back."""
        return self._now > 0

    @property
    def can_redo(self) -> bool:
        """Whether there is a change to make again."""
        return self._now + 1 < len(self._drafts)

    def change(self, text: str, what_if: WhatIf) -> None:
        """Make a change, if a job comes of it that can be computed.

        Args:
            text: The new text of the file.
            what_if: What is tried out from now on.

        Raises:
            InputError: If no such job comes of it; then nothing is changed.
        """
        if (text, what_if) == (self.draft.text, self.draft.what_if):
            return
        draft = Draft(self.path, text, what_if)
        _ = draft.assessment
        self.draft.forget()
        self._drafts = [*self._drafts[: self._now + 1], draft][-MOST_BACK:]
        self._now = len(self._drafts) - 1
        self.revision += 1

    def step(self, by: int) -> None:
        """Take changes back, or make them again.

        Args:
            by: -1 or 1; ignored where there is none.
        """
        if 0 <= self._now + by < len(self._drafts):
            self.draft.forget()
            self._now += by
            self.revision += 1

    def reread(self) -> None:
        """Read the file as it is on the disk; what was drafted can be had back with undo.

        Raises:
            InputError: If the file cannot be used as it is; then nothing is changed.
        """
        disk = _read(self.path)
        self.change(_text(disk, self.path), WhatIf())
        self._disk = disk

    def conflict(self) -> Conflict | None:
        """Look whether the file is still what was read.

        Returns:
            What both changed; None where nobody changed it.
        """
        try:
            there = self.path.read_bytes()
        except OSError:
            there = b""
        if there == self._disk:
            return None
        read = _text(self._disk, self.path)
        return Conflict(changed_lines(read, self.draft.text), changed_lines(read, there.decode("utf-8", "replace")))

    def changes(self) -> list[str]:
        """Return the lines that saving changes."""
        return changed_lines(_text(self._disk, self.path), self.draft.text)

    def save(self) -> None:
        """Write the draft into its file, whole or not at all.

        Raises:
            InputError: If the file was changed since it was read.
            OSError: If it cannot be written.
        """
        if self.conflict():
            raise InputError(Fault(str(self.path), "", "", "was changed on the disk since it was read"))
        content = _content(self.draft.text, like=self._disk)
        rewrite(self.path, content)
        self._disk = content
        self.revision += 1

    def save_as(self, path: Path) -> None:
        """Write the draft into a new file, and go on with that one.

        Args:
            path: The file.

        Raises:
            RefusedError: If it is there already.
            OSError: If it cannot be written.
        """
        if path.exists():
            raise RefusedError(f"{path.name} is there already and is not written over. Take another name.")
        text = edited_text(self.draft.text, moved(self.path, path), self.path)
        content = _content(text, like=self._disk)
        write_new(path.parent, {path.name: content})
        self.path, self._disk = path, content
        self._drafts[self._now] = Draft(path, text, self.draft.what_if)
        self.revision += 1

    def put_aside(self) -> Path:
        """Write the draft beside the job file under a name of its own, so that stopping loses nothing.

        Returns:
            The file.

        Raises:
            OSError: If it cannot be written.
        """
        names = (f"{self.path.stem}-not-saved{number or ''}.toml" for number in count())
        path = next(each for name in names if not os.path.lexists(each := self.path.with_name(name)))
        write_new(path.parent, {path.name: _content(self.draft.text, like=self._disk)})
        return path


def _read(path: Path) -> bytes:
    """Return what stands in a job file; the reader has its own words for a file that cannot be read.

    Raises:
        InputError: If it cannot be read.
    """
    open_job(path)
    with path.open("rb") as stream:
        return stream.read(LARGEST)


def _text(content: bytes, path: Path) -> str:
    """Return a file's text with its own line ends.

    Raises:
        InputError: If it is no text.
    """
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise InputError(Fault(str(path), "", "", "is not UTF-8 text: save it with the encoding UTF-8")) from None


def _content(text: str, *, like: bytes) -> bytes:
    mark = codecs.BOM_UTF8 if like.startswith(codecs.BOM_UTF8) else b""
    return mark + text.encode("utf-8")

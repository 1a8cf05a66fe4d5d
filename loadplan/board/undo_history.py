"""A job file being changed: its drafts forward and back, and saving the one in view."""

import codecs
import os
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from itertools import count
from pathlib import Path

from loadplan.board.changed_files import Contents, changed
from loadplan.board.draft import Draft, today
from loadplan.board.line_merge import merged
from loadplan.board.refusals import RefusedError
from loadplan.board.tried_masses import WhatIf
from loadplan.board.worker_process import Doing, here
from loadplan.errors import Fault, InputError, printable
from loadplan.files.change_journal import ChangeJournal, Left, drop, left_behind
from loadplan.files.job_file import open_job
from loadplan.files.moved_job import moved
from loadplan.files.safe_write import rewrite, write_new
from loadplan.files.toml_edit import edited_text
from loadplan.files.toml_source import LARGEST, sum_of

MOST_BACK = 200
"""Most changes that can be taken back."""


@dataclass(frozen=True, slots=True)
class Conflict:
    """The file is not what it was when it was read.

    Attributes:
        read: Its text as it was read.
        yours: Its text as you changed it.
        theirs: Its text as somebody else changed it since.
    """

    read: str
    yours: str
    theirs: str


class Plan:
    """A job file being changed: drafts, forward and back, and the file as it was read.

    Attributes:
        path: The job file.
        revision: Grows with every change, also with one that is taken back.
    """

    def __init__(self, path: Path, tell: Callable[[str], None] = lambda _: None, do: Doing = here) -> None:
        """Read a job file, and take up what a program that was killed has left of it.

        Args:
            path: The file.
            tell: Tells a line in the terminal.
            do: Does what takes long: judging.

        Raises:
            InputError: If it cannot be used.
        """
        self.path, self._do = path, do
        self.revision = 0
        self._disk = _read(path)
        self._drafts = [self._draft(_text(self._disk, path), WhatIf())]
        self._now = 0
        # A file that cannot be used is refused before anything is shown of it.
        _ = self.draft.job
        self._tell = tell
        self._journal = ChangeJournal(path, tell)
        self._restored = ""
        for left in left_behind(path):
            self._take_up(left)

    @property
    def restored(self) -> str:
        """What was taken up that was not saved the last time, in a sentence; "" once it is saved or taken back."""
        return self._restored if self.unsaved or self.draft.what_if else ""

    @property
    def draft(self) -> Draft:
        """The state in view."""
        return self._drafts[self._now]

    @property
    def unsaved(self) -> bool:
        """Whether the draft says something else than the file that was read."""
        return self.draft.text != _text(self._disk, self.path)

    @property
    def kept_in(self) -> Path | None:
        """The folder where the journal has what is not saved; None where nothing is in it."""
        return self._journal.path.parent if self._journal.path else None

    @property
    def can_undo(self) -> bool:
        """Whether there is a change to take back."""
        return self._now > 0

    @property
    def can_redo(self) -> bool:
        """Whether there is a change to make again."""
        return self._now + 1 < len(self._drafts)

    def change(self, text: str, what_if: WhatIf, done: str = "") -> None:
        """Make a change, if a job comes of it that can be computed.

        Args:
            text: The new text of the file.
            what_if: What is tried out from now on.
            done: What is done by it, in a sentence: taking it back says so.

        Raises:
            InputError: If no such job comes of it; then nothing is changed.
        """
        if (text, what_if) == (self.draft.text, self.draft.what_if):
            return
        draft = self._draft(text, what_if)
        draft.done = done
        _ = draft.assessment
        self._keep(draft)
        self.draft.forget()
        self._drafts = [*self._drafts[: self._now + 1], draft][-MOST_BACK:]
        self._now = len(self._drafts) - 1
        self.revision += 1

    def step(self, by: int) -> str:
        """Take changes back, or make them again.

        Args:
            by: -1 or 1; ignored where there is none.

        Returns:
            What was done by the change that is taken back or made again, in a sentence; "" where that is not known.

        Raises:
            InputError: If what is gone to cannot be computed; then nothing is changed.
            OSError: If it cannot be put down in the journal; then nothing is changed.
        """
        if not 0 <= self._now + by < len(self._drafts):
            return ""
        to = self._drafts[self._now + by]
        _ = to.assessment
        self._keep(to)
        self.draft.forget()
        done = self._drafts[max(self._now, self._now + by)].done
        self._now += by
        self.revision += 1
        return done

    def reread(self) -> None:
        """Read the files as they are on the disk; what was drafted can be had back with undo.

        Where the job's own file is what it was, and that of the vehicle or the shop has changed, the draft stays, and
        is judged anew.

        Raises:
            InputError: If a file cannot be used as it is; then nothing is changed.
        """
        disk = _read(self.path)
        if disk == self._disk:
            fresh = self._anew()
            _ = fresh.assessment
            self._drafts[self._now] = fresh
            self.revision += 1
            return
        self.change(_text(disk, self.path), WhatIf(), "The file was read anew.")
        self._disk, self._restored = disk, ""
        self._journal.clear()

    def take_day(self) -> None:
        """Judge a job that gives no day anew once it is another day than when it was read: a page may stay open."""
        if self.draft.day != today() and self.draft.file.head.date is None:
            self._drafts[self._now] = self._anew()
            self.revision += 1

    def changed_on_disk(self) -> Contents:
        """Look which files that the plan rests on say something else than was read.

        Returns:
            The job's, the vehicle's, the shop's, with a sum of what stands in each now.
        """
        there = self._on_disk()
        own = {} if there == self._disk else {self.path: sum_of(there)}
        return {**own, **changed(self.draft.rests_on)}

    def _on_disk(self) -> bytes:
        try:
            with self.path.open("rb") as stream:
                return stream.read(LARGEST)
        except OSError:
            return b""

    def conflict(self) -> Conflict | None:
        """Look whether the file is still what was read.

        Returns:
            What both changed; None where nobody changed it.
        """
        there = self._on_disk()
        if there == self._disk:
            return None
        theirs = there.decode("utf-8-sig", "replace")
        return Conflict(_text(self._disk, self.path), self.draft.text, theirs)

    def as_read(self) -> str:
        """Return the text of the file as it was read."""
        return _text(self._disk, self.path)

    def take_both(self) -> None:
        """Put your changes into the file as somebody else changed it since, not saved yet; undo takes back yours alone.

        Raises:
            RefusedError: If both touch.
            InputError: If the file, or what comes of both, cannot be used; then nothing is changed.
            OSError: If it cannot be put down in the journal; then nothing is changed.
        """
        before, disk = self._disk, _read(self.path)
        text = merged(_text(before, self.path), self.draft.text, _text(disk, self.path))
        if text is None:
            raise RefusedError("Both changed the same lines: save yours under another name, or read the file anew.")
        # A journal begins with the file as it was read; the old one stays until the new one is on the disk.
        old, self._journal, self._disk = self._journal, ChangeJournal(self.path, self._tell), disk
        back, done = self._drafts[: self._now], self.draft.done
        try:
            self._keep(self._draft(text, self.draft.what_if))
            self.change(text, self.draft.what_if)
        except (InputError, OSError):
            self._journal.clear()
            self._journal, self._disk = old, before
            raise
        # What is gone back to has theirs, too: taking yours back must not take theirs out of the file.
        texts = [merged(_text(before, self.path), each.text, _text(disk, self.path)) for each in back]
        kept = [(each, self._draft(text, each.what_if)) for each, text in zip(back, texts, strict=True) if text]
        for was, now in kept:
            now.done = was.done
        self.draft.done = done
        self._drafts = [*(now for _, now in kept), self.draft]
        self._now = len(kept)
        old.clear()
        self.revision += 1

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
        self._saved(content)

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
        self.path = path
        done, self._drafts[self._now] = self.draft.done, self._draft(text, self.draft.what_if)
        self.draft.done = done
        self._journal.clear()
        self._journal = ChangeJournal(path, self._tell)
        self._saved(content)

    def put_aside(self) -> Path:
        """Write the draft beside the job file under a name of its own, so that stopping loses nothing.

        Returns:
            The file.

        Raises:
            OSError: If it cannot be written.
        """
        path = self._aside(self.draft.text)
        self._journal.clear()
        return path

    def _keep(self, draft: Draft) -> None:
        """Put a state into the journal before it counts, so that a kill loses nothing that was answered.

        Raises:
            OSError: If that is not possible; then the state must not count.
        """
        base = _text(self._disk, self.path)
        if draft.text == base and not draft.what_if:
            self._journal.clear()
        else:
            self._journal.note(base, draft.text, draft.what_if.written)

    def _saved(self, content: bytes) -> None:
        """Count as saved what was written; what is tried out is kept on, since no file has it."""
        self._disk, self._restored = content, ""
        self.revision += 1
        self._journal.clear()
        if self.draft.what_if:
            # The file is written, whatever becomes of this.
            with suppress(OSError):
                self._keep(self.draft)

    def _take_up(self, left: Left) -> None:
        """Make what was left the state in view, with the file as it was before under "undo".

        Where the file says something else by now than it did then, both are shown before anything is saved. What does
        not make a job any more, or comes from a second program, is written beside.
        """
        name = printable(self.path.name)
        if left.text == _text(self._disk, self.path) and not left.tried:
            drop(left)
            return
        draft = self._draft(left.text, WhatIf.read(left.tried, self.draft.given))
        if self._restored or not _is_judged(draft):
            with suppress(OSError):
                aside = self._aside(left.text)
                drop(left)
                self._tell(f"{name}: what was left unsaved the last time is in {printable(str(aside))}.\n")
            return
        self._disk = _content(left.base, like=self._disk)
        self._drafts, self._now, self.revision = [self._draft(left.base, WhatIf()), draft], 1, 1
        self._restored = "This is what was not saved the last time. Save it, or take it back with undo."
        with suppress(OSError):
            self._keep(draft)
            drop(left)
        self._tell(f"{name}: what was not saved the last time is there again.\n")

    def _draft(self, text: str, what_if: WhatIf) -> Draft:
        return Draft(self.path, text, what_if, self._do)

    def _anew(self) -> Draft:
        """Return the state in view, to be judged anew."""
        fresh = self._draft(self.draft.text, self.draft.what_if)
        fresh.done = self.draft.done
        return fresh

    def _aside(self, text: str) -> Path:
        """Write a text beside the job file under a name of its own.

        Returns:
            The file.

        Raises:
            OSError: If it cannot be written.
        """
        names = (f"{self.path.stem}-not-saved{number or ''}.toml" for number in count())
        path = next(each for name in names if not os.path.lexists(each := self.path.with_name(name)))
        write_new(path.parent, {path.name: _content(text, like=self._disk)})
        return path


def _is_judged(draft: Draft) -> bool:
    """Return whether a draft makes a job that can be judged."""
    try:
        _ = draft.assessment
    except InputError:
        return False
    return True


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

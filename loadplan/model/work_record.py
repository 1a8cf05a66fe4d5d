"""The record of a job: what was begun, ticked, read, noted and moved at the bay, in the order in which it was."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from enum import Enum, auto

from loadplan.model.forgotten_tie import TiePlace


class Deed(Enum):
    """What an entry says was done, as it stands in the file."""

    BEGUN = "begun"
    TICKED = "ticked"
    TAKEN_BACK = "tick taken back"
    READ = "read"
    NOTED = "noted"
    FORGOTTEN = "was still on"
    PLACED = "place of what was still on"
    LISTED = "listed in the vehicle's file"
    PHOTOGRAPHED = "photographed"
    MOVED = "something moved"
    STEP_DONE = "step done"
    PLAN_CHANGED = "plan changed"
    FINISHED = "finished"
    SHORT = "entries missing"
    UNTOLD = "entries may be missing"


TOLD_AFTERWARDS = frozenset({Deed.NOTED, Deed.FORGOTTEN, Deed.PLACED, Deed.LISTED, Deed.PHOTOGRAPHED})
"""What is told of a job that is over as well, and sets nothing going again."""

WORKED_ON = frozenset({Deed.TICKED, Deed.TAKEN_BACK, Deed.STEP_DONE, Deed.READ})
"""What shows that a unit stands there: nobody does it to a job that is over."""


MAY_GO_ON = "a qualified person says that work may go on"
"""What somebody answers for, by name."""

LOOKED_AT = (
    "hands off, everybody away from unit and vehicle",
    "the lift, a hoist or another stand holds the weight again, or nobody goes near it",
    "every saddle, stand and mount looked at from outside",
    "set heights and places measured again: as planned, or the plan is changed first",
    MAY_GO_ON,
)
"""What is ticked when something moved that the plan did not say, before work goes on; common practice, no source."""


class BrokenOff(Enum):
    """What stands behind the last whole entry of a record, and is left out."""

    NOTHING = auto()
    """Nothing."""
    STOPPED = auto()
    """A piece of an entry that nobody was told is kept: the program was stopped while it was written."""
    CUT = auto()
    """A piece of an entry that was kept: the file was cut afterwards."""
    UNTOLD = auto()
    """A piece of an entry, of which nothing tells whether it was kept."""
    BY_HAND = auto()
    """What the program does not write."""
    EMPTY = auto()
    """All of it: no entry is there, and nothing tells whether one was kept."""


LEFT_UNTOLD = frozenset({BrokenOff.UNTOLD, BrokenOff.BY_HAND, BrokenOff.EMPTY})
"""What may have been read at the bay, and is left out of a record."""


class CountBeside(Enum):
    """What stands beside a record about its length."""

    THERE = auto()
    """How long it was."""
    DAMAGED = auto()
    """Nothing that can be used."""
    ABSENT = auto()
    """Nothing."""


@dataclass(frozen=True, slots=True)
class FoundAtStand:
    """What was found at a stand, a hook or the lift's own gauge, beside what the plan had said.

    Attributes:
        support: The support; the lift for its own gauge.
        load: What a scale under it, on its hook, or the gauge read [N]; None where it was felt by hand.
        turns: Whether it turned by hand; None where a scale was read.
        planned: What the plan told that it carries [N]; None where it told nothing.
        most: The most that the plan told on this floor [N]; None where it told nothing.
        lowered: How far the lift was down past first touch then [m]; None where nobody wrote that down.
    """

    support: str
    load: float | None = None
    turns: bool | None = None
    planned: float | None = None
    most: float | None = None
    lowered: float | None = None


@dataclass(frozen=True, slots=True)
class RecordEntry:
    """One thing that was done.

    Attributes:
        at: When, with its time zone.
        who: Who did it, as they call themselves.
        sheet: Number of the plan's sheet at that time.
        step: Name of the step, "" for the whole job.
        deed: What was done.
        words: The box that was ticked, the note, or the photograph's file; "" where the deed says it all.
        found: What was read at a stand, None but for a reading.
        picture: Sum over a photograph's content, by which it is known again; "" but for a photograph.
        place: Where something is that was still on, None but where that is said.
    """

    at: datetime
    who: str
    sheet: str
    step: str
    deed: Deed
    words: str = ""
    found: FoundAtStand | None = None
    picture: str = ""
    place: TiePlace | None = None


@dataclass(frozen=True, slots=True)
class JobStanding:
    """Where a job stands.

    Attributes:
        step: The step that is being worked on, or was done last; "" before the first.
        done: Whether that step is done.
        since: Since when.
        finished: Whether the job is: said to be, and not worked on or read since.
        moved: Whether something moved that the plan did not say, and no step was done since.
        edited: Whether somebody changed the record by hand.
        missing: How many entries at the record's end are not there any more.
    """

    step: str
    done: bool
    since: datetime
    finished: bool
    moved: bool = False
    edited: bool = False
    missing: int = 0


@dataclass(frozen=True, slots=True)
class WorkRecord:
    """What was done of a job so far.

    Attributes:
        entries: In the order in which they were made.
        edited: Whether somebody changed the file by hand since.
        broken_off: What stands behind its last whole entry, and is left out.
        missing: How many entries at its end were kept once and are not there any more.
        unreadable: Why it cannot be read, "" where it can: then nothing else is known of it.
        count: What stands beside it about its length.
        kept_last: When the last one was made that was kept once; None where nobody knows.
        last_sum: Sum of the last entry, by which a later copy can be held against a printed one.
    """

    entries: tuple[RecordEntry, ...] = ()
    edited: bool = False
    broken_off: BrokenOff = BrokenOff.NOTHING
    missing: int = 0
    unreadable: str = ""
    count: CountBeside = CountBeside.THERE
    kept_last: datetime | None = field(default=None, compare=False)
    last_sum: str = field(default="", compare=False)

    @property
    def began(self) -> RecordEntry | None:
        """The first entry; None where nothing was done yet."""
        return self.entries[0] if self.entries else None

    @property
    def tells_nothing(self) -> bool:
        """Whether there is no record, and nothing says that there was one."""
        beside = self.count is not CountBeside.DAMAGED
        nothing = not self.entries and not self.missing and self.broken_off is BrokenOff.NOTHING
        return nothing and beside and not self.unreadable

    @property
    def is_untold(self) -> bool:
        """Whether something befell it that leaves open whether all of it is there: more than that its count is gone."""
        return self.broken_off in LEFT_UNTOLD or self.count is CountBeside.DAMAGED

    @property
    def went_on_untold(self) -> bool:
        """Whether work went on where nobody could tell whether all was there, and no step was done since."""
        told = [each.deed for each in self.entries if each.deed in {Deed.UNTOLD, Deed.STEP_DONE}]
        return told[-1:] == [Deed.UNTOLD]

    @property
    def standing(self) -> JobStanding | None:
        """Where the job stands; None where nothing was done yet."""
        if not self.entries:
            if not self.missing or self.kept_last is None:
                return None
            return JobStanding("", done=False, since=self.kept_last, finished=False, missing=self.missing)
        # A note or a reading may be of any step: where the job stands is told by what is ticked and done.
        at_work = [each for each in self.entries if each.deed in WORKED_ON - {Deed.READ}]
        step = at_work[-1].step if at_work else ""
        before = [place for place, each in enumerate(at_work) if each.step != step]
        run = at_work[max([0, *(place + 1 for place in before)]) :] or self.entries
        done = next((each for each in run if each.deed is Deed.STEP_DONE), None)
        # One that is worked on or read after it was finished stands there again.
        begun = [each for each in self.entries if each.deed in WORKED_ON or each.deed is Deed.FINISHED]
        finished = begun[-1] if begun and begun[-1].deed is Deed.FINISHED else None
        told = [each.deed for each in self.entries if each.deed in {Deed.MOVED, Deed.STEP_DONE}]
        moved = told[-1:] == [Deed.MOVED]
        since = (finished or done or run[0]).at
        return JobStanding(step, done is not None, since, finished is not None, moved, self.edited, self.missing)

    @property
    def is_finished(self) -> bool:
        """Whether the job was said to be finished."""
        return any(each.deed is Deed.FINISHED for each in self.entries)

    @property
    def is_over(self) -> bool:
        """Whether the job was said to be finished, and nothing was moved, done or read since: nothing stands there."""
        told = [each.deed for each in self.entries if each.deed not in TOLD_AFTERWARDS]
        return told[-1:] == [Deed.FINISHED]

    @property
    def is_over_and_whole(self) -> bool:
        """Whether the job is over by a record that is as it was kept: then nothing of it is open any more."""
        return self.is_over and not (self.unreadable or self.edited or self.missing or self.is_untold)

    @property
    def since_moved(self) -> "WorkRecord | None":
        """What was done since something moved, in whichever step; None where nothing did, or a step was done since."""
        moved = max((place for place, each in enumerate(self.entries) if each.deed is Deed.MOVED), default=None)
        if moved is None or any(each.deed is Deed.STEP_DONE for each in self.entries[moved:]):
            return None
        return WorkRecord(self.entries[moved:])

    @property
    def not_looked_at(self) -> RecordEntry | None:
        """What moved, and was not looked at since in any step; None where nothing did, or work went on since."""
        since = self.since_moved
        if since is None:
            return None
        steps = {each.step for each in since.entries}
        return None if any(since.ticked(step) >= {*LOOKED_AT} for step in steps) else since.entries[0]

    def ticked(self, step: str, meant: Callable[[str], str] = str) -> frozenset[str]:
        """Name the boxes of a step that are ticked now.

        Args:
            step: The step.
            meant: Says which box the words of an entry mean.

        Returns:
            Their words; one that was taken back is not among them.
        """
        ticked: set[str] = set()
        for entry in self.entries:
            if entry.step == step and entry.deed is Deed.TICKED:
                ticked.add(meant(entry.words))
            elif entry.step == step and entry.deed is Deed.TAKEN_BACK:
                ticked.discard(meant(entry.words))
        return frozenset(ticked)

    def changed_to(self, sheet: str) -> bool:
        """Return whether work began by another plan than the one with this number."""
        return bool(self.entries) and any(entry.sheet != sheet for entry in self.entries)

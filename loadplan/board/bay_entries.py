"""What a tap at the bay puts into the record, and what is not taken."""

from dataclasses import replace
from datetime import UTC, datetime
from typing import NamedTuple

from loadplan.board.bay_scales import ReadingPlace, Scale, reading_places
from loadplan.board.bay_step import BayStep
from loadplan.board.bay_ties import placed_entry
from loadplan.board.bay_turns import refused_words, taken_back_by, turning
from loadplan.board.refusals import RefusedError
from loadplan.board.stand_changes import quantity
from loadplan.errors import printable
from loadplan.files.values import STRONGEST
from loadplan.model.hung_photograph import HungPhotograph
from loadplan.model.work_record import MAY_GO_ON, Deed, FoundAtStand, RecordEntry
from loadplan.units import Kind

LONGEST = 300
"""Longest note [characters]."""

FARTHEST_DOWN = 0.5
"""Farthest that a lift is written down as past first touch [m]: what comes down further stands on nothing."""

AS_PLANNED = 0.0005
"""A lift within this of where its step has it is there [m]: no rule on a post reads finer."""

LONGEST_NAME = 60
"""Longest name of who says that work may go on [characters]."""

ANSWERS = "the qualified person who says that work may go on"
"""Before that name, in the record."""

WRITTEN = {"note": Deed.NOTED, "forgotten": Deed.FORGOTTEN, "moved": Deed.MOVED}
"""What is typed, by what the form calls it."""


def entries_of(
    step: BayStep, form: dict[str, str], who: str, photograph: HungPhotograph | None = None
) -> list[RecordEntry]:
    """Make the entries of a record that a form of the page says.

    Args:
        step: The step.
        form: What was filled in.
        who: Who works there.
        photograph: What is hung on the step, once it was looked into; then nothing else is done.

    Returns:
        The entries; none where only a name was given.

    Raises:
        RefusedError: If nobody gave a name, unless something moved: that waits for no name; or it may not be done now.
    """
    if not who and form.get("what") != "moved":
        raise RefusedError("Not kept: write down who works here first.")
    now = datetime.now(UTC).astimezone().replace(microsecond=0)
    if form.get("what") == "who":
        return []
    make = _Maker(step, now, who)
    made = [make.photographed(photograph)] if photograph else _made(make, form)
    return [*_before(make), *made] if made else []


def _before(make: "_Maker") -> list[RecordEntry]:
    """Return what has to be said before: that work begins, or that the plan is another since the last entry."""
    entries, number = make.of.record.entries, make.of.number
    if not entries:
        return [make.entry(Deed.BEGUN, "", step="")]
    # What the program lists in the vehicle's file, once it is asked to, is no change that somebody made of the plan.
    if entries[-1].sheet == number or entries[-1].sheet in make.of.numbers.before_listing:
        return []
    return [make.entry(Deed.PLAN_CHANGED, f"sheet {entries[-1].sheet} before, sheet {number} now", step="")]


def _made(make: "_Maker", form: dict[str, str]) -> list[RecordEntry]:
    """Return what one tap says.

    Raises:
        RefusedError: If it may not be done now, or is not understood.
    """
    match form.get("what", ""):
        case "tick" | "untick" as what:
            ticked = _ticked(make, form.get("line", ""), taken_back=what == "untick")
            return [*_answered_for(make, ticked, form.get("by", "")), ticked]
        case "all":
            return [_ticked(make, words) for words in _open_lines(make.of, form.get("part", ""))]
        case "read":
            read = _read(make, form)
            turns = read.found.support if read.found and read.found.turns else ""
            back = taken_back_by(make.of, turns) if turns else ()
            return [read, *(make.entry(Deed.TAKEN_BACK, words) for words in back)]
        case "note" | "forgotten" | "moved" as what:
            return [_written(make, WRITTEN[what], form.get("words", ""))]
        case "place":
            words, place = placed_entry(make.of, form)
            return [replace(make.entry(Deed.PLACED, words), place=place)]
        case "done":
            return _finished(make)
        case _:
            raise RefusedError("The page said something that is not understood. Load it again.")


def _written(make: "_Maker", deed: Deed, typed: str) -> RecordEntry:
    """Return a note, or that something moved.

    Raises:
        RefusedError: If nothing was typed where something has to be, or more than is kept.
    """
    words = printable(typed).strip()
    if len(words) > LONGEST:
        raise RefusedError(f"Not kept: it has {len(words)} letters, {LONGEST} are the most. Write it as two notes.")
    if not words and deed is not Deed.MOVED:
        raise RefusedError("Not kept: nothing was written.")
    return make.entry(deed, words)


def _finished(make: "_Maker") -> list[RecordEntry]:
    """Return that the step is done, and after the last one the job.

    Raises:
        RefusedError: If something in it is not ticked, or it is done already.
    """
    if make.of.done:
        raise RefusedError("This step is done already: nothing was added.")
    if not make.of.is_complete:
        raise RefusedError("Not kept: something in this step is not ticked yet.")
    last = make.of.stage.state.index == len(make.of.opened.plan.draft.assessment.stages) - 1
    return [make.entry(Deed.STEP_DONE, ""), *([make.entry(Deed.FINISHED, "", step="")] if last else [])]


class _Maker(NamedTuple):
    """Makes entries of one moment."""

    of: BayStep
    at: datetime
    who: str

    def entry(self, deed: Deed, words: str, found: FoundAtStand | None = None, step: str | None = None) -> RecordEntry:
        """Return an entry in the step, or in the one that is named."""
        name = self.of.name if step is None else step
        return RecordEntry(self.at, self.who, self.of.number, name, deed, words, found)

    def photographed(self, photograph: HungPhotograph) -> RecordEntry:
        """Return that a photograph hangs on the step."""
        return replace(self.entry(Deed.PHOTOGRAPHED, photograph.name), picture=photograph.picture)


def _ticked(make: _Maker, words: str, *, taken_back: bool = False) -> RecordEntry:
    """Return the tick of a line, or that it is taken back.

    Raises:
        RefusedError: If the line is none of this step's, or waits for a stop point before it.
    """
    lines = {line.words: line for _, those in make.of.parts for line in those}
    if words not in lines:
        raise RefusedError("Not kept: this line is not in the step any more. Load the page again.")
    if not lines[words].open:
        raise RefusedError("Not kept: a stop point before this line is not done yet.")
    if not taken_back and (turns := turning(make.of, words)):
        raise RefusedError(refused_words(turns))
    return make.entry(Deed.TAKEN_BACK if taken_back else Deed.TICKED, words)


def _answered_for(make: _Maker, ticked: RecordEntry, typed: str) -> list[RecordEntry]:
    """Return who says that work may go on, where that is what is ticked.

    Raises:
        RefusedError: If nobody is named.
    """
    if ticked.deed is not Deed.TICKED or MAY_GO_ON not in ticked.words:
        return []
    by = printable(typed).strip()
    if not by or len(by) > LONGEST_NAME:
        raise RefusedError(f"Not kept: write down who that qualified person is, in {LONGEST_NAME} letters at most.")
    return [make.entry(Deed.NOTED, f"{ANSWERS}: {by}")]


def _open_lines(step: BayStep, heading: str) -> list[str]:
    """Return the lines of a part that may be ticked at once: not those of a stop point, each of which is looked at."""
    return [
        line.words
        for part, lines in step.parts
        if part.heading == heading and not part.stops
        for line in lines
        if line.open and not line.ticked
    ]


def _read(make: _Maker, form: dict[str, str]) -> RecordEntry:
    """Return what was read at a stand, a hook or the lift's gauge.

    Raises:
        RefusedError: If there is no such thing in this step, what was typed is no load, or the step is not reached yet.
    """
    step, draft = make.of, make.of.opened.plan.draft
    typed, turns = form.get("load", "").strip(), form.get("turns", "")
    if step.earlier:
        raise RefusedError("Not kept: a step before this one is not done yet.")
    places = {each.name: each for each in reading_places(draft.job, step.stage)}
    place = places.get(form.get("support", ""))
    if place is None:
        raise RefusedError("Not kept: what was read is not in the step any more. Load the page again.")
    if typed and turns:
        raise RefusedError("Not kept: keep what the scale reads and what the hand finds one after the other.")
    if typed:
        load = quantity(typed, Kind.LOAD, draft) + 0.0  # no minus before a nought
        if not 0 <= load <= STRONGEST:
            raise RefusedError("Not taken: a scale reads 0 or more, and no more than any lift holds.")
        return make.entry(Deed.READ, "", _by_scale(make, place, load, form.get("lowered", "").strip()))
    if turns not in {"yes", "no"} or place.scale is not Scale.UNDER:
        hand = ", or say whether the stand turns by hand" if place.scale is Scale.UNDER else ""
        raise RefusedError(f"Not kept: type what the scale reads{hand}.")
    return make.entry(Deed.READ, "", FoundAtStand(place.name, None, turns == "yes", place.expected, place.most))


def _by_scale(make: _Maker, place: ReadingPlace, load: float, typed: str) -> FoundAtStand:
    """Return what a scale read, with how far the lift was down then, "" where as the step has it.

    Raises:
        RefusedError: If that is no length that a lift comes down past first touch.
    """
    down = make.of.stage.statics.set_down
    if not typed:
        return FoundAtStand(place.name, load, None, place.expected, place.most)
    if down is None:
        raise RefusedError("Not taken: in this step the lift sets nothing down.")
    lowered = quantity(typed, Kind.LENGTH, make.of.opened.plan.draft) + 0.0
    if not 0 <= lowered <= FARTHEST_DOWN:
        raise RefusedError("Not taken: past first touch the lift is down by 0 or more, and by less than half a metre.")
    # What the plan told is of the lift as the step has it, and no other height.
    there = abs(lowered - down.lowered) < AS_PLANNED
    return FoundAtStand(
        place.name, load, None, place.expected if there else None, place.most if there else None, lowered
    )

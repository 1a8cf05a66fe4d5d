"""Notes of one check that say the same of several stands, told in one sentence."""

from collections.abc import Sequence

from loadplan.checks.check_table import CHECK_OF
from loadplan.checks.phrases import names
from loadplan.model.verdict import Finding, Quantity
from loadplan.report.words.vocabulary import Reader


def note_texts(notes: Sequence[Finding], reader: Reader) -> list[str]:
    """Tell the notes of one stage, each sentence once.

    Args:
        notes: The notes of one check, in the order in which it made them.
        reader: Who reads it.

    Returns:
        What they say; stands of which the same is true are named in one sentence.
    """
    groups: dict[object, list[Finding]] = {}
    for number, note in enumerate(notes):
        groups.setdefault(_kind(note, number), []).append(note)
    return list(dict.fromkeys(_told(group, reader) for group in groups.values()))


def _kind(note: Finding, number: int) -> object:
    """Return what the notes of one sentence have in common; its own number for a note that stands alone."""
    return (_load(note) is None) if CHECK_OF[note.check].notes_in_one else (note.check, number)


def _told(notes: list[Finding], reader: Reader) -> str:
    """Return one sentence for notes that say the same of several stands."""
    if len(notes) == 1:
        return reader.finding(notes[0])
    loads = [_load(note) for note in notes]
    told = [f"{note.subject} ({reader.load(load.value)})" for note, load in zip(notes, loads, strict=True) if load]
    if told:
        return reader.words(f"{names(told)} carry as set, but may come loose on an uneven floor; try each by hand.")
    return reader.words(
        f"{names([note.subject for note in notes])} are brought up to just touch and carry nothing yet."
    )


def _load(note: Finding) -> Quantity | None:
    """Return the load that a note tells, None for a stand that carries nothing yet."""
    return next((piece for piece in note.says if isinstance(piece, Quantity)), None)

"""A record that an earlier version of the program began: its ticks count by what they mean, and can be taken back."""

from datetime import UTC, datetime

import pytest

from loadplan.files.work_record_file import add_to_record
from loadplan.model.work_record import Deed, RecordEntry
from loadplan.report.words.older_lines import meant_by
from tests.board.at_the_bay import AtTheBay
from tests.board.desk import Page

NOON = datetime(2026, 11, 20, 12, tzinfo=UTC)
NOW = ("Before: strap off", "Undo, in this order: cradle bolts", "Undo, in this order: mount", "Tighten: mount")


@pytest.mark.parametrize(
    ("older", "means"),
    [
        ("cradle bolts", "Undo, in this order: cradle bolts"),
        ("Undo: cradle bolts", "Undo, in this order: cradle bolts"),
        ("Undo, in this order: cradle bolts", "Undo, in this order: cradle bolts"),
        ("50 mm up: strap off", "Before: strap off"),
        ("2 in up: strap off", "Before: strap off"),
        # Undone or tightened? The name alone does not say it.
        ("mount", "mount"),
        ("Undo: mount", "Undo, in this order: mount"),
        ("Tighten: cradle bolts", "Tighten: cradle bolts"),
        ("A: strap off", "A: strap off"),
    ],
)
def test_words_of_a_record_mean_a_line_by_deed_and_thing(older: str, means: str) -> None:
    assert meant_by(NOW)(older) == means


def test_what_was_ticked_in_older_words_is_ticked_and_can_be_taken_back(page: Page) -> None:
    bay = AtTheBay(page)
    bay.tick_all(0)
    bay.say(what="done")
    step = page.draft.assessment.stages[1].state.name
    for words, _, _ in bay.lines(1):
        older = words.partition(": ")[2] if words.startswith("Undo") else words
        add_to_record(page.path, RecordEntry(NOON, "Kim Ö", "0a1b2c3d", step, Deed.TICKED, older))
    lines = {words: ticked for words, ticked, _ in bay.lines(1)}
    assert all(lines.values()), lines
    line = next(words for words in lines if words.startswith("Undo"))
    assert bay.say(1, what="untick", line=line).status_code == 303
    assert [words for words, ticked, _ in bay.lines(1) if not ticked] == [line]

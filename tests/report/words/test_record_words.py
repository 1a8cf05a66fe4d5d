"""What was done at the bay, in words."""

from loadplan.model.work_record import Deed
from loadplan.report.words.record_words import DEEDS


def test_every_deed_is_told_in_words_of_its_own() -> None:
    assert set(DEEDS) == set(Deed)
    assert len(set(DEEDS.values())) == len(Deed)

"""What several stands have in common is told in one sentence. Every number here is made up."""

from dataclasses import replace

from loadplan.limits import GRAVITY
from loadplan.model.verdict import CheckName, Finding, Measure, Quantity, Verdict
from loadplan.report.words.findings import stage_lines
from loadplan.report.words.merged_notes import note_texts
from loadplan.report.words.vocabulary import Reader
from loadplan.units import System
from tests.report.builders import assessment

READER = Reader(System.METRIC, frozenset())


def note(name: str, kilograms: float) -> Finding:
    load = Quantity(kilograms * GRAVITY, Measure.LOAD)
    says = (f"{name} carries ", load, " as set, but may come loose on an uneven floor; try it by hand.")
    return Finding(CheckName.IDLE_SUPPORT, Verdict.NOTE, name, load.value, 0.0, Measure.LOAD, says)


def touching(name: str) -> Finding:
    says = (f"{name} is brought up to just touch and carries nothing yet.",)
    return Finding(CheckName.IDLE_SUPPORT, Verdict.NOTE, name, 0.0, 0.0, Measure.LOAD, says)


def test_stands_that_may_come_loose_are_named_in_one_sentence() -> None:
    assert note_texts([note("A", 69), note("B", 79), note("C", 151)], READER) == [
        "A (69 kg), B (79 kg) and C (151 kg) carry as set, but may come loose on an uneven floor; try each by hand."
    ]


def test_one_stand_keeps_its_own_sentence() -> None:
    assert note_texts([note("A", 69)], READER) == [
        "A carries 69 kg as set, but may come loose on an uneven floor; try it by hand."
    ]


def test_stands_that_only_touch_are_told_apart_from_those_that_may_come_loose() -> None:
    assert note_texts([touching("G"), note("A", 69), touching("H")], READER) == [
        "G and H are brought up to just touch and carry nothing yet.",
        "A carries 69 kg as set, but may come loose on an uneven floor; try it by hand.",
    ]


def test_other_notes_stay_one_by_one() -> None:
    others = [replace(note(name, 5), check=CheckName.LOST_SUPPORT) for name in "AB"]
    assert len(note_texts(others, READER)) == 2


def test_a_caution_on_a_stand_that_carries_nothing_is_never_told_with_others() -> None:
    whole = assessment()
    idle = [replace(touching(name), verdict=Verdict.CAUTION, says=(f"{name} carries nothing.",)) for name in ("A", "B")]
    stage = replace(whole.stages[1], findings=(*idle, note("C", 5), note("D", 6)))
    told = [(line.verdict, line.text) for line in stage_lines(stage, READER)]
    assert told[:2] == [(Verdict.CAUTION, "A carries nothing."), (Verdict.CAUTION, "B carries nothing.")]
    assert len(told) == 3

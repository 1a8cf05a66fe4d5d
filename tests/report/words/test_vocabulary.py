"""The words: shown verdicts, American words beside untouched names, and nothing that a terminal would obey."""

import pytest

from loadplan.errors import printable
from loadplan.model.vehicle import Basis
from loadplan.model.verdict import Verdict
from loadplan.report.words.vocabulary import in_shop_words, names_of, shown_verdict, verdict_word
from loadplan.units import System
from tests.report.builders import job


@pytest.mark.parametrize(
    ("verdict", "word"),
    [
        (Verdict.HOLDS, "HOLDS ON PAPER"),
        (Verdict.CAUTION, "CAUTION"),
        (Verdict.STOP, "STOP"),
        (Verdict.NOTE, "NOT CHECKED"),
    ],
)
def test_a_verdict_is_shown_in_its_words_and_as_practice_with_invented_weights(verdict: Verdict, word: str) -> None:
    assert verdict_word(verdict) == word
    assert shown_verdict(verdict, Basis.WEIGHED) == word
    assert shown_verdict(verdict, Basis.EXAMPLE) == f"FOR PRACTICE: {word}"


def test_american_readers_get_their_words_and_everybody_keeps_his_names() -> None:
    names = names_of(job())
    text = "The gearbox hangs on gearbox mount; sill front left is a sill; sillier, centre line, gearboxes."
    told = "The transmission hangs on gearbox mount; sill front left is a rocker; sillier, center line, transmissions."
    assert in_shop_words(text, System.US, names) == told
    assert in_shop_words(text, System.METRIC, names) == text


def test_names_come_from_vehicle_shop_and_job() -> None:
    expected = {"shell", "rear roll link", "engine block pad", "ratchet stand 3 t", "bay 2", "A", "Overnight"}
    assert expected <= names_of(job())


@pytest.mark.parametrize("harm", ["\x1b", "\n", "\r", "\x00", "\u202e", "\u2028", "\ufffe", "\x9b"])
def test_what_a_terminal_would_obey_is_not_passed_on(harm: str) -> None:
    assert printable(f"stand{harm}A") == "stand A"


def test_letters_of_any_language_pass() -> None:
    assert printable("Stütze 架台 № 1") == "Stütze 架台 № 1"

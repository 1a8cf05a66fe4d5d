"""Tables and paragraphs keep to their width, whatever the names in them, and lose no letter."""

from hypothesis import given
from hypothesis import strategies as st

from loadplan.report.words.columns import Align, Column, breadth, indented, packed, table, wrap

WORDS = st.text(st.characters(categories=("L", "N", "P", "S")), min_size=1, max_size=60)
TEXTS = st.lists(WORDS, min_size=1, max_size=6).map(" ".join)


@given(text=TEXTS, width=st.integers(2, 100))
def test_a_wrapped_text_fits_and_keeps_every_letter(text: str, width: int) -> None:
    lines = wrap(text, width)
    assert all(breadth(line) <= width for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")


@given(rows=st.lists(st.tuples(TEXTS, TEXTS, TEXTS), min_size=1, max_size=5))
def test_a_table_fits_and_keeps_every_letter(rows: list[tuple[str, str, str]]) -> None:
    first, second, third = zip(*rows, strict=True)
    columns = (
        Column("stand", first, Align.LEFT),
        Column("under", second, Align.LEFT),
        Column("most it could ever", third, Align.RIGHT),
    )
    lines = table(columns, 60)
    assert all(breadth(line) <= 60 for line in lines)
    letters = sorted("".join(["stand", "under", "most it could ever", *first, *second, *third]).replace(" ", ""))
    assert sorted("".join(lines).replace(" ", "")) == letters


def test_wide_letters_take_two_places_and_accents_none() -> None:
    assert (breadth("架台"), breadth("e\u0301"), breadth("stand")) == (4, 1, 5)


def test_words_give_way_before_numbers_and_are_not_broken_without_need() -> None:
    columns = (
        Column("name", ("crossover-electric-front-drive-unit",), Align.LEFT),
        Column("what it is", ("a small car with an electric drive unit in front",), Align.LEFT),
        Column("carries", ("1234 kg",), Align.RIGHT),
    )
    lines = table(columns, 70)
    assert any("crossover-electric-front-drive-unit" in line and "1234 kg" in line for line in lines)


def test_numbers_keep_to_the_right_and_headings_to_the_foot() -> None:
    told = table((Column("a", ("x",), Align.LEFT), Column("most on this floor", ("5 kg",), Align.RIGHT)), 40)
    assert told == ["      most on", "a  this floor", "x        5 kg"]


def test_a_paragraph_hangs_and_boxes_are_not_broken() -> None:
    assert indented("- ", "one two three", 9) == ["- one two", "  three"]
    assert packed("  ", ["[ ] a b", "[ ] c d", "[ ] e f"], 20) == ["  [ ] a b   [ ] c d", "  [ ] e f"]

"""What is meant by lines that are no TOML, as they leave an editor in a workshop: common practice, no source."""

import tomllib

import pytest

from loadplan.files.toml_hint import hint_at


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("title = blue van", "words stand in quotes"),
        ("title = \u201cblue van\u201d", "quotes are the straight ones"),
        ('title = "blue van', "the last one is missing"),
        ('in_place = ["A" "B"]', "a comma goes between"),
        ("date = 20.11.2026", "year first"),
        ("base = 60 x 40", "two sizes"),
        ("height = 279,4", "takes a point"),
        ("height = 290 mm", "with its unit stands in quotes"),
    ],
)
def test_a_usual_slip_is_told_with_what_would_be_right(line: str, told: str) -> None:
    with pytest.raises(tomllib.TOMLDecodeError) as caught:
        tomllib.loads(f"{line}\n")
    assert told in hint_at(f"{line}\n", str(caught.value))


def test_a_slip_that_is_not_known_is_not_guessed_at() -> None:
    assert hint_at("locks = true false\n", "Expected newline (at line 1, column 14)") == ""

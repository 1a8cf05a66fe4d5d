"""Two stands in one place are a stop even where the shop does not say how wide they are."""

from dataclasses import replace

import pytest

from loadplan.checks import overlap
from loadplan.model.job import Support
from loadplan.model.shop import Circle, Equipment, Square
from loadplan.model.verdict import Finding, Verdict
from tests.checks.builders import HOIST, STAND, case, findings, support, words

BARE = replace(STAND, name="bare", base=None, saddle=None)
ROUND = replace(STAND, name="round", base=Circle(0.2))


def stops(*supports: Support) -> list[Finding]:
    return [each for each in findings(overlap.check(case(*supports))) if each.verdict is Verdict.STOP]


def pair(first: Equipment, second: Equipment, apart: float) -> list[Finding]:
    return stops(support("A", first, (0.1, 0.1)), support("B", second, (0.1 + apart, 0.1)))


@pytest.mark.parametrize(
    ("first", "second", "apart", "meet"),
    [
        (BARE, BARE, 0.0, True),
        (BARE, BARE, 0.00009, True),
        (BARE, BARE, 0.00011, False),
        (BARE, STAND, 0.0999, True),
        (BARE, STAND, 0.1001, False),
        (STAND, BARE, 0.0999, True),
        (STAND, BARE, 0.1001, False),
        (ROUND, BARE, 0.0999, True),
        (ROUND, BARE, 0.1001, False),
        (BARE, HOIST, 0.0, False),
    ],
)
def test_a_base_that_is_not_given_is_no_smaller_than_a_point(
    first: Equipment,
    second: Equipment,
    apart: float,
    meet: bool,  # noqa: FBT001 - what is expected
) -> None:
    assert len(pair(first, second, apart)) == meet


def test_the_sentence_says_which_two() -> None:
    (told,) = pair(BARE, BARE, 0.0)
    assert (told.subject, told.value) == ("A", 0.0)
    assert words(told.says).startswith("The base of A and B would stand in the same place.")


def test_two_given_bases_are_told_once() -> None:
    assert len(pair(STAND, replace(STAND, base=Square(0.2, 0.2)), 0.0)) == 1


def test_what_stands_on_a_body_or_is_one_piece_does_not_meet() -> None:
    beam = replace(support("B", BARE, (0.1, 0.1)), on="shell")
    assert stops(support("A", BARE, (0.1, 0.1)), beam) == []
    assert stops(*(replace(support(name, BARE, (0.1, 0.1)), piece="T") for name in "AB")) == []

"""What makes a unit stand a harder push or pull, by what slides or goes over. Small made-up records."""

from dataclasses import replace

import pytest

from loadplan.checks.sideways_cure import steady_sideways, takes_rubber
from loadplan.limits import TOP_FRICTION
from loadplan.model.job import Support
from loadplan.model.shop import Equipment
from tests.checks.builders import HOIST, STAND, case, lifted, support, words

CASTORS = replace(STAND, wheels=True)
RUBBER = TOP_FRICTION["rubber"]
GRIPS = replace(STAND, friction=RUBBER)


def on_shell(name: str, equipment: Equipment = STAND, friction: float | None = None) -> Support:
    return replace(support(name, equipment), on="shell", friction=friction)


@pytest.mark.parametrize(
    ("stand", "takes"),
    [
        (support("A"), "takes"),
        (support("A", replace(STAND, friction=RUBBER - 0.01)), "takes"),
        (support("A", GRIPS), "not"),
        (replace(support("A"), friction=RUBBER), "not"),
        (support("A", HOIST), "not"),
        (support("A", CASTORS), "not"),
        (on_shell("A"), "not"),
        (on_shell("A", friction=0.2), "takes"),
    ],
)
def test_rubber_helps_a_saddle_that_holds_less_than_rubber_and_would_slide_first(stand: Support, takes: str) -> None:
    assert takes_rubber(stand) is (takes == "takes")


@pytest.mark.parametrize(
    ("slipping", "act"),
    [
        ((support("A"), support("B", GRIPS)), "put rubber or timber on the saddles"),
        ((support("A", GRIPS),), "hold it sideways by something that does not move"),
        ((support("A", CASTORS), support("B", CASTORS)), "lock or chock the wheels of A and B"),
        ((on_shell("A"),), "put rubber or timber under the feet and on the saddles of A, and say so"),
        ((support("A", HOIST),), "put stands under it: what hangs from A swings"),
        ((support("A", replace(HOIST, wheels=True)),), "put stands under it: what hangs from A swings"),
        (
            (support("A"), support("B", CASTORS), on_shell("C"), support("D", HOIST)),
            "put rubber or timber on the saddles, and lock or chock the wheels of B, and put rubber or timber under "
            "the feet and on the saddles of C, and say so, and put stands under it: what hangs from D swings",
        ),
    ],
)
def test_each_kind_that_slips_is_held_by_what_it_lacks(slipping: tuple[Support, ...], act: str) -> None:
    judged = replace(case(*slipping, support("Z")), before=None)
    told = steady_sideways(judged, "unit", "slides", [each.name for each in slipping])
    assert words(told) == f" Before the weight comes on: {act}. Break tight bolts loose before lifting."


@pytest.mark.parametrize(
    ("first", "act"),
    [
        ("stand", "set the stands lower, or use some with a wider base"),
        ("tips", "set the stands further out"),
    ],
)
def test_what_goes_over_is_set_lower_or_further_out(first: str, act: str) -> None:
    hung = lifted(support("A"))
    assert words(steady_sideways(hung, "unit", first, ("A",))) == (
        f" Before unbolting: {act}. Break tight bolts loose before lifting."
    )
    free = lifted(support("A"), hung=False)
    assert words(steady_sideways(free, "unit", first, ("A",))) == (
        " Do not touch the stands. Take the weight back first. Break tight bolts loose before lifting."
    )

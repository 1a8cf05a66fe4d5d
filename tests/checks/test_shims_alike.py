"""Which shims count as one kind: of one height to a tenth of a millimetre, however their wood is written."""

from dataclasses import replace

import pytest

from loadplan.checks import count
from loadplan.model.shop import Shim
from loadplan.model.verdict import Verdict
from tests.checks.builders import case, findings, shim, support

STEEL = Shim(0.012, "Steel", 1)


@pytest.mark.parametrize(
    ("height", "wood", "fits"),
    [
        (0.012, "", True),
        (0.012, "steel", True),
        (0.012, "STEEL", True),
        (0.012, "oak", False),
        (0.0121, "steel", True),
        (0.0119, "steel", True),
        (0.01211, "steel", False),
        (0.01189, "", False),
    ],
)
def test_a_shim_fits(height: float, wood: str, fits: bool) -> None:  # noqa: FBT001 - what is expected
    assert STEEL.fits(height, wood) is fits


def test_two_spellings_of_one_wood_are_counted_together() -> None:
    judged = case(*(replace(support(wood), shim=shim(wood=wood)) for wood in ("steel", "STEEL")))
    judged = replace(judged, job=replace(judged.job, shop=replace(judged.job.shop, shims=(STEEL,))))
    over = findings(count.check(judged))
    assert [(each.subject, each.verdict) for each in over if "shim" in str(each.says)] == [
        ("steel, STEEL", Verdict.STOP)
    ]

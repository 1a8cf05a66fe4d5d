"""Four piers and a load off-centre both ways.

- Piers under an off-centre load, derived here: W/4·(1 ± x/a ± y/b) on springs that could pull, moments about the three
  that carry where one would.
- Cranes and Derricks, chapter 5, page 278: the rebalance rule. If one corner comes out at −a, it is set to 0, the
  diagonally opposite one gets a more, the two beside it a less each: total and moments stay.
"""

from pathlib import Path

import pytest

from tests.validation.cases import FOOT, bounds, expected, lump, solved, stand_job

SIGNS = {"++": (1, 1), "+-": (1, -1), "--": (-1, -1), "-+": (-1, 1)}


def linear(weight: float, shares: tuple[float, float]) -> dict[str, float]:
    """Return W/4·(1 ± x/a ± y/b), the loads of springs that could pull."""
    return {name: weight / 4 * (1 + sx * shares[0] + sy * shares[1]) for name, (sx, sy) in SIGNS.items()}


def rebalanced(loads: dict[str, float]) -> dict[str, float]:
    """Apply the rule once: the corner that would pull is set to 0, its diagonal gains as much, the others lose it."""
    lifted = min(loads, key=lambda name: loads[name])
    short = max(-loads[lifted], 0.0)
    sx, sy = SIGNS[lifted]
    across = next(name for name, signs in SIGNS.items() if signs == (-sx, -sy))
    return {name: load + short if name in (lifted, across) else load - short for name, load in loads.items()}


def on_piers(half: tuple[float, float], at: tuple[float, float], weight: str, folder: Path) -> dict[str, float]:
    """Return the loads of four stands at (±a, ±b) [mm] under a weight."""
    spots = {name: [sx * half[0], sy * half[1], 200.0] for name, (sx, sy) in SIGNS.items()}
    return expected(solved(stand_job(spots, [lump("load", weight, [*at, 700])]), folder)[0])


def test_a_hundred_tons_lift_one_pier_off(tmp_path: Path) -> None:
    """100 t at (2, 1) ft on piers at (±3, ±2) ft: linear 54.17, 29.17, −4.17, 20.83; really 58.33, 25, 0, 16.67."""
    formula = linear(100, (2 / 3, 1 / 2))
    assert [round(load) for load in formula.values()] == [54, 29, -4, 21]
    loads = on_piers((3 * FOOT, 2 * FOOT), (2 * FOOT, FOOT), "100 N", tmp_path)
    assert loads == pytest.approx(rebalanced(formula), abs=1e-9)
    assert list(loads.values()) == pytest.approx([58.33, 25.0, 0.0, 16.67], abs=5e-3)


@pytest.mark.parametrize(
    ("x", "y", "loads"),
    [(100, 60, (870, 630, 330, 570)), (200, 150, (1200, 600, 0, 600)), (300, 150, (1500, 600, 0, 300))],
)
def test_inside_on_and_outside_the_kern(x: float, y: float, loads: tuple[float, ...], tmp_path: Path) -> None:
    """Derived: stands at (±400, ±300) mm, 2400 N; a leg is free of load from |x|/a + |y|/b = 1 on."""
    assert tuple(rebalanced(linear(2400, (x / 400, y / 300))).values()) == pytest.approx(loads, abs=1e-9)
    found = on_piers((400, 300), (x, y), "2400 N", tmp_path)
    assert tuple(found.values()) == pytest.approx(loads, abs=1e-9)


@pytest.mark.parametrize("at", [(150.0, 190.0), (-260.0, 140.0), (-90.0, -280.0), (300.0, -200.0)])
def test_the_rebalance_rule_in_every_corner(at: tuple[float, float], tmp_path: Path) -> None:
    """The rule holds in every corner, wherever one reaction alone comes out negative."""
    formula = linear(2400, (at[0] / 400, at[1] / 300))
    assert sum(load < 0 for load in formula.values()) <= 1
    assert on_piers((400, 300), at, "2400 N", tmp_path) == pytest.approx(rebalanced(formula), abs=1e-9)


@pytest.mark.parametrize(("short", "shares"), [(0.5, (0.875, 1.125)), (2.0, (0.5, 1.5)), (3.999, (0.00025, 1.99975))])
def test_a_short_leg(short: float, shares: tuple[float, float], tmp_path: Path) -> None:
    """Derived: one leg of four short by s [in W/k]: it and its diagonal lose k·s/4, the others gain it; 0 from s = W/k.

    W = 4, k = 1, legs at (±1, ±1): 0.875, 1.125, 0.875, 1.125 for s = 0.5; 0, 2, 0, 2 for s >= 4.
    """
    spots = {name: [1000.0 * sx, 1000.0 * sy, 200.0] for name, (sx, sy) in SIGNS.items()}
    job = stand_job(spots, [lump("load", "4000 N", [0, 0, 700])])
    for support in job["support"]:
        support["height"] = 400 - (short if support["name"] == "++" else 0.0)
    loads = expected(solved(job, tmp_path)[0])
    assert tuple(loads.values()) == pytest.approx([1000 * share for share in shares] * 2, abs=1e-6)


def test_what_any_floor_could_make_of_four_legs(tmp_path: Path) -> None:
    """Derived: centred on four legs, each may carry nothing or half the weight, whatever the stiffness."""
    spots = {name: [1000.0 * sx, 700.0 * sy, 200.0] for name, (sx, sy) in SIGNS.items()}
    stage = solved(stand_job(spots, [lump("load", "4000 N", [0, 0, 700])]), tmp_path)[0]
    for least, most in bounds(stage).values():
        assert (least, most) == pytest.approx((0.0, 2000.0), abs=1e-6)

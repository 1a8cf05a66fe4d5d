"""A beam over settling supports: how strongly a stiff frame answers to stands of unequal height.

Kassimali, Structural Analysis, 3rd edition, example 13.14, as quoted in PyNite's Testing/test_support_settlement.py
(MIT): three spans of 20 ft, E 29 000 ksi, I 7 800 in⁴, 2 kip/ft; B, C and D sink by 0.625, 1.5 and 0.75 in. Printed
A −1.098, B 122.373, C −61.451, D 60.176 kip, rounded along the way; exact −1.1810, 122.5417, −61.5404, 60.1797.
Without settling: 0.4, 1.1, 1.1, 0.4 of a span's load (continuous beam of three equal spans, tables of AISC, from
memory).

Our assemblies are rigid, so the beam is cut into rigid bars, and the joint between two bars bends: two rows of mounts,
a little apart. Two such joints a span at Gauss's points, each as soft as half the span, bend exactly as the beam does:
the virtual work of its moments is a cubic in each span, which Gauss's two points add up without error. What is left is
the mounts' and stands' own softness.
"""

from itertools import pairwise
from math import sqrt
from pathlib import Path

import pytest

from tests.reference.random_jobs import Job
from tests.validation.cases import FOOT, INCH, end_loads, lump, solved, stand_job

KIP = 4448.2216152605
SPAN = 20 * FOOT
BENDING = 29000 * KIP / INCH**2 * 7800 * INCH**4
"""E·I [N·mm²]."""

APART = 20.0
"""Between the two rows of mounts of a joint [mm]: nearly nothing beside a span, so that they give but to bending."""

PRESSED = 100
"""What stands on the beam right over each support [kip], so that a stand, which cannot pull, is always pressed."""


def beam(sinks: dict[str, float]) -> Job:
    """Return the beam over supports at equal spans that sink by so much [in]."""
    ends = {name: number * SPAN for number, name in enumerate(sinks)}
    cuts = [x + SPAN / 2 * (1 + side / sqrt(3)) for x in list(ends.values())[:-1] for side in (-1, 1)]
    spots = {
        f"{name} {side}": [x, y, 900.0] for name, x in ends.items() for side, y in (("left", 300), ("right", -300))
    }
    bars = list(pairwise([0.0, *cuts, len(cuts) / 2 * SPAN]))
    parts = [
        lump(f"load {n}", f"{2 * (end - start) / FOOT * KIP} N", [(start + end) / 2, 0, 1000], f"bar {n}")
        for n, (start, end) in enumerate(bars)
    ]
    over = [lump(f"over {name}", f"{PRESSED * KIP} N", [x, 0, 1000], _under(x, cuts)) for name, x in ends.items()]
    job = stand_job(spots, parts + over) | {"body": [{"name": f"bar {n}"} for n in range(len(bars))]}
    job |= {"joint": _joints(cuts), "limits": {"uneven": 0}}
    job["equipment"][0] |= {"rating": 90000, "stiffness": 1e9}
    for support in job["support"]:
        name = support["name"].split()[0]
        support |= {"body": _under(ends[name], cuts), "height": 900 - sinks[name] * INCH}
    return job


def _under(x: float, cuts: list[float]) -> str:
    return f"bar {sum(cut < x for cut in cuts)}"


def _joints(cuts: list[float]) -> list[Job]:
    """Return four mounts a cut: as soft against bending as half a span, E·I / (L/2) = 4·k·(apart/2)²."""
    stiffness = 2 * BENDING / SPAN / APART**2
    return [
        {
            "name": f"{n} at {along} {across}",
            "kind": "mount",
            "between": [f"bar {n}", f"bar {n + 1}"],
            "at": [cut + along, across, 1000],
            "stiffness": stiffness,
        }
        for n, cut in enumerate(cuts)
        for along in (-APART / 2, APART / 2)
        for across in (300, -300)
    ]


def reactions(sinks: dict[str, float], folder: Path) -> dict[str, float]:
    """Return what the supports carry of the beam [kip]."""
    loads = end_loads(solved(beam(sinks), folder)[0])
    return {name: load / KIP - PRESSED for name, load in loads.items()}


def test_three_supports_sink(tmp_path: Path) -> None:
    """Exact to 0.005 kip of 120 (what mounts and stands give); printed to 0.2 kip: it was rounded along the way."""
    found = reactions({"A": 0, "B": 0.625, "C": 1.5, "D": 0.75}, tmp_path)
    assert found == pytest.approx({"A": -1.1810, "B": 122.5417, "C": -61.5404, "D": 60.1797}, abs=0.005)
    assert found == pytest.approx({"A": -1.098, "B": 122.373, "C": -61.451, "D": 60.176}, abs=0.2)
    assert sum(found.values()) == pytest.approx(120, abs=1e-6)


def test_none_sinks(tmp_path: Path) -> None:
    found = reactions(dict.fromkeys("ABCD", 0.0), tmp_path)
    assert found == pytest.approx({"A": 0.4 * 40, "B": 1.1 * 40, "C": 1.1 * 40, "D": 0.4 * 40}, abs=1e-3)

"""Many cases at once: a million centres of gravity over one layout, a hundred thousand loads on its springs.

    python -m tests.bench.bench_many

Beside them the obvious ways: shapely's distance point by point, and quadprog case by case, each timed on a sample and
extrapolated. The layout is made up: one body on six stands.
"""

import time
from random import Random

import numpy as np
import quadprog
from shapely.geometry import LineString, MultiPoint, Point

from loadplan.statics.contact_loads import Springs, settle
from loadplan.statics.mass import Array
from loadplan.statics.tipping_modes import margins, rays, rotations
from tests.bench.bench_check import only_frame, told
from tests.statics import builders as make

CENTRES, CASES, SAMPLE = 1_000_000, 100_000, 2_000
PIECE = 8_192
PLACES = ((0.33, 0.42), (0.33, -0.42), (-0.30, 0.40), (-0.30, -0.40), (0.45, 0.0), (-0.42, 0.0))


def nearest_edge(motions: Array, x: Array, y: Array) -> Array:
    """Return how far each place (c) is from the nearest way over (c), scaled, one way after the other.

    Args:
        motions: Scaled modes (k, 3) of one body.
        x: Places along (c), scaled.
        y: Places across (c), scaled.

    Returns:
        The least margin of each.
    """
    scaled = [(motion / size).tolist() for motion, size in zip(motions, rotations(motions)[:, 0], strict=True)]
    nearest = np.empty(len(x))
    # Pieces that stay in the processor's cache: the whole arrays would go through memory once an edge.
    for first in range(0, len(x), PIECE):
        part = slice(first, first + PIECE)
        nearest[part] = np.minimum.reduce([heave + roll * y[part] - pitch * x[part] for heave, roll, pitch in scaled])
    return nearest


def main() -> None:
    """Print every ratio."""
    frame = only_frame(make.job([make.part((0.02, 0.01, 0.5), 300.0)], make.stands(PLACES)))
    motions = rays(frame)
    chance = np.random.default_rng(Random(1).randrange(1000))
    x, y = chance.uniform(-0.2, 0.2, (2, CENTRES)) / frame.span
    began = time.perf_counter()
    found = nearest_edge(motions, x, y)
    ours = time.perf_counter() - began
    rim = LineString([*MultiPoint(PLACES).convex_hull.exterior.coords])
    middle = frame.middle
    began = time.perf_counter()
    far = [
        Point(a * frame.span + middle[0], b * frame.span + middle[1]).distance(rim)
        for a, b in zip(x[:SAMPLE].tolist(), y[:SAMPLE].tolist(), strict=True)
    ]
    theirs = (time.perf_counter() - began) * CENTRES / SAMPLE
    off = np.abs(found[:SAMPLE] * frame.span - far).max()
    told(
        f"margins of {CENTRES:,} centres of gravity: {1e3 * ours:.0f} ms; shapely point by point "
        f"{1e3 * theirs:.0f} ms: {theirs / ours:.0f} times longer; they differ by {off:.0e} m"
    )
    told(f"(the least of the one given: {1e3 * float(margins(frame, motions).min()):.1f} mm)")
    _loads(frame.up, chance)


def _loads(up: Array, chance: np.random.Generator) -> None:
    count = len(up)
    held = Springs(up, np.zeros((0, 3)), np.full(count, 2000.0), np.zeros(0), np.zeros(0))
    weights = np.column_stack([np.ones(CASES), *chance.uniform(-0.25, 0.25, (2, CASES))])
    gaps = chance.uniform(0.0, 4e-4, (CASES, count))
    began = time.perf_counter()
    settled = settle(held, weights, gaps)
    ours = time.perf_counter() - began
    began = time.perf_counter()
    judged = [_by_quadprog(held, weights[case], gaps[case]) for case in range(SAMPLE)]
    theirs = (time.perf_counter() - began) * CASES / SAMPLE
    off = np.abs(settled.loads[:SAMPLE] - judged).max()
    told(
        f"loads of {CASES:,} cases on {count} stands: {1e3 * ours:.0f} ms; quadprog case by case "
        f"{1e3 * theirs:.0f} ms: {theirs / ours:.1f} times longer; they differ by {off:.0e} of the weight"
    )


def _by_quadprog(held: Springs, weight: Array, gaps: Array) -> Array:
    """Return the loads: least Σ r²/2k + r·gap with all weight borne."""
    answer = quadprog.solve_qp(
        np.diag(1.0 / held.stiffness),
        -gaps,
        np.hstack([held.up, np.eye(len(gaps))]),
        np.concatenate([weight, np.zeros(len(gaps))]),
        meq=len(weight),
    )
    loads: Array = answer[0]
    return loads


if __name__ == "__main__":
    main()

"""How far a body is from tipping.

- Static stability margin: McGhee and Frank, "On the stability properties of quadruped creeping gaits", 1968:
  the least distance from the centre of gravity, seen from above, to an edge of the support polygon.
- Slip or tip, the smaller push decides: Mississippi State University statics pages, friction on a horizontal surface,
  examples 2 and 3 (ae.msstate.edu/vlsm).
- Numbers of the 5-12-13 triangle derived for this project (g = 9.80665 m/s²).
"""

from math import atan, degrees
from pathlib import Path

import pytest

from loadplan.model.disturbance import PushAnswer
from tests.reference.random_jobs import Job
from tests.validation.cases import INCH, G, lump, solved, stand_job

POUND_FORCE = 4.4482216152605


def block(half: tuple[float, float], base: float, parts: list[Job]) -> Job:
    """Return a body on four stands at (±a, ±b) mm, that grip without limit of their own and give next to nothing."""
    spots = {f"{x} {y}": [x * half[0], y * half[1], base] for x in (1, -1) for y in (1, -1)}
    job = stand_job(spots, parts)
    job["limits"] = {"floor_slope": 0.0, "uneven": 0, "uneven_touch": 0}
    job["equipment"][0]["stiffness"] = 1e9
    return job


def pushed(job: Job, folder: Path) -> PushAnswer:
    """Return the least push of the only group."""
    (push,) = solved(job, folder)[0].statics.groups[0].pushes
    return push


def test_margin_and_critical_slope(tmp_path: Path) -> None:
    """300 kg, 0.25 m inside the edge, 0.60 m over the saddles (5-12-13): slope atan(0.25 / 0.60) = 22.62°."""
    job = block((250, 900), 200, [lump("unit", 300.0, [0, 0, 800])])
    body = solved(job, tmp_path)[0].statics.bodies[0]
    assert body.margin == pytest.approx(0.25, abs=1e-9)
    assert body.worst_margin == pytest.approx(0.25, abs=1e-9)
    assert body.tip_angle == pytest.approx(atan(0.25 / 0.60), abs=1e-9)
    assert degrees(body.tip_angle or 0) == pytest.approx(22.62, abs=5e-3)


def test_floor_slope_takes_height_times_tangent(tmp_path: Path) -> None:
    """Derived: on a floor of 1 % the centre of gravity 0.60 m over the saddles moves 6 mm towards the edge."""
    job = block((250, 900), 200, [lump("unit", 300.0, [0, 0, 800])])
    job["limits"]["floor_slope"] = degrees(atan(0.01))
    body = solved(job, tmp_path)[0].statics.bodies[0]
    assert body.worst_margin == pytest.approx(0.25 - 0.006, abs=1e-9)


def test_push_that_tips_the_triangle(tmp_path: Path) -> None:
    """The same body pushed 0.90 m over its saddles goes over its edge at m·g·d/h = 817.22 N.

    The push acts at the highest part's place: a part that weighs a gram there changes nothing.
    """
    parts = [lump("unit", 300.0, [0, 0, 800]), lump("handle", 0.001, [0, 0, 1100])]
    job = block((250, 900), 200, parts)
    job["limits"]["friction"] = 2.0
    push = pushed(job, tmp_path)
    assert push.force == pytest.approx(300 * G * 0.25 / 0.90, rel=1e-4)
    assert push.force == pytest.approx(817.22, abs=0.05)
    assert push.first == "tips"


def test_push_at_the_centre_of_gravity(tmp_path: Path) -> None:
    """The same body pushed where its centre of gravity is: d/z = 0.4167 of its weight."""
    job = block((250, 900), 200, [lump("unit", 300.0, [0, 0, 800])])
    job["limits"]["friction"] = 2.0
    push = pushed(job, tmp_path)
    assert push.first == "tips"
    assert push.force / (300 * G) == pytest.approx(0.4167, abs=5e-5)


@pytest.mark.parametrize(
    ("height", "friction", "force", "first"), [(60.0, 0.25, 62.5, "slides"), (66.0, 0.4, 60.6, "tips")]
)
def test_block_slides_or_tips(height: float, friction: float, force: float, first: str, tmp_path: Path) -> None:
    """Examples 2 and 3: W 250 lb, base 32 in: pushed at 60 in with µ 0.25 slides at 62.5 lb; at 66 in, µ 0.4 tips.

    The second is W·a/(2h) = 60.6 lb, less than µW = 100 lb. The block is long the other way. Friction in all directions
    is an inscribed cone: on the safe side by half a per cent.
    """
    parts = [lump("block", "250 lb", [0, 0, 300]), lump("handle", "0.01 lb", [0, 0, height * INCH])]
    job = block((16 * INCH, 40 * INCH), 0, parts)
    job["limits"]["friction"] = friction
    push = pushed(job, tmp_path)
    assert push.first == first
    assert push.force / POUND_FORCE == pytest.approx(force, rel=6e-3)

"""Draw the front elevation that the manual shows: the step of the demo in which the front unit first stands alone.

After a change to the drawing: `.venv/bin/python figures/front.py`.
"""

from pathlib import Path

from loadplan.assess import assess
from loadplan.files import read_job
from loadplan.report.pictures.elevation_shapes import ViewSide
from loadplan.report.pictures.render import elevation_picture
from loadplan.units import System

ROOT = Path(__file__).resolve().parents[1]
FIGURE = ROOT / "figures" / "front.svg"
JOB = ROOT / "demo" / "front-unit.toml"
STEP = 1
"""Unbolted, shell 50 mm up: counted from 0."""


def picture() -> bytes:
    """Draw the figure.

    Returns:
        The SVG file.
    """
    return elevation_picture(assess(read_job(JOB)), (STEP, ViewSide.FRONT), "svg", System.METRIC)


if __name__ == "__main__":
    FIGURE.write_bytes(picture())
    print(FIGURE)

"""Draw how the load goes over, as the manual shows it: the step of the demo in which the front unit is set down.

After a change to the drawing: `.venv/bin/python figures/lowering.py`.
"""

from pathlib import Path

from loadplan.assess import assess
from loadplan.files import read_job
from loadplan.report.pictures.render import lowering_picture
from loadplan.units import System

ROOT = Path(__file__).resolve().parents[1]
FIGURE = ROOT / "figures" / "lowering.svg"
JOB = ROOT / "demo" / "front-unit.toml"
STEP = 0
"""Set down on the stands, still bolted: counted from 0."""


def picture() -> bytes:
    """Draw the figure.

    Returns:
        The SVG file.
    """
    return lowering_picture(assess(read_job(JOB)), STEP, "svg", System.METRIC)


if __name__ == "__main__":
    FIGURE.write_bytes(picture())
    print(FIGURE)

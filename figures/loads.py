"""Draw the loads over the steps of the demo job, as the manual shows them.

After a change to the drawing: `.venv/bin/python figures/loads.py`.
"""

from pathlib import Path

from loadplan.assess import assess
from loadplan.files import read_job
from loadplan.report.pictures.render import loads_picture
from loadplan.units import System

ROOT = Path(__file__).resolve().parents[1]
FIGURE = ROOT / "figures" / "loads.svg"
JOB = ROOT / "demo" / "front-unit.toml"


def picture() -> bytes:
    """Draw the figure.

    Returns:
        The SVG file.
    """
    return loads_picture(assess(read_job(JOB)), "svg", System.METRIC)


if __name__ == "__main__":
    FIGURE.write_bytes(picture())
    print(FIGURE)

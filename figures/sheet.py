"""Draw the first page of the demo job's floor sheet as the manual shows it, two thirds as large as it is printed.

After a change to the drawing: `.venv/bin/python figures/sheet.py`.
"""

import re
from pathlib import Path

from loadplan.assess import assess
from loadplan.files import read_job
from loadplan.report.sheet.floor_sheet import PaperSize, first_page
from loadplan.units import System

ROOT = Path(__file__).resolve().parents[1]
FIGURE = ROOT / "figures" / "sheet.svg"
JOB = ROOT / "demo" / "front-unit.toml"
SIZE = re.compile(r'width="([\d.]+)pt" height="([\d.]+)pt"')
PART = 2 / 3


def picture() -> bytes:
    """Draw the figure.

    Returns:
        The SVG file.
    """
    return SIZE.sub(_smaller, first_page(assess(read_job(JOB)), PaperSize.A4, System.METRIC).decode(), count=1).encode()


def _smaller(found: re.Match[str]) -> str:
    """Return width and height as the page shows them; what is drawn keeps its own measure."""
    return f'width="{PART * float(found[1]):.0f}pt" height="{PART * float(found[2]):.0f}pt"'


if __name__ == "__main__":
    FIGURE.write_bytes(picture())
    print(FIGURE)

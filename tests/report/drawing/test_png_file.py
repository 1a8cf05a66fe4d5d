"""A picture written as PNG is read back dot by dot by another reader."""

from io import BytesIO

import numpy as np
import pytest
from PIL import Image

from loadplan.report.drawing.png_file import png_file


def test_what_is_written_is_read_back_with_its_size_in_inches() -> None:
    """Read by Pillow, which checks the sums of each chunk."""
    dots = np.arange(5 * 7 * 3, dtype=np.uint8).reshape(5, 7, 3)
    seen = Image.open(BytesIO(png_file(dots, 144)))
    assert (seen.size, seen.mode) == ((7, 5), "RGB")
    assert np.array_equal(np.asarray(seen), dots)
    assert seen.info["dpi"] == pytest.approx((144, 144), abs=0.1)

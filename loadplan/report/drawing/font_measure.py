"""The fonts: where they are, and how wide a line of words is in one of them."""

import warnings
from functools import lru_cache
from pathlib import Path
from threading import Lock

import fontpkg_atkinson_hyperlegible as legible
from matplotlib.font_manager import FontProperties, fontManager
from matplotlib.textpath import text_to_path

from loadplan.report.drawing.style import BEHIND, POINTS_PER_PX, Type

_ONE_AT_A_TIME = Lock()
"""What is warned of belongs to the whole process."""

for _cut_of in ("Regular", "Bold"):
    fontManager.addfont(str(Path(legible.__file__).parent / "files" / f"AtkinsonHyperlegible-{_cut_of}.ttf"))


@lru_cache(maxsize=256)
def font_of(lettering: Type) -> FontProperties:
    """Return the font for a type.

    Args:
        lettering: Size and weight.

    Returns:
        Properties for matplotlib, which nobody changes.
    """
    weight = "bold" if lettering.bold else "normal"
    # A letter that the first font lacks comes from the one behind it, and from no font of the machine.
    family = [lettering.family, BEHIND]
    return FontProperties(family=family, weight=weight, size=lettering.size * POINTS_PER_PX)


def measured(text: str, lettering: Type) -> float:
    """Measure a line of text, unhinted.

    Args:
        text: The line.
        lettering: Its type.

    Returns:
        Width [px].
    """
    with _ONE_AT_A_TIME, warnings.catch_warnings():
        warnings.simplefilter("ignore", UserWarning)  # letters that no font has are drawn as boxes
        wide = text_to_path.get_text_width_height_descent(text, font_of(lettering), ismath=False)[0]
    return float(wide) / POINTS_PER_PX

"""An SVG as part of a page: without what only a file needs, and as large as its box; and lines in its units."""

import re
from collections.abc import Sequence

from loadplan.report.drawing.paper import VIEW_BOX

_HEAD = re.compile(r"\A.*?(?=<svg )", re.DOTALL)
_STYLE = re.compile(r"<style.*?</style>", re.DOTALL)
_WIDTHS = re.compile(r' textLength="[^"]*" lengthAdjust="[^"]*"')
_SIZE = re.compile(r'(<svg [^>]*?)width="[^"]*" height="[^"]*"')


def for_page(svg: bytes) -> str:
    """Take from a drawing what a page does not want: its head, its style sheet and its size.

    A page that allows no styles but its own would complain about the style sheet; its own has the same rule. It has the
    font, too, and its script writes other words into the lines: they would be squeezed to the width of the first.

    Args:
        svg: A drawing as its file holds it.

    Returns:
        The svg element.
    """
    text = _WIDTHS.sub("", _STYLE.sub("", _HEAD.sub("", svg.decode("utf-8"), count=1)))
    return _SIZE.sub(r'\1width="100%" height="100%"', text, count=1)


def path_of(places: Sequence[tuple[float, float]], high: float) -> str:
    """Write a line as an SVG path.

    Args:
        places: Its places on the page [px], y upwards; three and more are closed.
        high: Height of the page [px].

    Returns:
        Path data in units of the view box, "" for no line.

    Example:
        >>> path_of(((0.0, 100.0), (40.0, 0.0)), 100.0)
        'M 0.0 0.0 L 30.0 75.0'
    """
    if not places:
        return ""
    spots = [f"{x * VIEW_BOX:.1f} {(high - y) * VIEW_BOX:.1f}" for x, y in places]
    return f"M {' L '.join(spots)}{' Z' if len(places) > 2 else ''}"

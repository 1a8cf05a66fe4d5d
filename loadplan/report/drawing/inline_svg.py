"""An SVG as part of a page: without what only a file needs, and as large as its box."""

import re

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

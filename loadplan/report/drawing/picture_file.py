"""A page as a file of one picture."""

from collections.abc import Callable

from loadplan.report.drawing.paper import Paper
from loadplan.report.drawing.svg_paper import svg_of


def picture(page: tuple[float, float], file_format: str, draw: Callable[[Paper], None]) -> bytes:
    """Draw one picture.

    Args:
        page: Width and height [px].
        file_format: "svg", "png" or "pdf".
        draw: Draws the page.

    Returns:
        Content of the file; equal for equal input.
    """
    paper = Paper(page)
    draw(paper)
    if file_format == "svg":
        return svg_of(paper)
    # What paints takes a third of a second to load, which nobody waits for who wants an SVG: the live plan, and `draw`.
    from loadplan.report.drawing.save_figure import painted_file  # noqa: PLC0415

    return painted_file(paper, file_format)

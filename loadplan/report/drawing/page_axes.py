"""The page that axes are, in px."""

from matplotlib.axes import Axes

from loadplan.report.drawing.view import Box

PX = 96
"""px an inch."""


VIEW_BOX = 0.75
"""Units of an SVG's view box a px: matplotlib counts in points."""


def page_of(ax: Axes) -> Box:
    """Make the px the unit of axes.

    Args:
        ax: Axes; their limits are set and their frame is hidden.

    Returns:
        The page that they are [px].
    """
    inches = ax.get_figure(root=True)
    assert inches is not None
    part = ax.get_position()
    wide, high = inches.get_size_inches() * PX * (part.width, part.height)
    ax.set_xlim(0, wide)
    ax.set_ylim(0, high)
    ax.set_axis_off()
    return Box(0, 0, float(wide), float(high))

"""The artists of a page draw what matplotlib's own draw, in less time."""

from typing import Literal

from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Polygon
from matplotlib.text import Text

from loadplan.report.drawing.artists import DrawnLine, PaintedArea, TextLine
from loadplan.report.drawing.axes_paper import paint
from loadplan.report.drawing.font_measure import font_of
from loadplan.report.drawing.paper import PX, Paper
from loadplan.report.drawing.save_figure import dots_of, drawing
from loadplan.report.drawing.style import STRONG

PAGE = (320.0, 240.0)
SIDES: tuple[Literal["left", "center", "right"], ...] = ("left", "center", "right")


def drawn(words: type[Text], line: type[Line2D], area: type[Polygon]) -> bytes:
    """A page with lines of text held at each side, one of them hanging over, a dashed line and an area."""
    with drawing():
        figure = Figure(figsize=(PAGE[0] / PX, PAGE[1] / PX), dpi=PX)
        ax = figure.add_axes((0.0, 0.0, 1.0, 1.0))
        paint(Paper(PAGE), ax)
        for number, side in enumerate(SIDES):
            held = {"horizontalalignment": side, "verticalalignment": "baseline", "parse_math": False}
            ax.add_artist(words(150.3, 40.7 * (number + 1), "Weg & <$5>", fontproperties=font_of(STRONG), **held))
        ax.add_artist(words(300.0, 20.0, "hangs over the rim", fontproperties=font_of(STRONG), parse_math=False))
        ax.add_artist(words(10.0, 20.0, "", fontproperties=font_of(STRONG), parse_math=False))
        ax.add_artist(line([10.0, 200.0], [10.0, 130.5], color="#8F1239", linestyle=(0, (4, 2)), linewidth=1.5))
        ax.add_artist(area([(20.0, 30.0), (90.0, 35.0), (60.0, 90.0)], closed=True, facecolor="#0B5FA522"))
        for artist in ax.get_children():
            artist.set_clip_box(ax.bbox)
        return dots_of(figure, 144).tobytes()


def test_our_artists_draw_what_matplotlibs_draw() -> None:
    ours = drawn(TextLine, DrawnLine, PaintedArea)
    assert ours == drawn(Text, Line2D, Polygon)
    assert len(set(ours)) > 50  # a page with something on it

"""The artists that a pen puts onto axes: matplotlib's own, which leave out what our drawings never need.

A page holds hundreds of strokes and lines of text, and matplotlib asks of each what ours do not have: rotation, several
lines, units, masks, a clip path of its own. Left out, a page takes two thirds of the time and is the same to the byte.
"""

from matplotlib.artist import Artist
from matplotlib.backend_bases import GraphicsContextBase, RendererBase
from matplotlib.colors import to_rgba
from matplotlib.lines import Line2D
from matplotlib.patches import Polygon
from matplotlib.text import Text
from matplotlib.transforms import Transform


class _Cut:  # no artist itself: matplotlib would give it a `draw` that hides theirs
    """What the pen cuts off itself: the axes make no further frame for it."""

    def set_clip_path(self, path: object, transform: Transform | None = None) -> None:
        """Take no frame from the axes."""


class TextLine(_Cut, Text):
    """One upright line of text, held at its baseline."""

    def draw(self, renderer: RendererBase) -> None:
        """Draw it: where it begins is known without its measures, or does not matter, since an SVG says how it is held.

        Args:
            renderer: What it is drawn with.
        """
        if not self.get_text() or (self.get_horizontalalignment() != "left" and not _writes_svg(self)):
            super().draw(renderer)
            return
        renderer.open_group("text", self.get_gid())
        x, y = self.get_transform().transform(self.get_position())
        strokes = _context(renderer, self)
        strokes.set_foreground(to_rgba(self.get_color()), isRGBA=True)
        strokes.set_antialiased(self.get_antialiased())
        high = renderer.get_canvas_width_height()[1]
        down = high - y if renderer.flipy() else y
        renderer.draw_text(strokes, x, down, self.get_text(), self.get_fontproperties(), 0.0, ismath=False, mtext=self)
        strokes.restore()
        renderer.close_group("text")
        self.stale = False


class PaintedArea(_Cut, Polygon):
    """An area whose corners are places on the axes."""

    def get_transform(self) -> Transform:
        """Return how its corners come onto the page."""
        return Artist.get_transform(self)


class DrawnLine(_Cut, Line2D):
    """A line through places on the axes."""


def _writes_svg(artist: Artist) -> bool:
    figure = artist.get_figure(root=True)
    return figure is not None and figure.canvas.get_default_filetype() == "svg"


def _context(renderer: RendererBase, artist: Artist) -> GraphicsContextBase:
    """Return what an artist is drawn with, cut off at its frame."""
    strokes = renderer.new_gc()
    clip = artist.get_clip_box()
    if clip is not None and artist.get_clip_on():
        strokes.set_clip_rectangle(clip)
    return strokes

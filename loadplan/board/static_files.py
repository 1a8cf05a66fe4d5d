"""Static files: scripts, styles and fonts of the pages, answered at once.

A page asks for some thirty of them before it can be used. They are small and few and known by name, so each is read
where it is asked for: handing it to a thread and back, several times a file, takes longer than reading it.
"""

from collections.abc import Mapping
from pathlib import Path

import fontpkg_atkinson_hyperlegible as legible
from starlette.requests import Request
from starlette.responses import Response

HERE = Path(__file__).resolve().parent / "static"

MEDIA = {".js": "text/javascript", ".css": "text/css"}
"""Kinds of files that pages ask for, and what each is."""

FONT_FILES = Path(legible.__file__).parent / "files"

FONTS = {"regular.ttf": "AtkinsonHyperlegible-Regular.ttf", "bold.ttf": "AtkinsonHyperlegible-Bold.ttf"}
"""What the page asks for, and the file of the font's package."""


class StaticFolder:
    """The files of the pages' folder, by name: no other name leads anywhere."""

    def __init__(self) -> None:
        """List them."""
        self._known: Mapping[str, Path] = {each.name: each for each in HERE.iterdir() if each.suffix in MEDIA}

    async def file(self, request: Request) -> Response:
        """Return a script or a style."""
        path = self._known.get(request.path_params["name"])
        return Response(status_code=404) if path is None else Response(path.read_bytes(), media_type=MEDIA[path.suffix])

    async def font(self, request: Request) -> Response:
        """Return a file of the font."""
        name = FONTS.get(request.path_params["name"])
        if name is None:
            return Response(status_code=404)
        lasts = {"cache-control": "max-age=86400"}
        return Response((FONT_FILES / name).read_bytes(), media_type="font/ttf", headers=lasts)

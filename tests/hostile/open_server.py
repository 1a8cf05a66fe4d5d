"""A server that stays open for many requests, each on what the ones before left: plan, first questions, bay."""

from pathlib import Path
from urllib.parse import quote

from tests.board.desk import ANSWERED, Page, opened
from tests.files.builders import SMALL
from tests.files.toml_text import toml

FOR_ONE = 400
"""Requests for one server; then it is laid out anew."""


class OpenServer:
    """Asks, and opens a new one every so often."""

    def __init__(self, folder: Path) -> None:
        """Lay out a folder.

        Args:
            folder: Where.
        """
        self._folder, self._asked, self._laid = folder, 0, 0
        self._page = self._opened()

    def take(self, content: bytes) -> None:
        """Ask: the first line is method and address, the rest is what is said.

        Args:
            content: The request; "TOKEN" in it is the right one.

        Raises:
            AssertionError: If the answer is none of ours, or nobody can ask any more.
        """
        self._asked += 1
        if self._asked % FOR_ONE == 0:
            self._page = self._opened()
        page = self._page
        address, _, said = content.partition(b"\n")
        path, _, query = address.lstrip(b"/").partition(b"?")
        where = "/" + quote(path) + ("?" + quote(query, safe="&=%+") if query else "")
        said = said.replace(b"TOKEN", page.held.token.encode())
        kind = "application/json" if said.lstrip().startswith(b"{") else "application/x-www-form-urlencoded"
        headers = {**page.headers, "content-type": kind}
        answer = page.client.post(where, content=said, headers=headers)
        if answer.status_code == 405:
            answer = page.client.get(where, headers={"accept": "text/html"})
        if answer.status_code == 303:
            answer = page.client.get(answer.headers["location"])
        assert answer.status_code in ANSWERED | {429}, f"{where} is answered with {answer.status_code}"
        assert "Traceback" not in answer.text, f"{where} shows a traceback"
        if self._asked % 20 == 0:
            assert page.client.get("/plan/0/screen").status_code in {200, 422}, f"{where} leaves no plan"

    def _opened(self) -> Page:
        self._laid += 1
        folder = self._folder / str(self._laid)
        folder.mkdir()
        job = folder / "job.toml"
        job.write_text(toml(SMALL), "utf-8")
        return opened(folder, job)

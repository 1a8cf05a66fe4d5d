"""Somebody at the bay: what is looked at, said, ticked and read there."""

import re
from html import unescape

from httpx2 import Response

from loadplan.files.work_record_file import read_record
from loadplan.model.work_record import MAY_GO_ON, RecordEntry
from tests.board.desk import ORIGIN, Page

LINE = re.compile(r'name="line" value="([^"]*)">\s*<button[^>]*aria-checked="(true|false)"([^>]*)>')


class AtTheBay:
    """Somebody at the bay."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.text = ""
        self.say(what="who", who="Kim Ö")

    @property
    def record(self) -> tuple[RecordEntry, ...]:
        return read_record(self.page.path).entries

    def look(self, step: int | str = "") -> str:
        answer = self.page.client.get("/plan/0/bay", params={"step": step}, headers={"accept": "text/html"})
        assert answer.status_code == 200, answer.text
        self.text = answer.text
        return answer.text

    def say(self, step: int | str = 0, **form: str) -> Response:
        if MAY_GO_ON in form.get("line", ""):
            form.setdefault("by", "Q. P.")
        answer: Response = self.page.client.post(
            "/plan/0/bay",
            data={"token": self.page.held.token, "step": str(step), **form},
            headers={"origin": ORIGIN, "accept": "text/html"},
        )
        return answer

    def lines(self, step: int) -> list[tuple[str, bool, bool]]:
        """Return each line, whether it is ticked, and whether it may be."""
        return [
            (unescape(words), on == "true", "disabled" not in rest) for words, on, rest in LINE.findall(self.look(step))
        ]

    def tick_all(self, step: int) -> None:
        self.tick_all_but(step)

    def tick_all_but(self, step: int, *without: str) -> None:
        """Tick all lines but some, as far as stop points let one."""
        while left := [words for words, on, may in self.lines(step) if may and not on and words not in without]:
            for words in left:
                assert self.say(step, what="tick", line=words).status_code == 303, words

"""A request that is held up on purpose, and another one that is answered meanwhile."""

import threading
import urllib.request
from dataclasses import dataclass, field


@dataclass
class HeldUp:
    """What holds a request up: it sets `begun`, and goes on once `go_on` is set."""

    begun: threading.Event = field(default_factory=threading.Event)
    go_on: threading.Event = field(default_factory=threading.Event)

    def wait(self) -> None:
        """Hold up whoever comes by."""
        self.begun.set()
        self.go_on.wait(60)

    def answer(self, address: str, other: str) -> bytes:
        """Return what the request that is held up gets in the end, after another one was answered."""
        told: list[bytes] = []

        def ask() -> None:
            with urllib.request.urlopen(address) as answer:
                told.append(answer.read())

        asking = threading.Thread(target=ask)
        asking.start()
        assert self.begun.wait(60)
        with urllib.request.urlopen(other, timeout=60) as answered:
            assert answered.status == 200
        assert told == []
        self.go_on.set()
        asking.join(60)
        return told[0]

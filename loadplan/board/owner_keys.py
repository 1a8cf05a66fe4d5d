"""What lets this machine's own user in: on one machine, too, there are accounts of other people.

Each address that is opened holds a key. The browser gets something to show for it and is sent on at once, so that
neither its history nor a line of a log holds the key. Which address a browser is started with is seen by everybody on
the machine: that key counts once. The one in the terminal, which only its user sees, counts as often as it is used.
"""

import hmac
import secrets
from dataclasses import dataclass, field


@dataclass(slots=True)
class OwnerKeys:
    """Lets this machine's own user in.

    Attributes:
        lasting: The key that is told in the terminal.
        once: Keys that count once.
        shown: What browsers show that came with one.
    """

    lasting: str = field(default_factory=lambda: secrets.token_urlsafe(24))
    once: set[str] = field(default_factory=set)
    shown: set[str] = field(default_factory=set)

    def single(self) -> str:
        """Return a new key that counts once."""
        key = secrets.token_urlsafe(24)
        self.once.add(key)
        return key

    def admit(self, key: str) -> str | None:
        """Let a browser in.

        Args:
            key: What it came with.

        Returns:
            What it shows from now on; None where the key is none, or has been used.
        """
        if not (_same(key, self.lasting) or _any(key, self.once)):
            return None
        self.once.discard(key)
        shown = secrets.token_urlsafe(24)
        self.shown.add(shown)
        return shown

    def knows(self, shown: str) -> bool:
        """Return whether a browser shows what one got that was let in."""
        return _any(shown, self.shown)


def _any(told: str, known: set[str]) -> bool:
    return any(_same(told, each) for each in known)


def _same(told: str, known: str) -> bool:
    return hmac.compare_digest(told.encode("utf-8", "replace"), known.encode())

"""The code that lets other devices in: each is used once, and after some wrong ones none is taken any more."""

import hmac
import secrets
from dataclasses import dataclass, field

MOST_TRIES = 5
"""Wrong codes after which no device is let in any more."""


@dataclass(slots=True)
class Login:
    """Lets devices in.

    Attributes:
        code: What the next device types; "" where only this machine is let in.
        devices: What devices show that typed it.
        tries: How often a wrong code was typed.
    """

    code: str = ""
    devices: set[str] = field(default_factory=set)
    tries: int = 0

    @property
    def shut(self) -> bool:
        """Whether too many wrong codes came."""
        return self.tries >= MOST_TRIES

    def admit(self, code: str) -> str | None:
        """Let a device in that typed the right code, which is then used up; the next device gets another.

        Args:
            code: What was typed.

        Returns:
            What the device shows from now on; None where the code is wrong, used or no longer taken.
        """
        if not self.code or self.shut:
            return None
        # Compared in a time that does not tell how many digits are right.
        if not hmac.compare_digest(_digits(code), _digits(self.code)):
            self.tries += 1
            return None
        self.code = new_code()
        device = secrets.token_urlsafe(24)
        self.devices.add(device)
        return device

    def knows(self, shown: str) -> bool:
        """Return whether a device shows what one got that was let in."""
        return any(hmac.compare_digest(shown.encode(), device.encode()) for device in self.devices)


def _digits(code: str) -> bytes:
    return "".join(code.split()).encode()


def new_code() -> str:
    """Make a code.

    Returns:
        Eight digits, in two fours.
    """
    digits = f"{secrets.randbelow(10**8):08d}"
    return f"{digits[:4]} {digits[4:]}"

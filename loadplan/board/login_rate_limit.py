"""The code that lets other devices in: each is used once, and who types wrong ones waits longer each time."""

import hmac
import secrets
import time
from collections.abc import Callable
from dataclasses import dataclass, field

FIRST_WAIT = 1.0
"""Wait after a first wrong code [s]; each further one from the same address doubles it."""

LONGEST_WAIT = 3600.0
"""Longest wait [s]: with it an address tries some thirty codes in a day, of 100 million."""

MOST_ADDRESSES = 1000
"""Most addresses whose wrong codes are counted; beyond, that whose wait ends first is forgotten."""


@dataclass(frozen=True, slots=True)
class Device:
    """A device that was let in.

    Attributes:
        number: By which it is sent away.
        address: Where it is in the network.
        since: When it came [s since 1970].
        shown: What it shows.
    """

    number: int
    address: str
    since: float
    shown: str


@dataclass(frozen=True, slots=True)
class Wrong:
    """What came wrong from an address.

    Attributes:
        times: How often.
        until: Before then no code from there is looked at [s of the clock].
    """

    times: int
    until: float


@dataclass(slots=True)
class Login:
    """Lets devices in.

    Attributes:
        code: What the next device types; "" where only this machine is let in.
        devices: Those that typed it.
        wrong: Wrong codes, by the address that they came from: nobody is shut out by what another types.
        clock: Tells the time [s].
    """

    code: str = ""
    devices: list[Device] = field(default_factory=list)
    wrong: dict[str, Wrong] = field(default_factory=dict)
    clock: Callable[[], float] = time.monotonic
    _numbered: int = 0

    def wait(self, address: str) -> float:
        """Tell how long codes of an address are not looked at yet.

        Args:
            address: The address.

        Returns:
            How long still [s], 0 where they are.
        """
        came = self.wrong.get(address)
        return max(0.0, came.until - self.clock()) if came else 0.0

    def admit(self, code: str, address: str) -> str | None:
        """Let a device in that typed the right code, which is then used up; the next device gets another.

        Args:
            code: What was typed.
            address: Where it came from.

        Returns:
            What the device shows from now on; None where the code is wrong, used, or comes too soon after a wrong one.
        """
        if not self.code or self.wait(address) > 0:
            return None
        # Compared in a time that does not tell how many digits are right.
        if not hmac.compare_digest(_digits(code), _digits(self.code)):
            self._count(address)
            return None
        self.wrong.pop(address, None)
        self.code = new_code()
        self._numbered += 1
        device = Device(self._numbered, address, time.time(), secrets.token_urlsafe(24))
        self.devices.append(device)
        return device.shown

    def _count(self, address: str) -> None:
        """Count a wrong code of an address."""
        times = self.wrong[address].times if address in self.wrong else 0
        # So many doublings are enough for any longest wait, and a number of seconds stays one.
        wait = min(FIRST_WAIT * 2.0 ** min(times, 60), LONGEST_WAIT)
        self.wrong[address] = Wrong(times + 1, self.clock() + wait)
        if len(self.wrong) > MOST_ADDRESSES:
            del self.wrong[min(self.wrong, key=lambda each: self.wrong[each].until)]

    def knows(self, shown: str) -> bool:
        """Return whether a device shows what one got that was let in."""
        return any(hmac.compare_digest(shown.encode(), device.shown.encode()) for device in self.devices)

    def send_away(self, number: int) -> Device | None:
        """Let a device in no more: what it shows counts no longer.

        Args:
            number: Which.

        Returns:
            The device; None where there is none of that number.
        """
        gone = next((each for each in self.devices if each.number == number), None)
        self.devices = [each for each in self.devices if each is not gone]
        return gone


def _digits(code: str) -> bytes:
    return "".join(code.split()).encode("utf-8", "replace")


def new_code() -> str:
    """Make a code.

    Returns:
        Eight digits, in two fours.
    """
    digits = f"{secrets.randbelow(10**8):08d}"
    return f"{digits[:4]} {digits[4:]}"

"""The words that people read: shown verdicts, American shop words, and text that a terminal can take."""

import re
import unicodedata

from loadplan.model.job import Job
from loadplan.model.vehicle import Basis
from loadplan.model.verdict import Verdict
from loadplan.report.phrase import Units

FIRST_LIFT = "With the weights given. The first 50 mm of lift is the test."
"""Stands under every shown verdict, in these words whatever the units."""

US_WORDS = (
    ("gearboxes", "transmissions"),
    ("gearbox", "transmission"),
    ("sills", "rockers"),
    ("sill", "rocker"),
    ("timbers", "wood blocks"),
    ("timber", "wood block"),
    ("centre", "center"),
    ("centres", "centers"),
    ("metres", "meters"),
)
"""Our word, and what an American shop says."""


def shown_verdict(verdict: Verdict, basis: Basis) -> str:
    """Return a verdict as it is shown.

    Args:
        verdict: The verdict; a note changes none.
        basis: How good the weights are.

    Returns:
        The words; with invented weights it is only for practice.

    Example:
        >>> shown_verdict(Verdict.HOLDS, Basis.WEIGHED), shown_verdict(Verdict.STOP, Basis.EXAMPLE)
        ('HOLDS ON PAPER', 'FOR PRACTICE: STOP')
    """
    words = verdict_word(verdict)
    return f"FOR PRACTICE: {words}" if basis is Basis.EXAMPLE else words


def verdict_word(verdict: Verdict) -> str:
    """Return the word for a verdict, without regard to the weights.

    Args:
        verdict: The verdict; a note changes none.

    Returns:
        The word.
    """
    match verdict:
        case Verdict.HOLDS | Verdict.NOTE:
            return "HOLDS ON PAPER"
        case Verdict.CAUTION:
            return "CAUTION"
        case Verdict.STOP:
            return "STOP"


def names_of(job: Job) -> frozenset[str]:
    """Collect the names that the user gave: they stay as they are, whatever the reader's words.

    Args:
        job: The job.

    Returns:
        Names of everything in vehicle, shop and job.
    """
    vehicle, shop = job.vehicle, job.shop
    named = (
        *(each.name for each in vehicle.bodies),
        *(each.name for each in vehicle.parts),
        *(each.name for each in vehicle.joints),
        *(each.name for each in vehicle.points),
        *(each.name for each in shop.equipment),
        *(each.name for each in shop.lifts),
        *(each.name for each in job.supports),
        *(each.name for each in job.stages),
    )
    arms = [arm.name for arm in job.lift.arms] if job.lift else []
    return frozenset(name for name in (*named, *arms, job.title, vehicle.name) if name)


def in_shop_words(text: str, units: Units, names: frozenset[str]) -> str:
    """Put a text into the words of the reader's shop.

    Args:
        text: Text in our words.
        units: The reader's units: with US units go American words.
        names: Names that stay as they are.

    Returns:
        The text.

    Example:
        >>> in_shop_words("the gearbox hangs on gearbox mount 2", Units.US, frozenset({"gearbox mount 2"}))
        'the transmission hangs on gearbox mount 2'
    """
    if units is Units.METRIC:
        return text
    words = dict(US_WORDS)
    kept = sorted(names, key=len, reverse=True)
    either = "|".join(re.escape(each) for each in (*kept, *words))
    return re.sub(rf"(?<!\w)(?:{either})(?!\w)", lambda found: words.get(found[0], found[0]), text)


def printable(text: str) -> str:
    r"""Replace what a terminal would obey instead of showing: control and format characters, line ends.

    Args:
        text: Any text, a user's name perhaps.

    Returns:
        The text on one line.

    Example:
        >>> printable("stand\x1b[31m A\n")
        'stand [31m A '
    """
    return "".join(" " if unicodedata.category(each) in {"Cc", "Cf", "Zl", "Zp", "Cs"} else each for each in text)

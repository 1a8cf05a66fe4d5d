"""The words that people read: shown verdicts, American shop words, and text that a terminal can take."""

import re
from dataclasses import dataclass

from loadplan.errors import printable
from loadplan.model.job import Job
from loadplan.model.vehicle import Basis
from loadplan.model.verdict import Finding, Measure, Quantity, Sentence, Verdict
from loadplan.report.words.number_format import write, write_beside, write_finding, write_read, write_sentence
from loadplan.units import System

FIRST_LIFT = "On paper only, with the weights given. The first 50 mm of lift is the test."
"""Stands under every shown verdict; `first_lift` has it in the reader's units."""

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


def first_lift(units: System) -> str:
    """Return what stands under every shown verdict.

    Args:
        units: The reader's units.

    Returns:
        A text.

    Example:
        >>> first_lift(System.US)
        'On paper only, with the weights given. The first 2 in of lift is the test.'
    """
    return FIRST_LIFT if units is System.METRIC else FIRST_LIFT.replace("50 mm", "2 in")


def unsigned(verdict: Verdict, basis: Basis) -> str:
    """Say why nobody signs a plan: a signature would lend it what it does not have.

    Args:
        verdict: Its verdict.
        basis: How good its weights are.

    Returns:
        A sentence; "" where it may be signed: not a stop, and weights that were weighed or come from a data sheet.

    Example:
        >>> unsigned(Verdict.CAUTION, Basis.WEIGHED), unsigned(Verdict.STOP, Basis.WEIGHED)
        ('', 'The verdict is STOP: nobody signs.')
    """
    if basis is Basis.EXAMPLE:
        return "Invented weights: for practice, so nobody signs."
    if verdict is Verdict.STOP:
        return "The verdict is STOP: nobody signs."
    if basis is Basis.GUESS:
        return "The weights are a guess: nobody signs before they are weighed, or taken from a data sheet."
    return ""


def shown_verdict(verdict: Verdict, basis: Basis) -> str:
    """Return a verdict as it is shown.

    Args:
        verdict: The verdict.
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
        verdict: The verdict; a note for a whole stage says that it was not judged.

    Returns:
        The word.
    """
    match verdict:
        case Verdict.HOLDS:
            return "HOLDS ON PAPER"
        case Verdict.NOTE:
            return "NOT CHECKED"
        case Verdict.CAUTION:
            return "CAUTION"
        case Verdict.STOP:
            return "STOP"


def basis_words(basis: Basis) -> str:
    """Return how good the weights are, for people.

    Args:
        basis: The poorest basis in use.

    Returns:
        The word, and what it means where it matters.
    """
    return "example (invented, for practice)" if basis is Basis.EXAMPLE else basis.words


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


def in_shop_words(text: str, units: System, names: frozenset[str]) -> str:
    """Put a text into the words of the reader's shop.

    Args:
        text: Text in our words.
        units: The reader's units: with US units go American words.
        names: Names that stay as they are.

    Returns:
        The text.

    Example:
        >>> in_shop_words("the gearbox hangs on gearbox mount 2", System.US, frozenset({"gearbox mount 2"}))
        'the transmission hangs on gearbox mount 2'
    """
    if units is System.METRIC:
        return text
    words = dict(US_WORDS)
    kept = sorted(names, key=len, reverse=True)
    either = "|".join(re.escape(each) for each in (*kept, *words))
    return re.sub(rf"(?<!\w)(?:{either})(?!\w)", lambda found: words.get(found[0], found[0]), text)


@dataclass(frozen=True, slots=True)
class Reader:
    """Who reads a report: units and words.

    Attributes:
        units: The reader's units.
        names: Names that the user gave and that stay as they are.
    """

    units: System
    names: frozenset[str]

    def words(self, text: str) -> str:
        """Return a text in the reader's words, fit for a terminal."""
        return printable(in_shop_words(text, self.units, self.names))

    def sentence(self, says: Sentence) -> str:
        """Return a sentence in the reader's words and units."""
        return self.words(write_sentence(says, self.units))

    def finding(self, finding: Finding) -> str:
        """Return what a finding says in the reader's words and units."""
        return self.words(write_finding(finding, self.units))

    def length(self, metres: float) -> str:
        """Return a length [m] in the reader's units."""
        return write(Quantity(metres, Measure.LENGTH), self.units)

    def load(self, newtons: float) -> str:
        """Return a load [N], told as mass, in the reader's units."""
        return write(Quantity(newtons, Measure.LOAD), self.units)

    def read(self, newtons: float) -> str:
        """Return what a scale read [N], as it was read, in the reader's units."""
        return write_read(newtons, self.units)

    def mass(self, kilograms: float) -> str:
        """Return a mass [kg] in the reader's units."""
        return write(Quantity(kilograms, Measure.MASS), self.units)

    def angle(self, radians: float) -> str:
        """Return an angle [rad] in degrees."""
        return write(Quantity(radians, Measure.ANGLE), self.units)

    def below(self, quantity: Quantity, limit: float) -> str:
        """Return a quantity that reads as less than its limit where it is."""
        return write_beside(quantity, limit, self.units) if quantity.value < limit else write(quantity, self.units)

    def above(self, quantity: Quantity, limit: float) -> str:
        """Return a quantity that reads as more than its limit where it is."""
        return write_beside(quantity, limit, self.units) if quantity.value > limit else write(quantity, self.units)


def reader_of(job: Job, units: System) -> Reader:
    """Return the reader of a job's reports.

    Args:
        job: The job.
        units: The reader's units.

    Returns:
        System, and the names that stay as they are.
    """
    return Reader(units, names_of(job))

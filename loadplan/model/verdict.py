"""The verdict: findings in words with quantities, and the whole job judged."""

from collections.abc import Callable
from dataclasses import dataclass, field
from enum import Enum, IntEnum, StrEnum
from typing import NamedTuple, TypeAlias

from loadplan.model.answer import Statics
from loadplan.model.job import Job, State
from loadplan.model.plan_cure import PlanCure
from loadplan.model.vehicle import Basis


class Verdict(IntEnum):
    """What a finding, a stage or a job comes to, mildest first; a note changes no verdict."""

    HOLDS = 0
    NOTE = 1
    CAUTION = 2
    STOP = 3

    @property
    def words(self) -> str:
        """The word that files and the machine output use."""
        return self.name.lower()


class CheckName(StrEnum):
    """The checks by name, as pages and the machine output have it; what each is stands in the table of `checks`."""

    BEARING = "bearing"
    BALANCE = "balance"
    SWAY = "sway"
    GRIP = "grip"
    UNDOING = "undoing"
    DROP = "drop"
    SET_DOWN = "set-down"
    LIFT = "lift"
    UNLOADING = "unloading"
    RATING = "rating"
    POINT = "point"
    JACK_HOLDING = "jack holding"
    LAID_ON = "laid on"
    PUSH = "push"
    PULL = "pull"
    READING = "reading"
    MARGIN = "margin"
    BASIS = "basis"
    IDLE_SUPPORT = "idle support"
    LOST_SUPPORT = "lost support"
    MOUNT = "mount"
    SNAG = "snag"
    LEVEL = "level"
    ALIGNMENT = "alignment"
    HEIGHT = "height"
    COUNT = "count"
    INSPECTION = "inspection"
    OVERLAP = "overlap"
    LIFT_LOCK = "lift lock"
    PART = "part"
    PART_ORDER = "part order"
    TIMBER = "timber"
    CLEARANCE = "clearance"
    WHEELS = "wheels"


class Measure(Enum):
    """What a number measures, and so in which unit people and the machine output read it."""

    LENGTH = "m"
    LOAD = "N, told as mass"
    FORCE = "N"
    MASS = "kg"
    ANGLE = "rad"
    SHARE = "1"
    STRESS = "Pa"
    COUNT = "pieces"
    DAYS = "days"


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number in SI inside a sentence; the report writes it in the reader's units."""

    value: float
    measure: Measure


Sentence: TypeAlias = tuple[str | Quantity, ...]
"""Words and quantities, to be joined as they stand."""


@dataclass(frozen=True, slots=True)
class FoundCure:
    """What was found that would help.

    Attributes:
        says: Sentences of their own, beginning with a blank; nothing where nothing was found.
        cures: The same as something that can be done to the plan.
        leaves_other: Whether it says that something else of the same finding is left.
    """

    says: Sentence = ()
    cures: tuple[PlanCure, ...] = ()
    leaves_other: bool = False


class SolvedCure:
    """What would help by which number, solved when it is first read.

    Planning judges thousands of jobs whose findings nobody reads, and one such number may take as long as a stage.
    """

    __slots__ = ("_find", "_found")

    def __init__(self, find: Callable[[], FoundCure]) -> None:
        """Keep the question.

        Args:
            find: Answers it.
        """
        self._find = find
        self._found: FoundCure | None = None

    @property
    def found(self) -> FoundCure:
        """What was found."""
        # Asked by two threads at once it is found twice, and comes out alike.
        if self._found is None:
            self._found = self._find()
        return self._found


@dataclass(frozen=True, slots=True)
class Finding:
    """What one check says of one thing.

    Attributes:
        check: The check.
        verdict: Holds, note, caution or stop.
        subject: What it is about: a support, body, joint or piece of equipment.
        value: What was found, SI; None where there is no number.
        limit: What it was held against, SI; None where there is none.
        measure: What both measure.
        says: One sentence of shop English: what happens, where, and what would help.
        cures: What would help, each as something that can be done to the plan; nothing where it takes a choice.
        cure: What would help by which number, told after what it says; None where nothing is sought.
    """

    check: CheckName
    verdict: Verdict
    subject: str
    value: float | None
    limit: float | None
    measure: Measure
    says: Sentence
    cures: tuple[PlanCure, ...] = ()
    cure: SolvedCure | None = field(default=None, compare=False)

    @property
    def in_full(self) -> Sentence:
        """What it says, with what would help by which number."""
        return self.says if self.cure is None else (*self.says, *self.cure.found.says)

    @property
    def all_cures(self) -> tuple[PlanCure, ...]:
        """What would help as something that can be done to the plan, with what is solved when it is first read."""
        return self.cures if self.cure is None else (*self.cures, *self.cure.found.cures)


class FindingPlace(NamedTuple):
    """What a finding is about, by which it is known again in a changed job.

    Attributes:
        step: Number of the step, from 0.
        check: Name of its check.
        subject: What it is about.
    """

    step: int
    check: str
    subject: str


@dataclass(frozen=True, slots=True)
class NotChecked:
    """A sentence about what a check could not look at, and why."""

    says: Sentence


@dataclass(frozen=True, slots=True)
class StageAssessment:
    """One stage, computed and judged.

    Attributes:
        state: What is on, done up and in place.
        statics: What was computed.
        findings: Every check made, in the order the checks are told.
        verdict: Its worst finding's.
    """

    state: State
    statics: Statics
    findings: tuple[Finding, ...]
    verdict: Verdict

    @property
    def is_judged(self) -> bool:
        """Whether it was judged: not where the unit is rolled, nor where it was done before."""
        return self.verdict is not Verdict.NOTE


@dataclass(frozen=True, slots=True)
class Unknown:
    """What it costs that one part is not known exactly.

    Attributes:
        body: Its body.
        part: The part; "" for a body weighed whole.
        gain: How much worst margin would be won back if it were exactly as given [m].
    """

    body: str
    part: str
    gain: float


@dataclass(frozen=True, slots=True)
class Narrowest:
    """Where the job comes nearest to tipping, and what that is for want of knowing.

    Attributes:
        stage: Number of the stage, from 0.
        body: The body.
        worst_margin: Its worst margin there [m].
        unknowns: At most three, what costs most of it first.
    """

    stage: int
    body: str
    worst_margin: float
    unknowns: tuple[Unknown, ...]


@dataclass(frozen=True, slots=True)
class Assessment:
    """A whole job, computed and judged: what every report is made of.

    Attributes:
        job: The job.
        verdict: Its worst stage's.
        basis: The poorest basis of the bodies in use.
        assumed: What was assumed, a sentence each.
        not_checked: What was not checked, a sentence each.
        stages: In the job's order.
        narrowest: Where the smallest worst margin is; None where nothing balanced can tip.
    """

    job: Job
    verdict: Verdict
    basis: Basis
    assumed: tuple[str, ...]
    not_checked: tuple[Sentence, ...]
    stages: tuple[StageAssessment, ...]
    narrowest: Narrowest | None

"""Loads that are written down, for swaps: in place of all that solves and judges."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from math import inf
from types import SimpleNamespace

import pytest

from loadplan.model.answer import Load
from loadplan.model.job import Job, State, Support
from loadplan.model.shop import Equipment
from loadplan.model.vehicle import Place
from loadplan.model.verdict import Finding, Verdict
from loadplan.planning.mending import stand_swap
from loadplan.planning.mending.stand_swap import StandSwap
from loadplan.statics.group import glance
from tests.checks.builders import words
from tests.planning.mending.plans import RATCHET, SCREW, but, plan, stand

SWAPPED = 1
"""Number of the step in which stands are swapped."""

HIGH = 0.33
"""How high every place of the unit is over the floor, while nothing is raised [m]; so are the four stands set."""

JOB = replace(plan(*but(), shop=(RATCHET, SCREW)), shop=replace(plan().shop, equipment=(RATCHET, SCREW)))
POINT = "middle right"


@dataclass
class Law:
    """What the stands carry, and how high the unit is, by how far the helper is raised from where it touches.

    Attributes:
        gone: How far until D carries nothing, which has 1000 N at first [m].
        sinks: How far the unit sinks as D goes [m].
        rests: From where down the helper carries nothing once D is gone [m].
        own: How far D has to be lowered itself until it carries nothing [m].
        first: What D carries before anything is done [N], None where that is not known.
        floor: Height of the floor, None where no height is set.
        lost: Places of which the height is not known.
        on_paper: Points at which a helper troubles the plan on paper.
        before: What is found before.
        on_the_way: What is found on the way with a helper at a point.
        margin: Smallest margin on the way with a helper at a point [m].
        next: Verdict of the first step of the swap.
        ways: The jobs with the ways that were judged.
        whole: The job that was judged in the end.
    """

    gone: float = 0.0035
    sinks: float = 0.0
    rests: float = 0.0015
    own: float = inf
    first: float | None = 1000.0
    floor: float | None = 0.0
    lost: tuple[Place, ...] = ()
    on_paper: tuple[str, ...] = ()
    before: tuple[Finding, ...] = ()
    on_the_way: Mapping[str, tuple[Finding, ...]] = field(default_factory=dict)
    margin: Mapping[str, float] = field(default_factory=dict)
    next: int = 2
    ways: list[Job] = field(default_factory=list)
    whole: list[Job] = field(default_factory=list)

    def solved(self, job: Job, followed: tuple[State, ...]) -> tuple["Seen", ...]:
        assert len(job.stages) == len(followed)
        return tuple(Seen(self, each) for each in followed)

    def glanced(
        self, look: object, job: Job, followed: tuple[State, ...], unsolved: Callable[[object], None]
    ) -> object:
        assert look is glance
        # What cannot be solved carries nothing that is known.
        assert unsolved(None) is None  # type: ignore[func-returns-value]
        return self.solved(job, followed)

    def paper(self, job: Job, first: int, least: Verdict) -> frozenset[str]:
        assert (first, least) == (SWAPPED, Verdict.STOP)
        return frozenset({"as before"} | {each.point for each in job.supports if each.point in self.on_paper})

    def judged(self, job: Job, first: int, least: Verdict) -> SimpleNamespace:
        assert least is Verdict.CAUTION
        if first == SWAPPED:
            # What comes behind has no say in what was there before.
            assert len(job.stages) == SWAPPED + 1
            return SimpleNamespace(stages=(SimpleNamespace(findings=self.before),))
        assert first == SWAPPED + 1
        self.ways.append(job)
        helper = helper_of(job)
        found = self.on_the_way.get(helper.point if helper else "", ())
        margin = self.margin.get(helper.point if helper else "", 0.1)
        if margin == inf:
            return SimpleNamespace(stages=())
        steps = job.stages[SWAPPED + 1 :]
        worst = max((each.verdict for each in found), default=Verdict.HOLDS)
        return SimpleNamespace(
            stages=tuple(
                SimpleNamespace(
                    findings=found if place == 0 else (),
                    verdict=worst if place == 0 else Verdict.NOTE,
                    statics=margin + 0.01 * place,
                )
                for place in range(len(steps))
            )
        )

    def assessed(self, job: Job) -> SimpleNamespace:
        """Judge the job with the best way: its two first steps stop, the last one holds."""
        self.whole.append(job)
        verdicts = (3, 3, self.next, *(1 for _ in job.stages[SWAPPED + 2 : -1]), 0)
        return SimpleNamespace(stages=tuple(SimpleNamespace(verdict=Verdict(each)) for each in verdicts))


def helper_of(job: Job) -> Support | None:
    """What helps: it is brought up to touch, and is none of the first four."""
    return next((each for each in job.supports[len(JOB.supports) :] if each.height is None), None)


@dataclass
class Seen:
    """A state under the law."""

    law: Law
    state: State

    @property
    def floor(self) -> float | None:
        return self.law.floor

    @property
    def _raised(self) -> float:
        """How far the helper is raised."""
        return max(
            (each.set_height - HIGH for each in self.state.supports if each.name == "E" and each.set_height), default=0
        )

    def body(self, name: str) -> SimpleNamespace:
        assert name == "unit"
        return SimpleNamespace(rigid_with=("hub",))

    def height(self, body: str, at: Place) -> float | None:
        assert body in {"unit", "hub"}
        assert len(at) == 3
        sunk = 0.0 if any(each.name == "D" for each in self.state.supports) else self.law.sinks
        return None if at in self.law.lost else HIGH + max(self._raised - self.law.gone, 0.0) - sunk

    def load(self, name: str) -> Load | None:
        if self.law.first is None:
            return None
        if name == "E":
            return Load(1e6 * max(self._raised - self.law.rests, 0.0), None)
        own = next(each for each in self.state.supports if each.name == name)
        lowered = HIGH - (own.height or 0.0)
        left = 1.0 - self._raised / self.law.gone - lowered / self.law.own
        return Load(self.law.first * max(left, 0.0), None)


def put(monkeypatch: pytest.MonkeyPatch, **more: object) -> Law:
    """Put a law in the place of all that solves and judges."""
    law = Law(**more)  # type: ignore[arg-type]
    monkeypatch.setattr(stand_swap, "solve_stages", law.solved)
    monkeypatch.setattr(stand_swap, "solve_stages_by", law.glanced)
    monkeypatch.setattr(stand_swap, "on_paper", law.paper)
    monkeypatch.setattr(stand_swap, "judged", law.judged)
    monkeypatch.setattr(stand_swap, "smallest_margin", lambda job, statics: statics if job.stages else None)
    monkeypatch.setattr(stand_swap, "assess_in_short", law.assessed)
    return law


def says(found: StandSwap) -> list[str]:
    return [words(each.says) for each in found.steps]


def at_points(*names: str, job: Job = JOB) -> Job:
    """The job with those points, besides those of the four stands."""
    corners = {each.point for each in JOB.supports}
    points = tuple(each for each in JOB.vehicle.points if each.name in corners | set(names))
    return replace(job, vehicle=replace(job.vehicle, points=points))


ONE = at_points(POINT)

TURNS = replace(ONE, supports=but(stand("D", "rear right", SCREW)))
"""In it D turns."""


def shop_of(job: Job, *equipment: Equipment) -> Job:
    return replace(job, shop=replace(job.shop, equipment=equipment))

"""Plans judged, glanced at and looked at on paper, by checks that find what is written down in each step."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from math import inf
from types import SimpleNamespace

import pytest

from loadplan.checks.case import Case
from loadplan.checks.check_table import AT_A_GLANCE, CHECKS, Check
from loadplan.errors import Fault, InputError
from loadplan.model.answer import BodyAnswer, Statics
from loadplan.model.job import Job, Stage, State
from loadplan.model.verdict import CheckName, Finding, Measure, Verdict
from loadplan.planning.mending import judged_plan
from loadplan.planning.mending.judged_plan import (
    UNSOLVABLE,
    JudgedPlan,
    PlanGlance,
    PlanTrouble,
    SeenSoFar,
    judged,
    on_paper,
    smallest_margin,
)
from loadplan.stages import states
from loadplan.statics.group import glance, glance_between, solve
from tests.checks import builders
from tests.checks.builders import body_answer
from tests.planning.mending.plans import plan

STOP, CAUTION, NOTE = Verdict.STOP, Verdict.CAUTION, Verdict.NOTE

JOB = replace(plan(), stages=(*plan().stages, Stage("Away", moved=True), Stage("Down again")))
"""Of five steps; in the fourth it is rolled."""

ON_PAPER = {each.name for each in CHECKS if not each.needs_loads}


def finding(check: CheckName, verdict: Verdict, subject: str = "unit") -> Finding:
    return Finding(check, verdict, subject, 1.0, 1.0, Measure.LENGTH, ())


def statics(*bodies: BodyAnswer) -> Statics:
    return replace(builders.case().statics, bodies=bodies)


def margin(worst: float | None) -> Statics:
    return statics(replace(body_answer("unit"), worst_margin=worst))


@dataclass
class Found:
    """In place of what solves and checks.

    Attributes:
        by_step: What all checks find in each step.
        margins: The worst margin in each step [m].
        fails: Step in which nothing can be computed.
        looks: How each set of groups is solved.
        judged: The steps that were judged, and by how many checks.
    """

    by_step: dict[int, tuple[Finding, ...]] = field(default_factory=dict)
    margins: tuple[float | None, ...] = (0.1,) * 5
    fails: int = -1
    looks: list[object] = field(default_factory=list)
    judged: list[tuple[int, frozenset[CheckName]]] = field(default_factory=list)

    def assessed(self, job: Job) -> SimpleNamespace:
        if self.fails >= 0:
            raise InputError(Fault(job.source, "", "", "is odd"))
        followed = zip(states(job), self.margins, strict=True)
        stages = (
            SimpleNamespace(
                state=state,
                findings=self.by_step.get(state.index, ()),
                verdict=max((each.verdict for each in self.by_step.get(state.index, ())), default=Verdict.HOLDS),
                statics=margin(worst),
            )
            for state, worst in followed
        )
        return SimpleNamespace(stages=tuple(stages))

    def groups(self, look: object, job: Job, followed: tuple[State, ...]) -> "Found":
        assert (job, followed) == (JOB, states(JOB))
        self.looks.append(look)
        return self

    def stages(self, job: Job, followed: tuple[State, ...]) -> Iterator[Statics]:
        for state, worst in zip(followed, self.margins, strict=True):
            if state.index == self.fails:
                raise InputError(Fault(job.source, "", "", "is odd"))
            yield margin(worst)

    def judge(self, case: Case, checks: tuple[Check, ...]) -> tuple[tuple[Finding, ...], tuple[object, ...]]:
        asked = frozenset(each.name for each in checks)
        self.judged.append((case.state.index, asked))
        assert (case.before is None) is (case.state.index == 0)
        if not case.statics.groups:
            assert case.statics == Statics((), (), (), (), (), None, None, None)
        return tuple(each for each in self.by_step.get(case.state.index, ()) if each.check in asked), ()


@pytest.fixture
def finds(monkeypatch: pytest.MonkeyPatch) -> Callable[..., Found]:
    def put(by_step: dict[int, tuple[Finding, ...]] | None = None, **more: object) -> Found:
        found = Found(by_step or {}, **more)  # type: ignore[arg-type]
        monkeypatch.setattr(judged_plan, "assess_in_short", found.assessed)
        monkeypatch.setattr(judged_plan, "SolvedGroups", found.groups)
        monkeypatch.setattr(judged_plan, "judge", found.judge)
        return found

    return put


# ---- in full --------------------------------------------------------------------------------------------


def test_troubles_are_as_bad_as_is_asked_and_of_what_stands_do_not_mend_only_stops(
    finds: Callable[..., Found],
) -> None:
    found = (
        finding(CheckName.MARGIN, CAUTION),
        finding(CheckName.PUSH, NOTE),
        finding(CheckName.READING, CAUTION, "A"),
        finding(CheckName.READING, STOP, "B"),
        finding(CheckName.UNDOING, CAUTION, "rod, bolt"),
    )
    finds({0: (finding(CheckName.BALANCE, STOP),), 1: found, 4: (finding(CheckName.GRIP, STOP),)})
    all_ = {
        PlanTrouble(1, CheckName.MARGIN, "unit"),
        PlanTrouble(1, CheckName.READING, "B"),
        PlanTrouble(1, CheckName.UNDOING, "bolt, rod"),
        PlanTrouble(4, CheckName.GRIP, "unit"),
    }
    calm = judged(JOB, 1, CAUTION)
    assert (calm.job, calm.verdict, calm.troubles) == (JOB, STOP, all_)
    assert [each.state.index for each in calm.stages] == [1, 2, 3, 4]
    assert judged(JOB, 1, STOP).troubles == {each for each in all_ if each.check in {"reading", "grip"}}
    assert judged(JOB, 2, STOP).troubles == {PlanTrouble(4, CheckName.GRIP, "unit")}


def test_the_verdict_is_the_worst_of_the_steps_that_count(finds: Callable[..., Found]) -> None:
    finds({0: (finding(CheckName.MARGIN, STOP),), 2: (finding(CheckName.MARGIN, CAUTION),)})
    assert [judged(JOB, first, STOP).verdict for first in (0, 1, 2, 3)] == [STOP, CAUTION, CAUTION, Verdict.HOLDS]


def test_the_margin_is_the_smallest_of_the_steps_that_count_but_of_those_that_roll(
    finds: Callable[..., Found],
) -> None:
    finds(margins=(0.01, 0.05, 0.07, 0.02, 0.06))
    assert [judged(JOB, first, STOP).margin for first in (0, 1, 2, 3)] == [0.01, 0.05, 0.06, 0.06]
    finds(margins=(None,) * 5)
    assert judged(JOB, 0, STOP).margin == inf
    # Of steps that all roll there is none.
    finds(margins=(0.01,) * 4)
    assert judged(replace(JOB, stages=JOB.stages[:4]), 3, STOP).margin == inf


def test_what_cannot_be_computed_stops(finds: Callable[..., Found]) -> None:
    finds(fails=0)
    assert judged(JOB, 0, CAUTION) == JudgedPlan(JOB, STOP, frozenset({UNSOLVABLE}), -inf)
    assert PlanTrouble(-1, CheckName.BALANCE, "") == UNSOLVABLE


def test_the_smallest_margin_is_over_the_bodies_other_than_the_lifts() -> None:
    unit, shell = replace(body_answer("unit"), worst_margin=0.2), replace(body_answer("shell"), worst_margin=0.1)
    hub = replace(body_answer("hub"), worst_margin=None)
    lifted = builders.job(lifted=True)
    assert smallest_margin(JOB, statics(unit, shell, hub)) == 0.1
    assert smallest_margin(lifted, statics(unit, shell, hub)) == 0.2
    assert smallest_margin(JOB, statics(hub)) == smallest_margin(JOB, statics()) == inf
    falls = replace(shell, balanced=False)
    assert smallest_margin(JOB, statics(unit, falls)) == -inf
    assert smallest_margin(lifted, statics(unit, falls)) == 0.2


# ---- at a glance ----------------------------------------------------------------------------------------


def start(*found: PlanTrouble) -> JudgedPlan:
    return JudgedPlan(JOB, STOP, frozenset(found), 0.0)


def test_a_glance_sees_what_needs_no_ranges_step_by_step(finds: Callable[..., Found]) -> None:
    """The push, which only every check sees, is not seen; nor is what is done already, or is rolled."""
    balance, push = finding(CheckName.BALANCE, STOP), finding(CheckName.PUSH, STOP)
    found = finds(
        {0: (balance,), 1: (push, finding(CheckName.OVERLAP, CAUTION)), 2: (balance,), 3: (balance,)},
        margins=(0.01, 0.05, 0.06, 0.02, 0.07),
    )
    seen = PlanGlance(start(), 1, CAUTION)
    overlap, falls = PlanTrouble(1, CheckName.OVERLAP, "unit"), PlanTrouble(2, CheckName.BALANCE, "unit")
    assert seen.start == JudgedPlan(JOB, STOP, frozenset({overlap, falls}), 0.05)
    glanced = frozenset({each.name for each in AT_A_GLANCE} | ON_PAPER)
    assert found.judged == [(1, glanced), (2, glanced), (4, glanced)]
    assert found.looks == [glance]
    assert seen.blind == frozenset()
    assert seen.blind_left(JOB) == frozenset()
    so_far: list[SeenSoFar] = []
    assert seen.look(JOB, lambda each: so_far.append(each) or len(so_far) == 2) is None
    assert so_far == [
        SeenSoFar(CAUTION, frozenset({overlap}), 0.05),
        SeenSoFar(STOP, frozenset({overlap, falls}), 0.05),
    ]


def test_a_glance_at_what_cannot_be_computed_stops(finds: Callable[..., Found]) -> None:
    finds(fails=2)
    assert PlanGlance(start(UNSOLVABLE), 1, CAUTION).start == JudgedPlan(JOB, STOP, frozenset({UNSOLVABLE}), -inf)


@pytest.mark.parametrize(
    ("checks", "look"),
    [
        ((CheckName.DROP,), glance_between),
        ((CheckName.DROP, CheckName.UNDOING), glance_between),
        ((CheckName.DROP, CheckName.PUSH), solve),
        ((CheckName.PUSH,), solve),
    ],
)
def test_what_no_glance_sees_is_solved_no_deeper_than_it_has_to_be(
    checks: tuple[CheckName, ...], look: object, finds: Callable[..., Found]
) -> None:
    found = finds()
    unseen = [PlanTrouble(1, each, "unit") for each in checks]
    seen = PlanGlance(start(*unseen, UNSOLVABLE), 1, CAUTION)
    assert seen.blind == set(unseen)
    assert found.looks == [glance, look]


def test_what_no_glance_sees_is_looked_for_where_it_was_and_no_further(finds: Callable[..., Found]) -> None:
    """A push of the unit in the second step, and of the hub in the third; that of the tray is new."""
    push, other = finding(CheckName.PUSH, STOP), finding(CheckName.PUSH, STOP, "tray")
    hub, mild = finding(CheckName.PUSH, STOP, "hub"), finding(CheckName.PUSH, CAUTION)
    known = [PlanTrouble(1, CheckName.PUSH, "unit"), PlanTrouble(2, CheckName.PUSH, "hub")]
    found = finds({1: (push, other), 2: (mild, push), 4: (hub,)})
    seen = PlanGlance(start(*known), 0, STOP)
    found.judged.clear()
    assert seen.blind_left(JOB) == {known[0]}
    assert found.judged == [(1, frozenset({CheckName.PUSH})), (2, frozenset({CheckName.PUSH}))]
    found.by_step = {1: (mild,), 2: (hub,)}
    assert seen.blind_left(JOB) == {known[1]}
    found.by_step = {}
    assert seen.blind_left(JOB) == frozenset()
    # Behind the last step where there was one nothing is solved.
    found.fails = 3
    assert seen.blind_left(JOB) == frozenset()
    found.fails = 2
    assert seen.blind_left(JOB) == set(known)


# ---- on paper -------------------------------------------------------------------------------------------


def test_on_paper_the_checks_that_need_no_loads_look_at_each_step(finds: Callable[..., Found]) -> None:
    overlap, balance = finding(CheckName.OVERLAP, STOP), finding(CheckName.BALANCE, STOP)
    found = finds({0: (overlap,), 1: (overlap, balance), 3: (overlap,), 4: (finding(CheckName.COUNT, CAUTION),)})
    assert on_paper(JOB, 1, STOP) == {PlanTrouble(1, CheckName.OVERLAP, "unit")}
    assert on_paper(JOB, 1, CAUTION) == {
        PlanTrouble(1, CheckName.OVERLAP, "unit"),
        PlanTrouble(4, CheckName.COUNT, "unit"),
    }
    assert found.judged == [(each, frozenset(ON_PAPER)) for each in (1, 2, 4)] * 2
    found.judged.clear()
    assert on_paper(JOB, 0, STOP, lambda troubles: len(troubles) == 2) == {
        PlanTrouble(0, CheckName.OVERLAP, "unit"),
        PlanTrouble(1, CheckName.OVERLAP, "unit"),
    }
    assert [each for each, _ in found.judged] == [0, 1]

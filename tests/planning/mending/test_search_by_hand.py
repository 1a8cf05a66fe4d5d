"""The search among plans that come to what is written down: which are looked at, in full or not, and which are kept."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from math import inf

import pytest

from loadplan.model.job import Job
from loadplan.model.verdict import CheckName, StageAssessment, Verdict
from loadplan.planning.mending import change_search
from loadplan.planning.mending.change_search import ON_PAPER, ChangeSearch, LooksTaken, TriedChanges
from loadplan.planning.mending.judged_plan import JudgedPlan, PlanTrouble, SeenSoFar
from loadplan.planning.mending.plan_change import ChangeKind, MadeChange, PlanChange
from tests.planning.mending.plans import plan

JOB = replace(plan(), title="")
"""Of three steps; each change adds its letter to the title."""


def troubles(letters: str) -> frozenset[PlanTrouble]:
    """Troubles of the first step by their letters; capitals need loads, digits are of the step of that number."""
    return frozenset(
        PlanTrouble(int(each) if each.isdigit() else 0, CheckName.RATING if each.isupper() else CheckName.OVERLAP, each)
        for each in letters
    )


@dataclass(frozen=True)
class Comes:
    """What a plan comes to: troubles at a glance, in full, on paper, and of those that no glance sees."""

    glance: str = ""
    full: str = ""
    paper: str = ""
    unseen: str = ""
    margin: float = 0.1

    @property
    def verdict(self) -> Verdict:
        return Verdict.STOP if self.glance else Verdict.NOTE


@dataclass
class Written:
    """In place of all that looks at plans.

    Attributes:
        plans: What each comes to, by the letters of its changes; "" is the start.
        blind: Troubles of the start that no glance sees.
        looks: What was looked at: "paper", "glance", "unseen" or "full", and the letters.
        told: How far it was, each time that it was told.
    """

    plans: dict[str, Comes]
    blind: str = ""
    looks: list[str] = field(default_factory=list)
    told: list[tuple[int, int]] = field(default_factory=list)

    @property
    def start(self) -> JudgedPlan:
        return self._plan(JOB, troubles(self.plans[""].glance))

    def _plan(self, job: Job, found: frozenset[PlanTrouble], *stages: StageAssessment) -> JudgedPlan:
        comes = self.plans[job.title]
        return JudgedPlan(job, Verdict.STOP if found else comes.verdict, found, comes.margin, stages)

    def search(self, looks: int = 3000, least: Verdict = Verdict.STOP) -> tuple[ChangeSearch, LooksTaken]:
        ledger = LooksTaken(lambda *far: self.told.append(far), share=looks / 3000)
        whole = replace(self.start, troubles=self.start.troubles | troubles(self.blind), stages=STAGES)
        return ChangeSearch(whole, 1, least, ledger), ledger

    def glance(self, _: JudgedPlan, first: int, least: Verdict) -> "Glance":
        assert (first, least) >= (1, Verdict.CAUTION)
        return Glance(self, self.start, troubles(self.blind))

    def judged(self, job: Job, first: int, least: Verdict) -> JudgedPlan:
        assert (first, least) >= (1, Verdict.CAUTION)
        self.looks.append(f"full {job.title}")
        return self._plan(job, troubles(self.plans[job.title].full), *STAGES)

    def on_paper(
        self, job: Job, first: int, least: Verdict, hopeless: Callable[[frozenset[PlanTrouble]], bool]
    ) -> frozenset[PlanTrouble]:
        assert (first, least) >= (1, Verdict.CAUTION)
        self.looks.append(f"paper {job.title}")
        found = troubles(self.plans[job.title].paper)
        hopeless(found)
        return found


@dataclass
class Glance:
    """In place of a glance."""

    written: Written
    start: JudgedPlan
    blind: frozenset[PlanTrouble]

    def look(self, job: Job, hopeless: Callable[[SeenSoFar], bool]) -> JudgedPlan | None:
        self.written.looks.append(f"glance {job.title}")
        comes = self.written.plans[job.title]
        seen = SeenSoFar(comes.verdict, troubles(comes.glance), comes.margin)
        return None if hopeless(seen) else JudgedPlan(job, *seen)

    def blind_left(self, job: Job) -> frozenset[PlanTrouble]:
        if self.blind:
            self.written.looks.append(f"unseen {job.title}")
        return troubles(self.written.plans[job.title].unseen)


STAGES: tuple[StageAssessment, ...] = ("judged",)  # type: ignore[assignment]
"""Stands for the steps of a plan that was judged in full."""


@pytest.fixture
def written(monkeypatch: pytest.MonkeyPatch) -> Callable[..., Written]:
    """Write down what plans come to, by the letters of their changes: `_` stands for the start."""

    def write(blind: str = "", **plans: Comes) -> Written:
        made = Written({each.strip("_"): comes for each, comes in plans.items()}, blind)
        monkeypatch.setattr(change_search, "PlanGlance", made.glance)
        monkeypatch.setattr(change_search, "judged", made.judged)
        monkeypatch.setattr(change_search, "on_paper", made.on_paper)
        return made

    return write


def change(letter: str) -> PlanChange:
    def make(job: Job) -> MadeChange | None:
        title = f"{job.title}{letter}"
        return None if letter == "!" else MadeChange(replace(job, title=title), letter, (f"Do {letter}.",))

    return PlanChange(ChangeKind.HEIGHT, letter, make)


def changes(letters: str) -> tuple[PlanChange, ...]:
    return tuple(change(each) for each in letters)


def titles(found: list[TriedChanges]) -> list[str]:
    return [each.plan.job.title for each in found]


def test_of_single_changes_only_those_without_trouble_are_judged_in_full_the_likeliest_first(
    written: Callable[..., Written],
) -> None:
    """At a glance b, c and d do, d with most margin; in full d does not, c does, and b need not be asked any more."""
    plans = {"a": Comes("x"), "b": Comes(), "c": Comes(margin=0.2), "d": Comes(full="y", margin=0.3)}
    made = written(_=Comes("xy"), **plans)
    search, ledger = made.search()
    found = search.singles(changes("a!bcd"))
    assert titles(found) == ["a", "d", "c"]
    assert made.looks == ["glance a", "glance b", "glance c", "glance d", "full d", "full c"]
    assert [each.plan.troubles for each in found] == [troubles("x"), troubles("y"), frozenset()]
    assert [each.done[0].says for each in found] == [("Do a.",), ("Do d.",), ("Do c.",)]
    assert ledger.best is found[2]
    assert made.told == [(1, 5), (2, 5), (3, 5), (4, 5), (5, 5), (6, 6), (7, 7), (8, 8)]
    assert ledger.goal_looks == 4 + ON_PAPER
    assert (ledger.cut, ledger.ran_out) == (False, False)


def test_when_no_more_may_be_judged_in_full_something_is_left_out(written: Callable[..., Written]) -> None:
    """Of eleven looks two may be in full."""
    plans = {each: Comes(full="y") for each in "abc"}
    made = written(_=Comes("x"), **plans)
    search, ledger = made.search(looks=11)
    assert titles(search.singles(changes("abc"))) == ["a", "b"]
    assert (ledger.cut, ledger.ran_out, ledger.best) == (True, True, None)
    search, ledger = made.search(looks=11)
    assert titles(search.singles(changes("ab"))) == ["a", "b"]
    assert (ledger.cut, ledger.ran_out) == (False, False)


def test_what_leaves_a_trouble_that_no_glance_sees_is_not_judged_in_full(written: Callable[..., Written]) -> None:
    """That trouble is in the first of three steps: to look for it takes a third of a look in full."""
    made = written("R", _=Comes("x"), a=Comes(unseen="R"), b=Comes(margin=0.05))
    search, ledger = made.search(looks=8)
    left, cleared = search.singles(changes("ab"))
    assert made.looks[2:] == ["unseen a", "unseen b", "full b"]
    assert (left.plan.verdict, left.plan.troubles) == (Verdict.STOP, troubles("R"))
    assert (cleared.plan.troubles, ledger.best) == (frozenset(), cleared)
    assert search._full_left == pytest.approx(2.0 - 2 / 3 - 1.0)
    later = written("2", _=Comes("x"), a=Comes(unseen="2"))
    search, _ = later.search(looks=8)
    search.singles(changes("a"))
    assert search._full_left == pytest.approx(1.0)


def test_a_trouble_that_no_glance_sees_makes_a_plan_as_bad_as_is_asked(written: Callable[..., Written]) -> None:
    made = written("R", _=Comes("x"), a=Comes(unseen="R"))
    search, _ = made.search(least=Verdict.CAUTION)
    assert search.singles(changes("a"))[0].plan.verdict is Verdict.CAUTION


def test_a_change_that_takes_away_what_no_glance_sees_helps(written: Callable[..., Written]) -> None:
    """All three leave what a glance sees; b leaves nothing of the other."""
    left = {"a": Comes("x", unseen="RS"), "b": Comes("x", unseen="R"), "c": Comes("x", unseen="RS", margin=0.2)}
    made = written("RS", _=Comes("x"), **left)
    search, ledger = made.search()
    singles = search.singles(changes("abc"))
    assert titles(search.helping(singles)) == ["b", "c"]
    assert made.looks[3:] == ["unseen a", "unseen b", "unseen c"]
    assert made.told[3:] == [(4, 4), (5, 5), (6, 6)]
    assert search._full_left == pytest.approx(750 - 3 / 3)
    assert ledger.looks == 6


def test_a_change_helps_by_a_trouble_less_or_by_more_margin(written: Callable[..., Written]) -> None:
    plans = {"a": Comes("xz"), "b": Comes("xyz"), "c": Comes("xyz", margin=0.1001), "d": Comes("xy", margin=-inf)}
    made = written(_=Comes("xy"), **plans)
    search, ledger = made.search()
    assert titles(search.helping(search.singles(changes("abcd")))) == ["a", "c"]
    assert ledger.looks == 4


def test_pairs_are_looked_at_by_what_their_changes_left_and_brought(written: Callable[..., Written]) -> None:
    """Of x and y: a and b together leave none, a and d one, a and c one and bring z, c and e bring z twice."""
    single = {"a": Comes("x"), "b": Comes("y"), "c": Comes("xyz"), "d": Comes("xy"), "e": Comes("yz")}
    pairs = {each: Comes("x") for each in ("ce", "ac", "ad", "ab")}
    made = written(_=Comes("xy"), **single, **pairs)
    search, _ = made.search()
    of = {each.about: each for each in changes("abcde")}
    search.singles(of.values())
    made.looks.clear()
    made.told.clear()
    found = search.several([tuple(of[each] for each in pair) for pair in pairs])
    assert titles(found) == ["ab", "ad", "ac", "ce"]
    assert made.looks == [f"{how} {each}" for each in ("ab", "ad", "ac", "ce") for how in ("paper", "glance")]
    assert made.told == [(6, 9), (7, 9), (8, 9), (9, 9)]


def pairs_with(made: Written, letters: str, *, among: tuple[TriedChanges, ...] = ()) -> tuple[list[str], LooksTaken]:
    """Look at the pairs of a with each other change, after all of them by themselves."""
    search, ledger = made.search()
    of = {each.about: each for each in changes(f"a{letters}")}
    search.singles(of.values())
    made.looks.clear()
    ledger.goal_looks = 0.0
    found = search.several([(of["a"], of[each]) for each in letters], among)
    return titles(found), ledger


def singles_of(letters: str, left: str) -> dict[str, Comes]:
    return {each: Comes(left) for each in letters}


def test_once_a_pair_does_only_what_may_be_better_is_judged_in_full(written: Callable[..., Written]) -> None:
    """After ab, which does with 100 mm, ac may be better, af as well but is not; ad has less, ae as much."""
    pairs = {"ab": Comes(), "ac": Comes(margin=0.2), "ad": Comes(margin=0.05), "ae": Comes()}
    pairs |= {"af": Comes(margin=0.3, full="x"), "ag": Comes("y", margin=0.3)}
    made = written(_=Comes("xy"), **singles_of("abcdefg", "xy"), **pairs)
    found, ledger = pairs_with(made, "bcdefg")
    assert found == ["ab", "af", "ac"]
    assert [each for each in made.looks if each.startswith("full")] == ["full ab", "full af", "full ac"]
    # Seven by themselves; of pairs six at a glance, and three of these in full.
    assert ledger.looks == 7 + 6 + 3
    assert ledger.best is not None
    assert ledger.best.plan.job.title == "ac"


def test_a_pair_that_fails_in_full_does_not_end_the_looks(written: Callable[..., Written]) -> None:
    made = written(_=Comes("xy"), **singles_of("abc", "xy"), ab=Comes(full="y"), ac=Comes(margin=0.05))
    found, ledger = pairs_with(made, "bc")
    assert found == ["ab", "ac"]
    assert ledger.best is not None
    assert ledger.best.plan.job.title == "ac"


def ranked(*margins: float) -> tuple[TriedChanges, ...]:
    """Plans with one trouble each."""
    return tuple(TriedChanges((), JudgedPlan(JOB, Verdict.STOP, troubles("x"), each), ()) for each in margins)


def test_what_is_no_better_than_the_sixth_is_left(written: Callable[..., Written]) -> None:
    """The sixth of seven has one trouble and 20 mm, as ab has; ac has more, after which the sixth has 30 mm."""
    known = ranked(0.1, 0.02, 0.03, 0.04, 0.05, 0.06, 0.01)
    pairs = {"ab": Comes("x", margin=0.02), "ac": Comes("x", margin=0.07), "ad": Comes("x", margin=0.025)}
    made = written(_=Comes("xy"), **singles_of("abcd", "xy"), **pairs)
    assert pairs_with(made, "bcd", among=known)[0] == ["ac"]
    assert pairs_with(made, "bcd", among=known[:5])[0] == ["ab", "ac", "ad"]


def test_what_is_seen_on_paper_is_not_solved_and_counts_what_loads_would_tell(
    written: Callable[..., Written],
) -> None:
    """R, which needs loads, is left by a and by b, not by c; S is left by no pair."""
    single = {"a": Comes("xRS"), "b": Comes("xyR"), "c": Comes("xy")}
    made = written(_=Comes("xyRS"), **single, ab=Comes(paper="p"), ac=Comes(paper="pq"))
    search, ledger = made.search()
    a, b, c = changes("abc")
    search.singles((a, b, c))
    made.looks.clear()
    ledger.goal_looks = 0.0
    by_title = {each.plan.job.title: each.plan for each in search.several([(a, b), (a, c)])}
    assert made.looks == ["paper ac", "paper ab"]
    assert {title: found.troubles for title, found in by_title.items()} == {"ab": troubles("pR"), "ac": troubles("pq")}
    assert {(found.verdict, found.margin) for found in by_title.values()} == {(Verdict.STOP, 0.1)}
    assert ledger.goal_looks == 2 * ON_PAPER


def test_what_is_no_better_on_paper_than_the_sixth_is_left(written: Callable[..., Written]) -> None:
    """The sixth has one trouble and 100 mm, which no plan on paper is taken to pass; what is good there is solved."""
    made = written(_=Comes("xy"), **singles_of("abc", "xy"), ab=Comes(paper="p"), ac=Comes("x", margin=0.2))
    found, ledger = pairs_with(made, "bc", among=ranked(*(0.1,) * 6))
    assert (found, made.looks) == (["ac"], ["paper ab", "paper ac", "glance ac"])
    assert ledger.goal_looks == 1 + ON_PAPER
    # With less margin the sixth is passed.
    assert pairs_with(made, "bc", among=ranked(*(0.09,) * 6))[0] == ["ab", "ac"]


def in_part(made: Written, letters: str, most: int) -> tuple[str | None, LooksTaken]:
    search, ledger = made.search(least=Verdict.CAUTION)
    singles = search.singles(changes(letters))
    made.looks.clear()
    found = search.in_part(singles, most)
    assert ledger.best is found
    return found and found.plan.job.title, ledger


def test_in_part_each_change_leaves_fewer_troubles_and_brings_no_other(written: Callable[..., Written]) -> None:
    """Of x, y and z: a leaves two, b one, c none but brings w; after b comes a, and nothing after that."""
    single = {"a": Comes("xy", "xy"), "b": Comes("z", "z"), "c": Comes("w", "w")}
    sets = {"ba": Comes("z", "z", margin=0.2), "bc": Comes("", "w"), "bac": Comes("z", "z")}
    made = written(_=Comes("xyz"), **single, **sets)
    assert in_part(made, "abc", 1)[0] == "b"
    # Nothing takes a further trouble away.
    assert in_part(made, "abc", 4)[0] == "b"
    better = written(_=Comes("xyz"), **single, **(sets | {"ba": Comes("", "")}))
    assert in_part(better, "abc", 4)[0] == "ba"
    assert better.looks[:3] == ["full b", "full a", "full c"]
    nothing = written(_=Comes("xyz"), c=Comes("w", "w"), d=Comes("xyz", "xyz"))
    search, ledger = nothing.search(least=Verdict.CAUTION)
    assert search.in_part(search.singles(changes("cd")), 2) is None
    assert ledger.best is None


def test_in_part_six_are_judged_in_full(written: Callable[..., Written]) -> None:
    made = written(_=Comes("xyz"), **{each: Comes("x", "x", margin=ord(each) / 1000) for each in "abcdefgh"})
    found, _ = in_part(made, "abcdefgh", 1)
    assert found == "h"
    assert made.looks == [f"full {each}" for each in "hgfedc"]

"""Which sets of changes are looked at, and in which order, by a search that only remembers what it was given."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from math import inf

import pytest

from loadplan.model.job import Job
from loadplan.model.verdict import CheckName, Verdict
from loadplan.planning.mending import fewest_changes
from loadplan.planning.mending.change_search import BLIND, ChangeSearch, LooksTaken, TriedChanges
from loadplan.planning.mending.judged_plan import JudgedPlan, PlanTrouble, judged
from loadplan.planning.mending.plan_change import ChangeKind, MadeChange, PlanChange
from tests.planning.mending.plans import plan

JOB = plan()


def _change(about: str) -> PlanChange:
    return PlanChange(ChangeKind.HEIGHT, about, lambda job: MadeChange(job, about, ()))


def _tried(*changes: PlanChange, margin: float = 0.0) -> TriedChanges:
    return TriedChanges(changes, JudgedPlan(JOB, Verdict.STOP, frozenset(), margin), ())


@dataclass
class Remembering:
    """In place of a search.

    Attributes:
        single: What every single change comes to.
        helps: How many of them, from the first on, help.
        answers: The set that does, none where none does.
        given: The sets that it was given, call by call, each by what its changes are about.
        parts: Of what, and with how many changes, it was asked to mend a part.
    """

    single: list[TriedChanges]
    helps: int
    answers: str = ""
    given: list[list[str]] = field(default_factory=list)
    parts: list[tuple[str, int]] = field(default_factory=list)

    def singles(self, _: object) -> list[TriedChanges]:
        return self.single

    def helping(self, singles: list[TriedChanges]) -> list[TriedChanges]:
        return singles[: self.helps]

    def several(self, sets: Iterable[tuple[PlanChange, ...]], among: Iterable[TriedChanges] = ()) -> list[TriedChanges]:
        assert bool(list(among)) is (len(self.given) == 1), "only pairs with the rest are compared with those before"
        every = list(sets)
        self.given.append(["".join(each.about for each in changes) for changes in every])
        return [_tried(*each, margin=float(number)) for number, each in enumerate(every)]

    def best_of(self, tried: Iterable[TriedChanges]) -> TriedChanges | None:
        named = {"".join(change.about for change in each.changes): each for each in tried}
        return named.get(self.answers) if self.answers else None

    def in_part(self, singles: list[TriedChanges], most: int) -> None:
        self.parts.append(("".join(each.changes[0].about for each in singles), most))


@pytest.fixture
def searched(monkeypatch: pytest.MonkeyPatch) -> Callable[..., Remembering]:
    """Search among four single changes, of which two help, with sets of two to four that are out of line."""

    def search(answers: str, most: int, least: Verdict = Verdict.STOP) -> Remembering:
        one, two, three, four = (_change(each) for each in "abcd")
        remembering = Remembering([_tried(each) for each in (one, two, three, four)], 2, answers)
        monkeypatch.setattr(fewest_changes, "ChangeSearch", lambda *_: remembering)
        monkeypatch.setattr(fewest_changes, "candidates", lambda *_: ())
        lines = [(three, four), (one, three, four), (one, two, three, four)]
        monkeypatch.setattr(fewest_changes, "back_in_line", lambda *_: lines)
        start = JudgedPlan(JOB, Verdict.STOP, frozenset(), 0.0)
        found = fewest_changes._fewest(start, 0, least, most, LooksTaken(lambda *_: None))
        assert (found is not None) is bool(answers)
        return remembering

    return search


def test_pairs_come_before_pairs_with_the_rest_and_those_before_three_and_four(
    searched: Callable[..., Remembering],
) -> None:
    """What is out of line comes first; three and four are built on the six nearest sets before and what helps."""
    pairs, mixed, three, four = searched("", 4).given
    assert pairs == ["cd", "ab"]
    assert mixed == ["ac", "ad", "bc", "bd"]
    # The pairs are nearest in the order in which they are given, as the last one has most margin.
    assert three[0] == "acd"
    assert {"".join(sorted(each)) for each in three[1:]} == {"abc", "abd", "bcd"}
    assert four == ["abcd", *four[1:]]
    assert {"".join(sorted(each)) for each in four} == {"abcd"}


@pytest.mark.parametrize(
    ("answers", "most", "calls"),
    [("b", 4, 0), ("ab", 4, 1), ("bd", 4, 2), ("acd", 4, 3), ("", 1, 0), ("", 2, 2), ("", 3, 3)],
)
def test_it_ends_as_soon_as_one_does_or_no_more_changes_are_wanted(
    answers: str, most: int, calls: int, searched: Callable[..., Remembering]
) -> None:
    assert len(searched(answers, most).given) == calls


def test_cautions_are_mended_in_part_by_what_helps_and_stops_are_not(searched: Callable[..., Remembering]) -> None:
    assert searched("", 4).parts == []
    assert searched("", 4, Verdict.CAUTION).parts == [("ab", 4)]
    assert searched("", 1, Verdict.CAUTION).parts == [("abcd", 1)]
    assert searched("ab", 4, Verdict.CAUTION).parts == []


def test_a_quarter_of_the_full_looks_goes_to_what_no_glance_sees(monkeypatch: pytest.MonkeyPatch) -> None:
    """Sixteen plans may be judged in full: four are, to see which change takes away what a glance does not see."""
    assert BLIND == 0.25
    search = ChangeSearch(judged(JOB, 0, Verdict.STOP), 0, Verdict.STOP, LooksTaken(lambda *_: None))
    unseen = PlanTrouble(0, CheckName.RATING, "A")
    search._glance.blind = frozenset({unseen})
    search._full_left = 16.0
    looked: list[str] = []

    def clears(_: ChangeSearch, tried: TriedChanges) -> bool:
        search._full_left -= 1.0
        looked.append(tried.changes[0].about)
        return looked[-1] == "b"

    monkeypatch.setattr(ChangeSearch, "_clears_unseen", clears)
    singles = [_tried(_change(each), margin=-inf) for each in "abcdef"]
    stages = judged(JOB, 0, Verdict.STOP).stages
    in_full = TriedChanges((_change("g"),), JudgedPlan(JOB, Verdict.STOP, frozenset(), -inf, stages), ())
    assert [each.changes[0].about for each in search.helping([in_full, *singles])] == ["b"]
    assert looked == ["a", "b", "c", "d"]


def _job_with(*names: str) -> Job:
    return plan(*(each for each in JOB.supports if each.name in names))


def test_what_moves_everything_further_from_tipping_helps_and_so_does_a_trouble_less() -> None:
    start = judged(_job_with("A", "B"), 0, Verdict.STOP)
    search = ChangeSearch(start, 0, Verdict.STOP, LooksTaken(lambda *_: None))
    seen = search._glance.start
    assert seen.margin == -inf
    as_before = TriedChanges((_change("a"),), seen, ())
    balanced = TriedChanges((_change("b"),), JudgedPlan(JOB, Verdict.STOP, seen.troubles, 0.01), ())
    cleared = TriedChanges((_change("c"),), JudgedPlan(JOB, Verdict.STOP, frozenset(list(seen.troubles)[1:]), -inf), ())
    assert search.helping([as_before, balanced, cleared]) == [balanced, cleared]

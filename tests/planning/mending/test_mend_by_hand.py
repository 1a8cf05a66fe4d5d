"""A mending by a search that finds what is written down: what is taken, told as proven, and left."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace

import pytest

from loadplan.model.job import Job
from loadplan.model.verdict import CheckName, Finding, Measure, StageAssessment, Verdict
from loadplan.planning.mending import fewest_changes
from loadplan.planning.mending.change_search import LooksTaken, TriedChanges
from loadplan.planning.mending.fewest_changes import mend
from loadplan.planning.mending.judged_plan import JudgedPlan, PlanTrouble, judged
from loadplan.planning.mending.mending_answer import DoneChange, LeftOver, Mending
from loadplan.planning.mending.plan_change import ChangeKind, MadeChange, PlanChange
from tests.planning.mending.plans import plan

JOB = replace(plan(), title="")
"""Each change adds its letter to the title."""

STOP, CAUTION, NOTE = Verdict.STOP, Verdict.CAUTION, Verdict.NOTE

STAGES = judged(plan(), 0, Verdict.STOP).stages


def finding(verdict: Verdict, subject: str) -> Finding:
    return Finding(CheckName.MARGIN, verdict, subject, 1.0, 1.0, Measure.LENGTH, ())


def stages_with(*found: Finding) -> tuple[StageAssessment, ...]:
    return (replace(STAGES[0], findings=found), replace(STAGES[1], findings=()))


@dataclass
class Shop:
    """In place of all that judges and searches.

    Attributes:
        verdicts: What plans come to by their changes; else they are a note.
        finds: The changes that a search finds, by how bad nothing may be any more.
        part: What it finds in part.
        left: Letters of the troubles that plans have, as seen when cautions count.
        interrupts: At which search somebody interrupts, with what was best by then.
        short: Pieces that are too few.
        looked: What was searched: from which plan, how bad nothing may be, and with which share of looks.
        part_of: With how many changes a part was asked for.
        told: How far it was, each time that it was told.
        cells: Letters of the changes at places that are no points.
        cut: Whether something is left out.
    """

    verdicts: dict[str, Verdict] = field(default_factory=dict)
    finds: dict[Verdict, str] = field(default_factory=dict)
    part: str = ""
    left: dict[str, str] = field(default_factory=dict)
    interrupts: dict[Verdict, str] = field(default_factory=dict)
    short: int = 0
    looked: list[tuple[str, Verdict, float]] = field(default_factory=list)
    part_of: list[int] = field(default_factory=list)
    told: list[tuple[int, ...]] = field(default_factory=list)
    cells: str = ""
    cut: bool = False

    def judged(self, job: Job, first: int, least: Verdict) -> JudgedPlan:
        assert first == 1
        verdict = self.verdicts.get(job.title, NOTE)
        letters = self.left.get(job.title, "x") if verdict >= least else ""
        found = frozenset(PlanTrouble(1, CheckName.MARGIN, each) for each in letters)
        told = stages_with(finding(CAUTION, "c"), finding(NOTE, "n"), finding(STOP, "s"), finding(CAUTION, "d"))
        return JudgedPlan(job, verdict, found, 0.12, told if verdict is CAUTION else ())

    def change(self, letter: str) -> PlanChange:
        def make(job: Job) -> MadeChange:
            return MadeChange(replace(job, title=f"{job.title}{letter}"), letter, (f"Do {letter}.",))

        return PlanChange(ChangeKind.HEIGHT, letter, make, at_cell=letter in self.cells)

    def tried(self, start: JudgedPlan, letters: str, least: Verdict) -> TriedChanges:
        job = replace(start.job, title=start.job.title + letters)
        done = tuple(DoneChange(ChangeKind.HEIGHT, each, (f"Do {each}.",)) for each in letters)
        return TriedChanges(tuple(map(self.change, letters)), self.judged(job, 1, least), done)


@dataclass
class Search:
    """In place of a search: what it finds is what is written down."""

    shop: Shop
    start: JudgedPlan
    first: int
    least: Verdict
    ledger: LooksTaken

    def singles(self, given: object) -> list[TriedChanges]:
        assert given == ("candidates", self.start, self.first) == ("candidates", self.start, 1)
        self.ledger.tell(5, 5)
        self.shop.looked.append((self.start.job.title, self.least, self.ledger.share))
        self.ledger.looks += 5
        self.ledger.cut = self.shop.cut
        self.ledger.ran_out = self.shop.cut
        if self.least in self.shop.interrupts:
            best = self.shop.interrupts[self.least]
            self.ledger.best = self.shop.tried(self.start, best, self.least) if best else self.ledger.best
            raise KeyboardInterrupt
        return []

    def best_of(self, _: object) -> TriedChanges | None:
        letters = self.shop.finds.get(self.least, "")
        if not letters:
            return None
        self.ledger.best = self.shop.tried(self.start, letters, self.least)
        return self.ledger.best

    def helping(self, _: object) -> list[TriedChanges]:
        return []

    def several(self, *_: object) -> list[TriedChanges]:
        return []

    def in_part(self, _: object, most: int) -> TriedChanges | None:
        self.shop.part_of.append(most)
        return self.shop.tried(self.start, self.shop.part, CAUTION) if self.shop.part else None


@pytest.fixture
def mended(monkeypatch: pytest.MonkeyPatch) -> Callable[..., tuple[Mending, Shop]]:
    def run(**more: object) -> tuple[Mending, Shop]:
        shop = Shop(**more)  # type: ignore[arg-type]
        monkeypatch.setattr(fewest_changes, "judged", shop.judged)
        monkeypatch.setattr(fewest_changes, "equipment_shortage", lambda job, first: shop.short * (job is JOB) * first)
        monkeypatch.setattr(fewest_changes, "ChangeSearch", lambda *of: Search(shop, *of))
        monkeypatch.setattr(fewest_changes, "candidates", lambda *of: ("candidates", *of))
        monkeypatch.setattr(fewest_changes, "back_in_line", lambda *_: [])
        return mend(JOB, 1, lambda *far: shop.told.append(far)), shop

    return run


def letters(found: Mending) -> str:
    assert all(each.says == (f"Do {each.support}.",) for each in found.changes)
    return "".join(each.support for each in found.changes)


def test_where_nothing_is_wrong_nothing_is_changed_or_searched(mended: Callable[..., tuple[Mending, Shop]]) -> None:
    found, shop = mended()
    assert found == Mending(
        job=JOB,
        changes=(),
        enough=0,
        before=NOTE,
        verdict=NOTE,
        proven=True,
        margin=0.12,
        left=(),
        looked_at=0,
        interrupted=False,
    )
    assert shop.looked == []


def test_where_pieces_are_too_few_nothing_is_searched(mended: Callable[..., tuple[Mending, Shop]]) -> None:
    found, shop = mended(short=2, verdicts={"": STOP}, finds={STOP: "a"})
    assert (found.short, found.changes, found.enough, found.verdict, found.proven) == (2, (), 0, STOP, True)
    assert not found.interrupted
    assert shop.looked == []


def test_where_no_changes_take_the_stops_away_nothing_is_changed_and_that_is_not_proven(
    mended: Callable[..., tuple[Mending, Shop]],
) -> None:
    found, shop = mended(verdicts={"": STOP})
    assert (found.changes, found.enough, found.before, found.verdict) == ((), 0, STOP, STOP)
    assert (found.proven, found.interrupted, found.looked_at) == (False, False, 5)
    assert shop.looked == [("", STOP, 1.0)]
    # Stops are not mended in part.
    assert shop.part_of == []


@pytest.mark.parametrize(("changes", "proven"), [("a", "proven"), ("ab", "proven"), ("abc", "not"), ("abcd", "not")])
def test_one_and_two_changes_are_proven_to_be_the_fewest(
    changes: str, proven: str, mended: Callable[..., tuple[Mending, Shop]]
) -> None:
    """With fewer of them it stops."""
    stops = {changes[:count]: STOP for count in range(len(changes))}
    found, _ = mended(verdicts=stops, finds={STOP: changes})
    assert (letters(found), found.enough, found.verdict) == (changes, len(changes), NOTE)
    assert found.proven is (proven == "proven")
    left_out, _ = mended(verdicts=stops, finds={STOP: changes}, cut=True)
    assert (left_out.proven, left_out.ran_out, found.ran_out) == (False, True, False)


def test_cautions_are_looked_at_with_a_quarter_of_the_looks_once_nothing_stops(
    mended: Callable[..., tuple[Mending, Shop]],
) -> None:
    """The change b takes the caution away that a leaves; with b alone it stops."""
    verdicts = {"": STOP, "a": CAUTION, "b": STOP}
    found, shop = mended(verdicts=verdicts, finds={STOP: "a", CAUTION: "b"}, left={"b": "xy"})
    assert (letters(found), found.enough, found.verdict, found.proven) == ("ab", 1, NOTE, False)
    assert shop.looked == [("", STOP, 1.0), ("a", CAUTION, 0.25)]
    assert found.looked_at == 10
    assert shop.told == [(5, 5), (5, 5)]
    nothing, shop = mended(verdicts=verdicts, finds={STOP: "a"})
    assert (letters(nothing), nothing.enough, nothing.verdict, nothing.proven) == ("a", 1, CAUTION, True)
    # Of four changes three are left.
    assert shop.part_of == [3]


def test_a_change_that_a_later_one_makes_idle_is_left_out(mended: Callable[..., tuple[Mending, Shop]]) -> None:
    found, _ = mended(verdicts={"": STOP, "a": CAUTION}, finds={STOP: "a", CAUTION: "b"})
    assert (letters(found), found.enough, found.job.title) == ("b", 1, "b")
    # Not where it is as bad as before without it, or has another trouble.
    for alone in (STOP, CAUTION):
        verdicts = {"": STOP, "a": CAUTION, "ab": CAUTION, "b": alone}
        found, _ = mended(
            verdicts=verdicts,
            finds={STOP: "a", CAUTION: "b"},
            left={"a": "xy", "ab": "x", "b": "y" if alone is CAUTION else "x"},
        )
        assert letters(found) == "ab"


def test_four_changes_are_enough(mended: Callable[..., tuple[Mending, Shop]]) -> None:
    verdicts = {"": STOP, "a": STOP, "ab": STOP, "abc": CAUTION, "abcd": CAUTION}
    found, shop = mended(verdicts=verdicts, finds={STOP: "abcd", CAUTION: "e"})
    assert (letters(found), found.enough) == ("abcd", 3)
    assert shop.looked == [("", STOP, 1.0)]


@pytest.mark.parametrize(
    ("finds", "part", "left", "proven"),
    [
        ("a", "", "", "proven"),
        ("ab", "", "", "proven"),
        ("abc", "", "", "not"),
        ("", "ab", "y", "not"),
        ("", "", "", "not"),
    ],
)
def test_of_cautions_it_is_proven_where_one_or_two_changes_take_all_away(
    finds: str, part: str, left: str, proven: str, mended: Callable[..., tuple[Mending, Shop]]
) -> None:
    verdicts = {"": CAUTION} | ({part: CAUTION} if part else {})
    # Each change is needed: with fewer there is one trouble more.
    verdicts |= {each: CAUTION for each in ("b", "bc", "ac", "c") if finds or part}
    verdicts |= {"ab": CAUTION} if finds == "abc" else {}
    verdicts |= {"a": CAUTION} if len(finds or part) > 1 else {}
    found, shop = mended(
        verdicts=verdicts, finds={CAUTION: finds}, part=part, left={"": "xy"} | ({part: left} if part else {})
    )
    assert letters(found) == finds + part
    assert found.enough == 0
    assert found.proven is (proven == "proven")
    assert shop.looked == [("", CAUTION, 1.0)]
    assert shop.part_of == ([] if finds else [4])


def test_an_interrupt_ends_it_with_the_best_so_far(mended: Callable[..., tuple[Mending, Shop]]) -> None:
    verdicts = {"": STOP, "a": CAUTION}
    nothing, _ = mended(verdicts=verdicts, interrupts={STOP: ""})
    assert (nothing.changes, nothing.proven, nothing.interrupted, nothing.enough) == ((), False, True, 0)
    first, _ = mended(verdicts=verdicts, interrupts={STOP: "a"})
    assert (letters(first), first.proven, first.interrupted, first.enough) == ("a", False, True, 1)
    # The best of the first search is not made twice.
    stands, _ = mended(verdicts=verdicts, finds={STOP: "a"}, interrupts={CAUTION: ""})
    assert (letters(stands), stands.proven, stands.interrupted) == ("a", False, True)
    both, _ = mended(verdicts=verdicts, finds={STOP: "a"}, interrupts={CAUTION: "b"})
    assert (letters(both), both.job.title, both.enough, both.interrupted) == ("ab", "ab", 1, True)


def test_a_stand_at_no_point_is_a_caution_itself(mended: Callable[..., tuple[Mending, Shop]]) -> None:
    found, _ = mended(verdicts={"": STOP}, finds={STOP: "a"}, cells="a")
    assert found.verdict is CAUTION
    # The margin and the rest are those of the plan.
    assert (found.before, found.margin, found.job.title) == (STOP, 0.12, "a")


def test_what_is_left_is_told_stops_first(mended: Callable[..., tuple[Mending, Shop]]) -> None:
    found, _ = mended(verdicts={"": CAUTION})
    name = STAGES[0].state.name
    assert found.left == (
        LeftOver(name, finding(STOP, "s")),
        LeftOver(name, finding(CAUTION, "c")),
        LeftOver(name, finding(CAUTION, "d")),
    )


def test_it_is_told_once_that_nothing_stops_and_only_then(monkeypatch: pytest.MonkeyPatch) -> None:
    told: list[str] = []
    for verdicts, finds, times in (({"": STOP}, "a", 1), ({"": STOP}, "", 0), ({"": CAUTION}, "", 0)):
        shop = Shop(verdicts=dict(verdicts), finds={STOP: finds})
        monkeypatch.setattr(fewest_changes, "judged", shop.judged)
        monkeypatch.setattr(fewest_changes, "equipment_shortage", lambda *_: 0)
        monkeypatch.setattr(fewest_changes, "ChangeSearch", lambda *of, shop=shop: Search(shop, *of))
        monkeypatch.setattr(fewest_changes, "candidates", lambda *of: ("candidates", *of))
        told.clear()
        mend(JOB, 1, lambda *_: None, lambda: told.append("nothing stops"))
        assert len(told) == times

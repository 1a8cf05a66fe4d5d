"""Cures as buttons: what a check found would help, in words and as a change that the page gives back to be made."""

from dataclasses import dataclass
from math import dist
from typing import assert_never

from loadplan.board.cure_changes import raised_setting, set_so
from loadplan.board.verdict_cells import Plain
from loadplan.checks.phrases import listed
from loadplan.model.job import Job, State
from loadplan.model.plan_cure import (
    LessPull,
    LiftLocked,
    LiftLowered,
    OtherEquipment,
    OtherPiece,
    PlanCure,
    StandsMoved,
    StandsRaised,
    StandUnder,
)
from loadplan.model.vehicle import PlanPoint
from loadplan.model.verdict import Measure, Quantity, Sentence
from loadplan.report.words.vocabulary import Reader


@dataclass(frozen=True, slots=True)
class CureButtons:
    """Words cures as buttons.

    Attributes:
        job: The job.
        state: The step in which they help.
        reader: Who reads them.
    """

    job: Job
    state: State
    reader: Reader

    def of(self, cures: tuple[PlanCure, ...]) -> list[Plain]:
        """Word cures as buttons.

        Args:
            cures: What would help in the step.

        Returns:
            Words, and the change that the page gives back; none for what cannot be done so.
        """
        found = (self._planned(cure) or self._in_step(cure) for cure in cures)
        return [{"says": self.reader.sentence(says), "change": change} for says, change in filter(None, found)]

    def _in_step(self, cure: PlanCure) -> tuple[Sentence, Plain] | None:
        """Return what is done otherwise in the step: the lift, or less work."""
        step = self.state.index
        match cure:
            case LiftLocked():
                return ("Lift on its locks in this step",), {"kind": "lift", "step": step, "locked": True}
            case LiftLowered(by):
                act = "Bring the stands up " if self.state.stage.raised is not None else "Lower the lift "
                says = (act, Quantity(by, Measure.LENGTH), " past first touch")
                return says, {"kind": "lift", "step": step, "lowered": by}
            case LessPull(None):
                bolts = "No hard pull on a bar here: break tight bolts loose before"
                return (bolts,), {"kind": "pull_less", "step": step, "share": None}
            case LessPull(share):
                assert share is not None
                says = ("Pull with at most ", Quantity(share, Measure.SHARE), " of that in this step")
                return says, {"kind": "pull_less", "step": step, "share": share}
            case _:
                return None

    def _planned(self, cure: PlanCure) -> tuple[Sentence, Plain] | None:
        """Return what is planned otherwise at stands; None where one of them, or its place, is not the plan's."""
        match cure:
            case StandsRaised():
                return self._raised(cure)
            case StandsMoved():
                return self._moved(cure)
            case OtherPiece(support, tag):
                return self._at(support, f"Take the piece {tag} at {support}", {"kind": "tag", "tag": tag})
            case StandUnder(support, point):
                row = _row([each.name for each in self.job.vehicle.points], point)
                return self._at(support, f"Plan {support} under {point}", {"kind": "under", "point": row})
            case OtherEquipment(support, equipment):
                row = _row([each.name for each in self.job.shop.equipment], equipment)
                return self._at(support, f"Take {equipment} for {support}", {"kind": "take_other", "equipment": row})
            case LiftLocked() | LiftLowered() | LessPull():
                return None
            case _:
                assert_never(cure)

    def _at(self, support: str, says: str, change: dict[str, Plain]) -> tuple[Sentence, Plain] | None:
        """Return a change of one stand; None where something that it names is not there."""
        row = self._stand(support)
        return None if row is None or None in change.values() else ((says,), {**change, "stand": row})

    def _raised(self, cure: StandsRaised) -> tuple[Sentence, Plain] | None:
        """Return stands set higher, or lower; None where a setting is missing, or is a step's own."""
        here = {each.name: each for each in self.state.supports}
        says: list[Sentence] = []
        stands: list[Plain] = []
        for each in cure.raises:
            row = self._stand(each.support)
            if row is None or each.support not in here:
                return None
            support = self.job.supports[row]
            setting = raised_setting(self.job, support, each.by)
            # What a step sets anew is not the height that the stand's table has.
            if setting is None or here[each.support].height != support.height:
                return None
            says.append(set_so(support, setting))
            stands.append({"stand": row, "by": each.by})
        return tuple(listed(says, ", ")), {"kind": "raise", "stands": stands}

    def _moved(self, cure: StandsMoved) -> tuple[Sentence, Plain] | None:
        """Return stands planned further out; None where one of them is not the plan's."""
        rows = [self._stand(each.support) for each in cure.moves]
        if None in rows:
            return None
        stands: list[Plain] = [
            {"stand": row, "x": each.to[0], "y": each.to[1]} for row, each in zip(rows, cure.moves, strict=True)
        ]
        who = " and ".join(each.support for each in cure.moves)
        says: Sentence = (f"Plan {who} ", Quantity(cure.by, Measure.LENGTH), " further out")
        return says, {"kind": "move_all", "stands": stands}

    def _stand(self, name: str) -> int | None:
        """Return a stand's number in the plan, None where it has none."""
        return _row([each.name for each in self.job.supports], name)


def one_more_button(cells: tuple[PlanPoint, ...]) -> list[Plain]:
    """Word one more stand as a button, where the plan is hatched.

    Args:
        cells: Middles of the cells where one more stand would help [m].

    Returns:
        One button, for the cell nearest to the middle of all; none where there are none.
    """
    if not cells:
        return []
    middle = sum(x for x, _ in cells) / len(cells), sum(y for _, y in cells) / len(cells)
    x, y = min(cells, key=lambda cell: dist(cell, middle))
    return [{"says": "One more stand in the hatched area", "change": {"kind": "add", "x": x, "y": y}}]


def troubles_of(check: str, subjects: tuple[str, ...], stages: tuple[int, int]) -> list[Plain]:
    """List what has to be gone once a cure of a finding is done.

    Args:
        check: Name of its check.
        subjects: What it is about.
        stages: First and last step in which it reads so, from 0.

    Returns:
        Step, check and subject of each, as the page gives them back.
    """
    first, last = stages
    return [[step, check, subject] for step in range(first, last + 1) for subject in subjects]


def _row(names: list[str], name: str) -> int | None:
    return names.index(name) if name in names else None

"""Cures as buttons: what a check found would help, as a change that the page gives back to be made."""

from collections.abc import Iterator
from dataclasses import replace
from math import dist
from typing import Literal, assert_never

from pydantic import Field

from loadplan.board.draft import Draft
from loadplan.board.refusals import RefusedError
from loadplan.board.stand_changes import Metres, Number, Said, nth, stand_of
from loadplan.board.verdict_cells import Plain
from loadplan.checks.phrases import listed
from loadplan.files.toml_edit import Change, Edit, number
from loadplan.files.write_changed_stands import stand_edits
from loadplan.limits import TAPE
from loadplan.model.job import Job, State, Support
from loadplan.model.plan_cure import LiftLocked, LiftLowered, OtherPiece, PlanCure, StandsRaised
from loadplan.model.vehicle import PlanPoint
from loadplan.model.verdict import Measure, Quantity, Sentence
from loadplan.planning.mending.fitted_setting import FittedSetting, settings_near
from loadplan.planning.mending.plan_change import set_words, with_support
from loadplan.report.words.vocabulary import Reader, reader_of
from loadplan.units import Kind, System, from_si

FURTHER = 0.03
"""A setting that is further than this [m] beyond what would help is no cure any more."""


class RaisedStand(Said):
    """One of the stands that are set higher, or lower."""

    stand: Number
    by: Metres


class RaiseStands(Said):
    """Stands are set so much higher, by their settings and the shop's shims."""

    kind: Literal["raise"]
    stands: tuple[RaisedStand, ...] = Field(min_length=1, max_length=40)

    def edits(self, draft: Draft, _: State) -> tuple[list[Edit], str]:
        """Return what changes in the file, and what to say.

        Raises:
            RefusedError: If a stand cannot be set so.
        """
        after, told = draft.job, []
        for each in self.stands:
            support = stand_of(draft, each.stand)
            setting = raised_setting(draft.job, support, each.by)
            if setting is None:
                raise RefusedError(f"{support.name} cannot be set so: no setting with a shim of the shop comes near.")
            after = with_support(after, replace(support, height=setting.height, shim=setting.shim))
            told.append(_setting(support, setting))
        words = reader_of(draft.job, System.US if draft.job.us_units else System.METRIC)
        return stand_edits(draft.file, draft.job, after), f"{words.sentence(tuple(listed(told, ', ')))}."


class SetLift(Said):
    """How far the lift goes down in a step, or that it stands on its locks."""

    kind: Literal["lift"]
    step: Number
    locked: bool | None = None
    lowered: Metres | None = None

    def edits(self, draft: Draft, _: State) -> tuple[list[Edit], str]:
        """Return what changes in the file, and what to say."""
        stage = nth(draft.job.stages, self.step, "step")
        edits: list[Edit] = []
        said = []
        if self.locked is not None:
            edits.append(Change("stage", self.step, "lift_locked", "true" if self.locked else "false"))
            said.append("The lift is on its locks." if self.locked else "The lift is not on its locks.")
        if self.lowered is not None:
            key = "raised" if stage.raised is not None else "lowered"
            value = number(from_si(self.lowered, Kind.LENGTH, draft.file.source.system))
            edits.append(Change("stage", self.step, key, value))
            said.append("How far it goes past first touch is written in.")
        return edits, " ".join(said)


def raised_setting(job: Job, support: Support, by: float) -> FittedSetting | None:
    """Find how a stand is set at least so much higher, or lower by a negative height.

    Args:
        job: The job, whose shop has the shims.
        support: The stand.
        by: How much [m].

    Returns:
        The setting; None where none comes near, or the stand is brought up to touch.
    """
    if support.height is None or support.set_height is None:
        return None
    wanted = support.set_height + by
    near = settings_near(job, support.equipment, wanted)
    beyond = [(each.total - wanted) * (1 if by >= 0 else -1) for each in near]
    fits = [(far, each.shim is not None, each) for far, each in zip(beyond, near, strict=True) if far >= -TAPE]
    best = min(fits, key=lambda each: (round(each[0], 5), each[1]), default=None)
    return best[2] if best and best[0] <= FURTHER else None


def cure_buttons(cures: tuple[PlanCure, ...], job: Job, state: State, reader: Reader) -> list[Plain]:
    """Word cures as buttons.

    Args:
        cures: What would help in a step.
        job: The job.
        state: The step.
        reader: Who reads it.

    Returns:
        Words, and the change that the page gives back; none for what cannot be done so.
    """
    return [button for cure in cures for button in _buttons(cure, job, state, reader)]


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


def _buttons(cure: PlanCure, job: Job, state: State, reader: Reader) -> Iterator[Plain]:
    """Yield the button of a cure, if it has one."""
    rows = {each.name: row for row, each in enumerate(job.supports)}
    match cure:
        case StandsRaised(raises):
            supports = {each.name: each for each in state.supports}
            known = [each for each in raises if each.support in rows and each.support in supports]
            # What a step sets anew is not the height that the stand's table has.
            same = all(supports[each.support].height == job.supports[rows[each.support]].height for each in known)
            found = [(s := job.supports[rows[each.support]], raised_setting(job, s, each.by)) for each in known]
            if len(known) < len(raises) or not same or any(setting is None for _, setting in found):
                return
            says = listed([_setting(support, setting) for support, setting in found if setting], ", ")
            stands: list[Plain] = [{"stand": rows[each.support], "by": each.by} for each in known]
            yield {"says": reader.sentence(tuple(says)), "change": {"kind": "raise", "stands": stands}}
        case LiftLocked():
            yield {
                "says": "Lift on its locks in this step",
                "change": {"kind": "lift", "step": state.index, "locked": True},
            }
        case LiftLowered(by):
            act = "Bring the stands up " if state.stage.raised is not None else "Lower the lift "
            says_far: Sentence = (act, Quantity(by, Measure.LENGTH), " past first touch")
            yield {"says": reader.sentence(says_far), "change": {"kind": "lift", "step": state.index, "lowered": by}}
        case OtherPiece(support, tag):
            if support in rows:
                change: dict[str, Plain] = {"kind": "tag", "stand": rows[support], "tag": tag}
                yield {"says": reader.words(f"Take the piece {tag} at {support}"), "change": change}
        case _:
            assert_never(cure)


def _setting(support: Support, setting: FittedSetting) -> Sentence:
    """Return how a stand is set, in words."""
    return (f"{support.name} ", *set_words(setting))

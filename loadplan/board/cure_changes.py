"""What cures do to the plan: several stands raised or moved, another kind as high, the lift otherwise, less pull."""

from dataclasses import replace
from typing import Literal

import tomlkit
from pydantic import Field

from loadplan.board.draft import Draft
from loadplan.board.refusals import RefusedError
from loadplan.board.snap_places import bearing_at
from loadplan.board.stand_changes import Metres, Number, Said, nth, stand_of
from loadplan.checks.phrases import listed
from loadplan.files import edit_stands
from loadplan.files.toml_edit import Change, Edit, number
from loadplan.files.write_changed_stands import stand_edits
from loadplan.limits import TAPE
from loadplan.model.job import Job, State, Support
from loadplan.model.verdict import Sentence
from loadplan.planning.mending.fitted_setting import FittedSetting, settings_near
from loadplan.planning.mending.plan_change import set_words, support_of, with_support
from loadplan.planning.mending.stand_resets import equipment_changes
from loadplan.report.words.vocabulary import reader_of
from loadplan.units import Kind, System, from_si, to_si

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
            told.append(set_so(support, setting))
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


class MovedStand(Said):
    """One of the stands that are moved."""

    stand: Number
    x: Metres
    y: Metres


class MoveStands(Said):
    """Stands are moved, all of them in one change."""

    kind: Literal["move_all"]
    stands: tuple[MovedStand, ...] = Field(min_length=1, max_length=40)

    def edits(self, draft: Draft, state: State) -> tuple[list[Edit], str]:
        """Return what changes in the file, and what to say."""
        edits: list[Edit] = []
        names = []
        for each in self.stands:
            support = stand_of(draft, each.stand)
            to = bearing_at(draft.job, state, support, (each.x, each.y), 0.0)
            edits += edit_stands.moved(draft.file, each.stand, to)
            names.append(support.name)
        return edits, f"{', '.join(names)} moved. Look whether there is a hard place at each."


class TakeOther(Said):
    """Another kind of equipment stands at a stand's place, and is set as high as its settings and shims allow."""

    kind: Literal["take_other"]
    stand: Number
    equipment: Number

    def edits(self, draft: Draft, _: State) -> tuple[list[Edit], str]:
        """Return what changes in the file, and what to say.

        Raises:
            RefusedError: If that kind does not come near the height.
        """
        support = stand_of(draft, self.stand)
        wanted = nth(draft.job.shop.equipment, self.equipment, "equipment")
        for change in equipment_changes(draft.job, support):
            made = change.make(draft.job)
            if made and support_of(made.job, support.name).equipment.name == wanted.name:
                words = reader_of(draft.job, System.US if draft.job.us_units else System.METRIC)
                return stand_edits(draft.file, draft.job, made.job), words.sentence(made.says)
        raise RefusedError(f"{wanted.name} cannot be set as high as {support.name} has to be.")


class PullLess(Said):
    """Nobody pulls as hard in a step: a share of the known pull is left, or no hard pull on a bar."""

    kind: Literal["pull_less"]
    step: Number
    share: float | None = Field(None, gt=0.0, lt=1.0, allow_inf_nan=False)

    def edits(self, draft: Draft, _: State) -> tuple[list[Edit], str]:
        """Return what changes in the file, and what to say.

        Raises:
            RefusedError: If the step has no such pull any more.
        """
        stage = nth(draft.job.stages, self.step, "step")
        if self.share is None:
            if not stage.bar:
                raise RefusedError("Nobody pulls on a bar in that step any more.")
            return [Change("stage", self.step, "bar", None)], f"No hard pull on a bar in step {self.step + 1}."
        raw = draft.file.source.raw["stage"][self.step].get("pull")
        if stage.pull is None or not isinstance(raw, dict):
            raise RefusedError("There is no known pull in that step any more.")
        key, kind = ("force", Kind.FORCE) if "force" in raw else ("torque", Kind.TORQUE)
        system = draft.file.source.system
        now = from_si(to_si(raw[key], kind, system) * self.share, kind, system)
        pull = tomlkit.inline_table()
        pull.update({**raw, key: tomlkit.parse(f"value = {number(round(now, 1))}")["value"]})
        return [Change("stage", self.step, "pull", pull.as_string())], f"The pull is less in step {self.step + 1}."


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


def set_so(support: Support, setting: FittedSetting) -> Sentence:
    """Word how a stand is set.

    Args:
        support: The stand.
        setting: Its height and shim.

    Returns:
        Its name, and how.
    """
    return (f"{support.name} ", *set_words(setting))

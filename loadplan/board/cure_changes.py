"""What cures do to the plan that no form of the page does: several stands moved, another kind as high, less pull."""

from typing import Literal

import tomlkit
from pydantic import Field

from loadplan.board.draft import Draft
from loadplan.board.refusals import RefusedError
from loadplan.board.snap_places import bearing_at
from loadplan.board.stand_changes import Metres, Number, Said, nth, stand_of
from loadplan.files import edit_stands
from loadplan.files.toml_edit import Change, Edit, number
from loadplan.files.write_changed_stands import stand_edits
from loadplan.model.job import State
from loadplan.planning.mending.plan_change import support_of
from loadplan.planning.mending.stand_resets import equipment_changes
from loadplan.report.words.vocabulary import reader_of
from loadplan.units import Kind, System, from_si, to_si


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

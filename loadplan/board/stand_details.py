"""What lies on a stand's saddle and which piece it is, changed as the page says it, and what becomes of the file."""

from typing import Literal

from loadplan.board.draft import Draft
from loadplan.board.refusals import RefusedError
from loadplan.board.stand_changes import Number, Said, Typed, nth, stand_of
from loadplan.files import edit_stands
from loadplan.files.toml_edit import Edit
from loadplan.model.job import Stack, State
from loadplan.report.words.number_format import units_of
from loadplan.report.words.vocabulary import reader_of


class SetShim(Said):
    """One of the shop's shims is laid on a stand's saddle; none: the saddle is bare."""

    kind: Literal["shim"]
    stand: Number
    shim: Number | None = None

    def edits(self, draft: Draft, _: State) -> tuple[list[Edit], str]:
        """Return what changes in the file, and what to say."""
        support = stand_of(draft, self.stand)
        if self.shim is None:
            return edit_stands.shimmed(draft.file, self.stand, None), f"No shim on {support.name}."
        shim = nth(draft.job.shop.shims, self.shim, "shim")
        high = reader_of(draft.job, units_of(draft.job)).length(shim.height)
        stack = Stack(shim.height, shim.wood, crib=False)
        return edit_stands.shimmed(draft.file, self.stand, stack), f"A shim of {high} lies on {support.name}."


class SetTag(Said):
    """It is told which piece a stand is; an empty text: any of them."""

    kind: Literal["tag"]
    stand: Number
    tag: Typed

    def edits(self, draft: Draft, _: State) -> tuple[list[Edit], str]:
        """Return what changes in the file, and what to say.

        Raises:
            RefusedError: If the shop has no such piece, or it is out of use.
        """
        support = stand_of(draft, self.stand)
        if not self.tag:
            return edit_stands.tagged(self.stand, ""), f"{support.name} may be any {support.equipment.name}."
        if self.tag not in support.equipment.tags:
            raise RefusedError(f"The shop has no {support.equipment.name} with that tag.")
        if self.tag in support.equipment.out_of_use:
            raise RefusedError(f"The {support.equipment.name} with that tag is out of use.")
        return edit_stands.tagged(self.stand, self.tag), f"{support.name} is the piece {self.tag}."

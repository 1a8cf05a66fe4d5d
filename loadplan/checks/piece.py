"""Pieces of equipment in place: supports that share a piece are one, with one rating, one footprint and one count."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from loadplan.model.job import Support
from loadplan.model.shop import Equipment
from loadplan.model.vehicle import PlanPoint


@dataclass(frozen=True)
class Piece:
    """One piece of equipment in place.

    Attributes:
        name: Its name in the job, or that of its only support.
        supports: The supports that it makes, at least one.
    """

    name: str
    supports: tuple[Support, ...]

    @property
    def equipment(self) -> Equipment:
        """What it is."""
        return self.supports[0].equipment

    @property
    def tags(self) -> tuple[str, ...]:
        """Tags written for it, each once: one, or none where the job does not say."""
        return tuple(dict.fromkeys(each.tag for each in self.supports if each.tag))

    @property
    def bodies(self) -> frozenset[str]:
        """The bodies that it is under."""
        return frozenset(each.body for each in self.supports)

    @cached_property
    def centre(self) -> PlanPoint:
        """Mean of its places in plan [m]."""
        many = len(self.supports)
        return sum(each.at[0] for each in self.supports) / many, sum(each.at[1] for each in self.supports) / many


def pieces(supports: Iterable[Support]) -> tuple[Piece, ...]:
    """Gather supports by piece.

    Args:
        supports: Supports in place.

    Returns:
        The pieces in the order of their first support.
    """
    gathered: dict[tuple[bool, str], list[Support]] = {}
    for each in supports:
        gathered.setdefault((bool(each.piece), each.piece or each.name), []).append(each)
    return tuple(Piece(name, tuple(those)) for (_, name), those in gathered.items())

"""The tables of a file of readings, as users write them."""

from collections.abc import Iterator
from math import radians
from typing import Annotated

from loadplan.files.compound import MassSpread, MassSpreadRule
from loadplan.files.rules import AmountRule, ListOf
from loadplan.files.shape import Shape
from loadplan.files.values import FARTHEST, HEAVIEST, Text, YesNo
from loadplan.units import Kind

READINGS_SCHEMA = "loadplan-readings-1"

STEEPEST = radians(40)
"""Greatest tilt that is read: two of them at once still leave a vertical."""

MOST_PLACES = 12
"""Most places of one set."""

_LENGTH = AmountRule(Kind.LENGTH, -FARTHEST, FARTHEST)
_MASS = AmountRule(Kind.MASS, 0.0, HEAVIEST)

Touch = Annotated[tuple[float, ...], ListOf(_LENGTH, 2, 3, "lengths x, y, and z for a tilted set", ("x", "y", "z"))]
"""A place with or without its height [m]."""

Spread = Annotated[float, AmountRule(Kind.LENGTH, 0.0, FARTHEST)]
Load = Annotated[float, _MASS]
LoadSpread = Annotated[MassSpread, MassSpreadRule(_MASS)]
Tilted = Annotated[float, AmountRule(Kind.ANGLE, -STEEPEST, STEEPEST)]
TiltSpread = Annotated[float, AmountRule(Kind.ANGLE, 0.0, STEEPEST)]


class ReadingsHead(Shape):
    """What stands in a file of readings outside its sets."""

    title: Text | None = None
    tape: Spread | None = None


class ScaleTable(Shape):
    """One place that holds the unit, with or without a scale under it."""

    at: Touch
    load: Load | None = None
    pm: LoadSpread | None = None


class HookTable(Shape):
    """A crane scale from which the unit hangs."""

    at: Touch
    load: Load
    pm: LoadSpread | None = None
    hangs_level: YesNo | None = None


class SetTable(Shape):
    """One `[[set]]`: readings taken at one attitude."""

    nose_up: Tilted | None = None
    left_up: Tilted | None = None
    nose_up_pm: TiltSpread | None = None
    left_up_pm: TiltSpread | None = None
    scale: tuple[ScaleTable, ...] = ()
    hook: HookTable | None = None

    @property
    def places(self) -> tuple[tuple[str, ScaleTable | HookTable], ...]:
        """Key and table of every place that holds the unit, the hook last."""
        scales = [(f"scale.{number}", each) for number, each in enumerate(self.scale, 1)]
        return (*scales, *((("hook", self.hook),) if self.hook else ()))

    @property
    def tilted(self) -> bool:
        """Whether a tilt other than 0 is given."""
        return bool(self.nose_up or self.left_up)

    def complaints(self) -> Iterator[tuple[str, str]]:
        """Yield places that are too few, too many or lack their height, and words that do not fit the hook."""
        if not self.places:
            yield "scale", "is missing: list every place that holds the unit, or give its hook"
        elif all(each.load is None for _, each in self.places):
            yield "scale", "has no load at all: a set needs at least one reading"
        if len(self.places) > MOST_PLACES:
            yield "scale", f"has {len(self.places)} places: at most {MOST_PLACES} are read"
        for key, each in self.places:
            if len(each.at) < 3 and (self.tilted or self.nose_up_pm or self.left_up_pm):
                yield f"{key}.at", "must be three lengths [x, y, z]: in a tilted set the height of each place counts"
        yield from self._hook_complaints()

    def _hook_complaints(self) -> Iterator[tuple[str, str]]:
        if self.hook is None or self.hook.hangs_level is None:
            return
        if self.scale:
            yield "hook.hangs_level", "must be left out: the unit stands on scales as well as hanging"
        elif self.hook.hangs_level and self.tilted:
            yield "hook.hangs_level", "must not be true where nose_up or left_up says that the unit hangs tilted"

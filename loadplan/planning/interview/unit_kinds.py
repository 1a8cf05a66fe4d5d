"""The kinds of units that come out, the lumps that each is made of, and what these weigh where nobody knows."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from loadplan.planning.interview.question import Value, Weight

SHELL = "shell"


@dataclass(frozen=True, slots=True)
class MassRange:
    """Least and greatest mass [kg]."""

    least: float
    most: float

    @property
    def middle(self) -> Weight:
        """The mass in its middle, and how far it may be off."""
        return Weight((self.least + self.most) / 2, (self.most - self.least) / 2)


@dataclass(frozen=True, slots=True)
class UnitLump:
    """One of the lumps that a unit is made of.

    Attributes:
        key: Its word.
        called: What reports call it.
        body: The assembly that it belongs to.
        usual: What nobody is asked about.
        guesses: What it weighs where nobody knows, by its kind; common practice, no source.
        ways: Where to measure its edges.
    """

    key: str
    called: str
    body: str
    usual: MassRange
    guesses: Mapping[str, MassRange]
    ways: str = "Hold the tape to what sticks out furthest, brackets and hoses aside."


@dataclass(frozen=True, slots=True)
class UnitKind:
    """A kind of unit.

    Attributes:
        word: What it is called.
        lumps: What it is made of.
        bolted: The assembly that is bolted to the vehicle, "" where none is.
        inner: The two assemblies of which mounts or links stay tight; empty where there are none.
        hung: The assembly that hangs from the vehicle by mounts that come off; "" where none does.
        inner_ties: How many of the first there usually are.
        stands: How many stands are usual.
        prop: What grows heavy when it is out, "" where the vehicle stays level.
        is_between: Whether it lies between the axles.
    """

    word: str
    lumps: tuple[UnitLump, ...]
    bolted: str = ""
    inner: tuple[str, ...] = ()
    hung: str = ""
    inner_ties: int = 1
    stands: int = 4
    prop: str = ""
    is_between: bool = False

    @property
    def is_rear(self) -> bool:
        """Whether it is at the rear axle: the nose grows heavy when it is out."""
        return self.prop == "nose"

    def lump(self, key: str) -> UnitLump:
        """Find one of its lumps by its word.

        Args:
            key: The word.

        Returns:
            The lump.
        """
        return next(each for each in self.lumps if each.key == key)


_BARE: Mapping[str, MassRange] = MappingProxyType({
    "four-cylinder petrol": MassRange(100.0, 150.0),
    "V6 petrol": MassRange(150.0, 200.0),
    "V8 petrol": MassRange(250.0, 300.0),
    "four-cylinder diesel": MassRange(150.0, 200.0),
    "six-cylinder diesel": MassRange(200.0, 250.0),
})
"""Bare engines [kg]: common practice, no source."""

ENGINE = UnitLump(
    "engine",
    "dressed engine",
    "powertrain",
    MassRange(60.0, 450.0),
    # What is on a bare one: ancillaries 20 to 30 kg, fluids and the rest up to 45: common practice, no source.
    MappingProxyType({name: MassRange(bare.least + 20.0, bare.most + 75.0) for name, bare in _BARE.items()}),
)
GEARBOX = UnitLump(
    "gearbox",
    "gearbox",
    "powertrain",
    MassRange(25.0, 160.0),
    MappingProxyType({"manual": MassRange(34.0, 57.0), "automatic": MassRange(57.0, 79.0)}),
)
SUBFRAME = UnitLump(
    "subframe",
    "subframe with what hangs on it",
    "subframe",
    MassRange(15.0, 130.0),
    MappingProxyType({"": MassRange(30.0, 70.0)}),
)
FINAL_DRIVE = UnitLump(
    "drive",
    "final drive",
    "final drive",
    MassRange(12.0, 150.0),
    MappingProxyType({"differential": MassRange(18.0, 45.0), "electric drive": MassRange(70.0, 120.0)}),
)
REAR_SUBFRAME = UnitLump(
    "subframe",
    "rear subframe with arms and hubs",
    "rear subframe",
    MassRange(25.0, 180.0),
    MappingProxyType({"": MassRange(60.0, 120.0)}),
)


def _alone(key: str, called: str, usual: MassRange, guesses: Mapping[str, MassRange]) -> tuple[UnitLump, ...]:
    return (UnitLump(key, called, called, usual, MappingProxyType(dict(guesses))),)


UNIT_KINDS: Mapping[str, UnitKind] = MappingProxyType({
    each.word: each
    for each in (
        UnitKind(
            "front unit", (ENGINE, GEARBOX, SUBFRAME), "subframe", ("powertrain", "subframe"), "powertrain",
            stands=6, prop="tail",
        ),
        UnitKind(
            "rear unit", (FINAL_DRIVE, REAR_SUBFRAME), "rear subframe", ("final drive", "rear subframe"),
            inner_ties=3, prop="nose",
        ),
        UnitKind(
            "drive unit",
            _alone("unit", "drive unit", MassRange(40.0, 250.0), {"": MassRange(70.0, 120.0)}),
            "drive unit",
        ),
        UnitKind(
            "battery pack",
            _alone("pack", "battery pack", MassRange(100.0, 900.0), {"": MassRange(250.0, 550.0)}),
            "battery pack",
            is_between=True,
        ),
        UnitKind(
            "axle",
            _alone("axle", "axle", MassRange(40.0, 350.0), {"": MassRange(70.0, 160.0)}),
            "axle", prop="nose",
        ),
        UnitKind("gearbox", _alone("gearbox", "gearbox", GEARBOX.usual, GEARBOX.guesses), "gearbox"),
        UnitKind("vehicle on stands", (), is_between=True),
    )
})  # fmt: skip
"""What may come out, by its word."""


def lump_weight(lump: UnitLump, weight: Value, kind: Value) -> Weight:
    """Tell what a lump weighs.

    Args:
        lump: The lump.
        weight: What was answered, None where that was left open.
        kind: Of which kind it is, None where not asked.

    Returns:
        What was answered, or the middle of the range for its kind, of all its kinds where that is not known.
    """
    if isinstance(weight, Weight):
        return weight
    ranges = [lump.guesses[kind]] if isinstance(kind, str) and kind in lump.guesses else list(lump.guesses.values())
    return MassRange(min(each.least for each in ranges), max(each.most for each in ranges)).middle

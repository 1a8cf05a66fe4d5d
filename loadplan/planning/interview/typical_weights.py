"""What the lumps of a front unit weigh where nobody knows: ranges by kind."""

from collections.abc import Mapping
from types import MappingProxyType

from loadplan.planning.interview.answer_parsing import Value

LUMPS: Mapping[str, str] = MappingProxyType({
    "engine": "dressed engine",
    "gearbox": "gearbox",
    "subframe": "subframe with what hangs on it",
})
"""What a first job is made of, the vehicle aside, with the name of each."""

SOURCES = ("scales", "data sheet", "guess")
"""Where a weight may be from."""

Guess = tuple[float, float]
"""Least and greatest mass [kg]."""

ANCILLARIES: Guess = (20.0, 75.0)
"""What a dressed engine weighs above a bare one [kg]: ancillaries 20 to 30, fluids and the rest 23 to 45.

Common practice, no source.
"""

BARE_ENGINES: Mapping[str, Guess] = MappingProxyType({
    "four-cylinder petrol": (100.0, 150.0),
    "V6 petrol": (150.0, 200.0),
    "V8 petrol": (250.0, 300.0),
    "four-cylinder diesel": (150.0, 200.0),
    "six-cylinder diesel": (200.0, 250.0),
})
"""Bare engines [kg], in wide ranges: common practice, no source."""

GEARBOXES: Mapping[str, Guess] = MappingProxyType({"manual": (34.0, 57.0), "automatic": (57.0, 79.0)})
"""Gearboxes [kg], in wide ranges: common practice, no source."""

SUBFRAME: Guess = (30.0, 70.0)
"""A subframe with rack, arms and bar [kg]: common practice, no source."""


def lump_mass(lump: str, known: Mapping[str, Value]) -> tuple[float, float]:
    """Return what a lump weighs.

    Args:
        lump: One of `LUMPS`.
        known: Value of each answer.

    Returns:
        Mass and plus or minus [kg]: of the source that was named, or of the range for its kind.
    """
    weight = known.get(f"{lump}.weight")
    if isinstance(weight, float):
        share = {"scales": 0.02, "data sheet": 0.1}.get(str(known.get(f"{lump}.source")), 0.2)
        return weight, share * weight
    least, most = _guess(lump, str(known.get(f"{lump}.kind")))
    return (least + most) / 2, (most - least) / 2


def _guess(lump: str, kind: str) -> Guess:
    """Return the range for a kind of lump, for all kinds where that is not known."""
    match lump:
        case "engine":
            least, most = BARE_ENGINES.get(kind, _all(BARE_ENGINES))
            return least + ANCILLARIES[0], most + ANCILLARIES[1]
        case "gearbox":
            return GEARBOXES.get(kind, _all(GEARBOXES))
        case _:
            return SUBFRAME


def _all(guesses: Mapping[str, Guess]) -> Guess:
    return min(each[0] for each in guesses.values()), max(each[1] for each in guesses.values())

"""What units are made of and what their lumps weigh where nobody knows; common practice, no source."""

import pytest

from loadplan.planning.interview.question import Weight
from loadplan.planning.interview.unit_kinds import (
    ENGINE,
    FINAL_DRIVE,
    GEARBOX,
    REAR_SUBFRAME,
    SUBFRAME,
    UNIT_KINDS,
    MassRange,
    UnitLump,
    lump_weight,
)

GUESSES = {
    "engine": {
        "four-cylinder petrol": (120, 225), "V6 petrol": (170, 275), "V8 petrol": (270, 375),
        "four-cylinder diesel": (170, 275), "six-cylinder diesel": (220, 325),
    },
    "gearbox": {"manual": (34, 57), "automatic": (57, 79)},
    "subframe": {"": (30, 70)},
    "drive": {"differential": (18, 45), "electric drive": (70, 120)},
    "rear": {"": (60, 120)},
    "drive unit": {"": (70, 120)},
    "battery pack": {"": (250, 550)},
    "axle": {"": (70, 160)},
}  # fmt: skip
"""Least and greatest mass of each lump by its kind [kg]; an engine has 20 kg to 75 kg on it."""

USUAL = {
    "engine": (60, 450), "gearbox": (25, 160), "subframe": (15, 130), "drive": (12, 150), "rear": (25, 180),
    "drive unit": (40, 250), "battery pack": (100, 900), "axle": (40, 350),
}  # fmt: skip
"""Mass about which nobody is asked again [kg]."""

LUMPS = {
    "engine": ENGINE, "gearbox": GEARBOX, "subframe": SUBFRAME, "drive": FINAL_DRIVE, "rear": REAR_SUBFRAME,
    **{word: UNIT_KINDS[word].lumps[0] for word in ("drive unit", "battery pack", "axle")},
}  # fmt: skip


@pytest.mark.parametrize("name", LUMPS)
def test_a_lump_weighs_what_its_kind_does(name: str) -> None:
    lump = LUMPS[name]
    assert {kind: (each.least, each.most) for kind, each in lump.guesses.items()} == GUESSES[name]
    assert (lump.usual.least, lump.usual.most) == USUAL[name]


def test_units_are_made_of_lumps_that_hang_together_as_told() -> None:
    told = {
        word: (
            [(each.key, each.called, each.body) for each in kind.lumps],
            (kind.bolted, kind.inner, kind.hung),
            (kind.inner_ties, kind.stands, kind.prop),
        )
        for word, kind in UNIT_KINDS.items()
    }
    front = [
        ("engine", "dressed engine", "powertrain"),
        ("gearbox", "gearbox", "powertrain"),
        ("subframe", "subframe with what hangs on it", "subframe"),
    ]
    rear = [
        ("drive", "final drive", "final drive"),
        ("subframe", "rear subframe with arms and hubs", "rear subframe"),
    ]
    assert told == {
        "front unit": (front, ("subframe", ("powertrain", "subframe"), "powertrain"), (1, 6, "tail")),
        "rear unit": (rear, ("rear subframe", ("final drive", "rear subframe"), ""), (3, 4, "nose")),
        "drive unit": ([("unit", "drive unit", "drive unit")], ("drive unit", (), ""), (1, 4, "")),
        "battery pack": ([("pack", "battery pack", "battery pack")], ("battery pack", (), ""), (1, 4, "")),
        "axle": ([("axle", "axle", "axle")], ("axle", (), ""), (1, 4, "nose")),
        "gearbox": ([("gearbox", "gearbox", "gearbox")], ("gearbox", (), ""), (1, 4, "")),
        "vehicle on stands": ([], ("", (), ""), (1, 4, "")),
    }
    assert {lump.ways for kind in UNIT_KINDS.values() for lump in kind.lumps} == {
        "Hold the tape to what sticks out furthest, brackets and hoses aside."
    }
    assert UNIT_KINDS["gearbox"].lumps[0].guesses == GEARBOX.guesses
    assert UNIT_KINDS["front unit"].lump("gearbox") is GEARBOX


def test_what_is_not_known_is_taken_between_the_least_and_the_greatest() -> None:
    """Of a kind the middle of its range; of none the middle of all, as far off as either end."""
    assert MassRange(34.0, 57.0).middle == Weight(45.5, 11.5)
    assert lump_weight(GEARBOX, Weight(48.0, 1.0), "manual") == Weight(48.0, 1.0)
    assert lump_weight(GEARBOX, None, "manual") == Weight(45.5, 11.5)
    assert lump_weight(GEARBOX, None, None) == Weight(56.5, 22.5)
    assert lump_weight(GEARBOX, None, "no such kind") == Weight(56.5, 22.5)
    both = UnitLump("x", "x", "x", MassRange(1.0, 2.0), {"light": MassRange(3.0, 9.0), "heavy": MassRange(5.0, 7.0)})
    assert lump_weight(both, None, None) == Weight(6.0, 3.0)

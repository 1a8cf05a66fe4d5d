"""The answers of the interview as a vehicle's file, for this job and for the next one on a vehicle like it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from loadplan.files.toml_edit import quoted
from loadplan.files.toml_lines import TomlLines, toml_list, toml_table
from loadplan.model.vehicle import Place
from loadplan.planning.interview.odd_answers import lump_over
from loadplan.planning.interview.question import Edges, NamedWeight, Seat, Tie, Value, Weight
from loadplan.planning.interview.questions_on_places import MOST_MORE
from loadplan.planning.interview.questions_on_vehicle import stand_letters
from loadplan.planning.interview.unit_kinds import SHELL, UNIT_KINDS, UnitKind, lump_weight
from loadplan.units import System

MIDDLE_PM = 0.06
"""How far a lump's centre of gravity may be from its middle [m]: common practice, no source."""

SHELL_HEIGHT = 0.6
"""Height over the floor of the CG of a vehicle without its unit [m]: common practice, no source."""

SHELL_PM = (0.1, 0.04, 0.1)
"""How far that may be off [m]: common practice, no source."""

WEIGHT_PM = 0.05
"""Share of the whole vehicle's weight by which the rest of it may be off: common practice, no source."""

WHOLE = "whole vehicle"
"""What a vehicle is called that is set down itself."""

PADS = ("pad front left", "pad front right", "pad rear left", "pad rear right")

HEAD = (
    "# From answers to questions. Each lump's centre of gravity is taken at its middle, 60 mm either way, and marked\n"
    "# as a guess: weigh the unit when it is out. x is in front of the front axle line, y left of the centre line,\n"
    "# z up from the floor with the vehicle on its wheels."
)


@dataclass(frozen=True, slots=True)
class AnsweredPart:
    """Something with a weight.

    Attributes:
        name: Its name.
        body: The assembly that it belongs to.
        weight: What it weighs.
        at: Centre of gravity [m].
        at_pm: Plus or minus on it [m].
        box: Its edges, z over the floor, None where nobody measured them.
    """

    name: str
    body: str
    weight: Weight
    at: Place
    at_pm: Place
    box: Edges | None = None


@dataclass(frozen=True, slots=True)
class AnsweredVehicle:
    """What the answers say of a vehicle, in its own axes.

    Attributes:
        known: Value of each answer.
        kind: The kind of unit.
    """

    known: Mapping[str, Value]
    kind: UnitKind

    @property
    def floor(self) -> float:
        """How high the lift pads are over the floor [m]."""
        return self._float("pads.height")

    def place(self, key: str) -> Place:
        """Return a place [m], z over the floor."""
        value = self.known[key]
        place = value.place if isinstance(value, Seat | Tie) else value
        assert isinstance(place, tuple)
        x, y, z = (each for each in place if isinstance(each, float))
        return x, y, self.floor + z

    @property
    def boxes(self) -> dict[str, Edges]:
        """Edges of each lump by its word, z over the pads."""
        found = {lump.key: self.known[f"{lump.key}.box"] for lump in self.kind.lumps}
        return {key: box for key, box in found.items() if isinstance(box, Edges)}

    def box(self, key: str) -> Edges:
        """Return the edges of a lump, z over the floor [m]."""
        low, high = self.boxes[key].low, self.boxes[key].high
        return Edges((low[0], low[1], low[2] + self.floor), (high[0], high[1], high[2] + self.floor))

    @property
    def parts(self) -> list[AnsweredPart]:
        """The rest of the vehicle, the lumps, and what comes off them."""
        lumps = [self._lump(lump.key) for lump in self.kind.lumps]
        off = [self._off(number, part) for number, part in enumerate(self._new_parts, 1)]
        wholes = [self._rest(lumps), *lumps]
        less = (_less(whole, [part for key, part in off if key == whole.name]) for whole in wholes)
        return [*less, *(part for _, part in off)]

    def lump_of(self, letter: str) -> str:
        """Return the word of the lump that a stand is under, "" where there are no lumps."""
        seat = self.known[f"stand{letter}"]
        assert isinstance(seat, Seat)
        words = [lump.key for lump in self.kind.lumps]
        asked = self.known.get(f"stand{letter}.under")
        return seat.lump or lump_over(seat, self.boxes) or str(asked or "") or (words[-1] if words else "")

    @property
    def letters(self) -> str:
        """The letters of the stands."""
        count = self.known["stands"]
        assert isinstance(count, int)
        asked = stand_letters(count + MOST_MORE)
        return "".join(each for each in asked if isinstance(self.known.get(f"stand{each}"), Seat))

    @property
    def _new_parts(self) -> list[NamedWeight]:
        off = self.known.get("off")
        parts = [each for each in off if isinstance(each, NamedWeight)] if isinstance(off, tuple) else []
        return [each for each in parts if each.mass is not None]

    def _float(self, key: str) -> float:
        value = self.known[key]
        assert isinstance(value, float)
        return value

    def _lump(self, key: str) -> AnsweredPart:
        lump, box = self.kind.lump(key), self.box(key)
        weight = lump_weight(lump, self.known.get(f"{key}.weight"), self.known.get(f"{key}.kind"))
        x, y, z = ((one + other) / 2 for one, other in zip(box.low, box.high, strict=True))
        return AnsweredPart(lump.called, lump.body, weight, (x, y, z), (MIDDLE_PM, MIDDLE_PM, MIDDLE_PM), box)

    def _off(self, number: int, part: NamedWeight) -> tuple[str, AnsweredPart]:
        """Return a part that comes off, and the name of the lump, or of the whole vehicle, that it comes off."""
        seat = self.known[f"off{number}"]
        assert isinstance(seat, Seat)
        assert part.mass is not None
        called, body = WHOLE, SHELL
        if self.kind.lumps:
            lump = self.kind.lump(seat.lump or lump_over(seat, self.boxes) or self.kind.lumps[0].key)
            called, body = lump.called, lump.body
        weight = Weight(part.mass, 0.2 * part.mass)
        return called, AnsweredPart(part.name, body, weight, self.place(f"off{number}"), (MIDDLE_PM,) * 3)

    def _rest(self, lumps: list[AnsweredPart]) -> AnsweredPart:
        """Return what stays on the lift: the whole vehicle by its axle loads, less the lumps."""
        whole = self._float("weight")
        mass = whole - sum(each.weight.mass for each in lumps)
        middle = -self._float("wheelbase") * (1 - self._float("share"))
        x = (whole * middle - sum(each.weight.mass * each.at[0] for each in lumps)) / mass
        y = -sum(each.weight.mass * each.at[1] for each in lumps) / mass
        name = f"vehicle without its {self.kind.word}" if lumps else WHOLE
        return AnsweredPart(name, SHELL, Weight(mass, WEIGHT_PM * whole), (x, y, SHELL_HEIGHT), SHELL_PM)


def vehicle_text(known: Mapping[str, Value], system: System, *, for_practice: bool) -> str:
    """Write the vehicle's file.

    Args:
        known: Value of each answer.
        system: Units of the file.
        for_practice: Whether nobody measured it: then every report says so.

    Returns:
        TOML that the reader takes.
    """
    pen, said = TomlLines(system), AnsweredVehicle(known, UNIT_KINDS[str(known["what"])])
    head = (
        ("schema", '"loadplan-vehicle-1"'),
        ("name", quoted(str(known["name"]))),
        ("units", pen.units),
        ("example", "true" if for_practice else ""),
        ("known", '"guess"'),
    )
    tables = (*_bodies(said, pen), *(_part(each, pen) for each in said.parts), *_ties(said, pen), *_points(said, pen))
    return "\n".join((toml_table(HEAD, head), *tables))


def _less(lump: AnsweredPart, off: list[AnsweredPart]) -> AnsweredPart:
    """Return a lump less what comes off it: the two together are as it was answered."""
    mass = lump.weight.mass - sum(each.weight.mass for each in off)
    if not off or mass < 0.1 * lump.weight.mass:
        return lump
    at = [
        (lump.weight.mass * lump.at[axis] - sum(each.weight.mass * each.at[axis] for each in off)) / mass
        for axis in range(3)
    ]
    weight = Weight(mass, min(lump.weight.mass_pm, 0.9 * mass))
    return AnsweredPart(lump.name, lump.body, weight, (at[0], at[1], at[2]), lump.at_pm, lump.box)


def _bodies(said: AnsweredVehicle, pen: TomlLines) -> Iterator[str]:
    """Yield the shell, and each assembly of the unit with the edges of its lumps."""
    edges = ((each, said.known.get(f"{SHELL}.{each}")) for each in ("bottom", "top"))
    heights = ((each, pen.length(edge) if isinstance(edge, float) else "") for each, edge in edges)
    yield toml_table("[[body]]", (("name", quoted(SHELL)), *heights))
    for body in dict.fromkeys(lump.body for lump in said.kind.lumps):
        boxes = [said.box(lump.key) for lump in said.kind.lumps if lump.body == body]
        low = tuple(min(box.low[axis] for box in boxes) for axis in range(3))
        high = tuple(max(box.high[axis] for box in boxes) for axis in range(3))
        rows = (("bottom", pen.length(low[2])), ("top", pen.length(high[2])))
        yield toml_table("[[body]]", (("name", quoted(body)), ("outline", pen.outline(low, high)), *rows))


def _part(part: AnsweredPart, pen: TomlLines) -> str:
    """Return the table of a part; one whose edges were measured has an outline of its own."""
    box = part.box
    return toml_table(
        "[[part]]",
        (
            ("name", quoted(part.name)),
            ("body", quoted(part.body)),
            ("mass", pen.mass(part.weight.mass)),
            ("mass_pm", pen.mass(part.weight.mass_pm)),
            ("at", pen.place(part.at)),
            ("at_pm", pen.place(part.at_pm)),
            ("outline", pen.outline(box.low, box.high) if box else ""),
            ("bottom", pen.length(box.low[2]) if box else ""),
            ("top", pen.length(box.high[2]) if box else ""),
        ),
    )


def _ties(said: AnsweredVehicle, pen: TomlLines) -> Iterator[str]:
    """Yield what ties the assemblies: bolts as one joint, then what stays tight, then mounts to the vehicle."""
    kind = said.kind
    if kind.bolted:
        name, between = f"{kind.bolted} bolts", toml_list((kind.bolted, SHELL))
        yield toml_table("[[joint]]", (("name", quoted(name)), ("kind", '"bolted"'), ("between", between)))
    for number in range(1, _count(said.known, "inner") + 1):
        yield _inner(said, f"inner{number}", number, pen)
    for number in range(1, _count(said.known, "hung") + 1):
        rows = (("between", toml_list((kind.hung, SHELL))), ("at", pen.place(said.place(f"hung{number}"))))
        yield toml_table("[[joint]]", (("name", quoted(f"mount {number}")), ("kind", '"mount"'), *rows))


def _inner(said: AnsweredVehicle, key: str, number: int, pen: TomlLines) -> str:
    """Return the table of a mount or link that stays tight."""
    tie = said.known[key]
    assert isinstance(tie, Tie)
    word = tie.kind or str(said.known.get(f"{key}.kind") or "mount")
    to = None
    if word == "link":
        to = (*tie.to[:2], said.floor + tie.to[2]) if tie.to else said.place(f"{key}.to")
    rows = (
        ("name", quoted(f"inner {word} {number}")),
        ("kind", quoted(word)),
        ("between", toml_list(said.kind.inner)),
        ("at", pen.place(said.place(key))),
        ("to", pen.place(to) if to else ""),
    )
    return toml_table("[[joint]]", rows)


def _points(said: AnsweredVehicle, pen: TomlLines) -> Iterator[str]:
    """Yield the places that lift pads, stands and the prop bear at, pads first."""
    along, out = said.known["pads.along"], said.known["pads.out"]
    assert isinstance(along, tuple)
    assert isinstance(out, float)
    places = [(float(str(x)), y, said.floor) for x in along for y in (out, -out)]
    for name, place in zip(PADS, places, strict=True):
        yield toml_table("[[point]]", (("name", quoted(name)), ("body", quoted(SHELL)), ("at", pen.place(place))))
    for letter in said.letters:
        lump = said.lump_of(letter)
        body, part = (said.kind.lump(lump).body, said.kind.lump(lump).called) if lump else (SHELL, "")
        rows = (
            ("name", quoted(f"place {letter}")),
            ("body", quoted(body)),
            ("at", pen.place(said.place(f"stand{letter}"))),
        )
        yield toml_table("[[point]]", (*rows, ("part", quoted(part) if part else "")))
    if "prop.place" in said.known:
        rows = (("name", quoted(said.kind.prop)), ("body", quoted(SHELL)), ("at", pen.place(said.place("prop.place"))))
        yield toml_table("[[point]]", rows)


def _count(known: Mapping[str, Value], key: str) -> int:
    value = known.get(key)
    return value if isinstance(value, int) else 0

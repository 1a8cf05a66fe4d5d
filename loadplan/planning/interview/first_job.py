"""The answers of the interview as a job file: one file with vehicle, shop and steps in it."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from math import isclose

from loadplan.files.toml_edit import number, quoted
from loadplan.model.vehicle import Place, Vehicle
from loadplan.planning.interview.answer_parsing import Value
from loadplan.planning.interview.question_flow import place_of
from loadplan.planning.interview.questions_on_stands import stand_letters
from loadplan.planning.interview.typical_weights import LUMPS, lump_mass
from loadplan.units import Kind, System, bare_unit, from_si

MIDDLE_PM = 0.06
"""How far a lump's centre of gravity may be from its middle [m]: common practice, no source."""

SHELL_HEIGHT = 0.6
"""Height over the floor of the CG of a vehicle without its front unit [m]: common practice, no source."""

SHELL_PM = (0.1, 0.04, 0.1)
"""How far that may be off [m]: common practice, no source."""

WEIGHT_PM = 0.05
"""Share of the whole vehicle's weight by which the rest of it may be off: common practice, no source."""

LIFT = "lift"
PADS = ("pad front left", "pad front right", "pad rear left", "pad rear right")
BOLTS = "subframe bolts"
PROP = "tail prop"
BODY_OF: Mapping[str, str] = {"engine": "powertrain", "gearbox": "powertrain", "subframe": "subframe"}


@dataclass(frozen=True, slots=True)
class AnsweredLump:
    """Something with a weight.

    Attributes:
        mass: Mass [kg].
        mass_pm: Plus or minus [kg].
        at: Centre of gravity [m].
        at_pm: Plus or minus on it [m].
    """

    mass: float
    mass_pm: float
    at: Place
    at_pm: Place


def job_text(known: Mapping[str, Value], stand_in: Vehicle | None) -> str:
    """Write the job file.

    Args:
        known: Value of each answer.
        stand_in: Vehicle that ships and stands in for the one on the lift, None where its own weight is known.

    Returns:
        TOML that the reader takes.
    """
    system = System.US if known["units"] == "us" else System.METRIC
    pen = TomlLines(system)
    parts = (
        _head(known, pen, example=stand_in is not None),
        *_vehicle(known, pen, stand_in),
        *_ties(known, pen),
        *_points(known, pen),
        *_shop(known, pen),
        *_supports(known),
        *_stages(known),
    )
    return "\n".join(parts)


@dataclass(frozen=True, slots=True)
class TomlLines:
    """Writes TOML in the user's units."""

    system: System

    def length(self, metres: float) -> str:
        """Return a length [m], to a tenth of a millimetre or a hundredth of an inch."""
        return number(round(from_si(metres, Kind.LENGTH, self.system), 1 if self.system is System.METRIC else 2))

    def place(self, place: Iterable[float]) -> str:
        """Return a place [m]."""
        return f"[{', '.join(self.length(each) for each in place)}]"

    def mass(self, kilograms: float) -> str:
        """Return a mass [kg], to a tenth."""
        return number(round(from_si(kilograms, Kind.MASS, self.system), 1))

    def rating(self, newtons: float) -> str:
        """Return a rating [N] as the mass that it is told as."""
        return quoted(
            f"{number(round(from_si(newtons, Kind.LOAD, self.system), 3))} {bare_unit(Kind.LOAD, self.system)}"
        )


def table(heading: str, rows: Iterable[tuple[str, str]]) -> str:
    """Write a table.

    Args:
        heading: Its heading with the brackets.
        rows: Key and value as TOML text; an empty value leaves the key out.

    Returns:
        Lines ending in a line end.
    """
    return "".join((f"{heading}\n", *(f"{key} = {value}\n" for key, value in rows if value)))


def _head(known: Mapping[str, Value], pen: TomlLines, *, example: bool) -> str:
    """Return the head of the file: what the job is, and what its figures are worth."""
    return table(
        "# A first job, from answers. Each lump's centre of gravity is taken at its middle, 60 mm either way, and\n"
        "# marked as a guess: weigh the unit when it is out. x is in front of the axle line, y left of the centre\n"
        "# line, z up from the floor with the vehicle on its wheels.",
        (
            ("schema", '"loadplan-job-1"'),
            ("title", quoted(str(known["title"]))),
            ("name", quoted(str(known["vehicle"]))),
            ("units", quoted("us" if pen.system is System.US else "metric")),
            ("example", "true" if example else ""),
            ("known", '"guess"'),
            ("date", _day(known.get("date"))),
            ("until", _day(known.get("until"))),
        ),
    )


def _day(day: Value) -> str:
    return day.isoformat() if isinstance(day, date) else ""


def _vehicle(known: Mapping[str, Value], pen: TomlLines, stand_in: Vehicle | None) -> Iterator[str]:
    """Yield bodies and parts: the shell as one lump, and the lumps of the unit."""
    lumps = {lump: _lump(known, lump) for lump in LUMPS}
    yield table("[[body]]", (("name", '"shell"'),))
    for body in ("subframe", "powertrain"):
        yield _body(known, pen, body)
    shell = _whole(known, lumps.values()) if stand_in is None else _of(stand_in)
    yield _part(pen, "vehicle without its front unit", "shell", shell)
    for lump, each in lumps.items():
        yield _part(pen, LUMPS[lump], BODY_OF[lump], each)


def _lump(known: Mapping[str, Value], lump: str) -> AnsweredLump:
    mass, mass_pm = lump_mass(lump, known)
    low, high = _box(known, lump)
    x, y, z = ((one + other) / 2 for one, other in zip(low, high, strict=True))
    return AnsweredLump(mass, mass_pm, (x, y, z), (MIDDLE_PM, MIDDLE_PM, MIDDLE_PM))


def _box(known: Mapping[str, Value], lump: str) -> tuple[Place, Place]:
    """Return the least and the greatest x, y, z of a lump [m]."""
    pads = _float(known, "pads.height")
    low = (_float(known, f"{lump}.rear"), _float(known, f"{lump}.right"), pads + _float(known, f"{lump}.bottom"))
    high = (_float(known, f"{lump}.front"), _float(known, f"{lump}.left"), pads + _float(known, f"{lump}.top"))
    return low, high


def _float(known: Mapping[str, Value], key: str) -> float:
    value = known[key]
    assert isinstance(value, float)
    return value


def _body(known: Mapping[str, Value], pen: TomlLines, body: str) -> str:
    boxes = [_box(known, lump) for lump in LUMPS if BODY_OF[lump] == body]
    rear, right, bottom = (min(low[axis] for low, _ in boxes) for axis in range(3))
    front, left, top = (max(high[axis] for _, high in boxes) for axis in range(3))
    corners = ((front, left), (front, right), (rear, right), (rear, left))
    outline = f"[{', '.join(pen.place(each) for each in corners)}]"
    rows = (("name", quoted(body)), ("outline", outline), ("bottom", pen.length(bottom)), ("top", pen.length(top)))
    return table("[[body]]", rows)


def _part(pen: TomlLines, name: str, body: str, lump: AnsweredLump) -> str:
    """Return the table of a lump, marked as what it is: a mass and a place, each with its plus or minus."""
    return table(
        "[[part]]",
        (
            ("name", quoted(name)),
            ("body", quoted(body)),
            ("mass", pen.mass(lump.mass)),
            ("mass_pm", pen.mass(lump.mass_pm)),
            ("at", pen.place(lump.at)),
            ("at_pm", pen.place(lump.at_pm)),
        ),
    )


def _whole(known: Mapping[str, Value], lumps: Iterable[AnsweredLump]) -> AnsweredLump:
    """Return what stays on the lift: the whole vehicle by its axle loads, less the lumps."""
    weight = _float(known, "weight")
    unit = tuple(lumps)
    mass = weight - sum(each.mass for each in unit)
    middle = -_float(known, "wheelbase") * (1 - _float(known, "share"))
    x = (weight * middle - sum(each.mass * each.at[0] for each in unit)) / mass
    y = -sum(each.mass * each.at[1] for each in unit) / mass
    return AnsweredLump(mass, WEIGHT_PM * weight, (x, y, SHELL_HEIGHT), SHELL_PM)


def _of(vehicle: Vehicle) -> AnsweredLump:
    """Return the shell of a vehicle that ships, as one lump."""
    parts = [part for part in vehicle.parts if part.body == "shell"]
    mass = sum(part.mass for part in parts)
    x, y, z = (sum(part.mass * part.at[axis] for part in parts) / mass for axis in range(3))
    return AnsweredLump(mass, 0.1 * mass, (x, y, z), SHELL_PM)


def _ties(known: Mapping[str, Value], pen: TomlLines) -> Iterator[str]:
    """Yield what ties the bodies: the bolts of the subframe as one joint, then links, then mounts."""
    yield table("[[joint]]", (("name", quoted(BOLTS)), ("kind", '"bolted"'), ("between", '["subframe", "shell"]')))
    for key, other in (("link", "subframe"), ("mount", "shell")):
        for name in _numbered(known, key):
            place = place_of(known, f"{name.replace(' ', '')}.place")
            between = f'["powertrain", "{other}"]'
            yield table(
                "[[joint]]",
                (("name", quoted(name)), ("kind", '"mount"'), ("between", between), ("at", pen.place(place))),
            )


def _numbered(known: Mapping[str, Value], key: str) -> list[str]:
    count = known[f"{key}s"]
    assert isinstance(count, int)
    return [f"{key} {each}" for each in range(1, count + 1)]


def _points(known: Mapping[str, Value], pen: TomlLines) -> Iterator[str]:
    """Yield the places that lift pads, stands and the prop bear at, pads first."""
    height, out = _float(known, "pads.height"), _float(known, "pads.out")
    places = [(x, y, height) for x in (_float(known, "pads.front"), _float(known, "pads.rear")) for y in (out, -out)]
    for name, place in zip(PADS, places, strict=True):
        yield _point(pen, name, "shell", place)
    for letter in _letters(known):
        body = BODY_OF[str(known[f"stand{letter}.under"])]
        yield _point(pen, f"place {letter}", body, place_of(known, f"stand{letter}.place"))
    if known["prop"]:
        yield _point(pen, "tail", "shell", place_of(known, "prop.place"))


def _point(pen: TomlLines, name: str, body: str, place: Place) -> str:
    return table("[[point]]", (("name", quoted(name)), ("body", quoted(body)), ("at", pen.place(place))))


def _letters(known: Mapping[str, Value]) -> str:
    count = known["stands"]
    assert isinstance(count, int)
    return str(stand_letters(count))


def _shop(known: Mapping[str, Value], pen: TomlLines) -> Iterator[str]:
    """Yield the kinds of stands, the prop and the lift."""
    count = known["kinds"]
    assert isinstance(count, int)
    for each in range(1, count + 1):
        yield _equipment(known, pen, f"kind{each}", f"stand {each}")
    if known["prop"]:
        yield _equipment(known, pen, "prop", "prop stand")
    rise = known["lift.rise"]
    yield table(
        "[lift]",
        (
            ("name", quoted(LIFT)),
            ("rating", pen.rating(_float(known, "lift.rating"))),
            ("arms", "4"),
            ("rise", pen.length(rise) if isinstance(rise, float) else ""),
            ("locks", "true" if known["lift.locks"] else "false"),
            ("body", '"shell"'),
            ("pads", f"[{', '.join(map(quoted, PADS))}]"),
        ),
    )


def _equipment(known: Mapping[str, Value], pen: TomlLines, key: str, name: str) -> str:
    """Return the table of one kind of stand; what was left open is left out, and so is not checked."""
    base, count, rated_for = known.get(f"{key}.base"), known.get(f"{key}.count"), known.get(f"{key}.for", "each")
    return table(
        "[[equipment]]",
        (
            ("name", quoted(name)),
            ("kind", '"stand"'),
            ("rating", pen.rating(_float(known, f"{key}.rating"))),
            ("rated_for", quoted(str(rated_for)) if rated_for in {"pair", "each"} else ""),
            ("heights", _heights(known, pen, key)),
            ("base", pen.length(base) if isinstance(base, float) else ""),
            ("count", str(count) if isinstance(count, int) else "1"),
        ),
    )


def _heights(known: Mapping[str, Value], pen: TomlLines, key: str) -> str:
    lowest, highest, step = _float(known, f"{key}.lowest"), _float(known, f"{key}.highest"), known.get(f"{key}.step")
    if isclose(lowest, highest):
        return f"[{pen.length(lowest)}]"
    steps = f", step = {pen.length(step)}" if isinstance(step, float) else ""
    return f"{{ from = {pen.length(lowest)}, to = {pen.length(highest)}{steps} }}"


def _supports(known: Mapping[str, Value]) -> Iterator[str]:
    for letter in _letters(known):
        kind = known.get(f"stand{letter}.kind", "1")
        rows = (("name", quoted(letter)), ("use", quoted(f"stand {kind}")), ("under", quoted(f"place {letter}")))
        yield table("[[support]]", rows)
    if known["prop"]:
        rows = (("name", quoted(PROP)), ("use", '"prop stand"'), ("under", '"tail"'))
        yield table("[[support]]", (*rows, ("standby", "true"), ("keep", "true")))


def _stages(known: Mapping[str, Value]) -> Iterator[str]:
    """Yield the steps of every such job, from setting down to the stands away.

    The prop stands from the step in which the vehicle is let go, and is seen to wherever the vehicle moves.
    """
    stands, ties = _names(_letters(known)), _names([BOLTS, *_numbered(known, "mount")])
    locked = "true" if known["lift.locks"] else ""
    prop = f"[{quoted(PROP)}]" if known["prop"] else ""
    moved = '["tail prop away before the lift moves, run up to just touch when it stands"]' if prop else ""
    steps: tuple[tuple[str, tuple[tuple[str, str], ...]], ...] = (
        ("Set down on the stands, still bolted", (("in_place", stands), ("lift_locked", locked))),
        ("Unbolted, vehicle 50 mm up: stop", (("in_place", prop), ("undone", ties), ("confirm", moved))),
        ("Vehicle raised clear", (("confirm", moved),)),
        ("Work", (("bar", "true" if known["bar"] else ""),)),
        ("Left overnight", (("unattended", "true"),)),
        ("Vehicle back down to 50 mm over the unit", (("confirm", moved),)),
        ("Bolted up", (("done_up", ties),)),
        ("Stands away", (("cleared", _names([*_letters(known), *([PROP] if prop else [])])),)),
    )
    for name, rows in steps:
        yield table("[[stage]]", (("name", quoted(name)), *rows))


def _names(names: Iterable[str]) -> str:
    return f"[{', '.join(quoted(each) for each in names)}]"

"""A typical unit that ships, as the answers that it would give: only what differs from them is asked."""

from collections.abc import Iterable, Iterator, Mapping

from loadplan.files import read_vehicle, shipped_vehicles
from loadplan.model.vehicle import Joint, JointKind, Place, Vehicle
from loadplan.planning.interview.unit_kinds import SHELL, UNIT_KINDS, UnitKind

PREFIX = "typical-"
"""What the names of their files begin with; the kind of unit follows."""

WHEELBASE = 2.7
"""The wheelbase that their axle loads are told by [m]: it changes nothing of where the middle is."""


def kind_of(name: str) -> UnitKind | None:
    """Find the kind of unit that a typical one is.

    Args:
        name: Name of its file, without the ending.

    Returns:
        The kind, None where it is none of them.
    """
    word = name.removeprefix(PREFIX).replace("-", " ")
    fitting = [kind for each, kind in UNIT_KINDS.items() if word.startswith(each)]
    return fitting[0] if name.startswith(PREFIX) and fitting else None


def typical_units() -> dict[str, Vehicle]:
    """Read the typical units that ship.

    Returns:
        Each by the name of its file.
    """
    return {name: read_vehicle(path) for name, path in shipped_vehicles() if name.startswith(PREFIX)}


def typical_texts(vehicle: Vehicle, kind: UnitKind) -> dict[str, str]:
    """Write the answers that a typical unit gives, with their units.

    Args:
        vehicle: The typical unit on its vehicle.
        kind: Its kind.

    Returns:
        Each answer by the key of its question.
    """
    pads = [each.at for each in vehicle.points if each.name.startswith("pad ")]
    floor = pads[0][2]
    mass = sum(each.mass for each in vehicle.parts)
    middle = sum(each.mass * each.at[0] for each in vehicle.parts) / mass
    texts = {
        "pads.height": _mm(floor),
        "pads.along": f"{_sided(max(x for x, _, _ in pads), 0)} to {_sided(min(x for x, _, _ in pads), 0)}",
        "pads.out": _mm(abs(pads[0][1])),
        "weight": f"{mass:.0f} kg",
        "share": f"{100 * (1 + middle / WHEELBASE):.1f} %",
        "wheelbase": _mm(WHEELBASE),
    }
    texts |= dict(_lump_texts(vehicle, kind, floor))
    texts |= dict(_tie_texts(vehicle, floor))
    texts |= dict(_place_texts(vehicle, kind, floor))
    return texts


def told_as_taken(kind: UnitKind, texts: Mapping[str, str]) -> str:
    """Say what a typical unit is taken to be, a line for each thing that may differ.

    Args:
        kind: Its kind.
        texts: The answers that it gives.

    Returns:
        Lines, each with a line end.
    """
    lines = [f"{lump.key}: {texts[f'{lump.key}.weight']}; {texts[f'{lump.key}.box']}" for lump in kind.lumps]
    axles = f"{texts['share']} of it on the front axle, wheelbase {texts['wheelbase']}"
    pads = f"{texts['pads.along']}, {texts['pads.out']} out, {texts['pads.height']} over the floor"
    lines += [f"vehicle: {texts['weight']}, {axles}", f"pads: {pads}"]
    numbered = sorted(key for key in texts if key[:-1] in {"inner", "hung"})
    ties = [texts[key] if key.startswith("inner") else f"mount to the vehicle, {texts[key]}" for key in numbered]
    places = [
        f"{key.removeprefix('stand')} {text}" for key, text in texts.items() if key[:-1] == "stand" and key != "stands"
    ]
    lines += [f"ties: {'; '.join(ties)}"] if ties else []
    lines.append(f"stands: {'; '.join(places)}")
    return "".join(f"  {line}\n" for line in lines)


def _lump_texts(vehicle: Vehicle, kind: UnitKind, floor: float) -> Iterator[tuple[str, str]]:
    """Yield each lump's weight with its plus or minus, and its edges."""
    for lump in kind.lumps:
        part = next(each for each in vehicle.parts if each.name == lump.called)
        assert part.bottom is not None
        assert part.top is not None
        yield f"{lump.key}.weight", f"{part.mass:.4g} kg +- {part.mass_pm:.4g} kg"
        along, across = zip(*part.outline, strict=True)
        up = (part.bottom - floor, part.top - floor)
        spans = (_span(each, axis) for axis, each in enumerate((along, across, up)))
        yield f"{lump.key}.box", ", ".join(spans)


def _tie_texts(vehicle: Vehicle, floor: float) -> Iterator[tuple[str, str]]:
    """Yield the ties that stay tight, and those that come off."""
    ties = [each for each in vehicle.joints if each.kind is not JointKind.BOLTED]
    inner = [each for each in ties if SHELL not in each.between]
    hung = [each for each in ties if SHELL in each.between]
    yield "inner", f"{len(inner)}"
    yield "hung", f"{len(hung)}"
    for number, each in enumerate(inner, 1):
        yield f"inner{number}", _tie(each, floor)
    for number, each in enumerate(hung, 1):
        yield f"hung{number}", _place(each.at[0], floor)


def _tie(joint: Joint, floor: float) -> str:
    """Return a mount, or a link with both its ends."""
    other = f" to {_place(joint.to, floor)}" if joint.to else ""
    return f"{joint.kind.value}, {_place(joint.at[0], floor)}{other}"


def _place_texts(vehicle: Vehicle, kind: UnitKind, floor: float) -> Iterator[tuple[str, str]]:
    """Yield the places of stands, by letter, and that of a prop."""
    keys = {lump.called: lump.key for lump in kind.lumps}
    seats = [each for each in vehicle.points if each.body != SHELL]
    yield "stands", f"{len(seats)}"
    for letter, each in zip("ABCDEFGHIJKL", seats, strict=False):
        yield f"stand{letter}", f"{keys[each.part]}, {_place(each.at, floor)}"
    for each in vehicle.points:
        if each.name == kind.prop:
            yield "prop.place", _place(each.at, floor)


def _place(place: Place, floor: float) -> str:
    return ", ".join(_sided(each, axis) for axis, each in enumerate((*place[:2], place[2] - floor)))


def _span(values: Iterable[float], axis: int) -> str:
    """Return the two edges of a lump along an axis, from the greater to the smaller."""
    low, high = min(values), max(values)
    return f"{_sided(high, axis)} to {_sided(low, axis)}"


def _sided(value: float, axis: int) -> str:
    words = (("front", "behind"), ("left", "right"), ("above", "below"))[axis]
    return f"{_mm(abs(value))} {words[value < 0]}"


def _mm(metres: float) -> str:
    return f"{1000 * metres:.0f} mm"

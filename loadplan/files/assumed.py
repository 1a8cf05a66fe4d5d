"""What was assumed because a file leaves it out, a sentence each."""

from collections.abc import Callable, Iterator
from datetime import date

from loadplan.files.fault_wording import listed, quoted
from loadplan.files.job_file import JobFile
from loadplan.files.readings_reader import LOAD_LEAST, LOAD_SHARE
from loadplan.files.shop_reader import STIFFNESSES
from loadplan.files.vehicle_nouns import MASS_SHARES, MOUNT_STIFFNESS, PLACE_SPREADS, body_basis, part_basis
from loadplan.files.vehicle_shape import PartTable, WeighedTable
from loadplan.model.part_above import part_under
from loadplan.model.shop import EquipmentKind
from loadplan.model.vehicle import Basis, JointKind, Vehicle
from loadplan.units import Kind, System, bare_unit, from_si


def assumptions(file: JobFile, vehicle: Vehicle, today: date) -> tuple[str, ...]:
    """Tell what was assumed of a job.

    Args:
        file: The job, without faults.
        vehicle: Its vehicle.
        today: Day taken where the file gives no date.

    Returns:
        Sentences, the weights first.
    """
    return (
        *_left_out(file),
        *_known(file),
        *_tolerances(file),
        *_stiffnesses(file),
        *_locks(file),
        *_tables(file),
        *_points_on_no_part(file, vehicle),
        *_no_top(file),
        *_never_placed(file),
        *_reading_spreads(file),
        *_date(file, today),
    )


def _left_out(file: JobFile) -> Iterator[str]:
    left_out = [name for name in file.vehicle.bodies.names or () if name not in file.bodies_in_use]
    if left_out:
        they = "they are" if len(left_out) > 1 else "it is"
        yield f"Left out: {listed(quoted(left_out))}; {they} carried elsewhere, with mounts and bolts off."


def _known(file: JobFile) -> Iterator[str]:
    """Yield that nobody says how good the weights are."""
    if file.vehicle.known is None and not file.vehicle.example:
        yield "How good the weights are is not said: they are taken as a guess, except where a part says more."


def _tolerances(file: JobFile) -> Iterator[str]:
    """Yield a sentence for each basis, one where mass and place are missing of the same parts."""
    for basis in sorted(MASS_SHARES):
        no_mass = _without(file, basis, lambda table: table.mass_pm is None)
        no_place = _without(
            file, basis, lambda table: (table.at_pm if isinstance(table, PartTable) else table.cg_pm) is None
        )
        mass = f"{100 * MASS_SHARES[basis]:.0f} % of the mass"
        place = f"{_told(PLACE_SPREADS[basis], Kind.LENGTH, file)} of the place"
        missing = {f"{mass} and {place}": no_mass} if no_mass == no_place else {mass: no_mass, place: no_place}
        for taken, names in missing.items():
            if names:
                yield f"Tolerance not given, {taken} taken ({basis.words}): {'; '.join(names)}."


def _without(file: JobFile, basis: Basis, lacks: Callable[[PartTable | WeighedTable], bool]) -> list[str]:
    """Return what lacks a tolerance: assemblies weighed whole, then parts, by assembly where that is all of them."""
    names: list[str] = []
    for body in file.vehicle.bodies.tables:
        weighed = body.weighed
        if body.name not in file.bodies_in_use:
            continue
        if weighed and lacks(weighed) and body_basis(body, file.vehicle) is basis:
            names.append(f"{body.name} as weighed")
        own = [part for part in file.vehicle.parts.tables if part.body == body.name]
        lacking = [part.name for part in own if lacks(part) and part_basis(part, file.vehicle) is basis]
        names += _gathered(body.name, lacking, all_of_them=len(lacking) == len(own))
    return names


def _gathered(body: str, parts: list[str], *, all_of_them: bool) -> list[str]:
    """Return the parts of a body, as one where they are all of them."""
    return [f"all parts of the {body}"] if all_of_them and len(parts) > 1 else parts


def _stiffnesses(file: JobFile) -> Iterator[str]:
    names: dict[float, list[str]] = {}
    for stiffness, name in _soft(file):
        names.setdefault(stiffness, []).append(name)
    for stiffness, missing in names.items():
        yield f"Stiffness not given, {_told(stiffness, Kind.STIFFNESS, file)} taken: {'; '.join(missing)}."


def _soft(file: JobFile) -> Iterator[tuple[float, str]]:
    """Yield stiffness and name of what is used and does not give its own."""
    used = {support.use for support in file.supports.tables}
    for equipment in file.shop.equipment.tables:
        if equipment.name in used and equipment.stiffness is None:
            yield STIFFNESSES[equipment.kind], equipment.name
    lift = file.shop.lifts.named(file.lift.use) if file.lift else None
    if lift and lift.stiffness is None:
        yield STIFFNESSES[EquipmentKind.ARM], f"arms of {lift.name}"
    for joint in file.vehicle.joints.tables:
        tied = set(joint.between) <= set(file.bodies_in_use)
        if tied and joint.kind is not JointKind.BOLTED and joint.stiffness is None:
            yield MOUNT_STIFFNESS, joint.name


def _locks(file: JobFile) -> Iterator[str]:
    """Yield that the lift is taken to have locks."""
    if file.shows_locks and file.lift:
        yield f"Whether {file.lift.use} has locks is not said: it is taken to have them, since a step sets it on them."


def _tables(file: JobFile) -> Iterator[str]:
    """Yield which tables are taken to hold by a lock, and not by oil, since nobody says."""
    used = {support.use for support in file.supports.tables}
    unsaid = [
        each.name
        for each in file.shop.equipment.tables
        if each.kind is EquipmentKind.TABLE and each.locks is None and each.name in used
    ]
    if unsaid:
        them = "they are" if len(unsaid) > 1 else "it is"
        yield (
            f"Whether it is a lock that holds {listed(quoted(unsaid))} up, or oil, is not said: {them} taken to lock. "
            "Write locks = false where oil holds."
        )


def _points_on_no_part(file: JobFile, vehicle: Vehicle) -> Iterator[str]:
    """Yield places in use on assemblies that parts come off, where nobody says on which part they are."""
    off = {name for stage in file.stages.tables for name in stage.off}
    losing = {part.body for part in file.vehicle.parts.tables if part.name in off}
    used = {support.under for support in file.supports.tables} | set(file.lift.pads if file.lift else ())
    points = [each for each in file.vehicle.points.tables if each.name in used and each.part is None]
    unsaid = [each.name for each in points if each.body in losing and each.body in file.bodies_in_use]
    alone = {each.name: part_under(vehicle, each.body, each.at, "") for each in vehicle.points if each.name in unsaid}
    for name, part in alone.items():
        if part in off:
            yield f"{name} is taken to be on the {part}, the lowest over it, as no part is said for it."
    unsaid = [name for name in unsaid if alone[name] not in off]
    if unsaid:
        they, them = ("These places are", "them") if len(unsaid) > 1 else ("This place is", "it")
        yield f"{they} taken to stay while parts come off, as no part is said for {them}: {'; '.join(unsaid)}."


def _no_top(file: JobFile) -> Iterator[str]:
    """Yield what stands, with a set height, on assemblies of which nobody says how high they are."""
    tops = {body.name: body.top for body in file.vehicle.bodies.tables}
    rows: dict[str, list[str]] = {}
    for support in file.supports.tables:
        if support.on is not None and support.height is not None and not support.standby and tops[support.on] is None:
            rows.setdefault(support.on, []).append(support.name)
    for body, names in rows.items():
        they = "the highest of them is" if len(names) > 1 else "it is"
        yield f"No top is given for the {body}: of what stands on it ({'; '.join(names)}) {they} taken to just touch."


def _never_placed(file: JobFile) -> Iterator[str]:
    placed = {name for stage in file.stages.tables for name in stage.in_place}
    missing = [support.name for support in file.supports.tables if support.name not in placed]
    if missing:
        yield f"No step puts in place: {'; '.join(missing)}."


def _reading_spreads(file: JobFile) -> Iterator[str]:
    """Yield that nobody says how exactly the scales of a step read."""
    for stage in file.stages.tables:
        bare = [each.support for each in stage.readings if each.load is not None and each.pm is None]
        if bare:
            least = (
                f"{from_si(LOAD_LEAST, Kind.MASS, file.source.system):.2g} {bare_unit(Kind.MASS, file.source.system)}"
            )
            taken = f"{100 * LOAD_SHARE:.0f} % of it taken, at least {least}"
            yield f"{stage.name}: plus or minus of a reading not given, {taken}: {'; '.join(dict.fromkeys(bare))}."


def _date(file: JobFile, today: date) -> Iterator[str]:
    """Yield that the day is taken to be today."""
    if file.head.date is None:
        yield f"Date not given: today, {today.isoformat()}, is taken."


def _told(value: float, kind: Kind, file: JobFile) -> str:
    system = file.source.system
    number = from_si(value, kind, system)
    digits = f"{number:.0f}" if system is System.METRIC or number >= 1000 else f"{number:.2g}"
    return f"{digits} {bare_unit(kind, system)}"

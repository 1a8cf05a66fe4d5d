"""What was assumed because a file leaves it out, a sentence each."""

from collections.abc import Iterator
from datetime import date

from loadplan.files.job_file import JobFile
from loadplan.files.shop import STIFFNESSES
from loadplan.files.vehicle_nouns import MASS_SHARES, MOUNT_STIFFNESS, PLACE_SPREADS, body_basis, part_basis
from loadplan.files.wording import listed, quoted
from loadplan.model.shop import EquipmentKind
from loadplan.model.vehicle import Basis, JointKind
from loadplan.units import Kind, System, bare_unit, from_si


def assumptions(file: JobFile, today: date) -> tuple[str, ...]:
    """Tell what was assumed of a job.

    Args:
        file: The job, without faults.
        today: Day taken where the file gives no date.

    Returns:
        Sentences, the weights first.
    """
    return (
        *_left_out(file),
        *_known(file),
        *_mass_spreads(file),
        *_place_spreads(file),
        *_stiffnesses(file),
        *_locks(file),
        *_date(file, today),
    )


def _left_out(file: JobFile) -> Iterator[str]:
    left_out = [name for name in file.vehicle.bodies.names or () if name not in file.bodies_in_use]
    if left_out:
        they = "they are" if len(left_out) > 1 else "it is"
        yield f"Left out: {listed(quoted(left_out))}; {they} carried elsewhere, with mounts and bolts off."


def _known(file: JobFile) -> Iterator[str]:
    if file.vehicle.known is None and not file.vehicle.example:
        yield "How good the weights are is not said: they are taken as a guess, where a part does not say more."


def _mass_spreads(file: JobFile) -> Iterator[str]:
    names: dict[Basis, list[str]] = {}
    for body in file.vehicle.bodies.rows:
        if body.table.name in file.bodies_in_use and body.table.weighed and body.table.weighed.mass_pm is None:
            names.setdefault(body_basis(body.table, file.vehicle), []).append(f"{body.table.name} (weighed whole)")
    for part in file.vehicle.parts.rows:
        if part.table.body in file.bodies_in_use and part.table.mass_pm is None:
            names.setdefault(part_basis(part.table, file.vehicle), []).append(part.table.name)
    for basis, missing in sorted(names.items()):
        yield f"Tolerance of mass not given, {MASS_SHARES[basis]:.0%} taken ({_source(basis)}): {', '.join(missing)}."


def _place_spreads(file: JobFile) -> Iterator[str]:
    names: dict[Basis, list[str]] = {}
    for body in file.vehicle.bodies.rows:
        if body.table.name in file.bodies_in_use and body.table.weighed and body.table.weighed.cg_pm is None:
            names.setdefault(body_basis(body.table, file.vehicle), []).append(f"{body.table.name} (weighed whole)")
    for part in file.vehicle.parts.rows:
        if part.table.body in file.bodies_in_use and part.table.at_pm is None:
            names.setdefault(part_basis(part.table, file.vehicle), []).append(part.table.name)
    for basis, missing in sorted(names.items()):
        spread = _told(PLACE_SPREADS[basis], Kind.LENGTH, file)
        yield f"Tolerance of place not given, {spread} taken ({_source(basis)}): {', '.join(missing)}."


def _stiffnesses(file: JobFile) -> Iterator[str]:
    names: dict[float, list[str]] = {}
    used = {row.table.use for row in file.supports.rows}
    for equipment in file.shop.equipment.rows:
        if equipment.table.name in used and equipment.table.stiffness is None:
            names.setdefault(STIFFNESSES[equipment.table.kind], []).append(equipment.table.name)
    lift = file.shop.lifts.named(file.lift.use) if file.lift else None
    if lift and lift.stiffness is None:
        names.setdefault(STIFFNESSES[EquipmentKind.ARM], []).append(f"arms of {lift.name}")
    for joint in file.vehicle.joints.rows:
        ties = set(joint.table.between) <= set(file.bodies_in_use)
        if ties and joint.table.kind is JointKind.MOUNT and joint.table.stiffness is None:
            names.setdefault(MOUNT_STIFFNESS, []).append(joint.table.name)
    for stiffness, missing in names.items():
        yield f"Stiffness not given, {_told(stiffness, Kind.STIFFNESS, file)} taken: {', '.join(missing)}."


def _locks(file: JobFile) -> Iterator[str]:
    if file.shows_locks and file.lift:
        yield f"Whether {file.lift.use} has locks is not said: it is taken to have them, since a step sets it on them."


def _date(file: JobFile, today: date) -> Iterator[str]:
    if file.head.date is None:
        yield f"Date not given: today, {today.isoformat()}, taken for inspections."


def _source(basis: Basis) -> str:
    return f"figures: {basis.words}"


def _told(value: float, kind: Kind, file: JobFile) -> str:
    system = file.source.system
    number = from_si(value, kind, system)
    return (
        f"{number:.0f} {bare_unit(kind, system)}"
        if system is System.METRIC
        else f"{number:.3g} {bare_unit(kind, system)}"
    )

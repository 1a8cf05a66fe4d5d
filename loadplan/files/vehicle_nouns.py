"""From the tables of a vehicle file to bodies, parts, joints and points in SI."""

from loadplan.files.vehicle_reader import VehicleFile
from loadplan.files.vehicle_shape import BodyTable, JointTable, PartTable, PointTable, TieTable, WeighedTable
from loadplan.model.vehicle import Basis, Body, Joint, JointKind, Part, Place, Point, TieUp, Vehicle, Weighed

MOUNT_STIFFNESS = 300e3
"""Stiffness of a mount that the file leaves out [N/m]; common practice, no source."""

MASS_SHARES = {Basis.WEIGHED: 0.02, Basis.DATA_SHEET: 0.10, Basis.GUESS: 0.20}
"""Plus or minus on a mass that the file leaves out, as a share of it; common practice, no source."""

PLACE_SPREADS = {Basis.WEIGHED: 0.010, Basis.DATA_SHEET: 0.025, Basis.GUESS: 0.040}
"""Plus or minus on a place that the file leaves out [m]; common practice, no source."""


def vehicle_noun(file: VehicleFile) -> Vehicle:
    """Make the vehicle of its file.

    Args:
        file: The vehicle as far as it could be read.

    Returns:
        The vehicle; tables with faults are left out of it.
    """
    return Vehicle(
        name=file.name,
        example=file.example,
        bodies=tuple(_body(table, file) for table in file.bodies.tables),
        parts=tuple(_part(table, file) for table in file.parts.tables),
        joints=tuple(_joint(table) for table in file.joints.tables),
        points=tuple(_point(table) for table in file.points.tables),
        ties=tuple(_tie(table, file) for table in file.ties.tables),
        source=str(file.source.path),
    )


def body_basis(table: BodyTable, file: VehicleFile) -> Basis:
    """Tell how good a body's own figures are.

    Args:
        table: The body.
        file: Its vehicle.

    Returns:
        What the body says; weighed where it was weighed whole; else what the vehicle says.
    """
    if table.known is not None:
        return table.known
    if table.weighed is not None:
        return Basis.WEIGHED
    return Basis.GUESS if file.known is None else file.known


def part_basis(table: PartTable, file: VehicleFile) -> Basis:
    """Tell how good a part's figures are.

    Args:
        table: The part.
        file: Its vehicle.

    Returns:
        What the part says, else its body, else the vehicle; a body weighed whole says nothing of its parts.
    """
    body = next((body.known for body in file.bodies.tables if body.name == table.body), None)
    said = (each for each in (table.known, body, file.known) if each is not None)
    return next(said, Basis.GUESS)


def _body(table: BodyTable, file: VehicleFile) -> Body:
    """Return a body, weighed whole or not."""
    basis = body_basis(table, file)
    return Body(
        name=table.name,
        outline=table.outline,
        bottom=table.bottom,
        top=table.top,
        basis=basis,
        weighed=_weighed(table.weighed, basis) if table.weighed else None,
    )


def _weighed(table: WeighedTable, basis: Basis) -> Weighed:
    return Weighed(
        mass=table.mass,
        mass_pm=table.mass * MASS_SHARES[basis] if table.mass_pm is None else table.mass_pm.on(table.mass),
        cg=table.cg,
        cg_pm=_spread(basis) if table.cg_pm is None else table.cg_pm,
        date=table.date,
    )


def _part(table: PartTable, file: VehicleFile) -> Part:
    """Return a part; a plus or minus that is left out follows from where its figures come from."""
    basis = part_basis(table, file)
    return Part(
        name=table.name,
        body=table.body,
        mass=table.mass,
        mass_pm=table.mass * MASS_SHARES[basis] if table.mass_pm is None else table.mass_pm.on(table.mass),
        at=table.at,
        at_pm=_spread(basis) if table.at_pm is None else table.at_pm,
        after=table.after,
        basis=basis,
        outline=table.outline,
        bottom=table.bottom,
        top=table.top,
    )


def _spread(basis: Basis) -> Place:
    spread = PLACE_SPREADS[basis]
    return spread, spread, spread


def _joint(table: JointTable) -> Joint:
    """Return a joint; only bolts do not give."""
    gives = table.kind is not JointKind.BOLTED
    return Joint(
        name=table.name,
        kind=table.kind,
        between=table.between,
        at=table.at,
        stiffness=(table.stiffness or MOUNT_STIFFNESS) if gives else 0.0,
        to=table.to,
        limit=table.limit,
        part=table.part or "",
    )


def _point(table: PointTable) -> Point:
    """Return a point as the noun."""
    return Point(name=table.name, body=table.body, at=table.at, limit=table.limit, say=table.say, part=table.part or "")


def _tie(table: TieTable, file: VehicleFile) -> TieUp:
    """Return a tie; what it has to be done before, where that is not said, is all that ties its body."""
    joints = tuple(each.name for each in file.joints.tables if table.body in each.between)
    return TieUp(table.name, table.body, table.at, table.what, table.before or joints, table.say)

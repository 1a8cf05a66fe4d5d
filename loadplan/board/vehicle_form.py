"""The form of the vehicle: assemblies, parts, points, bolts and mounts as the files give them, in a reader's units."""

from loadplan.board.assembly_changes import assembly_form
from loadplan.board.verdict_cells import Plain
from loadplan.model.job import Job
from loadplan.model.vehicle import Joint, Part, Place, Point
from loadplan.model.verdict import Measure, Quantity
from loadplan.report.words.vocabulary import Reader
from loadplan.units import Kind, System, from_si


def vehicle_form(given: Job, reader: Reader, *, own: bool) -> dict[str, Plain]:
    """Tell all that can be changed of a vehicle.

    Args:
        given: The job without what is tried out.
        reader: Who reads it.
        own: Whether the job's file holds the vehicle itself.

    Returns:
        What the form shows, as JSON: texts of fields by name, a thing each.
    """
    vehicle = given.vehicle
    return {
        "own": own,
        "bodies": [each.name for each in vehicle.bodies],
        "body": assembly_form(vehicle.bodies, reader),
        "part": [_part(each, reader) for each in vehicle.parts],
        "point": [_point(each, reader) for each in vehicle.points],
        "joint": [_joint(each, reader) for each in vehicle.joints],
    }


def _part(part: Part, reader: Reader) -> Plain:
    return {
        "name": part.name,
        "body": part.body,
        "mass": reader.mass(part.mass),
        "mass_pm": reader.mass(part.mass_pm),
        **_place(part.at, "", reader),
    }


def _point(point: Point, reader: Reader) -> Plain:
    """Return a point's fields, quantities in the reader's units."""
    return {
        "name": point.name,
        "body": point.body,
        "limit": _force(point.limit, reader),
        "say": point.say,
        "part": point.part,
        **_place(point.at, "", reader),
    }


def _joint(joint: Joint, reader: Reader) -> Plain:
    """Return a joint's fields; several places of bolts stay as they are in the file."""
    unit = "lbf/in" if reader.units is System.US else "N/mm"
    first, second = joint.between
    return {
        "name": joint.name,
        "kind": joint.kind.value,
        "first": first,
        "second": second,
        "stiffness": f"{from_si(joint.stiffness, Kind.STIFFNESS, reader.units):.4g} {unit}",
        "limit": _force(joint.limit, reader),
        "part": joint.part,
        "many": len(joint.at) > 1,
        **(_place(joint.at[0], "", reader) if len(joint.at) == 1 else {}),
        **(_place(joint.to, "to_", reader) if joint.to else {}),
    }


def _place(at: Place, before: str, reader: Reader) -> dict[str, Plain]:
    return {f"{before}{axis}": reader.length(each) for axis, each in zip("xyz", at, strict=True)}


def _force(newtons: float | None, reader: Reader) -> str:
    return "" if newtons is None else reader.sentence((Quantity(newtons, Measure.FORCE),))

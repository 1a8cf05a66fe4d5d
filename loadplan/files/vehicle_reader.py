"""Reading a vehicle file: its tables, and whether they fit together."""

from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter

from loadplan.files.fault_wording import listed, quoted, shown
from loadplan.files.names import look_up
from loadplan.files.shape import TableRow, TableRows, read_rows
from loadplan.files.toml_source import Source
from loadplan.files.vehicle_shape import BodyTable, JointTable, PartTable, PointTable, TieTable
from loadplan.model.vehicle import Basis

MOST_BODIES = 20
MOST_PARTS = 1000
MOST_JOINTS = 200
MOST_POINTS = 1000
MOST_TIES = 200

VEHICLE_TABLES = ("body", "part", "joint", "point", "tie")


@dataclass(frozen=True, slots=True)
class VehicleFile:
    """A vehicle as far as its file could be read.

    Attributes:
        source: The file.
        name: Name for people.
        example: True where the data is invented.
        known: How good the figures are, None where the file does not say.
        bodies: `[[body]]`.
        parts: `[[part]]`.
        joints: `[[joint]]`.
        points: `[[point]]`.
        ties: `[[tie]]`.
    """

    source: Source
    name: str
    example: bool
    known: Basis | None
    bodies: TableRows[BodyTable]
    parts: TableRows[PartTable]
    joints: TableRows[JointTable]
    points: TableRows[PointTable]
    ties: TableRows[TieTable]

    @property
    def whole(self) -> bool:
        """Whether every table could be read."""
        return all(rows.whole for rows in (self.bodies, self.parts, self.joints, self.points, self.ties))


def read_vehicle_tables(source: Source, name: str, *, example: bool, known: Basis | None) -> VehicleFile:
    """Read the tables of a vehicle, and note what is wrong in them.

    Args:
        source: The file.
        name: Name for people.
        example: True where the data is invented.
        known: How good the figures are, None where the file does not say.

    Returns:
        The vehicle as far as it could be read.
    """
    file = VehicleFile(
        source=source,
        name=name,
        example=example,
        known=known,
        bodies=read_rows(source, "body", BodyTable, MOST_BODIES),
        parts=read_rows(source, "part", PartTable, MOST_PARTS),
        joints=read_rows(source, "joint", JointTable, MOST_JOINTS),
        points=read_rows(source, "point", PointTable, MOST_POINTS),
        ties=read_rows(source, "tie", TieTable, MOST_TIES),
    )
    if file.bodies.names == {}:
        source.blame("", "body", "is missing: a vehicle needs at least one [[body]]")
    _blame_strange_names(file)
    _blame_circle(file)
    return file


def _blame_strange_names(file: VehicleFile) -> None:
    """Note bodies and parts that are named but not there."""
    bodies, parts = file.bodies.names, file.parts.names
    for part in file.parts.rows:
        look_up(file.source, (part.label, "body"), part.table.body, bodies, "body")
        for name in part.table.after:
            look_up(file.source, (part.label, "after"), name, parts, "part")
    for joint in file.joints.rows:
        for name in joint.table.between:
            look_up(file.source, (joint.label, "between"), name, bodies, "body")
        _blame_strange_part(file, joint, joint.table.between)
    for point in file.points.rows:
        look_up(file.source, (point.label, "body"), point.table.body, bodies, "body")
        _blame_strange_part(file, point, (point.table.body,))
    _blame_strange_ties(file)


def _blame_strange_ties(file: VehicleFile) -> None:
    """Note ties at bodies, or before joints and parts, that are not there, and those that nothing would remind of."""
    joints, parts = file.joints.names, file.parts.names
    known = None if joints is None or parts is None else (*joints, *parts)
    for tie in file.ties.rows:
        look_up(file.source, (tie.label, "body"), tie.table.body, file.bodies.names, "body")
        for name in tie.table.before:
            look_up(file.source, (tie.label, "before"), name, known, "joint or part")
        ties_it = any(tie.table.body in joint.between for joint in file.joints.tables)
        if not tie.table.before and file.joints.whole and not ties_it:
            told = f"is missing: nothing ties {shown(tie.table.body)}, so name the part before which it has to be done"
            file.source.blame(tie.label, "before", told)


def _blame_strange_part(
    file: VehicleFile, row: TableRow[JointTable] | TableRow[PointTable], bodies: tuple[str, ...]
) -> None:
    """Note a joint or a point on a part that is not there, or that belongs to another body."""
    name = row.table.part
    if name is None:
        return
    look_up(file.source, (row.label, "part"), name, file.parts.names, "part")
    part = file.parts.named(name)
    if part and part.body not in bodies:
        told = f"must name a part of {listed(quoted(list(bodies)))}: {shown(name)} belongs to {shown(part.body)}"
        file.source.blame(row.label, "part", told)


def _blame_circle(file: VehicleFile) -> None:
    """Note parts that each wait for the other to come off first."""
    waits = {part.table.name: part.table.after for part in file.parts.rows}
    try:
        TopologicalSorter(waits).prepare()
    except CycleError as error:
        circle: list[str] = error.args[1]
        label = next(part.label for part in file.parts.rows if part.table.name == circle[-1])
        quoted = listed([f'"{name}"' for name in circle[:-1]])
        told = "names the part itself" if len(circle) == 2 else f"goes round in a circle through {quoted}"
        file.source.blame(label, "after", f"{told}: none of them could come off")

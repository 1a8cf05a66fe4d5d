"""Gathering a job: its own file, and those of its vehicle and shop, each as far as it could be read."""

from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from loadplan.errors import Fault, InputError
from loadplan.files.fault_wording import nearest, shown
from loadplan.files.file_head import read_head
from loadplan.files.job_shape import JOB_SCHEMA, JobHead, LiftUseTable, LimitsTable, StageTable, SupportTable
from loadplan.files.missing_ending import where_it_is
from loadplan.files.one_file import split_lift
from loadplan.files.shape import Shape, TableRows, read_rows, read_table
from loadplan.files.shipped import shipped_vehicles
from loadplan.files.shop_reader import SHOP_TABLES, ShopFile, read_shop_tables
from loadplan.files.shop_shape import SHOP_SCHEMA, ShopHead
from loadplan.files.toml_source import Source, open_source
from loadplan.files.vehicle_reader import VEHICLE_TABLES, VehicleFile, read_vehicle_tables
from loadplan.files.vehicle_shape import VEHICLE_SCHEMA, VehicleHead

MOST_SUPPORTS = 60
MOST_STAGES = 200

JOB_TABLES = ("limits", "lift", "support", "stage")


@dataclass(frozen=True, slots=True)
class JobFile:
    """A job as far as its files could be read.

    Attributes:
        source: The job file.
        head: What stands outside its tables.
        limits: `[limits]`.
        lift: `[lift]`, None without one or where it has faults.
        supports: `[[support]]`.
        stages: `[[stage]]`.
        vehicle: The vehicle.
        shop: The shop.
    """

    source: Source
    head: JobHead
    limits: Shape
    lift: LiftUseTable | None
    supports: TableRows[SupportTable]
    stages: TableRows[StageTable]
    vehicle: VehicleFile
    shop: ShopFile

    @property
    def has_lift(self) -> bool:
        """Whether the file says that a lift is used, even where what it says has faults."""
        return "lift" in self.source.raw

    @property
    def lift_names(self) -> tuple[str, ...]:
        """Name under which the lift comes and goes, where there is one."""
        return (self.lift.use,) if self.lift else ()

    @property
    def bodies_in_use(self) -> tuple[str, ...]:
        """Names of the bodies in use, in the job's order; all where the job does not say."""
        return self.head.bodies or tuple(self.vehicle.bodies.names or ())

    @property
    def shows_locks(self) -> bool:
        """Whether a stage sets the lift on locks of which the shop says nothing."""
        lift = self.shop.lifts.named(self.lift.use) if self.lift else None
        return lift is not None and lift.locks is None and any(stage.lift_locked for stage in self.stages.tables)

    def body_under(self, support: SupportTable) -> str | None:
        """Name the body that a support bears on.

        Args:
            support: The support.

        Returns:
            Its name, None where the support's point is not known.
        """
        if support.under is None:
            return support.body
        point = self.vehicle.points.named(support.under)
        return point.body if point else None

    @property
    def faults(self) -> tuple[Fault, ...]:
        """Every fault found so far, file by file."""
        lists = {id(each.faults): each.faults for each in (self.source, self.vehicle.source, self.shop.source)}
        return tuple(fault for faults in lists.values() for fault in faults)


def open_job(path: Path, text: str | None = None) -> JobFile:
    """Read the files of a job, table by table.

    Args:
        path: The job file.
        text: What is to stand in the job file, where that is not written yet.

    Returns:
        The job as far as it could be read.

    Raises:
        InputError: If the job file itself cannot be read at all.
    """
    source = open_source(path, JOB_SCHEMA, text)
    head = read_head(source, JobHead, (*JOB_TABLES, *VEHICLE_TABLES, *SHOP_TABLES))
    use, lifts = split_lift(source)
    return JobFile(
        source=source,
        head=head,
        limits=_limits(source),
        lift=read_table(source, "lift", use, LiftUseTable)[0] if use is not None else None,
        supports=read_rows(source, "support", SupportTable, MOST_SUPPORTS),
        stages=read_rows(source, "stage", StageTable, MOST_STAGES),
        vehicle=_vehicle(source, head),
        shop=_shop(source, lifts),
    )


def open_vehicle(path: Path, text: str | None = None) -> VehicleFile:
    """Read a vehicle file, table by table.

    Args:
        path: The file.
        text: What is to stand in it, where that is not written yet.

    Returns:
        The vehicle as far as it could be read.

    Raises:
        InputError: If the file cannot be read at all.
    """
    source = open_source(path, VEHICLE_SCHEMA, text)
    head = read_head(source, VehicleHead, VEHICLE_TABLES)
    return read_vehicle_tables(source, head.name or path.stem, example=head.example, known=head.known)


def _limits(source: Source) -> Shape:
    raw = source.raw.get("limits", {})
    if isinstance(raw, dict):
        return read_table(source, "limits", raw, LimitsTable)[0] or LimitsTable()
    source.blame("", "limits", "must be written [limits], once")
    return LimitsTable()


def _vehicle(source: Source, head: JobHead) -> VehicleFile:
    """Return the job's vehicle: of its own file, or of the job file itself."""
    if "vehicle" not in source.raw:
        if not any(key in source.raw for key in VEHICLE_TABLES):
            source.blame("", "vehicle", "is missing: name a vehicle, or write its tables [[body]], [[part]], ... here")
            return _no_vehicle(source)
        name = head.name or head.title or source.path.stem
        return read_vehicle_tables(source, name, example=bool(head.example), known=head.known)
    _blame_tables(source, "vehicle", VEHICLE_TABLES)
    path = _vehicle_path(source, head.vehicle) if head.vehicle else None
    if path is None:
        return _no_vehicle(source)
    try:
        return open_vehicle(path)
    except InputError as error:
        source.faults.extend(error.faults)
        return _no_vehicle(source)


def _vehicle_path(source: Source, name: str) -> Path | None:
    """Return a vehicle's file, beside the job first; only names and paths that end in .toml are looked for."""
    beside = source.path.parent
    if name.endswith(".toml"):
        return beside / name
    own = beside / f"{name}.toml"
    if Path(name).name == name and own.is_file():
        return own
    shipped = dict(shipped_vehicles())
    if name not in shipped:
        near = nearest(name, [*shipped, *(path.stem for path in beside.glob("*.toml"))])
        where = "neither beside the job file as a .toml file nor among those that ship"
        source.blame("", "vehicle", f"there is no vehicle {shown(name)}, {where}{near}{where_it_is(own)}")
    return shipped.get(name)


def _no_vehicle(source: Source) -> VehicleFile:
    none: Any = TableRows()  # nothing is known of it, whatever the kind of table
    return VehicleFile(
        source, "", example=False, known=None, bodies=none, parts=none, joints=none, points=none, ties=none
    )


def _shop(source: Source, lifts: list[dict[str, Any]]) -> ShopFile:
    """Return the job's shop: of its own file, or of the job file itself."""
    if "shop" not in source.raw:
        return read_shop_tables(replace(source, raw={**source.raw, "lift": lifts}))
    _blame_tables(source, "shop", tuple(key for key in SHOP_TABLES if key != "lift"))
    written = source.raw["shop"]
    if not isinstance(written, str):
        return ShopFile(source, TableRows(), TableRows(), TableRows())
    if not written.endswith(".toml"):
        source.blame(
            "", "shop", f'must be the path of a shop file from the job file, such as "shop.toml", is {shown(written)}'
        )
        return ShopFile(source, TableRows(), TableRows(), TableRows())
    try:
        shop = open_source(source.path.parent / written, SHOP_SCHEMA)
    except InputError as error:
        source.faults.extend(error.faults)
        return ShopFile(source, TableRows(), TableRows(), TableRows())
    read_head(shop, ShopHead, SHOP_TABLES)
    return read_shop_tables(shop)


def _blame_tables(source: Source, key: str, tables: tuple[str, ...]) -> None:
    for table in tables:
        if table in source.raw:
            source.blame("", table, f"belongs in the {key}'s file, because {key} names one")

"""Small made-up plans to mend: one unit of 230 kg on four stands, good as it is, and what spoils it."""

import datetime
from dataclasses import replace

from loadplan.limits import Limits
from loadplan.model.job import Job, Stack, Stage, Support
from loadplan.model.shop import Equipment, EquipmentKind, Heights, RatedFor, Shim, Shop, Square
from loadplan.model.vehicle import Basis, Body, Part, Point, Vehicle

INSPECTED = (("", datetime.date(2026, 6, 1)),)

RATCHET = Equipment(
    name="ratchet stand",
    kind=EquipmentKind.STAND,
    rating=15000.0,
    rated_for=RatedFor.EACH,
    heights=Heights(0.29, 0.43, tuple(0.29 + 0.02 * step for step in range(8))),
    base=Square(0.2, 0.2),
    saddle=Square(0.09, 0.09),
    stiffness=2.5e6,
    friction=0.3,
    count=7,
    tags=("S1", "S2", "S3", "S4", "S5", "S6", "S7"),
    out_of_use=("S7",),
    inspected=INSPECTED,
    inspect_months=12,
)
SCREW = replace(RATCHET, name="screw stand", heights=Heights(0.30, 0.60, ()), count=2, tags=("N1", "N2"), out_of_use=())
WEAK = replace(RATCHET, name="weak stand", rating=700.0, count=4, tags=("W1", "W2", "W3", "W4"), out_of_use=())
JACK = replace(SCREW, name="jack", kind=EquipmentKind.JACK, base=Square(0.15, 0.15), tags=("J1", "J2"), locks=False)
SLICK = replace(WEAK, name="slick stand", rating=15000.0, friction=0.005, tags=("G1", "G2", "G3", "G4"))
ROLLING = replace(SLICK, name="rolling stand", friction=0.3, tags=("R1", "R2", "R3", "R4"), wheels=True, locks=True)
OVERDUE = replace(
    SLICK,
    name="old stand",
    friction=0.3,
    tags=("O1", "O2", "O3", "O4"),
    inspected=(("", datetime.date(2024, 6, 1)),),
)

OUTLINE = ((0.7, 0.5), (0.7, -0.5), (-0.7, -0.5), (-0.7, 0.5))
UNIT = Body("unit", OUTLINE, 0.2, 0.7, Basis.WEIGHED, None)

POINTS = (
    Point("front left", "unit", (0.5, 0.35, 0.2), None, ""),
    Point("front right", "unit", (0.5, -0.35, 0.2), None, ""),
    Point("rear left", "unit", (-0.5, 0.35, 0.2), None, ""),
    Point("rear right", "unit", (-0.5, -0.35, 0.2), None, ""),
    Point("middle left", "unit", (0.0, 0.35, 0.2), None, ""),
    Point("middle right", "unit", (0.0, -0.35, 0.2), None, ""),
    Point("beside rear right", "unit", (-0.4, -0.35, 0.2), None, ""),
    Point("box tail", "unit", (-0.6, 0.0, 0.2), None, "", part="box"),
    Point("bracket", "unit", (0.25, 0.35, 0.2), 300.0, ""),
    Point("hose clip", "unit", (0.5, 0.6, 0.2), None, ""),
)


def _part(name: str, mass: float, at: tuple[float, float]) -> Part:
    return Part(name, "unit", mass, 2.0, (*at, 0.45), (0.01, 0.01, 0.02), (), Basis.WEIGHED)


VEHICLE = Vehicle(
    name="made up",
    example=True,
    bodies=(UNIT,),
    parts=(_part("block", 150.0, (0.1, 0.0)), _part("box", 60.0, (-0.35, 0.0)), _part("intake", 20.0, (0.1, 0.1))),
    joints=(),
    points=POINTS,
)


def stand(name: str, point: str, equipment: Equipment = RATCHET, height: float | None = 0.33) -> Support:
    """A stand under a point, with the tag that goes with its letter where its kind has one."""
    at = next(each for each in POINTS if each.name == point)
    place = "ABCDEFGH".index(name)
    tag = equipment.tags[place] if place < len(equipment.tags) else ""
    return Support(name, equipment, tag, "unit", at.at, height=height).under(at, VEHICLE)


CORNERS = (
    stand("A", "front left"),
    stand("B", "front right"),
    stand("C", "rear left"),
    stand("D", "rear right"),
)

DOWN, BARE, NIGHT = "Set down", "Intake off", "Overnight"


def plan(*supports: Support, shop: tuple[Equipment, ...] = (RATCHET, SCREW), off: tuple[str, ...] = ("intake",)) -> Job:
    """A plan of three steps with these stands: set down, parts off, left alone overnight."""
    standing = supports or CORNERS
    kinds = {each.equipment.name: each.equipment for each in standing}
    kinds |= {each.name: each for each in shop}
    return Job(
        title="made up",
        source="made-up.toml",
        vehicle=VEHICLE,
        shop=Shop(tuple(kinds.values()), (), (Shim(0.012, "steel", 2), Shim(0.006, "steel", 2))),
        bodies=("unit",),
        date=datetime.date(2026, 11, 20),
        until=None,
        limits=Limits(),
        lift=None,
        supports=standing,
        stages=(
            Stage(DOWN, in_place=tuple(each.name for each in standing)),
            Stage(BARE, off=off),
            Stage(NIGHT, unattended=True),
        ),
        us_units=False,
        assumed=(),
    )


def but(*changed: Support) -> tuple[Support, ...]:
    """The four corners with some of them otherwise."""
    new = {each.name: each for each in changed}
    return tuple(new.get(each.name, each) for each in CORNERS)


def steel(height: float) -> Stack:
    """A steel plate [m]."""
    return Stack(height, "steel", crib=False)

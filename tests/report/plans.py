"""A hand-made job for the reports' tests: a front unit on six stands. Every number here is made up."""

from dataclasses import replace
from datetime import date

from loadplan.limits import GRAVITY, Limits
from loadplan.model.job import Job, LiftUse, Stack, Stage, Support
from loadplan.model.shop import Circle, Equipment, EquipmentKind, Heights, Lift, Posts, RatedFor, Shop, Square
from loadplan.model.vehicle import Basis, Body, Joint, JointKind, Part, PlanPoint, Point, Vehicle

MASSES = {"shell": 1150.0, "subframe": 98.0, "powertrain": 330.0}
CGS = {"shell": (-1.45, 0.0, 0.62), "subframe": (0.02, 0.005, 0.27), "powertrain": (0.03, -0.045, 0.52)}
CG_PM = {"shell": (0.05, 0.02, 0.05), "subframe": (0.02, 0.02, 0.03), "powertrain": (0.022, 0.018, 0.03)}


def body(name: str, outline: tuple[PlanPoint, ...], bottom: float, top: float) -> Body:
    return Body(name, outline, bottom, top, Basis.DATA_SHEET, None)


def vehicle() -> Vehicle:
    bodies = (
        body("shell", ((0.9, 0.9), (0.9, -0.9), (-3.7, -0.88), (-3.7, 0.88)), 0.18, 1.45),
        body("subframe", ((0.42, 0.47), (0.42, -0.47), (-0.36, -0.43), (-0.36, 0.43)), 0.19, 0.39),
        body("powertrain", ((0.36, -0.52), (0.36, 0.43), (0.1, 0.5), (-0.26, 0.42), (-0.3, -0.5)), 0.2, 0.86),
    )
    parts = tuple(
        Part(f"{name} whole", name, mass, mass * 0.05, CGS[name], CG_PM[name], (), Basis.DATA_SHEET)
        for name, mass in MASSES.items()
    )
    joints = (
        Joint("rear roll link", JointKind.MOUNT, ("powertrain", "subframe"), ((-0.27, 0.02, 0.33),), 350e3),
        Joint(
            "subframe bolts",
            JointKind.BOLTED,
            ("subframe", "shell"),
            ((0.3, 0.4, 0.4), (0.3, -0.4, 0.4), (-0.3, 0.4, 0.4), (-0.3, -0.4, 0.4)),
            300e3,
        ),
        Joint("engine mount", JointKind.MOUNT, ("powertrain", "shell"), ((0.05, -0.45, 0.7),), 300e3),
        Joint("gearbox mount", JointKind.MOUNT, ("powertrain", "shell"), ((0.02, 0.42, 0.6),), 300e3),
    )
    points = (
        Point("subframe front left", "subframe", (0.33, 0.42, 0.205), 6000.0, "on the flat by the bolt"),
        Point("subframe front right", "subframe", (0.33, -0.42, 0.205), 6000.0, ""),
        Point("subframe rear left", "subframe", (-0.3, 0.38, 0.205), 6000.0, ""),
        Point("subframe rear right", "subframe", (-0.3, -0.38, 0.205), None, ""),
        Point("engine block pad", "powertrain", (0.16, -0.36, 0.25), 9000.0, ""),
        Point("gearbox pan", "powertrain", (0.16, 0.3, 0.27), 5000.0, ""),
        Point("sill front left", "shell", (-0.62, 0.72, 0.2), 9000.0, ""),
        Point("sill front right", "shell", (-0.62, -0.72, 0.2), 9000.0, ""),
        Point("sill rear left", "shell", (-2.3, 0.72, 0.2), 9000.0, ""),
        Point("sill rear right", "shell", (-2.3, -0.72, 0.2), 9000.0, ""),
        Point("shell tail", "shell", (-3.5, 0.0, 0.25), 3000.0, ""),
    )
    return Vehicle(
        name="Mid-size car, transverse engine, front-wheel drive",
        example=True,
        bodies=bodies,
        parts=parts,
        joints=joints,
        points=points,
    )


def stand() -> Equipment:
    return Equipment(
        name="ratchet stand 3 t",
        kind=EquipmentKind.STAND,
        rating=3000 * GRAVITY,
        rated_for=RatedFor.PAIR,
        heights=Heights(0.29, 0.43, tuple(0.29 + 0.02 * k for k in range(8))),
        base=Square(0.2, 0.2),
        saddle=Square(0.09, 0.09),
        stiffness=2.5e6,
        friction=0.3,
        count=6,
        tags=("S1", "S2", "S3", "S4", "S5", "S6"),
        out_of_use=(),
        locks=True,
        wheels=False,
        inspected=(("", date(2026, 6, 2)),),
        inspect_months=12,
    )


def bottle_jack() -> Equipment:
    return replace(
        stand(),
        name="bottle jack",
        kind=EquipmentKind.JACK,
        base=Circle(0.14),
        saddle=Circle(0.05),
        locks=False,
        rated_for=RatedFor.EACH,
    )


def support(name: str, point: Point, equipment: Equipment, tag: str = "") -> Support:
    return Support(
        name=name,
        equipment=equipment,
        tag=tag,
        body=point.body,
        at=point.at,
        point=point.name,
        limit=point.limit,
        say=point.say,
        height=0.35,
        shim=Stack(0.012, "douglas fir-larch", crib=False) if name == "E" else None,
        friction=None,
        standby=False,
        on="",
        piece="",
        keep=False,
    )


def lift() -> Lift:
    return Lift(
        name="bay 2",
        rating=4500 * GRAVITY,
        arms=4,
        arm_rating=1125 * GRAVITY,
        rise=1.85,
        ceiling=3.9,
        locks=True,
        lock_step=0.09,
        posts=Posts((1.4, -1.4), 0.3),
        stiffness=4e5,
        stiffness_assumed=False,
    )


def arm(point: Point) -> Support:
    equipment = replace(
        stand(),
        name="arm of bay 2",
        kind=EquipmentKind.ARM,
        rating=1125 * GRAVITY,
        rated_for=RatedFor.EACH,
        base=None,
        saddle=Circle(0.12),
        tags=(),
        heights=None,
    )
    return replace(support(point.name, point, equipment), height=None)


def job(*, us_units: bool = False) -> Job:
    car = vehicle()
    points = {each.name: each for each in car.points}
    under = (
        "subframe front left",
        "subframe front right",
        "subframe rear left",
        "subframe rear right",
        "engine block pad",
        "gearbox pan",
    )
    supports = tuple(
        support(letter, points[place], stand(), f"S{number + 1}")
        for number, (letter, place) in enumerate(zip("ABCDEF", under, strict=True))
    )
    pads = ("sill front left", "sill front right", "sill rear left", "sill rear right")
    use = LiftUse(lift(), "shell", -1.25, tuple(arm(points[pad]) for pad in pads), in_place=True)
    stages = (
        Stage(
            "Set down on the stands, still bolted",
            in_place=tuple("ABCDEF"),
            lowered=0.012,
            lift_locked=True,
            confirm=("starter cable marked and tied to the engine",),
        ),
        Stage("Unbolted, shell 50 mm up", undone=("subframe bolts", "engine mount", "gearbox mount")),
        Stage("Overnight", unattended=True),
        Stage("Stands under the engine and gearbox gone", cleared=("E", "F")),
        Stage("Stands back, gearbox hung far in front", in_place=("E", "F"), bar=True),
    )
    return Job(
        title="Clutch and rear seal (made up): front unit out from below",
        source="front-unit.toml",
        vehicle=car,
        shop=Shop((stand(),), (lift(),), ()),
        bodies=("shell", "subframe", "powertrain"),
        date=date(2026, 11, 20),
        until=None,
        limits=Limits(),
        lift=use,
        supports=supports,
        stages=stages,
        us_units=us_units,
        assumed=("mount stiffness of the engine mount: 300 N/mm",),
    )

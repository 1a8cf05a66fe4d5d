"""Made-up jobs for the planner: one unit, or two on mounts, with points scattered under them."""

import datetime
from dataclasses import replace

import numpy as np

from loadplan.limits import Limits
from loadplan.model.job import Job, Stage
from loadplan.model.shop import Equipment, EquipmentKind, Heights, RatedFor, Shop, Square
from loadplan.model.vehicle import Basis, Body, Joint, JointKind, Part, Point, Vehicle

STAND = Equipment(
    name="stand",
    kind=EquipmentKind.STAND,
    rating=6000.0,
    rated_for=RatedFor.EACH,
    heights=None,
    base=Square(0.2, 0.2),
    saddle=None,
    stiffness=2.5e6,
    friction=0.5,
    count=None,
    tags=(),
    out_of_use=(),
    locks=True,
    wheels=False,
    inspected=(),
    inspect_months=None,
)


def stepped(lowest: float, step: float, count: int) -> Heights:
    """Heights in steps [m]."""
    settings = tuple(lowest + step * number for number in range(count))
    return Heights(settings[0], settings[-1], settings)


def scattered(seed: int, points: int, bodies: int = 1) -> Job:
    """A job with parts and points at random; two bodies hang together by two mounts."""
    draw = np.random.default_rng(seed)
    names = ("unit", "frame")[:bodies]
    parts = tuple(
        Part(
            f"part {number}",
            names[number % bodies],
            float(draw.uniform(10, 60)),
            float(draw.uniform(0, 5)),
            (float(draw.normal(0, 0.12)), float(draw.normal(0, 0.1)), 0.5),
            (0.01, 0.01, 0.02),
            (),
            Basis.GUESS,
        )
        for number in range(6)
    )
    where = tuple(
        Point(
            f"point {number}",
            names[number % bodies],
            (float(draw.uniform(-0.6, 0.6)), float(draw.uniform(-0.4, 0.4)), 0.2 + 0.01 * (number % 3)),
            None,
            "",
        )
        for number in range(points)
    )
    mounts = tuple(
        Joint(f"mount {side}", JointKind.MOUNT, ("unit", "frame"), ((-0.2, side * 0.2, 0.3),), 3e5)
        for side in (-1.0, 1.0)
        if bodies == 2
    )
    vehicle = Vehicle(
        name="made up",
        example=True,
        bodies=tuple(Body(name, (), None, None, Basis.GUESS, None) for name in names),
        parts=parts,
        joints=mounts,
        points=where,
    )
    return Job(
        title="made up",
        source="made-up.toml",
        vehicle=vehicle,
        shop=Shop((STAND,), (), ()),
        bodies=names,
        date=datetime.date(2026, 1, 1),
        until=None,
        limits=Limits(),
        lift=None,
        supports=(),
        stages=(Stage("stands"), Stage("one part off", off=("part 0",))),
        us_units=False,
        assumed=(),
    )


def with_stand(job: Job, stand: Equipment) -> Job:
    """The same job in a shop that owns only this stand."""
    return replace(job, shop=Shop((stand,), (), ()))

"""Small made-up jobs of model nouns, and what the statics make of them.

A scene has one body "unit" unless told otherwise; a place given as (x, y) stands at z 0.2 (saddles) or 0.5 (parts).
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

import numpy as np

from loadplan.limits import GRAVITY, Limits
from loadplan.model.answer import Statics
from loadplan.model.job import Job, LiftUse, Stage, State, Support
from loadplan.model.shop import Equipment, EquipmentKind, Lift, RatedFor, Shop
from loadplan.model.vehicle import Basis, Body, Joint, JointKind, Part, Place, Vehicle, Weighed
from loadplan.stages import states
from loadplan.statics.equilibrium import Frame, frames
from loadplan.statics.group import solve
from loadplan.statics.lean import Tilted, upright
from loadplan.statics.mass import Array, lumps
from loadplan.statics.push_limit import Hold
from loadplan.statics.resting_state import Settings, Solved
from loadplan.statics.sideways_resistance import Grip, Resistance
from loadplan.statics.stage_sequence import solve_stages

STAND = Equipment(
    name="stand",
    kind=EquipmentKind.STAND,
    rating=30e3,
    rated_for=RatedFor.EACH,
    heights=None,
    base=None,
    saddle=None,
    stiffness=1e6,
    friction=None,
    count=None,
    tags=(),
    out_of_use=(),
    locks=True,
    wheels=False,
    inspected=(),
    inspect_months=None,
)
JACK = replace(STAND, name="jack", kind=EquipmentKind.JACK, locks=False)
HOIST = replace(STAND, name="hoist", kind=EquipmentKind.HOIST, locks=False)
ARM = replace(STAND, name="arm", kind=EquipmentKind.ARM, stiffness=4e5, locks=False)

LIFT = Lift("bay", 45e3, 4, 11e3, None, None, True, None, None, 4e5, stiffness_assumed=False)  # noqa: FBT003 - a record

SQUARE = ((0.5, 0.5), (0.5, -0.5), (-0.5, -0.5), (-0.5, 0.5))

NO_LIMITS = replace(Limits(), uneven=0.0, uneven_touch=0.0, floor_slope=0.0)
"""A level floor and saddles exactly where they were set."""


def place(at: Sequence[float], height: float) -> Place:
    return (at[0], at[1], at[2] if len(at) > 2 else height)


def part(
    at: Sequence[float] = (0.0, 0.0),
    mass: float = 100.0,
    *,
    name: str = "lump",
    body: str = "unit",
    mass_pm: float = 0.0,
    at_pm: Place = (0.0, 0.0, 0.0),
    after: tuple[str, ...] = (),
    basis: Basis = Basis.GUESS,
) -> Part:
    return Part(name, body, mass, mass_pm, place(at, 0.5), at_pm, after, basis)


def support(
    name: str,
    at: Sequence[float],
    *,
    body: str = "unit",
    use: Equipment = STAND,
    height: float | None = None,
    on: str = "",
    standby: bool = False,
    friction: float | None = None,
) -> Support:
    return Support(
        name=name,
        equipment=use,
        tag="",
        body=body,
        at=place(at, 0.2),
        point="",
        limit=None,
        say="",
        height=height,
        shim=None,
        friction=friction,
        standby=standby,
        on=on,
        piece="",
        keep=False,
    )


def stands(places: Sequence[Sequence[float]], *, body: str = "unit", use: Equipment = STAND) -> tuple[Support, ...]:
    """Stands A, B, C ... in the order of the places."""
    return tuple(support(chr(ord("A") + number), at, body=body, use=use) for number, at in enumerate(places))


def mount(
    name: str, at: Sequence[float], between: tuple[str, str] = ("unit", "cradle"), *, stiffness: float = 3e5
) -> Joint:
    return Joint(name, JointKind.MOUNT, between, (place(at, 0.4),), stiffness)


def link(name: str, at: Sequence[float], to: Sequence[float], between: tuple[str, str] = ("unit", "cradle")) -> Joint:
    return Joint(name, JointKind.LINK, between, (place(at, 0.4),), 3e5, to=place(to, 0.4))


def bolts(name: str, between: tuple[str, str] = ("unit", "cradle"), at: tuple[Place, ...] = ()) -> Joint:
    return Joint(name, JointKind.BOLTED, between, at, 0.0)


def weighed(mass: float, cg: Place, *, mass_pm: float = 0.0, cg_pm: Place = (0.0, 0.0, 0.0)) -> Weighed:
    return Weighed(mass, mass_pm, cg, cg_pm, None)


def lift_use(pads: Sequence[Sequence[float]], body: str = "shell", *, in_place: bool = True) -> LiftUse:
    arms = tuple(support(f"pad {number}", at, body=body, use=ARM) for number, at in enumerate(pads, 1))
    return LiftUse(replace(LIFT, arms=len(arms)), body, None, arms, in_place=in_place)


def job(
    parts: Sequence[Part],
    supports: Sequence[Support] = (),
    *,
    joints: Sequence[Joint] = (),
    stages: Sequence[Stage] | None = None,
    bodies: Sequence[str] = (),
    whole: dict[str, Weighed] | None = None,
    lift: LiftUse | None = None,
    limits: Limits = NO_LIMITS,
) -> Job:
    """A job; with no stages told, one that puts every support in place."""
    names = dict.fromkeys(each.body for each in parts) | dict.fromkeys(whole or ())
    vehicle = Vehicle(
        name="made up",
        example=False,
        bodies=tuple(Body(name, (), None, None, Basis.GUESS, (whole or {}).get(name)) for name in names),
        parts=tuple(parts),
        joints=tuple(joints),
        points=(),
    )
    return Job(
        title="made up",
        source="job.toml",
        vehicle=vehicle,
        shop=Shop((), (), ()),
        bodies=tuple(bodies) or tuple(names),
        date=date(2026, 11, 20),
        until=None,
        limits=limits,
        lift=lift,
        supports=tuple(supports),
        stages=tuple(stages or (Stage("all", in_place=tuple(each.name for each in supports)),)),
        us_units=False,
        assumed=(),
    )


def rider(*places: tuple[float, float], link: tuple[float, float] = (-0.2, 0.0)) -> Job:
    """A unit on stands of its own and on one link to a cradle that stands on four."""
    parts = [part((0.0, 0.0), 100.0, name="u"), part((0.0, 0.0), 50.0, name="c", body="cradle")]
    own = [support(f"e{number}", at) for number, at in enumerate(places)]
    joints = [mount("link", link)]
    return job(parts, [*stands(SQUARE, body="cradle"), *own], joints=joints)


def state(made: Job, stage: int = -1) -> State:
    return states(made)[stage]


def solved(made: Job) -> tuple[Statics, ...]:
    return solve_stages(made, states(made))


def frame(made: Job, stage: int = -1) -> Frame:
    """The only group after a stage."""
    after = state(made, stage)
    (only,) = frames(after, lumps(made, after))
    return only


def settings(of: Frame, **changes: object) -> Settings:
    """Nothing uneven, no slope, good grip, pushed at the first lump."""
    count = len(of.supports)
    usual = Settings(
        gaps=(0.0,) * count,
        uneven=(0.0,) * count,
        preload=(),
        slope=0.0,
        needs=(),
        undone=(),
        held=frozenset(),
        grips=(Grip(0.5, np.inf),) * count,
        pushed=tuple(next((lump.body, lump.at) for lump in of.lumps if lump.body in whole) for whole in of.wholes),
        asked=1e3,
        corners=((),) * len(of.wholes),
    )
    return replace(usual, **changes)  # type: ignore[arg-type]


def group(made: Job, **changes: object) -> Solved:
    """The only group of the last stage, solved."""
    of = frame(made)
    return solve(of, settings(of, **changes))


def expected(of: Solved) -> list[float]:
    assert of.loads is not None
    return [load.expected for load in of.loads]


def floor(of: Frame, slope: float) -> Tilted:
    """A floor of some slope [rad], and a group that does not lean."""
    return Tilted(slope, upright(of))


def hold(made: Job, at: Place, grips: Sequence[Grip], body: str = "unit") -> Hold:
    of = frame(made)
    return Hold(Resistance.of(of, tuple(grips)), of.whole(body), at, of.load)


def newton(mass: float) -> float:
    return mass * GRAVITY


def array(*values: float) -> Array:
    return np.array(values)

"""Small made-up records to judge: one unit of 100 kg on stands, with or without a vehicle on a lift beside it."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from loadplan.checks.case import Case
from loadplan.limits import Limits
from loadplan.model.answer import (
    Balanced,
    BodyAnswer,
    GripAnswer,
    GroupAnswer,
    Load,
    LoadRange,
    Motion,
    Statics,
    SupportAnswer,
)
from loadplan.model.job import Job, LiftUse, Stack, Stage, State, Support
from loadplan.model.lowering import LiftAnswer
from loadplan.model.shop import (
    Equipment,
    EquipmentKind,
    Heights,
    Lift,
    Posts,
    RatedFor,
    Shop,
    Square,
)
from loadplan.model.vehicle import Basis, Body, Joint, JointKind, Part, Vehicle
from loadplan.model.verdict import Finding, NotChecked, Quantity, Sentence

STILL = Motion(0.0, 0.0, 0.0)

STAND = Equipment(
    name="stand",
    kind=EquipmentKind.STAND,
    rating=1000.0,
    rated_for=RatedFor.EACH,
    heights=Heights(0.29, 0.43, tuple(0.29 + 0.02 * step for step in range(8))),
    base=Square(0.2, 0.2),
    saddle=Square(0.09, 0.09),
    stiffness=2.5e6,
    friction=None,
    count=6,
    tags=("S1", "S2", "S3", "S4"),
    out_of_use=("S4",),
    locks=True,
    wheels=False,
    inspected=(("", date(2026, 6, 2)),),
    inspect_months=12,
)
JACK = replace(STAND, name="jack", kind=EquipmentKind.JACK, locks=False, tags=(), out_of_use=())
HOIST = replace(JACK, name="hoist", kind=EquipmentKind.HOIST, base=None, saddle=None)
ARM = replace(JACK, name="bay arm", kind=EquipmentKind.ARM, rating=3000.0, base=None, saddle=None, heights=None)

LIFT = Lift(
    name="bay",
    rating=12000.0,
    arms=4,
    arm_rating=3000.0,
    rise=1.85,
    ceiling=3.9,
    locks=True,
    lock_step=0.09,
    posts=Posts((1.4, -1.4), 0.3),
    stiffness=4e5,
    stiffness_assumed=False,
)

UNIT = Body("unit", ((0.5, 0.5), (0.5, -0.5), (-0.5, -0.5), (-0.5, 0.5)), 0.2, 0.6, Basis.GUESS, None)
SHELL = Body("shell", ((1.0, 1.0), (1.0, -1.0), (-4.0, -1.0), (-4.0, 1.0)), 0.2, 1.5, Basis.GUESS, None)
BOLTS = Joint("bolts", JointKind.BOLTED, ("unit", "shell"), ((0.0, 0.0, 0.5),), 0.0)


def part(name: str, body: str = "unit") -> Part:
    return Part(name, body, 100.0, 1.0, (0.0, 0.0, 0.4), (0.01, 0.01, 0.01), (), Basis.GUESS)


VEHICLE = Vehicle(
    name="made up",
    example=True,
    bodies=(UNIT, SHELL),
    parts=(part("lump"), part("roof", "shell")),
    joints=(BOLTS,),
    points=(),
)


def support(name: str, equipment: Equipment = STAND, at: tuple[float, float] = (0.0, 0.0)) -> Support:
    return Support(
        name=name,
        equipment=equipment,
        tag="",
        body="unit",
        at=(*at, 0.2),
        point=f"place {name}",
        limit=500.0,
        say="",
        height=0.35,
        shim=None,
        friction=None,
        standby=False,
        on="",
        piece="",
        keep=False,
        outline=UNIT.outline,
    )


def shim(height: float = 0.012, wood: str = "") -> Stack:
    return Stack(height, wood, crib=False)


def arm(name: str, at: tuple[float, float]) -> Support:
    return replace(support(name, ARM, at), body="shell", point=name, limit=5000.0, height=None, outline=())


ARMS = (arm("pad 1", (-0.5, 0.8)), arm("pad 2", (-0.5, -0.8)), arm("pad 3", (-2.0, 0.8)), arm("pad 4", (-2.0, -0.8)))
LIFT_USE = LiftUse(LIFT, "shell", -1.25, ARMS, in_place=True)

STAGE = Stage("step")


def load(expected: float, low: float | None = None, high: float | None = None) -> Load:
    least, most = expected if low is None else low, expected if high is None else high
    return Load(expected, LoadRange(least, most, least, most))


def bounded(carried: Load, most: float | None) -> Load:
    """Return a load with another bound on the most it could ever be [N]."""
    assert carried.range is not None
    return replace(carried, range=replace(carried.range, most=most))


def group(bodies: tuple[str, ...], supports: tuple[str, ...]) -> GroupAnswer:
    proof = Balanced(tuple((name, 1.0) for name in supports), ())
    return GroupAnswer(
        bodies,
        supports,
        proof,
        robust=True,
        modes=(),
        snags=(),
        lost=(),
        sunk=(),
        simplified=False,
        sway=0.01,
        pushes=(),
        laid_on=(),
    )


def body_answer(name: str) -> BodyAnswer:
    return BodyAnswer(
        name=name,
        rigid_with=(),
        mass=100.0,
        cg=(0.0, 0.0, 0.4),
        cg_pm=(0.01, 0.01, 0.01),
        balanced=True,
        margin=0.2,
        worst_margin=0.15,
        tip_angle=0.5,
        motion=STILL,
        settled=STILL,
        lean=(0.0, 0.0),
    )


def job(*, lifted: bool = False) -> Job:
    return Job(
        title="made up",
        source="job.toml",
        vehicle=VEHICLE,
        shop=Shop((STAND, JACK, HOIST), (LIFT,), ()),
        bodies=("unit", "shell") if lifted else ("unit",),
        date=date(2026, 11, 20),
        until=None,
        limits=Limits(),
        lift=LIFT_USE if lifted else None,
        supports=(),
        stages=(STAGE, replace(STAGE, undone=("bolts",)) if lifted else STAGE),
        us_units=False,
        assumed=(),
    )


def case(*supports: Support, loads: Mapping[str, Load | None] | None = None) -> Case:
    """One unit on its own, free in the stage before already; what is not said carries 200 N."""
    carried = [(each.name, (loads or {}).get(each.name, load(200.0))) for each in supports]
    state = State(1, STAGE, ("unit",), frozenset({"lump", "roof"}), (), (), (), supports, None, lift_locked=False)
    statics = Statics(
        groups=(group(("unit",), tuple(name for name, _ in carried)),),
        bodies=(body_answer("unit"),),
        supports=tuple(SupportAnswer(name, 0.0, told) for name, told in carried),
        joints=(),
        misses=(),
        lift=None,
        set_down=None,
        pull=None,
        grips=tuple(GripAnswer(name, 0.01, 0.15, said=True) for name, told in carried if told and told.expected > 0),
    )
    return Case(job(), state, statics, state)


def lifted(*supports: Support, loads: Mapping[str, Load | None] | None = None, hung: bool = True) -> Case:
    """The unit on its supports and the shell on the lift; bolted to each other where it is hung."""
    alone = case(*supports, *ARMS, loads=loads)
    joints = (BOLTS,) if hung else ()
    state = replace(
        alone.state,
        bodies=("unit", "shell"),
        done_up=joints,
        undone=() if hung else (BOLTS,),
        supports=(*supports, *ARMS),
    )
    stands, arms = tuple(each.name for each in supports), tuple(each.name for each in ARMS)
    groups = (group(("unit", "shell"), stands + arms),) if hung else (group(("unit",), stands), group(("shell",), arms))
    statics = replace(
        alone.statics,
        groups=groups,
        bodies=(body_answer("unit"), body_answer("shell")),
        lift=LiftAnswer(200.0, 210.0, (-1.25, 0.0, 0.6), 0.0),
    )
    return Case(job(lifted=True), state, statics, state)


def in_stage(judged: Case, stage: Stage) -> Case:
    return replace(judged, state=replace(judged.state, stage=stage))


def with_group(judged: Case, changed: GroupAnswer) -> Case:
    groups = tuple(changed if each.bodies == changed.bodies else each for each in judged.statics.groups)
    return replace(judged, statics=replace(judged.statics, groups=groups))


def with_body(judged: Case, changed: BodyAnswer) -> Case:
    bodies = tuple(changed if each.name == changed.name else each for each in judged.statics.bodies)
    return replace(judged, statics=replace(judged.statics, bodies=bodies))


def findings(told: list[Finding | NotChecked]) -> list[Finding]:
    return [each for each in told if isinstance(each, Finding)]


def not_checked(told: list[Finding | NotChecked]) -> list[str]:
    return [words(each.says) for each in told if isinstance(each, NotChecked)]


def about(told: list[Finding | NotChecked], subject: str) -> Finding:
    those = [each for each in findings(told) if each.subject == subject]
    assert len(those) == 1, [each.subject for each in findings(told)]
    return those[0]


def words(says: Sentence) -> str:
    return "".join(f"{each.value:.4g} {each.measure.value}" if isinstance(each, Quantity) else each for each in says)

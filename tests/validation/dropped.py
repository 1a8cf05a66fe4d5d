"""Units let down onto their stands in mujoco, a simulator of rigid bodies (Apache licence): do they stay, or fall?

Each body can heave, roll and pitch, freely and as far as it likes. A stand is a level floor under one place of a body,
a spring that only pushes: the contact's direct stiffness is s / ((1 − d)·A), with A the simulator's own inverse mass of
that contact and d its impedance, so that s = K·(1 − d)·A makes it K. A mount is a spring between two bodies.

All saddles and mounts of a body lie in one level plane there, about which it turns. So nothing but the sway of its
centre of gravity, weight x height x tilt, makes a simulated unit differ from one that is reckoned as set.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import mujoco
import numpy as np

from loadplan.limits import GRAVITY
from loadplan.model.job import Job, Support

FALLEN = 0.3
"""Tilt from which a body has gone over [rad]."""

STILL = 2e-8
"""Speed at which it has come to rest [m/s, rad/s]."""

LOWERING, HELD_BACK = 1.0, 50.0
"""How long the lift takes to hand over the weight [s], and how it holds back [1/s]: a jolt could throw it over."""

LONGEST = 60.0
"""What is neither fallen nor at rest after so long [s] is nothing to judge by."""

IMPEDANCE, DAMPED = 0.1, 0.7
"""Of a contact; it weighs d / (1 − d) of what it holds, so a small one keeps it springing back like a stand."""

RADIUS, STEP, CHUNK = 0.02, 0.001, 50
"""Of a saddle [m]; of the simulator [s]; steps from one look to the next."""


@dataclass(frozen=True)
class Dropped:
    """How it ended: whether it fell, and what each stand carries [N] where it did not."""

    fell: bool
    loads: dict[str, float]


def drop(job: Job) -> Dropped:
    """Let a unit down onto the stands of its first stage, heights set, no lift, mounts done up.

    Raises:
        TimeoutError: If it neither falls nor comes to rest.
    """
    model, state = let_down(job)
    fell = has_fallen(state)
    return Dropped(fell=fell, loads={} if fell else _loads(model, state, job))


def let_down(job: Job) -> tuple[mujoco.MjModel, mujoco.MjData]:
    """Let a unit down; return the simulator with it at rest, or fallen.

    Raises:
        TimeoutError: If it does neither.
    """
    model = _stiffened(mujoco.MjModel.from_xml_string(_scene(job)), job)
    state = mujoco.MjData(model)
    while state.time < LONGEST:
        share = min(1.0, state.time / LOWERING)
        model.opt.gravity[2] = -GRAVITY * share
        model.dof_damping[:] = HELD_BACK * (1 - share) * model.dof_M0
        mujoco.mj_step(model, state, CHUNK)
        if has_fallen(state) or (max(abs(state.qvel)) < STILL and state.time > LOWERING):
            return model, state
    message = "neither fallen nor at rest"
    raise TimeoutError(message)


def has_fallen(state: mujoco.MjData, tilt: float = FALLEN) -> bool:
    """Tell whether a body has tilted further than that [rad]."""
    return bool(max(abs(np.delete(state.qpos, np.s_[::3]))) > tilt)


def plane_of(job: Job, body: str) -> float:
    """Return the height of the one plane that all saddles of a body, or else its mounts, lie in [m]."""
    saddles = {support.at[2] for support in job.supports if support.body == body}
    mounts = {joint.at[0][2] for joint in job.vehicle.joints if body in joint.between}
    (height,) = saddles or mounts
    return height


def _scene(job: Job) -> str:
    mounts = [
        f'<spatial stiffness="{joint.stiffness}" damping="{DAMPED * np.sqrt(joint.stiffness * _mass(job))}">'
        f'<site site="{joint.name} 0"/><site site="{joint.name} 1"/></spatial>'
        for joint in job.vehicle.joints
    ]
    pairs = [
        f'<pair name="{each.name}" geom1="floor of {each.name}" geom2="saddle of {each.name}" condim="1" '
        f'solimp="{IMPEDANCE} {IMPEDANCE} 0.001"/>'
        for each in job.supports
    ]
    return f"""<mujoco>
    <option timestep="{STEP}" integrator="implicitfast" tolerance="1e-12"/>
    <worldbody>{"".join([*_floors(job), *(_body(job, body) for body in job.bodies)])}</worldbody>
    <contact>{"".join(pairs)}</contact>
    <tendon>{"".join(mounts)}</tendon></mujoco>"""


def _floors(job: Job) -> Iterator[str]:
    """Yield a level floor for each stand, lower than the highest by as much as it is set lower."""
    set_at = {each.name: each.at[2] - (each.set_height or 0.0) for each in job.supports}
    for each in job.supports:
        top = plane_of(job, each.body) - RADIUS - (set_at[each.name] - min(set_at.values()))
        yield f'<geom name="floor of {each.name}" type="plane" size="1 1 1" pos="0 0 {top}" {_UNSEEN}/>'


_UNSEEN = 'contype="0" conaffinity="0"'
"""Touches nothing but its own partner."""


def _body(job: Job, name: str) -> str:
    (part,) = [part for part in job.vehicle.parts if part.body == name]
    plane = plane_of(job, name)
    x, y, z = part.at
    inertia = part.mass * 0.25**2
    saddles = [
        f'<geom name="saddle of {each.name}" size="{RADIUS}" mass="0" pos="{each.at[0]} {each.at[1]} 0" {_UNSEEN}/>'
        for each in job.supports
        if each.body == name
    ]
    sites = [
        f'<site name="{joint.name} {joint.between.index(name)}" pos="{joint.at[0][0]} {joint.at[0][1]} 0"/>'
        for joint in job.vehicle.joints
        if name in joint.between
    ]
    return f"""<body name="{name}" pos="0 0 {plane}">
    <joint type="slide" axis="0 0 1"/><joint type="hinge" axis="1 0 0"/><joint type="hinge" axis="0 1 0"/>
    <inertial pos="{x} {y} {z - plane}" mass="{part.mass}" diaginertia="{inertia} {inertia} {inertia}"/>
    {"".join(saddles + sites)}</body>"""


def _stiffened(model: mujoco.MjModel, job: Job) -> mujoco.MjModel:
    """Give each contact the stiffness of its stand, from the inverse mass that the simulator counts it with."""
    state = mujoco.MjData(model)
    state.qpos[::3] = -0.1  # all saddles touch
    mujoco.mj_forward(model, state)
    for contact in state.contact:
        support = _support(model, contact, job)
        stiffness = support.equipment.stiffness
        unit = (1 - IMPEDANCE) * state.efc_diagA[contact.efc_address]
        damping = 2 * DAMPED * np.sqrt(stiffness * _mass(job) / len(job.supports))
        model.pair(support.name).solref[:] = [-stiffness * unit, -damping * unit]
    return model


def _support(model: mujoco.MjModel, contact: mujoco.MjContact, job: Job) -> Support:
    floor = model.geom(contact.geom[0]).name
    (support,) = [each for each in job.supports if floor == f"floor of {each.name}"]
    return support


def _loads(model: mujoco.MjModel, state: mujoco.MjData, job: Job) -> dict[str, float]:
    loads = dict.fromkeys((each.name for each in job.supports), 0.0)
    for number, contact in enumerate(state.contact):
        force = np.zeros(6)
        mujoco.mj_contactForce(model, state, number, force)
        loads[_support(model, contact, job).name] += float(force[0])
    return loads


def _mass(job: Job) -> float:
    return sum(part.mass for part in job.vehicle.parts)

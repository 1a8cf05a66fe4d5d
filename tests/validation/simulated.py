"""Whole scenes in mujoco (Apache licence), a simulator of rigid bodies: every body free in all six directions.

A scene comes from the raw job alone (`tests.reference.scenes`): who is there, on which stands, tied by what. A stand is
a level floor under one place of a body, a spring that only pushes, with friction; its stiffness is set as in
`dropped`. A mount is a spring in all three directions at one point; a link is a stiff rod with a joint at each end.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from math import cos, sin

import mujoco
import numpy as np

from loadplan.limits import GRAVITY
from tests.reference.scenes import Scene, Seat, Tie

FALLEN = 0.3
"""Tilt from which a body has gone over [rad]."""

STILL = 2e-5
"""Speed at which it rests [m/s, rad/s]."""

LOWERING, HELD_BACK, AIR = 3.0, 30.0, 1.0
"""How long the weight is handed over [s]; how that is held back, and every motion after it [1/s]."""

LONGEST, PATIENCE, TILTING = 20.0, 12.0, 0.5
"""How long it may take to rest or fall; the same once it is tilted or pushed, and how long that takes [s]."""

RADIUS, STEP, CHUNK = 0.02, 0.001, 50
IMPEDANCE, DAMPED, GRIP = 0.1, 0.7, 0.5
"""Of a contact: impedance, share of critical damping, coefficient of friction."""

NEAR = 0.04
"""Of what was printed: how near the halving comes."""

SLID = 0.05
"""How far it may creep under a load [m]."""

NO_SLIP = 10.0
"""Friction where only tipping is asked for: what slides on a slope first is a matter of grip."""

THICK = 0.05
"""Half the thickness of the floor of a stand that stands on a body [m]."""

DEEPER = 0.03
"""How far a saddle is pressed into the floor of a stand on a body while its stiffness is set [m]: not to its middle."""

ROD, GYRATION = 5e6, 0.25
"""Stiffness of a link [N/m]; radius of gyration of a mass about its own centre [m]."""


@dataclass(frozen=True)
class Tilt:
    """Gravity leans by an angle towards a direction [rad]."""

    angle: float
    direction: float


@dataclass(frozen=True)
class Push:
    """A force [N] at a place [m] of a body, level, towards a direction [rad]."""

    body: str
    at: tuple[float, float, float]
    force: float
    direction: float


class Simulated:
    """A scene let down on its stands; it can be tilted or pushed from there as often as one likes."""

    def __init__(self, scene: Scene, ends: dict[str, tuple[float, float, float]]) -> None:
        """Let it down.

        Args:
            scene: Who stands on what.
            ends: Second end of each link [mm].
        """
        self.scene = scene
        self.model = mujoco.MjModel.from_xml_string(_xml(scene, ends))
        _stiffen(self.model, scene)
        self.state = mujoco.MjData(self.model)
        self.fell = self._let_down()
        self._rested = (self.state.qpos.copy(), self.state.qvel.copy())

    def _let_down(self) -> bool:
        while self.state.time < LONGEST:
            share = min(1.0, self.state.time / LOWERING)
            self.model.opt.gravity[2] = -GRAVITY * share
            self.model.dof_damping[:] = (AIR + HELD_BACK * (1 - share)) * self.model.dof_M0
            mujoco.mj_step(self.model, self.state, CHUNK)
            if self._over(FALLEN):
                return True
            if self.state.time > LOWERING + 0.5 and max(abs(self.state.qvel)) < STILL:
                return False
        return False

    def _over(self, angle: float) -> bool:
        """Tell whether a body has tilted further than that: its own z axis leans."""
        return bool(min(self.state.xmat[1:, 8]) < cos(angle)) or bool(min(self.state.qpos[2::7]) < -0.3)

    def falls_under(self, load: Tilt | Push) -> bool:
        """Tell whether it goes over from rest, or slides away."""
        mujoco.mj_resetData(self.model, self.state)
        self.state.qpos[:], self.state.qvel[:] = self._rested
        self.model.pair_friction[:, :2] = NO_SLIP if isinstance(load, Tilt) else GRIP
        limit = FALLEN + (load.angle / 2 if isinstance(load, Tilt) else 0.0)
        while self.state.time < PATIENCE:
            self._apply(load, min(1.0, self.state.time / TILTING))
            mujoco.mj_step(self.model, self.state, CHUNK)
            if self._over(limit):
                return True
            if self.state.time > TILTING + 0.3 and max(abs(self.state.qvel)) < STILL:
                return False
        moved = (self.state.qpos - self._rested[0]).reshape(-1, 7)[:, :2]
        return bool(np.linalg.norm(moved, axis=1).max() > SLID)

    def _apply(self, load: Tilt | Push, share: float) -> None:
        self.model.opt.gravity[:] = (0, 0, -GRAVITY)
        if isinstance(load, Tilt):
            now, way = load.angle * share, load.direction
            self.model.opt.gravity[:] = GRAVITY * np.array([sin(now) * cos(way), sin(now) * sin(way), -cos(now)])
            return
        number = 1 + self.scene.whole_of(load.body)
        force = share * load.force * np.array([cos(load.direction), sin(load.direction), 0.0])
        turned = self.state.xmat[number].reshape(3, 3) @ np.array(load.at) + self.state.xpos[number]
        arm = turned - self.state.xipos[number]
        self.state.xfrc_applied[number] = [*force, *np.cross(arm, force)]

    def borne_angle(self, printed: float, direction: float) -> float:
        """Return the largest tilt under which it stays [rad], by halving; at most twice the printed one."""
        return _halved(lambda angle: self.falls_under(Tilt(angle, direction)), printed)

    def borne_push(self, push: Push) -> float:
        """Return the largest push under which it stays [N], by halving; at most twice the given one."""
        return _halved(lambda force: self.falls_under(replace(push, force=force)), push.force)


def _halved(falls: Callable[[float], bool], printed: float) -> float:
    low, high = 0.0, 2.0 * printed
    if not falls(high):
        return high
    while high - low > NEAR * printed:
        middle = (low + high) / 2
        low, high = (low, middle) if falls(middle) else (middle, high)
    return low


def _xml(scene: Scene, ends: dict[str, tuple[float, float, float]]) -> str:
    loose = [tie for tie in scene.ties if not tie.bolted]
    pairs = [
        f'<pair name="{seat.name}" geom1="floor of {seat.name}" geom2="saddle of {seat.name}" condim="3" '
        f'friction="{GRIP} {GRIP} 0 0 0" solreffriction="0.02 1" solimp="{IMPEDANCE} {IMPEDANCE} 0.001"/>'
        for seat in scene.seats
    ]
    bodies = [_body(scene, number, loose, ends) for number in range(len(scene.wholes))]
    return f"""<mujoco>
    <option timestep="{STEP}" integrator="implicitfast" cone="elliptic" impratio="10" noslip_iterations="3"/>
    <worldbody>{"".join([*_floors(scene), *bodies])}</worldbody>
    <contact>{"".join(pairs)}</contact>
    <tendon>{"".join(_spring(scene, tie) for tie in loose)}</tendon></mujoco>"""


def _spring(scene: Scene, tie: Tie) -> str:
    stiffness = ROD if tie.link else 1000 * tie.stiffness
    damping = DAMPED * np.sqrt(stiffness * _mass(scene) / 4)
    return (
        f'<spatial stiffness="{stiffness}" damping="{damping}">'
        f'<site site="{tie.name} 0"/><site site="{tie.name} 1"/></spatial>'
    )


def _floors(scene: Scene) -> Iterator[str]:
    """Yield a level floor for each stand, lower than the highest by as much as it is set lower."""
    on_floor = [seat for seat in scene.seats if not seat.on]
    highest = min((seat.value or 0.0 for seat in on_floor), default=0.0)
    for seat in on_floor:
        top = (seat.at[2] - ((seat.value or 0.0) - highest)) / 1e3
        yield f'<geom name="floor of {seat.name}" type="plane" size="1 1 1" pos="0 0 {top}" {_UNSEEN}/>'


_UNSEEN = 'contype="0" conaffinity="0"'
"""Touches nothing but its own partner."""


def _body(scene: Scene, number: int, loose: list[Tie], ends: dict[str, tuple[float, float, float]]) -> str:
    whole = scene.wholes[number]
    lumps = [lump for lump in scene.lumps if lump.body in whole and lump.there]
    masses = np.array([lump.sign * lump.mass for lump in lumps])
    places = np.array([lump.at for lump in lumps]) / 1e3
    middle = masses @ places / masses.sum()
    spread = masses @ (places - middle) ** 2 + masses.sum() * GYRATION**2 / 2
    inertia = spread.sum() - spread
    saddles = [
        f'<geom name="saddle of {seat.name}" size="{RADIUS}" mass="0" pos="{_metres(_over(seat.at))}" {_UNSEEN}/>'
        for seat in scene.seats
        if seat.body in whole
    ]
    # What stands on a body has its level floor on that, and moves with it.
    floors = [
        f'<geom name="floor of {seat.name}" type="box" size="0.2 0.2 {THICK}" mass="0" {_UNSEEN} '
        f'pos="{_metres((*seat.at[:2], seat.at[2] - (seat.value or 0.0) - 1e3 * THICK))}"/>'
        for seat in scene.seats
        if seat.on in whole
    ]
    sites = [
        f'<site name="{tie.name} {end}" pos="{_metres(ends.get(tie.name, tie.places[0]) if end else tie.places[0])}"/>'
        for tie in loose
        for end, body in enumerate((tie.first, tie.second))
        if body in whole
    ]
    return f"""<body name="{whole[0]}"><freejoint/>
    <inertial pos="{" ".join(map(str, middle))}" mass="{masses.sum()}" diaginertia="{" ".join(map(str, inertia))}"/>
    {"".join(saddles + floors + sites)}</body>"""


def _over(place: tuple[float, float, float]) -> tuple[float, float, float]:
    """Return the middle of a ball that touches at a place [mm].

    As it rolls, a body turns as if about that place, and friction takes hold of it there.
    """
    x, y, z = place
    return (x, y, z + 1e3 * RADIUS)


def _metres(place: tuple[float, float, float]) -> str:
    return " ".join(str(each / 1e3) for each in place)


def _stiffen(model: mujoco.MjModel, scene: Scene) -> None:
    """Give each contact the stiffness of its stand, from the inverse mass that the simulator counts it with."""
    state = mujoco.MjData(model)
    # All saddles touch, also those of what stands on a body, however much lower one of them is set.
    state.qpos[2::7] = [-0.1 - DEEPER * _storey(scene, number) for number in range(len(scene.wholes))]
    mujoco.mj_forward(model, state)
    for contact in state.contact:
        seat = _seat(model, contact, scene)
        unit = (1 - IMPEDANCE) * state.efc_diagA[contact.efc_address]
        stiffness = 1000 * seat.stiffness
        damping = 2 * DAMPED * np.sqrt(stiffness * _mass(scene) / len(scene.seats))
        model.pair(seat.name).solref[:] = [-stiffness * unit, -damping * unit]


def _storey(scene: Scene, number: int) -> int:
    """Return on how many others, one on another, a whole stands."""
    below = {scene.whole_of(seat.on) for seat in scene.seats if seat.on and seat.body in scene.wholes[number]}
    return max((1 + _storey(scene, each) for each in below - {number}), default=0)


def _seat(model: mujoco.MjModel, contact: mujoco.MjContact, scene: Scene) -> Seat:
    touching = {model.geom(each).name for each in contact.geom}
    return next(seat for seat in scene.seats if f"floor of {seat.name}" in touching)


def _mass(scene: Scene) -> float:
    return sum(lump.sign * lump.mass for lump in scene.lumps if lump.there)

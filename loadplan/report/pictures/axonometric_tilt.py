"""A unit tilted about the edge that it goes over: the scene of a step after the motion of one of its modes.

Each body that the mode turns is turned about its own level line, the one that the motion leaves where it is, as high as
what it turns about. The body that turns most is turned by the tip angle, the others by their share of it. With one
rigid whole its centre of gravity then stands right over the edge: from there it goes by itself.
"""

from collections.abc import Callable
from dataclasses import replace
from math import atan2, cos, hypot, pi, sin

from loadplan.model.answer import Mode, Motion
from loadplan.report.drawing.axonometric_projection import XYZ
from loadplan.report.pictures.axonometric_scene import ShownCentre, SpaceScene
from loadplan.report.pictures.axonometric_stands import SolidKind
from loadplan.report.pictures.cg_region import axis, chord

STILL = 1e-9
"""A body that a mode turns by less than this [rad a unit of the motion] is not turned."""


def tilted(scene: SpaceScene, mode: Mode) -> SpaceScene:
    """Tilt what a mode turns, by its tip angle.

    Args:
        scene: A step in space.
        mode: A way to go over, with a tip angle.

    Returns:
        The scene with bodies, parts and centres of gravity turned, and each edge the line that its body turns about.
        Arrows are left out, since what each stand carries is another thing by then, mounts that go with it, and marks.
    """
    moves = body_moves(scene, mode)
    bodies = (SolidKind.BODY, SolidKind.PART)
    still = [each for each in scene.content.mounts if each.name in mode.about or not moves.keys() & set(each.between)]
    return replace(
        scene,
        content=replace(scene.content, mounts=tuple(still), links=(), ties=()),
        solids=tuple(
            replace(each, solid=each.solid.moved(moves[each.body]))
            if each.kind in bodies and each.body in moves
            else each
            for each in scene.solids
        ),
        loads=tuple(replace(each, load=None, tip=each.at, tail=each.at) for each in scene.loads),
        centres=tuple(_turned(scene, each, mode, moves) for each in scene.centres),
        pull=None,
    )


def body_moves(scene: SpaceScene, mode: Mode) -> dict[str, Callable[[XYZ], XYZ]]:
    """Find where the places of each body go that a mode turns, by its tip angle.

    Args:
        scene: A step in space.
        mode: A way to go over, with a tip angle.

    Returns:
        By body, a rule that says where a place [m] goes.
    """
    turns = {body: hypot(motion.rx, motion.ry) for body, motion in mode.motions}
    most = max(turns.values(), default=0.0)
    return {
        body: _about(motion, _level(scene, mode, body), (mode.tip_angle or 0.0) * turns[body] / most)
        for body, motion in mode.motions
        if turns[body] > STILL
    }


def azimuth_along(mode: Mode, usual: float, aside: float) -> float:
    """Choose from where a tilt is seen: nearly along the line that it turns about.

    Args:
        mode: A way to go over.
        usual: Azimuth from which other pictures are seen [rad].
        aside: How far off that line the viewer stands [rad].

    Returns:
        The azimuth [rad], of the four beside that line the nearest to the usual one.
    """
    motion = max((each for _, each in mode.motions), key=lambda each: hypot(each.rx, each.ry))
    line = atan2(motion.ry, motion.rx)
    choices = (line + end + side * aside for end in (0.0, pi) for side in (-1, 1))
    return min(choices, key=lambda each: abs((each - usual + pi) % (2 * pi) - pi))


def _about(motion: Motion, level: float, angle: float) -> Callable[[XYZ], XYZ]:
    """Return the turn about the level line that a motion leaves where it is, up where the motion goes up.

    Rotation of a place about a unit vector k by Rodrigues' formula: r cos a + (k x r) sin a + k (k . r)(1 - cos a).
    """
    size = hypot(motion.rx, motion.ry)
    k = motion.rx / size, motion.ry / size
    # The place of the line nearest to the origin: w + rx y - ry x = 0 there.
    start = motion.w * motion.ry / size**2, -motion.w * motion.rx / size**2, level
    ahead, aside = cos(angle), sin(angle)

    def move(place: XYZ) -> XYZ:
        x, y, z = place[0] - start[0], place[1] - start[1], place[2] - start[2]
        along = (k[0] * x + k[1] * y) * (1 - ahead)
        return (
            start[0] + x * ahead + k[1] * z * aside + k[0] * along,
            start[1] + y * ahead - k[0] * z * aside + k[1] * along,
            start[2] + z * ahead + (k[0] * y - k[1] * x) * aside,
        )

    return move


def _level(scene: SpaceScene, mode: Mode, body: str) -> float:
    """Return how high the line lies that a body turns about: the mean of what it turns about, saddles and mounts."""
    saddles = [(each.support.name, each.support.body, each.at[2]) for each in scene.loads]
    mounts = [
        (joint.name, side, joint.at[0][2] + scene.levels.rise(joint.between[0]))
        for joint in (*scene.content.mounts, *scene.content.links)
        for side in joint.between
    ]
    borne = [(name, height) for name, on, height in (*saddles, *mounts) if on == body]
    turning = [height for name, height in borne if name in mode.about] or [height for _, height in borne]
    return sum(turning) / len(turning) if turning else 0.0


def _turned(scene: SpaceScene, centre: ShownCentre, mode: Mode, moves: dict[str, Callable[[XYZ], XYZ]]) -> ShownCentre:
    """Return a centre of gravity turned with its body, with the line on the floor that this turns about."""
    body = centre.whole.bodies[0].name
    if body not in moves:
        return replace(centre, region=(), edge=(), foot=None)
    floor = tuple((x, y) for x, y, _ in scene.floor)
    ends = chord(floor, axis(dict(mode.motions)[body])) or ()
    return replace(centre, at=moves[body](centre.at), edge=tuple((x, y, 0.0) for x, y in ends), foot=None)

"""How far the places of supports and undone joints sink from one stage to the next."""

from dataclasses import dataclass, replace

from tests.reference import exact, scenes
from tests.reference.figures import Figures, keep_motion, rise, rise_at
from tests.reference.group import balance_of, settle_group, weights_of
from tests.reference.scenes import Place, Plan, Scene


@dataclass(frozen=True)
class Earlier:
    """What a stage began with: the state before the first stage, or the stage before."""

    scene: Scene | None
    figures: Figures | None
    datum: float | None


def find_drops(figures: Figures, scene: Scene, plan: Plan, earlier: Earlier, datum: tuple[float | None, float]) -> None:
    """Note how far each place of a body that does not hang on the lift sinks; `datum`: the new one, and its shift."""
    before = earlier.figures
    if before is None or earlier.scene is None:
        return
    hanging = _hanging(earlier.scene, plan)
    down = dict.fromkeys(before.motion, datum[1])
    if earlier.datum is None and datum[0] is not None:
        reach = [
            rise(before, seat) + figures.gap[seat.name]
            for seat in scene.seats
            if seat.value is not None and seat.body in hanging and seat.body in before.motion
        ]
        down = {body: min(reach, default=0.0) if body in hanging else 0.0 for body in before.motion}
    free = set(scene.bodies) - _hanging(scene, plan)
    for name, body, at in _places(scene, earlier.scene):
        if body in free and body in before.motion and body in figures.motion:
            fall = rise_at(before.motion[body], at) - down[body] - rise_at(figures.motion[body], at)
            figures.drop[name] = max(fall, figures.drop.get(name, fall))
            unique = before.motion_unique.get(body, True) and figures.motion_unique.get(body, True)
            figures.drop_unique[name] = unique and figures.drop_unique.get(name, True)


def _hanging(scene: Scene, plan: Plan) -> set[str]:
    if not any(seat.arm for seat in scene.seats):
        return set()
    return set(scenes.joined_by_ties(scene, plan.lift_body))


def _places(scene: Scene, earlier: Scene) -> list[tuple[str, str, Place]]:
    seats = {seat.name: seat for seat in (*earlier.seats, *scene.seats) if not seat.arm}
    places = [(seat.name, seat.body, seat.at) for seat in seats.values()]
    return places + [
        (tie.name, body, at) for tie in scene.undone for body in (tie.first, tie.second) for at in tie.places
    ]


def find_parted(figures: Figures, scene: Scene, f0: dict[str, float]) -> None:
    """Note for each body that is set down what its stands carry, and how far it sinks when all its ties go at once."""
    down = figures.set_down
    if down is None or not down.parted:
        return
    inside = set(down.parted)
    ties = [tie for tie in scene.ties if len({tie.first, tie.second} & inside) == 1]
    alone = scenes._linked(
        replace(
            scene,
            bodies=down.parted,
            lumps=tuple(lump for lump in scene.lumps if lump.body in inside),
            seats=tuple(seat for seat in scene.seats if seat.body in inside),
            ties=tuple(tie for tie in scene.ties if {tie.first, tie.second} <= inside),
        )
    )
    after = Figures("parted")
    for group in alone.groups:
        frame = exact.frame_of(alone, group)
        if balance_of(frame)[0]:
            keep_motion(after, frame, settle_group(frame, figures.gap, weights_of(frame), f0))
    places = [(seat.body, seat.at) for seat in scene.seats]
    places += [(body, at) for tie in ties for body in (tie.first, tie.second) for at in tie.places]
    for body in down.parted:
        figures.carried[body] = sum(figures.expected.get(seat.name, 0.0) for seat in scene.seats if seat.body == body)
        if body in after.motion and after.motion_unique[body] and figures.motion_unique.get(body, True):
            falls = [
                rise_at(figures.motion[body], at) - rise_at(after.motion[body], at) for on, at in places if on == body
            ]
            figures.parted_drop[body] = max(falls, default=0.0)

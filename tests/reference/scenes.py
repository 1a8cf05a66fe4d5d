"""A raw job, as its TOML reads (metric), turned into one scene a stage: who is there, on what, tied to whom.

Works in mm, kg, N. A scene holds no figures yet: only places, weights with their tolerance, supports and ties.
"""

from collections.abc import Iterable
from dataclasses import replace
from math import radians as to_radians
from math import tan
from typing import Any

from shapely.geometry import Point as Spot
from shapely.geometry import Polygon

from tests.reference.scene_nouns import Lump, Plan, Scene, Seat, Tie

Place = tuple[float, float, float]

GRAVITY = 9.80665
MASS_SHARE = {"weighed": 0.02, "data sheet": 0.10, "guess": 0.20}
PLACE_PM = {"weighed": 10.0, "data sheet": 25.0, "guess": 40.0}
STIFFNESS = {"stand": 2500.0, "jack": 1500.0, "table": 1500.0, "hoist": 1000.0, "arm": 400.0}
MOUNT_STIFFNESS = 300.0


def read_plan(job: dict[str, Any]) -> Plan:
    """Read a job whose vehicle tables stand in itself; `shop` may be a table of the shop's tables."""
    shop = job["shop"] if isinstance(job.get("shop"), dict) else job
    bodies = tuple(job.get("bodies") or [body["name"] for body in job["body"]])
    limits = job.get("limits", {})
    ties = [_tie(joint) for joint in job.get("joint", [])]
    lift: dict[str, Any] = job["lift"] if isinstance(job.get("lift"), dict) else {}
    return Plan(
        bodies=bodies,
        parts={part["name"]: _part(job, part) for part in job["part"] if part["body"] in bodies},
        after={part["name"]: tuple(part.get("after", [])) for part in job["part"]},
        weighed={b["name"]: _weighed(b) for b in job["body"] if "weighed" in b and b["name"] in bodies},
        ties=tuple(tie for tie in ties if tie.first in bodies and tie.second in bodies),
        outside=tuple(tie for tie in ties if (tie.first in bodies) != (tie.second in bodies)),
        seats=tuple(_seat(job, shop, support) for support in job.get("support", [])),
        arms=tuple(_arms(job, shop, lift)) if lift else (),
        lift_name=lift["use"] if lift else "",
        lift_body=lift["body"] if lift else "",
        lift_in_place=bool(lift) and bool(lift.get("in_place", True)),
        slope=tan(to_radians(limits.get("floor_slope", 0.6))),
        uneven=limits.get("uneven", 3.0),
        uneven_touch=limits.get("uneven_touch", 1.0),
    )


def _known(job: dict[str, Any], part: dict[str, Any]) -> str:
    body = next(each for each in job["body"] if each["name"] == part["body"])
    return str(part.get("known") or body.get("known") or job.get("known") or "guess")


def _three(value: float | list[float]) -> Place:
    if isinstance(value, int | float):
        return (value, value, value)
    return (value[0], value[1], value[2])


def _part(job: dict[str, Any], part: dict[str, Any]) -> Lump:
    known = _known(job, part)
    return Lump(
        body=part["body"],
        sign=1,
        mass=part["mass"],
        mass_pm=part.get("mass_pm", MASS_SHARE[known] * part["mass"]),
        at=tuple(part["at"]),
        at_pm=_three(part.get("at_pm", PLACE_PM[known])),
    )


def _weighed(body: dict[str, Any]) -> Lump:
    scale = body["weighed"]
    return Lump(
        body=body["name"],
        sign=1,
        mass=scale["mass"],
        mass_pm=scale.get("mass_pm", MASS_SHARE["weighed"] * scale["mass"]),
        at=tuple(scale["cg"]),
        at_pm=_three(scale.get("cg_pm", PLACE_PM["weighed"])),
    )


def _tie(joint: dict[str, Any]) -> Tie:
    at = joint.get("at", [])
    places = [at] if at and isinstance(at[0], int | float) else at
    return Tie(
        name=joint["name"],
        bolted=joint["kind"] == "bolted",
        first=joint["between"][0],
        second=joint["between"][1],
        places=tuple(tuple(place) for place in places),
        stiffness=joint.get("stiffness", MOUNT_STIFFNESS),
        link=joint["kind"] == "link",
        to=tuple(joint["to"]) if "to" in joint else None,
        part=joint.get("part", ""),
    )


def _foot(job: dict[str, Any], body: str) -> float:
    """Return the z at which what stands on a body without a top has its feet: the highest just touches."""
    points = {each["name"]: each["at"] for each in job.get("point", [])}
    depths = []
    for each in job["support"]:
        shim = each.get("shim", 0)
        if each.get("on", "") == body and "height" in each:
            z = points[each["under"]][2] if "under" in each else each["at"][2]
            depths.append(z - each["height"] - (shim["height"] if isinstance(shim, dict) else shim))
    return min(depths, default=0.0)


def _seat(job: dict[str, Any], shop: dict[str, Any], support: dict[str, Any]) -> Seat:
    equipment = next(each for each in shop["equipment"] if each["name"] == support["use"])
    place = support
    if "under" in support:
        place = next(each for each in job["point"] if each["name"] == support["under"])
    at = place["at"]
    shim = support.get("shim", 0)
    shim = shim["height"] if isinstance(shim, dict) else shim
    foot = _foot(job, support["on"]) if support.get("on") else 0.0
    touching = "height" not in support or support.get("standby", False) or equipment["kind"] == "hoist"
    return Seat(
        name=support["name"],
        body=place["body"],
        on=support.get("on", ""),
        at=tuple(at),
        stiffness=equipment.get("stiffness", STIFFNESS[equipment["kind"]]),
        arm=False,
        hoist=equipment["kind"] == "hoist",
        value=None if touching else at[2] - support["height"] - shim - foot,
        high=None if touching else support["height"] + shim,
        part=place.get("part", "") if place is not support else "",
        beside=equipment["kind"] != "hoist" and _beside(job, place, place.get("part", "")),
    )


def _beside(job: dict[str, Any], place: dict[str, Any], part: str) -> bool:
    """Return whether a place is outside the outline of its part, where that has one, else of its body."""
    of_part = next((each.get("outline") for each in job["part"] if each["name"] == part), None)
    outline = of_part or next(each.get("outline") for each in job["body"] if each["name"] == place["body"])
    return bool(outline) and not Polygon(outline).covers(Spot(place["at"][:2]))


def _arms(job: dict[str, Any], shop: dict[str, Any], lift: dict[str, Any]) -> Iterable[Seat]:
    machine = next(each for each in shop["lift"] if each["name"] == lift["use"])
    for pad in lift["pads"]:
        point = next(each for each in job["point"] if each["name"] == pad)
        at, stiffness = tuple(point["at"]), machine.get("stiffness", STIFFNESS["arm"])
        seat = Seat(pad, lift["body"], "", at, stiffness, arm=True, hoist=False, value=None)
        yield replace(seat, part=point.get("part", ""))


def hung_scene(plan: Plan) -> Scene | None:
    """Return the job before its first stage, or None where nothing hangs on a lift."""
    if not plan.lift_in_place:
        return None
    return _linked(_scene_of(plan, {"name": "", "number": 0}, _Now(plan)))


def on_arms_alone(scene: Scene) -> Scene:
    """Return a scene without its supports other than arms."""
    seats = tuple(seat for seat in scene.seats if seat.arm)
    return _linked(replace(scene, seats=seats))


def all_scenes(job: dict[str, Any], plan: Plan) -> list[Scene]:
    """Return the job after each of its stages."""
    now = _Now(plan)
    scenes = []
    for stage in job["stage"]:
        now.step(stage)
        scenes.append(_linked(_scene_of(plan, stage, now)))
    return scenes


class _Now:
    """What is on, done up and in place while the stages are walked through."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.off: set[str] = set()
        self.undone: set[str] = set()
        self.placed: set[str] = set()
        self.loosened: set[str] = set()
        self.heights: dict[str, float] = {}
        self.lift = plan.lift_in_place
        self.lowered: float | None = None

    def step(self, stage: dict[str, Any]) -> None:
        self.off = (self.off | set(stage.get("off", []))) - set(stage.get("on", []))
        tight = {tie.name for tie in self.plan.ties} - self.undone - set(stage.get("undone", []))
        self.loosened = {tie.name for tie in self.plan.ties if tie.name in tight and tie.part in stage.get("off", [])}
        self.undone = (self.undone | set(stage.get("undone", []))) - set(stage.get("done_up", []))
        self.undone |= {tie.name for tie in self.plan.ties if tie.part in self.off}
        self.heights |= stage.get("set", {})
        self.placed = (self.placed | set(stage.get("in_place", []))) - set(stage.get("cleared", []))
        self.lift = (self.lift or self.plan.lift_name in stage.get("in_place", [])) and (
            self.plan.lift_name not in stage.get("cleared", [])
        )
        self.lowered = stage.get("lowered", stage.get("raised", self.lowered))


def _scene_of(plan: Plan, stage: dict[str, Any], now: _Now) -> Scene:
    there = tuple(body for body in plan.bodies if _has_parts(plan, body, now.off))
    done_up: list[Tie] = []
    undone: list[Tie] = []
    for tie in plan.ties:
        if tie.first in there and tie.second in there:
            (undone if tie.name in now.undone else done_up).append(tie)
    optional = set(stage.get("off", [])) if stage.get("any_order") else set()
    left_out = [tie for tie in plan.outside if tie.first in there or tie.second in there]
    seats = [_set_anew(seat, now.heights.get(seat.name)) for seat in plan.seats if seat.name in now.placed]
    seats += plan.arms if now.lift else ()
    bears = [seat.part not in now.off and not seat.beside for seat in seats]
    return Scene(
        name=stage["name"],
        bodies=there,
        lumps=tuple(_lumps(plan, there, now.off, optional)),
        seats=tuple(seat for seat, held in zip(seats, bears, strict=True) if held),
        ties=tuple(done_up),
        undone=tuple(undone + left_out),
        subsets=tuple(_subsets(plan, now.off, sorted(optional))),
        lowered=now.lowered,
        new=tuple(stage.get("in_place", [])),
        air=tuple(seat for seat, held in zip(seats, bears, strict=True) if not held),
        loosened=tuple(tie for tie in undone if tie.name in now.loosened),
        came_off=tuple(
            plan.parts[name] for name in stage.get("off", []) if name in plan.parts and plan.parts[name].body in there
        ),
    )


def _set_anew(seat: Seat, height: float | None) -> Seat:
    """Return a seat at another height; jobs of tests have no shim on a saddle that is set anew."""
    return seat if height is None else replace(seat, value=seat.at[2] - height, high=height)


def between(scene: Scene) -> list[Scene]:
    """Return the states in the middle of a stage in which other ties and supports hold, as other parts are on.

    One for each set of the parts that carry a tie or a support; what may come off besides stays open in each.
    """
    optional = frozenset(name for gone in scene.subsets for name in gone)
    carriers = {tie.part for tie in scene.loosened} | {seat.part for seat in (*scene.seats, *scene.air)}
    keys = optional & carriers
    told: dict[frozenset[str], list[frozenset[str]]] = {}
    for gone in scene.subsets if keys else ():
        told.setdefault(gone & keys, []).append(gone)
    return [
        _with(scene, keys - gone, optional - frozenset().union(*subsets), subsets) for gone, subsets in told.items()
    ]


def _with(scene: Scene, keys: frozenset[str], on: frozenset[str], subsets: list[frozenset[str]]) -> Scene:
    """Return a scene with these of the parts that carry something on; `on`: all that are on in every subset."""
    kept = [replace(lump, sign=1, optional="", there=True) for lump in scene.lumps if lump.optional in on]
    ties = tuple(tie for tie in scene.loosened if tie.part in keys)
    seats = tuple(seat for seat in scene.air if seat.part in keys and not seat.beside)
    return _linked(
        replace(
            scene,
            lumps=tuple(
                replace(lump, there=lump.sign > 0) if lump.optional and lump.optional in on else lump
                for lump in scene.lumps
            ),
            seats=(*scene.seats, *seats),
            air=tuple(seat for seat in scene.air if seat not in seats),
            ties=(*scene.ties, *ties),
            undone=tuple(tie for tie in scene.undone if tie not in ties),
            loosened=(),
            subsets=tuple(subsets),
            came_off=tuple(lump for lump in scene.came_off if lump not in kept),
        )
    )


def _has_parts(plan: Plan, body: str, off: set[str]) -> bool:
    names = [name for name, part in plan.parts.items() if part.body == body]
    return any(name not in off for name in names) or (not names and body in plan.weighed)


def _lumps(plan: Plan, there: tuple[str, ...], off: set[str], optional: set[str]) -> Iterable[Lump]:
    for body in there:
        if body in plan.weighed:
            yield plan.weighed[body]
    for name, part in plan.parts.items():
        if part.body not in there:
            continue
        tag = name if name in optional else ""
        if part.body in plan.weighed and name in off:
            yield replace(part, sign=-1, optional=tag)
        elif part.body not in plan.weighed and (tag or name not in off):
            yield replace(part, optional=tag, there=name not in off)


def _subsets(plan: Plan, off: set[str], optional: list[str]) -> Iterable[frozenset[str]]:
    before = off - set(optional)
    for number in range(2 ** len(optional)):
        gone = frozenset(name for place, name in enumerate(optional) if number >> place & 1)
        if all(set(plan.after[name]) & set(plan.parts) <= gone | before for name in gone):
            yield gone


def _linked(scene: Scene) -> Scene:
    """Return the scene with its rigid wholes (by bolts) and groups (by any joint, or `on`)."""
    wholes = _clusters(scene.bodies, [(tie.first, tie.second) for tie in scene.ties if tie.bolted])
    scene = replace(scene, wholes=tuple(wholes))
    pairs = [(tie.first, tie.second) for tie in scene.ties]
    pairs += [(seat.body, seat.on) for seat in scene.seats if seat.on]
    groups = _clusters(scene.bodies, pairs)
    numbers = [tuple(dict.fromkeys(sorted(scene.whole_of(body) for body in group))) for group in groups]
    return replace(scene, groups=tuple(numbers))


def joined_by_ties(scene: Scene, body: str) -> tuple[str, ...]:
    """Return the bodies that joints alone link to a body."""
    return next(c for c in _clusters(scene.bodies, [(t.first, t.second) for t in scene.ties]) if body in c)


def _clusters(names: tuple[str, ...], pairs: list[tuple[str, str]]) -> list[tuple[str, ...]]:
    label = {name: number for number, name in enumerate(names)}
    for _ in names:
        for one, other in pairs:
            label[one] = label[other] = min(label[one], label[other])
    return [tuple(n for n in names if label[n] == number) for number in sorted(set(label.values()))]

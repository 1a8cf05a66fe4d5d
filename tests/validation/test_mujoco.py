"""Random layouts let down onto their stands in mujoco: what we call tipping falls there, and what holds stays.

Our figures are those of a unit as it is set. One that is really let down tilts a little, and its centre of gravity
sways by height x tilt. So this file moves the centres of gravity by that and asks again: then loads agree to 2e-4 of
the weight, and whatever still holds stays. A layout with an edge within 2 mm, before or after, decides nothing. Where
the sway check cautions (more than 10 %) tilts are no small motions any more, and loads are not compared.

Seen with mujoco 4.0.0, of 300 layouts: 88 tip and fall, 208 hold and stay, 3 hold as set but lean over and fall, 1 has
an edge within 2 mm; loads are at most 1.5e-5 of the weight apart, and 3.4 % before the sway is added. All layouts are
invented.
"""

from collections import Counter
from copy import deepcopy
from dataclasses import dataclass, replace
from math import dist, inf
from pathlib import Path
from random import Random

import pytest

from loadplan import read_job
from loadplan.assess import assess
from loadplan.model.answer import Loose, Statics
from loadplan.model.verdict import Verdict
from tests.reference.random_jobs import Job, write_job
from tests.validation.cases import G, lump
from tests.validation.dropped import drop, plane_of

pytestmark = pytest.mark.slow

LAYOUTS = 300
BAND = 0.002
"""About the edge [m]."""

NEAR = 2e-4
"""Of the weight."""

SWAYS = 0.1
"""Share from which the sway check cautions."""

ROUNDS, SETTLED = 12, 2e-3
"""How often the sway is taken anew at most, and when it no longer matters [mm]."""

LOWER, UPPER, LEVEL = 200.0, 500.0, 150.0
"""Planes of the saddles of two bodies, and how far the stands are set above them [mm]."""


def layout(seed: int) -> Job:
    """Return one body on three to six stands, or a second one over it on mounts and up to three stands of its own."""
    rng = Random(seed)
    job: Job = {"equipment": [], "body": [], "part": [], "joint": [], "support": [], "limits": {"uneven": 0}}
    for stiffness in (800, 1500, 2500):
        row = {"name": f"{stiffness}", "kind": "stand", "rating": 9000, "rated_for": "each", "stiffness": stiffness}
        job["equipment"].append(row)
    _add(job, rng, "lower", LOWER)
    if rng.random() < 0.5:
        _add(job, rng, "upper", UPPER)
        for number, (x, y) in enumerate(_ring(rng, rng.choice([1, 2, 2, 3, 3, 4]))):
            between = rng.sample(["lower", "upper"], 2)
            at = [x, y, UPPER]
            stiffness = rng.choice([150, 300, 600])
            job["joint"].append({
                "name": f"mount {number}",
                "kind": "mount",
                "between": between,
                "at": at,
                "stiffness": stiffness,
            })
    job["stage"] = [{"name": "set down", "in_place": [support["name"] for support in job["support"]]}]
    return {key: value for key, value in job.items() if value != []}


def _add(job: Job, rng: Random, body: str, plane: float) -> None:
    job["body"].append({"name": body})
    reach = rng.choice([120, 120, 350])
    at = [rng.randint(-reach, reach), rng.randint(-reach, reach), plane + rng.randint(20, 350)]
    job["part"].append(lump(body, rng.randint(40, 400), at, body))
    for number, spot in enumerate(_ring(rng, rng.choice([3, 4, 4, 5, 6] if body == "lower" else [0, 1, 2, 3]))):
        job["support"].append({
            "name": f"{body} {number}",
            "use": rng.choice(["800", "1500", "2500"]),
            "body": body,
            "at": [*spot, plane],
            "height": plane + LEVEL - rng.choice([0, 0, 0.3, 0.6, 1.0]),
        })


def _ring(rng: Random, count: int) -> list[list[int]]:
    """Return places all round, the first three or four wide apart [mm]."""
    turns = ((1, 1), (-1, -1), (-1, 1), (1, -1), (1, 0), (0, 1))[:count]
    return [
        [along * rng.randint(150, 450) + rng.randint(-60, 60), across * rng.randint(150, 400) + rng.randint(-60, 60)]
        for along, across in turns
    ]


def solved(raw: Job, folder: Path) -> Statics:
    return assess(read_job(write_job(raw, folder))).stages[0].statics


def inside(statics: Statics) -> float:
    """Return how far inside all edges the centres of gravity lie [m], negative outside; free to move: -inf."""
    if any(isinstance(group.proof, Loose) for group in statics.groups):
        return -inf
    return min((margin for group in statics.groups for mode in group.modes for _, margin in mode.margins), default=inf)


def swayed(raw: Job, statics: Statics, folder: Path) -> Statics:
    """Return the answer with each centre of gravity moved by its height over its plane x the tilt that comes of it."""
    job = read_job(write_job(raw, folder))
    places = [part["at"] for part in raw["part"]]
    for _ in range(ROUNDS):
        moved = deepcopy(raw)
        for part in moved["part"]:
            (motion,) = [each.motion for each in statics.bodies if each.name == part["body"]]
            if motion is None:
                return statics
            height = part["at"][2] - 1000 * plane_of(job, part["body"])
            part["at"][0] += height * motion.ry
            part["at"][1] -= height * motion.rx
        statics = solved(moved, folder)
        before, places = places, [part["at"] for part in moved["part"]]
        if max(map(dist, before, places)) < SETTLED:
            break
    return statics


@dataclass(frozen=True)
class World:
    """What we say of a unit: whether it is balanced, and how far inside its edges the centres of gravity lie [m]."""

    balanced: bool
    edge: float


def world(statics: Statics) -> World:
    return World(all(group.balanced for group in statics.groups), inside(statics))


@dataclass(frozen=True)
class Compared:
    """One layout as set, as it leans, and as the simulator says: whether it fell.

    Loads, as shares of the weight, are those most apart, of the unit that leans and of the unit as set.
    """

    seed: int
    as_set: World
    leaning: World
    fell: bool
    apart: float = 0.0
    apart_as_set: float = 0.0

    @property
    def kind(self) -> str:
        """Say what we make of it."""
        if min(abs(self.as_set.edge), abs(self.leaning.edge)) < BAND:
            return "near an edge"
        if not self.as_set.balanced:
            return "tips"
        return "holds" if self.leaning.balanced else "leans over"


def compare(seed: int, folder: Path) -> Compared:
    """Reckon a layout, and let it down."""
    raw = layout(seed)
    given = solved(raw, folder)
    leaning = swayed(raw, given, folder)
    found = drop(read_job(write_job(raw, folder)))
    compared = Compared(seed, world(given), world(leaning), found.fell)
    if found.fell or not compared.leaning.balanced or max(group.sway or 0.0 for group in given.groups) > SWAYS:
        return compared
    return replace(compared, apart=apart(leaning, found.loads), apart_as_set=apart(given, found.loads))


def apart(statics: Statics, loads: dict[str, float]) -> float:
    """Return by how much of the weight the expected loads differ at most from those of the simulator [N]."""
    weight = G * sum(body.mass for body in statics.bodies)
    return max(abs(each.load.expected - loads[each.name]) for each in statics.supports if each.load) / weight


@pytest.fixture(scope="module")
def all_compared(tmp_path_factory: pytest.TempPathFactory) -> list[Compared]:
    """Every layout in both worlds."""
    folder = tmp_path_factory.mktemp("layouts")
    return [compare(seed, folder) for seed in range(LAYOUTS)]


def test_what_tips_falls_and_what_holds_stays(all_compared: list[Compared]) -> None:
    assert not [each for each in all_compared if each.kind in ("tips", "leans over") and not each.fell]
    assert not [each for each in all_compared if each.kind == "holds" and each.fell]


def test_loads_agree_once_the_sway_is_added(all_compared: list[Compared]) -> None:
    """Without it some do not: the simulator would notice a difference."""
    assert not [each for each in all_compared if each.apart > NEAR]
    assert max(each.apart_as_set for each in all_compared) > 10 * NEAR


def test_enough_of_each_kind_was_compared(all_compared: list[Compared]) -> None:
    kinds = Counter(each.kind for each in all_compared)
    assert kinds["tips"] > 60
    assert kinds["holds"] > 150
    assert kinds["leans over"] + kinds["near an edge"] < 10
    assert sum(each.apart > 0 for each in all_compared) > 150


def test_what_leans_over_was_not_called_free_of_doubt(all_compared: list[Compared], tmp_path: Path) -> None:
    """It holds only as set: its stage has a caution, for its sway, its tilt or its margin."""
    for each in all_compared:
        if each.kind == "leans over":
            (stage,) = assess(read_job(write_job(layout(each.seed), tmp_path))).stages
            assert stage.verdict >= Verdict.CAUTION

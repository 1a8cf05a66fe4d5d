"""The bench trial: a tray on four blocks, each on a kitchen scale, and a brick that is moved about on it.

It is a job like any other, and its numbers come from the same statics. Tray and brick are made up: a baking tray and
a brick of ordinary size. Whoever weighs his own puts them in by the two shares that each trial tells.
"""

from dataclasses import dataclass
from datetime import date
from typing import TypeAlias

from loadplan.assess import Preview, assess
from loadplan.limits import GRAVITY, Limits
from loadplan.model.job import Job, Stage, Support
from loadplan.model.shop import Equipment, EquipmentKind, RatedFor, Shop, Square
from loadplan.model.vehicle import Basis, Body, Part, Place, PlanPoint, Vehicle
from loadplan.model.verdict import StageAssessment
from loadplan.planning.whatif import Shot

LONG = 0.360
WIDE = 0.300
"""Distances of the blocks' middles [m]."""

TRAY = 0.6
BRICK = 3.0
"""Masses of tray and brick [kg]."""

SPOTS: tuple[tuple[str, PlanPoint], ...] = (
    ("1", (0.0, 0.0)),
    ("2", (-0.060, 0.0)),
    ("3", (-0.108, -0.126)),
)
"""Where the brick's middle goes, from the middle of the tray forward and to the left [m]: the middle, off it along
the tray, and so near a corner that the block across from it carries nothing (a fifth and two twenty-fifths of the
sides from the corner, as in the case of four stands of which one lifts off)."""

MORE = 0.01
"""A little more of tray or brick [kg]."""

Loads: TypeAlias = tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class Trial:
    """The brick in one place.

    Attributes:
        spot: Name of the place.
        at: The brick's middle, from the middle of the tray forward and to the left [m].
        shot: What comes of it.
        loads: (block, load [N]).
        inside: How far the centre of gravity of all is from tipping [m].
    """

    spot: str
    at: PlanPoint
    shot: Shot
    loads: Loads
    inside: float


@dataclass(frozen=True, slots=True)
class ScaleTrial:
    """The whole trial.

    Attributes:
        trials: The brick in each place.
        own: For each place, of each block its share of the tray's and of the brick's weight [1]: for other weights.
        least: The brick has to weigh at least so many times the tray, or else no block gets light in the last place.
        pair: The most that a block may come to carry with the brick in the middle, when a card lies under it [N].
        overhang: How far the brick's middle may go out over the line of two blocks of a long side before all tips [m].
    """

    trials: tuple[Trial, ...]
    own: tuple[tuple[tuple[float, float], ...], ...]
    least: float
    pair: float
    overhang: float


def bench_trial() -> ScaleTrial:
    """Work out what the scales will say.

    Returns:
        The trial.
    """
    trials = tuple(_trial(spot, at) for spot, at in SPOTS)
    middle = trials[0].shot.stage.statics.supports[0].load
    own = tuple(_shares(at) for _, at in SPOTS)
    light = _shares(SPOTS[-1][1], tray=BRICK, brick=TRAY)[0]
    return ScaleTrial(
        trials=trials,
        own=own,
        least=-light[0] / light[1],
        pair=(middle.range.most or 0.0) if middle and middle.range else 0.0,
        overhang=trials[0].inside * (TRAY + BRICK) / BRICK - WIDE / 2,
    )


def tray_job(at: PlanPoint, tray: float = TRAY, brick: float = BRICK) -> Job:
    """Make the job of a tray with a brick on it.

    Args:
        at: The brick's middle, from the middle of the tray forward and to the left [m].
        tray: Mass of the tray [kg].
        brick: Mass of the brick [kg].

    Returns:
        A job of one step.
    """
    names = (("A", 1, 1), ("B", 1, -1), ("C", -1, 1), ("D", -1, -1))
    blocks = tuple(
        Support(name=name, equipment=SCALE, tag="", body="tray", at=(ahead * LONG / 2, left * WIDE / 2, 0.0))
        for name, ahead, left in names
    )
    return Job(
        title="Bench trial: a tray on four blocks",
        source="",
        vehicle=_tray(at, tray, brick),
        shop=Shop((SCALE,), (), ()),
        bodies=("tray",),
        date=date(2000, 1, 1),
        until=None,
        limits=Limits(uneven=0.0, uneven_touch=0.0, floor_slope=0.0),
        lift=None,
        supports=blocks,
        stages=(Stage("On the scales", in_place=tuple(block.name for block in blocks)),),
        us_units=False,
        assumed=(),
    )


def _trial(spot: str, at: PlanPoint) -> Trial:
    """Return what the scales read with the brick in one place."""
    shot = Shot(assess(tray_job(at)), 0)
    return Trial(spot, at, shot, _loads(shot.stage), shot.stage.statics.bodies[0].margin or 0.0)


def _loads(stage: StageAssessment) -> Loads:
    return tuple((each.name, each.load.expected if each.load else 0.0) for each in stage.statics.supports)


def _shares(at: PlanPoint, tray: float = TRAY, brick: float = BRICK) -> tuple[tuple[float, float], ...]:
    """Return each block's share of tray and brick: what a little more of either adds to its load."""
    start, more_tray, more_brick = (
        _loads(Preview(tray_job(at, *masses), 0).as_it_is())
        for masses in ((tray, brick), (tray + MORE, brick), (tray, brick + MORE))
    )
    return tuple(
        ((of_tray - load) / MORE / GRAVITY, (of_brick - load) / MORE / GRAVITY)
        for (_, load), (_, of_tray), (_, of_brick) in zip(start, more_tray, more_brick, strict=True)
    )


def _tray(at: PlanPoint, tray: float, brick: float) -> Vehicle:
    """Return tray and brick as a vehicle of one body; the brick's middle at a place [m], masses in kg."""
    ahead, left = LONG / 2 + RIM, WIDE / 2 + RIM
    corners = ((ahead, left), (ahead, -left), (-ahead, -left), (-ahead, left))
    return Vehicle(
        name="tray",
        example=True,
        bodies=(Body("tray", corners, 0.0, 0.02, Basis.EXAMPLE, None),),
        parts=(_part("empty tray", tray, (0.0, 0.0, 0.01)), _part("brick", brick, (*at, 0.04))),
        joints=(),
        points=(),
    )


def _part(name: str, mass: float, at: Place) -> Part:
    return Part(name, "tray", mass, 0.0, at, (0.0, 0.0, 0.0), (), Basis.EXAMPLE)


RIM = 0.030
"""How far the tray reaches over the blocks' middles [m]."""

SCALE = Equipment(
    name="block on a kitchen scale",
    kind=EquipmentKind.STAND,
    rating=50.0,
    rated_for=RatedFor.EACH,
    heights=None,
    base=Square(0.06, 0.06),
    saddle=Square(0.03, 0.03),
    stiffness=20e3,
)
"""All four alike: only then do they share as told. How stiff they are does not matter."""

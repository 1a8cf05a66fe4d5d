"""Which figures that readings teach are told and written: what is known better, and what then counts as weighed."""

from dataclasses import replace

import pytest

from loadplan.model.job import Job, Stage, StageReading
from loadplan.model.learnt_weights import PartUpdate
from loadplan.model.readings import Estimate
from loadplan.model.vehicle import Basis, Weighed
from loadplan.planning import weight_learning
from loadplan.planning.weight_learning import (
    counts_as_weighed,
    narrowed,
    with_weights,
)
from tests.statics import builders as make

UNIT = (
    make.part((0.1, 0.2), 100.0, name="block", mass_pm=20.0, at_pm=(0.05, 0.06, 0.07)),
    make.part((0.3, 0.0), 40.0, name="pump", mass_pm=4.0, at_pm=(0.01, 0.02, 0.03), basis=Basis.DATA_SHEET),
)
CRADLE = make.weighed(60.0, (0.0, 0.1, 0.4), mass_pm=3.0, cg_pm=(0.02, 0.02, 0.02))
SCALE = StageReading("A", 900.0, 10.0)


def on_stands(*readings: StageReading, lift: bool = False) -> Job:
    """A unit of two parts, and a cradle weighed whole, on four stands."""
    stage = Stage("all", in_place=tuple("ABCD"), readings=readings)
    frame = make.part(name="frame", body="cradle")
    use = make.lift_use(make.SQUARE, "shell") if lift else None
    parts = [*UNIT, frame]
    return make.job(parts, make.stands(make.SQUARE), stages=[stage], whole={"cradle": CRADLE}, lift=use)


def update(part: str, mass: tuple[float, float], *cg: tuple[float, float], body: str = "unit") -> PartUpdate:
    x, y, z = (Estimate(*each) for each in cg)
    return PartUpdate(body, part, Estimate(*mass), (x, y, z))


BLOCK = update("block", (110.0, 3.0), (0.12, 0.05), (0.21, 0.01), (0.5, 0.07))
WHOLE = update("", (61.0, 1.0), (0.01, 0.01), (0.11, 0.02), (0.4, 0.02), body="cradle")


def test_what_was_learnt_of_parts_and_of_wholes_is_put_into_a_job() -> None:
    """3 kg of 110 are less than 3 %: weighed. 4 of 41 are more, and 0.5 where the file had 0.4 is no better."""
    pump = update("pump", (41.0, 4.0), (0.3, 0.01), (0.0, 0.02), (0.5, 0.03))
    job = with_weights(on_stands(), (BLOCK, pump, WHOLE))
    block, other, frame = job.vehicle.parts
    assert (block.mass, block.mass_pm, block.basis) == (110.0, 3.0, Basis.WEIGHED)
    assert (block.at, block.at_pm) == ((0.12, 0.21, 0.5), (0.05, 0.01, 0.07))
    assert (other.mass, other.mass_pm, other.basis) == (41.0, 4.0, Basis.DATA_SHEET)
    assert frame == on_stands().vehicle.parts[2]
    _, cradle = job.vehicle.bodies
    assert cradle.weighed == Weighed(61.0, 1.0, (0.01, 0.11, 0.4), (0.01, 0.02, 0.02), None)
    assert job.vehicle.bodies[0] == on_stands().vehicle.bodies[0]
    assert with_weights(on_stands(), ()) == on_stands()
    exact = replace(UNIT[0], mass_pm=0.4)
    kept = replace(on_stands(), vehicle=replace(on_stands().vehicle, parts=(exact,)))
    for pm, basis in ((0.5, Basis.GUESS), (0.4, Basis.GUESS), (0.39, Basis.WEIGHED)):
        (made,) = with_weights(kept, (replace(BLOCK, mass=Estimate(100.0, pm)),)).vehicle.parts
        assert made.basis is basis
    # A body that was not weighed whole stays what its parts are.
    assert with_weights(on_stands(), (replace(WHOLE, body="unit"),)) == on_stands()


@pytest.mark.parametrize(("pm", "weighed"), [(2.9, True), (3.0, True), (3.1, False)])
def test_what_is_known_within_three_per_cent_counts_as_weighed(pm: float, weighed: bool) -> None:  # noqa: FBT001 - a row
    assert counts_as_weighed(replace(BLOCK, mass=Estimate(100.0, pm))) is weighed


def test_only_figures_that_are_known_better_are_told_and_only_of_what_has_some() -> None:
    """A file's 20 kg, 50 and 60 mm: better is what leaves less than 99 % of it."""
    vehicle = on_stands().vehicle
    as_given = update("block", (100.0, 20.0), (0.1, 0.05), (0.2, 0.06), (0.5, 0.07))
    for now, told in (
        (replace(as_given, mass=Estimate(110.0, 19.7)), replace(as_given, mass=Estimate(110.0, 19.7))),
        (replace(as_given, mass=Estimate(110.0, 19.8)), None),
        (
            update("block", (110.0, 20.0), (0.12, 0.049), (0.21, 0.06), (0.5, 0.07)),
            update("block", (100.0, 20.0), (0.12, 0.049), (0.2, 0.06), (0.5, 0.07)),
        ),
        (
            update("block", (110.0, 20.0), (0.12, 0.05), (0.21, 0.059), (0.5, 0.07)),
            update("block", (100.0, 20.0), (0.1, 0.05), (0.21, 0.059), (0.5, 0.07)),
        ),
        (
            update("block", (110.0, 20.0), (0.12, 0.05), (0.21, 0.06), (0.6, 0.01)),
            update("block", (100.0, 20.0), (0.1, 0.05), (0.2, 0.06), (0.6, 0.01)),
        ),
    ):
        assert narrowed((now,), vehicle) == (() if told is None else (told,))
    assert narrowed((WHOLE,), vehicle) == (
        update("", (61.0, 1.0), (0.01, 0.01), (0.1, 0.02), (0.4, 0.02), body="cradle"),
    )
    pump = update("pump", (41.0, 1.0), (0.3, 0.01), (0.0, 0.02), (0.5, 0.03))
    assert narrowed((as_given, pump), vehicle) == (pump,)


@pytest.mark.parametrize(
    ("likely", "sure", "told"),
    [
        # File: 100 +- 20. What is likely and what is sure both lie inside.
        ((110.0, 4.0), (108.0, 3.0), (109.5, 4.5)),
        ((110.0, 4.0), (110.0, 1.0), (110.0, 4.0)),
        ((110.0, 1.0), (110.0, 4.0), (110.0, 4.0)),
        # What is likely reaches beyond the file's limits: it ends there.
        ((118.0, 6.0), (115.0, 1.0), (116.0, 4.0)),
        ((82.0, 6.0), (85.0, 1.0), (84.0, 4.0)),
        ((120.0, 6.0), (119.0, 1.0), (117.0, 3.0)),
        # It lies about a figure that is itself beyond them: then that far.
        ((121.0, 2.0), (119.0, 1.0), (120.5, 2.5)),
        # No better than the file, but for rounding.
        ((100.0, 19.9), (100.0, 1.0), (100.0, 20.0)),
        ((100.0, 19.7), (100.0, 1.0), (100.0, 19.7)),
        ((100.0, 30.0), (100.0, 20.0), (100.0, 20.0)),
    ],
)
def test_a_figure_is_told_with_all_that_is_likely_and_all_that_is_sure_inside(
    likely: tuple[float, float], sure: tuple[float, float], told: tuple[float, float]
) -> None:
    found = weight_learning._spanned(Estimate(100.0, 20.0), Estimate(*likely), Estimate(*sure))
    assert (found.value, found.pm) == pytest.approx(told)

"""What people read of weighings, set heights and orders. Made-up records."""

from dataclasses import replace
from math import inf
from pathlib import Path

import pytest

from loadplan.model.learnt_weights import FurtherScale
from loadplan.model.readings import (
    Advice,
    Estimate,
    Further,
    MeasuredAmount,
    Reading,
    Readings,
    UnknownKind,
    Weighing,
)
from loadplan.planning.settings.removal_order import OrderPlan, Step
from loadplan.planning.settings.set_heights import HeightPlan, Setting
from loadplan.report.text.heights_page import heights_page
from loadplan.report.text.learnt_weights_page import learning_page
from loadplan.report.text.order_page import order_page
from loadplan.report.text.weighing_page import weighing_page
from loadplan.units import System
from tests.planning.settings.test_set_heights import four, unit
from tests.planning.test_weight_learning import beyond, on_three, read, scale

READINGS = Readings("Front unit", (), tape=0.005, us_units=False, assumed=("A tilt was assumed.",))
WHOLE = Weighing(
    mass=Estimate(312.4, 1.21),
    cg=(Estimate(-0.4281, 0.0031), Estimate(0.0002, 0.0004), Estimate(0.5602, 0.0121)),
    consistent=True,
    suspects=(),
    taken=(),
    pulling=(),
    advice=None,
)


def weighed(units: System = System.METRIC, **changes: object) -> str:
    page = weighing_page(READINGS, replace(WHOLE, **changes), units)  # type: ignore[arg-type]
    return " ".join(page.split())


# ---- weighing ------------------------------------------------------------------------------------


def test_a_weighing_tells_each_amount_with_its_plus_or_minus_rounded_up() -> None:
    told = weighed()
    assert "weight 312 kg 1.3 kg" in told
    assert "428 mm behind the axle line 4 mm" in told
    assert "on the centre line 1 mm" in told
    assert "height of the centre of gravity 560 mm 13 mm" in told
    assert "- A tilt was assumed." in told


def test_a_weighing_in_us_units_is_in_eighths() -> None:
    told = weighed(System.US)
    assert "16 7/8 in behind the axle line 1/8 in" in told
    assert "22 in 1/2 in" in told


def test_what_is_not_told_is_said() -> None:
    told = weighed(cg=(WHOLE.cg[0], WHOLE.cg[1], None), consistent=None)
    assert "height of the centre of gravity these readings do not tell -" in told
    assert "No reading is to spare" in told


@pytest.mark.parametrize(
    ("suspects", "says"),
    [
        ((Reading(UnknownKind.LOAD, 1, 2),), "What fits worst is place 3 of set 2: read it again"),
        ((Reading(UnknownKind.NOSE_UP, 0, 0),), "What fits worst is the tilt nose_up of set 1"),
        ((Reading(UnknownKind.LEFT_UP, 2, 0),), "What fits worst is the tilt left_up of set 3"),
        ((Reading(UnknownKind.HOOK, 0, 0),), "What fits worst is the place of the hook in set 1, or how level it hung"),
        (
            (Reading(UnknownKind.LOAD, 0, 0), Reading(UnknownKind.LOAD, 1, 0)),
            "One of these is wrong, and they do not tell which: place 1 of set 1 and place 1 of set 2.",
        ),
    ],
)
def test_what_contradicts_is_named(suspects: tuple[Reading, ...], says: str) -> None:
    told = weighed(consistent=False, suspects=suspects)
    assert "THE READINGS CONTRADICT EACH OTHER." in told
    assert says in told


def test_what_was_taken_and_what_would_have_to_pull_is_told() -> None:
    told = weighed(taken=(MeasuredAmount.Y,), pulling=(Reading(UnknownKind.LOAD, 0, 1),))
    assert "Centre of gravity, left or right: taken from the file, not measured" in told
    assert "on the centre line -" in told
    assert "Place 2 of set 1 would have to pull the unit down" in told


@pytest.mark.parametrize(
    ("further", "says"),
    [
        (Further.SCALE, "a scale under place 2 of set 1, which is not weighed."),
        (Further.NOSE_UP, "read set 1 again with the front raised by 6 degrees."),
        (Further.LEFT_UP, "read set 1 again with the left side raised by 6 degrees."),
        (Further.HOOK, "hang it level from one hook with a crane scale"),
    ],
)
def test_the_advice_says_what_to_read_and_what_it_brings(further: Further, says: str) -> None:
    told = weighed(advice=Advice(further, 0, 1, MeasuredAmount.Z, 0.0121, 0.0063))
    assert says in told
    assert "The height of the centre of gravity, now known to 13 mm, would be known to about 7 mm." in told
    unknown = weighed(advice=Advice(further, 0, 1, MeasuredAmount.MASS, None, 0.9))
    assert "The weight, not known yet, would be known to about 0.9 kg." in unknown


def test_nothing_is_advised_that_would_read_the_same() -> None:
    told = weighed(System.US, advice=Advice(Further.NOSE_UP, 0, 0, MeasuredAmount.Z, 0.0061, 0.0053))
    assert "Reading more would hardly help: the height of the center of gravity is known to 1/4 in." in told
    assert "What would help most" not in told


def test_no_advice_is_given_on_readings_that_contradict() -> None:
    advice = Advice(Further.HOOK, 0, 0, MeasuredAmount.Z, None, 0.01)
    assert "What would help most" not in weighed(
        consistent=False, suspects=(Reading(UnknownKind.LOAD, 0, 0),), advice=advice
    )


# ---- heights -------------------------------------------------------------------------------------


def heights(misfits: tuple[float, ...], level: float = 0.09) -> str:
    made = unit(*four((0.2, 0.2, 0.2, 0.2), height=0.29))
    settings = tuple(Setting(each, misfit) for each, misfit in zip(made.supports, misfits, strict=True))
    page = heights_page(HeightPlan(made, level, settings, (("unit", None),)), System.METRIC)
    return " ".join(page.split())


def test_saddles_that_fit_are_right() -> None:
    told = heights((0.0, 0.0, 0.0, 0.0))
    assert told.count(" nothing right") == 4
    assert "Every saddle is where it should be." in told
    assert "stands 90 mm higher than with the vehicle on its wheels" in told


def test_saddles_that_do_not_fit_are_high_or_low() -> None:
    told = heights((0.0, 0.002, -0.0021, 0.0), level=-0.03)
    assert "2 mm high" in told
    assert "2 mm low" in told
    assert "30 mm lower" in told


def test_more_than_counts_as_even_is_told_to_be_so() -> None:
    made = unit(*four((0.2, 0.2, 0.2, 0.2), height=0.29))
    limits = replace(made.limits, uneven=0.003)
    settings = tuple(Setting(each, 0.0031) for each in made.supports)
    page = heights_page(HeightPlan(replace(made, limits=limits), 0.09, settings, (("unit", None),)), System.METRIC)
    told = " ".join(page.split())
    assert "A saddle is off by 4 mm, more than the 3 mm that count as even" in told
    assert "in no step does it stand in balance on its own" in told


# ---- order ---------------------------------------------------------------------------------------


def order(steps: tuple[Step, ...], narrowest: float, *, proven: bool = True, ceiling: float = 0.2) -> str:
    plan = OrderPlan("Head off", proven, steps, narrowest, ceiling)
    return " ".join(order_page(unit(*four((0.2, 0.2, 0.2, 0.2))), plan, System.METRIC).split())


def test_an_order_that_holds_tells_the_least_margin_on_the_way() -> None:
    told = order((Step("a", True, 0.12), Step("b", True, 0.08)), 0.08)  # noqa: FBT003 - a record
    assert "1 a 120 mm 2 b 80 mm" in told
    assert "On the way it is never less than 80 mm. No other order keeps more than that." in told


@pytest.mark.parametrize(
    ("step", "narrowest", "says"),
    [
        (Step("a", False, None), -inf, "IT TIPS STOP: whatever the order, something tips"),  # noqa: FBT003
        (Step("a", True, -0.004), -0.004, "MAY TIP: 4 mm past the edge STOP: something may tip"),  # noqa: FBT003
        (Step("a", True, None), inf, "nothing can tip Nothing can tip in any order."),  # noqa: FBT003
    ],
)
def test_an_order_that_does_not_hold_says_so(step: Step, narrowest: float, says: str) -> None:
    assert says in order((step,), narrowest)


def test_an_order_that_is_not_proven_tells_how_much_may_be_missing() -> None:
    step = Step("a", True, 0.08)  # noqa: FBT003
    assert "NOT PROVEN" in order((step,), 0.08, proven=False, ceiling=0.2)
    assert "None can keep more than 200 mm." in order((step,), 0.08, proven=False, ceiling=0.2)
    assert "Another order may keep more." in order((step,), 0.08, proven=False, ceiling=inf)


# ---- weights learnt from a step ------------------------------------------------------------------


@pytest.mark.parametrize(("support", "says"), [("B", "a scale under B."), ("bay", "the gauge of bay, if it has one.")])
def test_what_to_read_next_is_told_as_it_is_read(support: str, says: str, tmp_path: Path) -> None:
    found = read(on_three(tmp_path), scale("A", 100))
    further = FurtherScale(support, 0.012, 0.006)
    page = learning_page(replace(found, update=replace(found.update, further=further)), System.METRIC)
    assert f"What would help most: {says}" in " ".join(page.split())


def test_what_check_stops_of_readings_is_told_beside_what_they_teach(tmp_path: Path) -> None:
    job, scales = beyond(tmp_path)
    page = " ".join(learning_page(read(job, *scales), System.METRIC).split())
    assert page.startswith("STOP")
    assert "A, B and C together read 410 kg, and what stands on them weighs at most 408 kg. Stop, and look" in page
    assert "No weights inside the plus or minus of the files fit what was read, though chance may have" in page
    assert "agree inside their tolerances" not in page
    fits = " ".join(learning_page(read(job, scale("A", 100)), System.METRIC).split())
    assert "Readings and plan agree inside their tolerances." in fits
    wrong = " ".join(learning_page(read(job, scale("C", 300)), System.METRIC).split())
    assert "THE READINGS CONTRADICT THE PLAN" in wrong
    assert "C reads 300 kg; the plan says 200 kg" in wrong

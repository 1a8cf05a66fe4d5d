"""The further reading that is advised: what it promises comes true when it is read."""

from math import radians
from statistics import mean

import pytest

from loadplan.model.readings import Advice, Further, Held, MeasuredAmount, ReadingSet
from loadplan.model.vehicle import Place
from loadplan.statics.least_squares import fit
from loadplan.statics.weighing import weigh
from tests.statics.weighings import FOUR, THREE, on_hook, on_scales, pm

MASS = 336.0
CG: Place = (0.02, -0.015, 0.42)
HUNG: Place = (0.02, -0.015, 0.9)
NOSE, LEFT = (radians(6), 0.0), (0.0, radians(6))
PM = radians(0.1)
ACROSS = radians(0.2)

COARSE = on_scales(MASS, CG, pm=9.0)
LEVEL = on_scales(MASS, CG)
GAPPED = on_scales(MASS, CG, FOUR, unweighed=[3])
HALF = on_scales(MASS, CG, FOUR, unweighed=[2, 3])


def advised(*sets: ReadingSet) -> Advice:
    advice = weigh(sets).advice
    assert advice is not None
    return advice


@pytest.mark.parametrize(
    ("sets", "tilt", "told"),
    [
        ((LEVEL,), NOSE, (Further.NOSE_UP, 0)),
        ((LEVEL, on_scales(MASS, CG, tilt=LEFT, tilt_pm=PM, across_pm=ACROSS)), NOSE, (Further.NOSE_UP, 0)),
        ((LEVEL, on_scales(MASS, CG, tilt=NOSE, tilt_pm=PM, across_pm=ACROSS)), LEFT, (Further.LEFT_UP, 0)),
        ((COARSE, on_scales(MASS, CG, tilt=NOSE, tilt_pm=PM, across_pm=ACROSS, pm=9.0)), LEFT, (Further.LEFT_UP, 0)),
        # The set with more scales is the one to be raised, whichever comes first.
        ((HALF, LEVEL), NOSE, (Further.NOSE_UP, 1)),
        # What no scale stands under has none when it is raised, too.
        ((GAPPED, on_hook(MASS, HUNG)), NOSE, (Further.NOSE_UP, 0)),
    ],
)
def test_the_tilt_that_is_advised_keeps_its_promise(
    sets: tuple[ReadingSet, ...], tilt: tuple[float, float], told: tuple[Further, int]
) -> None:
    advice = advised(*sets)
    assert (advice.further, advice.of_set, advice.amount) == (*told, MeasuredAmount.Z)
    # While nothing tells the height it is taken to be 300 mm over the places.
    guess = mean(place.at[2] for each in sets for place in each.places) + 0.3
    cg = (CG[0], CG[1], guess if advice.now is None else CG[2])
    again = sets[advice.of_set]
    gaps = [number for number, place in enumerate(again.places) if place.load is None]
    places = [place.at for place in again.places]
    read = on_scales(MASS, cg, places, tilt=tilt, tilt_pm=PM, across_pm=ACROSS, pm=again.places[0].pm, unweighed=gaps)
    assert pm(fit((*sets, read)).estimate(MeasuredAmount.Z)) == pytest.approx(advice.then, rel=1e-6)


def test_a_scale_at_the_place_without_one_keeps_its_promise() -> None:
    again = on_scales(MASS, CG, FOUR, tilt=NOSE, tilt_pm=PM, across_pm=ACROSS, unweighed=[3])
    for sets in ((GAPPED,), (GAPPED, again)):
        advice = advised(*sets)
        assert (advice.further, advice.of_set, advice.place) == (Further.SCALE, 0, 3)
        assert (advice.amount, advice.now) == (MeasuredAmount.MASS, None)
        full = on_scales(MASS, CG, FOUR)
        assert pm(fit((full, *sets[1:])).estimate(MeasuredAmount.MASS)) == pytest.approx(advice.then, rel=1e-6)


def test_a_scale_reads_as_exactly_as_the_coarsest_of_those_there() -> None:
    first, *others = on_scales(MASS, CG, FOUR, unweighed=[3]).places
    mixed = ReadingSet(Held.STANDS, (first, *(type(each)(each.at, each.load, 1.5) for each in others)))
    assert advised(mixed).then == pytest.approx((0.4**2 + 3 * 1.5**2) ** 0.5)


def test_where_two_scales_are_missing_a_hook_is_advised() -> None:
    # Nothing tells mass and place: the mean of the loads at every place, under the middle of the places.
    advice = advised(HALF)
    mass = 4 * mean(each.load for each in HALF.places if each.load is not None)
    x, y = (mean(each.at[axis] for each in HALF.places) for axis in (0, 1))
    hung = on_hook(mass, (x, y, max(each.at[2] for each in HALF.places) + 0.5), pm=0.01 * mass)
    assert (advice.further, advice.amount, advice.now) == (Further.HOOK, MeasuredAmount.MASS, None)
    assert advice.then == pytest.approx(pm(fit((HALF, hung)).mass), rel=1e-6)


def test_a_hook_is_read_once_more_where_there_is_nothing_else_to_read() -> None:
    advice = advised(on_hook(MASS, HUNG))
    assert advice.further is Further.HOOK
    assert advice.now is not None
    assert advice.then == pytest.approx(advice.now / 2**0.5)


def test_what_is_least_certain_comes_first() -> None:
    # The mass by the moment that it makes over the reach of the places, so that both are lengths.
    coarse = on_scales(MASS, CG, THREE, pm=20.0)
    sets = (coarse, on_scales(MASS, CG, THREE, tilt=(radians(25), 0.0), pm=20.0))
    found = fit(sets)
    sizes = {amount: pm(found.estimate(amount)) for amount in (MeasuredAmount.X, MeasuredAmount.Y, MeasuredAmount.Z)}
    assert advised(*sets).amount is max(sizes, key=lambda amount: sizes[amount])

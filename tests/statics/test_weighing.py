"""Weighing: masses and places that are hidden in readings come back, with how sure they are. All units are made up."""

from dataclasses import replace
from math import cos, radians, sin, sqrt, tan
from random import Random

import pytest
from scipy.stats import chi2

from loadplan.model.readings import Further, Held, MeasuredAmount, Reading, ReadingSet, ScalePlace, UnknownKind
from loadplan.model.vehicle import Place
from loadplan.statics.chi_squared import chance_of_more
from loadplan.statics.least_squares import Fit, fit
from loadplan.statics.weighing import weigh
from tests.statics.weighings import FOUR, THREE, forces, noisy, on_hook, on_scales, pm, value

MASS, CG = 335.6, (0.012, -0.031, 0.471)
LEVEL, NOSE, LEFT = (0.0, 0.0), (radians(6.2), 0.0), (0.0, radians(-5.0))


def level_and_raised() -> tuple[ReadingSet, ReadingSet]:
    return on_scales(MASS, CG), on_scales(MASS, CG, tilt=NOSE, tilt_pm=radians(0.1))


def place_of(found: Fit) -> list[float]:
    return [value(each) for each in found.cg]


# ---- what comes back -----------------------------------------------------------------------------


@pytest.mark.parametrize("number", range(30))
def test_a_hidden_mass_and_place_come_back_exactly(number: int) -> None:
    random = Random(number)
    mass = random.uniform(20, 2000)
    cg = (random.uniform(-0.2, 0.2), random.uniform(-0.2, 0.2), random.uniform(0.3, 1.2))
    tilts = [(random.uniform(0.05, 0.25) * random.choice((1, -1)), random.uniform(-0.1, 0.1)) for _ in range(2)]
    sets = [on_scales(mass, cg, THREE), *(on_scales(mass, cg, FOUR, tilt=tilt, unweighed=[1]) for tilt in tilts)]
    sets += [on_hook(mass, (cg[0], cg[1], 1.5))] if random.random() < 0.5 else []
    random.shuffle(sets)
    found = fit(tuple(sets))
    assert value(found.mass) == pytest.approx(mass, rel=1e-9)
    assert place_of(found) == pytest.approx(cg, abs=1e-8)
    assert found.consistent is not False


def test_where_the_level_is_uncertain_it_still_comes_back() -> None:
    found = fit(level_and_raised())
    assert place_of(found) == pytest.approx(CG, abs=1e-9)


def test_a_unit_hung_tilted_lies_under_its_hook_along_the_plumb_line() -> None:
    first, second = (replace(on_hook(MASS, at), nose_up=tilt) for at, tilt in _hung())
    found = fit((first, second))
    assert place_of(found) == pytest.approx(CG, abs=1e-9)


def _hung() -> list[tuple[Place, float]]:
    """Two hooks above the centre of gravity along the vertical of each tilt."""
    up = 0.8
    tilts = (0.0, radians(20))
    return [((CG[0] + up * tan(tilt), CG[1], CG[2] + up), tilt) for tilt in tilts]


def test_moving_the_origin_moves_the_answer_and_no_more() -> None:
    there = (1.3, -0.7, 0.25)
    moved = tuple(
        replace(
            each,
            places=tuple(
                replace(place, at=tuple(a + b for a, b in zip(place.at, there, strict=True)))  # type: ignore[arg-type]
                for place in each.places
            ),
        )
        for each in level_and_raised()
    )
    first, second = fit(level_and_raised()), fit(moved)
    assert place_of(second) == pytest.approx([a + b for a, b in zip(place_of(first), there, strict=True)], abs=1e-9)
    assert [pm(each) for each in second.cg] == pytest.approx([pm(each) for each in first.cg], rel=1e-6)


# ---- how sure ------------------------------------------------------------------------------------


def test_independent_readings_add_in_squares() -> None:
    """JCGM 100, 5.1.2: the mass is a sum of three loads, each plus or minus 0.4 kg."""
    found = fit((on_scales(MASS, CG),))
    assert pm(found.mass) == pytest.approx(0.4 * sqrt(3), rel=1e-9)


def test_weighing_twice_halves_the_variance() -> None:
    once, twice = fit((on_scales(MASS, CG),)), fit((on_scales(MASS, CG),) * 2)
    for amount in (MeasuredAmount.MASS, MeasuredAmount.X, MeasuredAmount.Y):
        first, second = once.estimate(amount), twice.estimate(amount)
        assert pm(second) == pytest.approx(pm(first) / sqrt(2), rel=1e-6)


@pytest.mark.parametrize("degrees", [6.2, 30.0])
def test_the_height_carries_the_uncertainty_of_the_tilt(degrees: float) -> None:
    """By hand, from h = ΔF·L / (W·tan θ): pm(h) = h·δ / (sin θ·cos θ), h over the places and in front of x = 0."""
    tilt, spread, cg = radians(degrees), radians(0.1), (0.0, 0.0, 0.471)
    exact = fit((on_scales(MASS, cg, pm=0.001), on_scales(MASS, cg, pm=0.001, tilt=(tilt, 0.0))))
    raised = on_scales(MASS, cg, pm=0.001, tilt=(tilt, 0.0), tilt_pm=spread)
    tilted = fit((on_scales(MASS, cg, pm=0.001), raised))
    assert pm(exact.cg[2]) < 1e-4
    assert pm(tilted.cg[2]) == pytest.approx((0.471 - 0.205) * spread / (sin(tilt) * cos(tilt)), rel=2e-3)


def test_a_place_near_one_scale_is_known_better_than_one_between() -> None:
    """By hand: x = Σ x·w / Σ w, so pm(x)² = Σ (x_i − x)²·pm² / m²."""
    front, rear = ScalePlace((0.0, 0.0, 0.0), 90.0, 0.5), ScalePlace((-1.0, 0.0, 0.0), 10.0, 0.5)
    found = fit((ReadingSet(Held.STANDS, (front, rear)),))
    assert value(found.cg[0]) == pytest.approx(-0.1)
    assert pm(found.cg[0]) == pytest.approx(0.5 * sqrt(0.1**2 + 0.9**2) / 100, rel=1e-9)


def test_a_place_that_is_off_moves_the_middle_by_its_share_of_the_load() -> None:
    """By hand: x = Σ x·w / Σ w, so pm(x)² = Σ w²·tape² / m²; the same of y; a level set read twice knows no better."""
    cg, tape = (0.05, 0.02, 0.471), 0.005
    level = on_scales(MASS, cg, pm=0.001, tape=tape)
    share = [float(each) / MASS for each in forces(MASS, cg, THREE, (0.0, 0.0))]
    wanted = tape * sqrt(sum(each**2 for each in share))
    for sets in ((level,), (level, level)):
        found = fit(sets)
        assert [pm(each) for each in found.cg[:2]] == pytest.approx([wanted, wanted], rel=1e-3)
        assert pm(found.mass) < 0.01


def test_places_measured_anew_for_each_set_are_off_each_by_itself() -> None:
    """By hand: h = ΔF·L / (W·tan θ), so two middles measured apart give h only to √2 of theirs over tan θ."""
    tilt, cg, tape = radians(6), (0.0, 0.0, 0.471), 0.005
    level, raised = (on_scales(MASS, cg, pm=0.001, tape=tape, tilt=(each, 0.0)) for each in (0.0, tilt))
    anew = on_scales(MASS, (cg[0] + 1e-6, cg[1], cg[2]), [(x + 1e-6, y, z) for x, y, z in THREE], pm=0.001, tape=tape)
    once, twice = fit((level, raised)), fit((anew, raised))
    middles = [tape * sqrt(sum(each**2 for each in forces(MASS, cg, THREE, of))) / MASS for of in (LEVEL, (tilt, 0.0))]
    assert pm(twice.cg[2]) == pytest.approx(sqrt(middles[0] ** 2 + middles[1] ** 2) / tan(tilt), rel=0.05)
    assert pm(once.cg[2]) < pm(twice.cg[2]) / 5


def test_a_tilt_across_that_is_not_known_counts_into_the_width() -> None:
    """By hand: y is off by the height over the places times the angle."""
    tilt, across, cg = radians(6), radians(0.2), (0.0, 0.0, 0.471)
    level, raised = on_scales(MASS, cg, pm=0.001), on_scales(MASS, cg, pm=0.001, tilt=(tilt, 0.0), across_pm=across)
    # The level set knows the width; without it the tilted one knows it but for that.
    side = on_scales(MASS, cg, pm=0.001, tilt=(-tilt, 0.0), across_pm=across)
    assert pm(fit((level, raised)).cg[1]) < 1e-4
    assert pm(fit((raised, side)).cg[1]) == pytest.approx((0.471 - 0.205) * across / sqrt(2), rel=0.02)


TRIALS = 2000


@pytest.mark.slow
def test_what_is_stated_covers_the_truth_in_95_of_100_weighings() -> None:
    _covers((
        *level_and_raised(),
        on_scales(MASS, CG, FOUR, tilt=LEFT, tilt_pm=radians(0.1), unweighed=[2]),
        on_hook(MASS, (CG[0], CG[1], 1.0), pm=2.0),
    ))


@pytest.mark.slow
def test_what_is_stated_covers_the_truth_where_places_are_off_and_the_tilt_across_is_not_known() -> None:
    tape, across = 0.010, radians(0.2)
    _covers((
        on_scales(MASS, CG, THREE, tape=tape),
        on_scales(MASS, CG, THREE, tilt=NOSE, tilt_pm=radians(0.1), across_pm=across, tape=tape),
        on_scales(MASS, CG, FOUR, tilt=LEFT, tilt_pm=radians(0.1), across_pm=across, unweighed=[2], tape=tape),
        on_hook(MASS, (CG[0], CG[1], 1.0), pm=2.0, tape=tape),
    ))


def _covers(sets: tuple[ReadingSet, ...]) -> None:
    """Weigh again and again with everything off by what it may be off."""
    random = Random(20261120)
    truth = dict(zip(MeasuredAmount, (MASS, *CG), strict=True))
    covered = dict.fromkeys(MeasuredAmount, 0)
    agreed = 0
    for _ in range(TRIALS):
        found = fit(_hooked(noisy(sets, random), random))
        agreed += bool(found.consistent)
        for amount in MeasuredAmount:
            estimate = found.estimate(amount)
            covered[amount] += abs(value(estimate) - truth[amount]) <= pm(estimate)
    shares = {amount: count / TRIALS for amount, count in covered.items()}
    assert shares == pytest.approx(dict.fromkeys(MeasuredAmount, 0.9545), abs=0.015)  # k = 2 of a normal distribution
    assert agreed / TRIALS == pytest.approx(0.95, abs=0.015)


def _hooked(sets: tuple[ReadingSet, ...], random: Random) -> tuple[ReadingSet, ...]:
    """The same, the hook off its place by half of 5 mm as standard deviation, as is taken for a hook."""
    *others, hung = sets
    x, y, z = hung.places[0].at
    at = (random.gauss(x, 0.0025), random.gauss(y, 0.0025), z)
    return (*others, replace(hung, places=(replace(hung.places[0], at=at),)))


# ---- whether the readings agree ------------------------------------------------------------------


def test_without_a_reading_to_spare_nothing_shows() -> None:
    found = weigh((on_scales(MASS, CG),))
    assert found.consistent is None
    assert found.suspects == ()


def test_readings_that_fit_agree() -> None:
    found = weigh((on_scales(MASS, CG), on_hook(MASS + 0.1, (0, 0, 1), held=Held.HANGS_ASKEW)))
    assert (found.consistent, found.suspects) == (True, ())


@pytest.mark.parametrize(("of_set", "place"), [(0, 0), (1, 2), (2, 3)])
def test_a_wrong_reading_is_named(of_set: int, place: int) -> None:
    sets = [*level_and_raised(), on_scales(MASS, CG, FOUR, tilt=LEFT), on_scales(MASS, CG, FOUR)]
    scale = sets[of_set].places[place]
    wrong = replace(scale, load=(scale.load or 0.0) + 12.0)
    places = (*sets[of_set].places[:place], wrong, *sets[of_set].places[place + 1 :])
    sets[of_set] = replace(sets[of_set], places=places)
    found = weigh(tuple(sets))
    assert found.consistent is False
    assert found.suspects == (Reading(UnknownKind.LOAD, of_set, place),)


def test_a_hook_beside_its_place_is_named() -> None:
    found = weigh((on_scales(MASS, CG), on_scales(MASS, CG), on_hook(MASS, (CG[0] + 0.1, CG[1], 1.0))))
    assert found.consistent is False
    assert found.suspects == (Reading(UnknownKind.HOOK, 2, 0),)


def test_two_readings_of_the_same_thing_cannot_be_told_apart() -> None:
    found = weigh((on_scales(MASS, CG), on_hook(MASS + 30, (0, 0, 1), held=Held.HANGS_ASKEW)))
    assert found.consistent is False
    assert {each.of_set for each in found.suspects} == {0, 1}


@pytest.mark.parametrize("freedom", [1, 2, 3, 7, 20, 61])
def test_the_chance_is_that_of_chi_squared(freedom: int) -> None:
    for squares in (0.0, 0.3, 1.0, 5.0, 20.0, 90.0, 5000.0):
        assert chance_of_more(squares, freedom) == pytest.approx(chi2.sf(squares, freedom), abs=1e-12)


# ---- what readings do not tell -------------------------------------------------------------------


def test_a_level_set_knows_nothing_of_the_height() -> None:
    found = fit((on_scales(MASS, CG), on_scales(MASS, CG, FOUR)))
    assert found.cg[2] is None
    assert [value(each) for each in found.cg[:2]] == pytest.approx(CG[:2], abs=1e-9)


def test_one_tilted_set_alone_cannot_part_length_from_height() -> None:
    found = fit((on_scales(MASS, CG, tilt=NOSE),))
    assert found.cg[0] is None
    assert found.cg[2] is None
    assert value(found.cg[1]) == pytest.approx(CG[1], abs=1e-9)


def test_with_a_place_unweighed_everywhere_nothing_is_known() -> None:
    found = fit((on_scales(MASS, CG, unweighed=[2]), on_scales(MASS, CG, tilt=NOSE, unweighed=[2])))
    assert found.mass is None
    assert found.cg == (None, None, None)


def test_the_mass_from_a_hook_makes_up_for_a_place_that_is_not_weighed() -> None:
    found = fit((on_scales(MASS, CG, unweighed=[2]), on_hook(MASS, (0, 0, 1), held=Held.HANGS_ASKEW)))
    assert [value(each) for each in found.cg[:2]] == pytest.approx(CG[:2], abs=1e-9)


def test_a_hook_at_an_attitude_that_is_not_known_tells_the_mass_alone() -> None:
    found = fit((on_hook(MASS, (0.2, 0.1, 1.0), held=Held.HANGS_ASKEW),))
    assert value(found.mass) == pytest.approx(MASS, rel=1e-12)  # least squares: the last bits hang on the processor
    assert found.cg == (None, None, None)


def test_a_tilt_that_is_lost_in_its_uncertainty_tells_no_height() -> None:
    small = (radians(0.05), 0.0)
    found = fit((on_scales(MASS, CG, pm=2.0), on_scales(MASS, CG, pm=2.0, tilt=small, tilt_pm=radians(0.1))))
    assert found.cg[2] is None


def test_places_in_one_line_do_not_measure_across_it() -> None:
    front, rear = ScalePlace((0.0, 0.1, 0.3), 60.0, 0.5), ScalePlace((-1.0, 0.1, 0.3), 40.0, 0.5)
    found = fit((ReadingSet(Held.STANDS, (front, rear)),))
    assert value(found.cg[0]) == pytest.approx(-0.4)
    assert value(found.cg[1]) == pytest.approx(0.1)
    assert found.taken == (MeasuredAmount.Y,)


def test_a_line_that_runs_askew_measures_neither_length_nor_width_by_itself() -> None:
    ahead, behind = ScalePlace((0.6, 0.3, 0.3), 60.0, 0.5), ScalePlace((-0.6, -0.3, 0.3), 40.0, 0.5)
    found = fit((ReadingSet(Held.STANDS, (ahead, behind)),))
    assert (value(found.cg[0]), value(found.cg[1])) == pytest.approx((0.12, 0.06), abs=1e-6)
    assert found.taken == (MeasuredAmount.X, MeasuredAmount.Y)


def test_a_place_that_would_have_to_pull_is_named() -> None:
    outside = (0.6, 0.0, 0.4)  # before both front places
    found = fit((on_scales(MASS, outside, unweighed=[2]), on_hook(MASS, (0, 0, 1), held=Held.HANGS_ASKEW)))
    assert found.pulling == (Reading(UnknownKind.LOAD, 0, 2),)


def test_a_load_is_told_where_it_is_read_or_follows_and_nowhere_else() -> None:
    gapped = on_scales(MASS, CG, FOUR, unweighed=[3])
    read = [place.load for place in on_scales(MASS, CG, FOUR).places]
    assert fit((gapped,)).loads == ((*(pytest.approx(each) for each in read[:3]), None),)
    # The mass from the hook leaves no doubt of the fourth.
    followed = fit((gapped, on_hook(MASS, (CG[0], CG[1], 1.0)))).loads
    assert followed[0] == pytest.approx(read, abs=1e-6)


def test_the_tilt_that_does_not_fit_is_named_with_its_set() -> None:
    tilts = [(radians(each), 0.0) for each in (3.0, 4.0, 5.0, 6.0)]
    sets = [on_scales(MASS, CG, tilt=tilt, tilt_pm=radians(0.1), pm=0.1) for tilt in tilts]
    sets[2] = replace(sets[2], nose_up=radians(6.5))
    found = fit((on_scales(MASS, CG, pm=0.1), *sets))
    assert Reading(UnknownKind.NOSE_UP, 3, 0) in found.suspects
    assert {each.of_set for each in found.suspects} == {3}


# ---- what to read next ---------------------------------------------------------------------------


def test_where_the_height_is_missing_a_tilted_set_is_advised() -> None:
    advice = weigh((on_scales(MASS, CG),)).advice
    assert advice is not None
    assert advice.further in {Further.NOSE_UP, Further.LEFT_UP}
    assert (advice.amount, advice.now) == (MeasuredAmount.Z, None)


def test_where_a_place_is_not_weighed_a_scale_there_is_advised() -> None:
    advice = weigh((on_scales(MASS, CG, FOUR, unweighed=[3]),)).advice
    assert advice is not None
    assert (advice.further, advice.of_set, advice.place) == (Further.SCALE, 0, 3)


def test_what_is_promised_is_kept() -> None:
    sets = (on_scales(MASS, CG), on_scales(MASS, CG, tilt=NOSE, tilt_pm=radians(0.1), across_pm=radians(0.2)))
    advice = weigh(sets).advice
    assert advice is not None
    assert advice.further is Further.LEFT_UP
    read = on_scales(MASS, CG, tilt=(0.0, radians(6)), tilt_pm=radians(0.1), across_pm=radians(0.2))
    assert pm(fit((*sets, read)).estimate(advice.amount)) == pytest.approx(advice.then, rel=1e-6)
    assert advice.then < (advice.now or 0.0)


def test_where_no_one_reading_helps_none_is_advised() -> None:
    many = (on_scales(MASS, CG), on_scales(MASS, CG, tilt=NOSE), on_scales(MASS, CG, tilt=(0.0, radians(6.2)))) * 12
    assert weigh(many).advice is None

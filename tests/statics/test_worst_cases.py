"""Worst margins of a few made-up groups against every corner of their tolerances, and what is asked besides them."""

from collections.abc import Callable
from dataclasses import replace
from math import inf, radians

import numpy as np
import pytest

from loadplan.limits import GRAVITY
from loadplan.model.job import Stage
from loadplan.statics import worst_margin as worst_module
from loadplan.statics.equilibrium import Frame
from loadplan.statics.lean import Lean, Tilted, upright
from loadplan.statics.mass import Array, Lump, off_before
from loadplan.statics.minimum_cut import Needs
from loadplan.statics.tipping_modes import margins, rays, rotations
from loadplan.statics.unsolved import TooManyError
from loadplan.statics.worst_margin import is_plain, margins_if_known, meets, worst, worst_masses
from tests.statics import builders as make
from tests.statics.test_worst_margin import brute, hung, random_job

MADE = [
    (number, weighed, hanging, ordered, degrees)
    for number, (weighed, hanging, ordered, degrees) in enumerate([
        (False, False, True, 0.6),
        (False, False, False, 5.0),
        (True, False, True, 5.0),
        (True, True, False, 0.6),
        (False, True, True, 5.0),
        (False, True, True, 0.0),
        (True, True, True, 5.0),
        (False, True, False, 5.0),
        (True, False, False, 0.0),
        (False, False, True, 5.0),
    ])
]


def made(number: int, *, weighed: bool, hanging: bool, ordered: bool) -> tuple[Frame, Array, Needs]:
    job = random_job(number, weighed=weighed, hanging=hanging, ordered=ordered)
    frame = make.frame(job)
    return frame, rays(frame), off_before(job, frame.lumps)


@pytest.mark.parametrize(("number", "weighed", "hanging", "ordered", "degrees"), MADE)
def test_it_is_the_least_over_every_corner_of_tolerance_every_set_of_parts_and_slope(
    number: int, degrees: float, *, weighed: bool, hanging: bool, ordered: bool
) -> None:
    frame, motions, needs = made(number, weighed=weighed, hanging=hanging, ordered=ordered)
    found = worst(frame, motions, make.floor(frame, radians(degrees)), needs)
    wanted = brute(frame, motions, radians(degrees), needs)
    assert found.margins.tolist() == pytest.approx(wanted.margins, abs=1e-9)
    assert found.robust == (wanted.work > 0 and min(wanted.margins) > 1e-6)
    assert found.margins == pytest.approx(found.by_mode.min(axis=0))
    assert (np.isfinite(found.by_mode) == (rotations(motions) > 1e-9)).all()


@pytest.mark.parametrize(("number", "weighed", "hanging", "ordered", "degrees"), MADE)
def test_what_is_met_is_what_leaves_every_whole_the_margin_asked_for(
    number: int, degrees: float, *, weighed: bool, hanging: bool, ordered: bool
) -> None:
    """A hair less than the worst margin of a mode is met in it, a hair more is not."""
    frame, motions, needs = made(number, weighed=weighed, hanging=hanging, ordered=ordered)
    tilted = make.floor(frame, radians(degrees))
    found = worst(frame, motions, tilted, needs)
    stands = found.works > 0
    for whole in range(len(frame.wholes)):
        for mode in np.flatnonzero(np.isfinite(found.by_mode[:, whole])):
            asked = np.full(len(frame.wholes), -1e3)
            for off in (-1e-7, 1e-7):
                asked[whole] = found.by_mode[mode, whole] + off
                met = meets(frame, motions, tilted, needs, asked)[mode]
                assert met == (stands[mode] and off < 0), (whole, mode, off)


@pytest.mark.parametrize(("number", "weighed", "hanging", "ordered", "degrees"), MADE)
def test_the_masses_that_are_told_as_worst_leave_that_margin(
    number: int, degrees: float, *, weighed: bool, hanging: bool, ordered: bool
) -> None:
    frame, motions, needs = made(number, weighed=weighed, hanging=hanging, ordered=ordered)
    tilted = make.floor(frame, radians(degrees))
    masses, found = worst_masses(frame, motions, tilted, needs), worst(frame, motions, tilted, needs)
    assert masses.shape == (len(motions), len(frame.lumps))
    for mode, chosen in enumerate(masses):
        pairs = list(zip(frame.lumps, chosen.tolist(), strict=True))
        for lump, mass in pairs:
            assert mass == pytest.approx(0.0) or lump.low - 1e-9 <= mass <= lump.high + 1e-9
            assert lump.optional or mass > 0
        known = tuple(
            replace(lump, mass=mass, low=mass, high=mass, optional=False, counts=True) for lump, mass in pairs
        )
        again = worst(with_lumps(frame, known), motions[mode][None], tilted, ())
        assert again.by_mode.min() == pytest.approx(found.by_mode[mode].min(), abs=1e-6)


def with_lumps(frame: Frame, lumps: tuple[Lump, ...]) -> Frame:
    return replace(frame, lumps=lumps)


@pytest.mark.parametrize("degrees", [0.0, 3.0])
def test_with_one_part_known_the_margin_is_that_of_a_job_that_knows_it(degrees: float) -> None:
    """Three parts, all open; on another body beside it one more, of which nothing is asked."""
    parts = [
        make.part((0.2, 0.1), 100.0, mass_pm=10.0, at_pm=(0.02, 0.01, 0.03)),
        make.part((-0.3, 0.2), 60.0, name="b", mass_pm=20.0, at_pm=(0.05, 0.03, 0.0)),
        make.part((0.3, -0.1), 30.0, name="c", mass_pm=5.0, at_pm=(0.0, 0.04, 0.02)),
    ]
    frame = make.frame(make.job(parts, make.stands(make.SQUARE)))
    tilted, motions = make.floor(frame, radians(degrees)), rays(frame)
    assert is_plain(frame)
    wanted = []
    for number in (2, 0):
        lump = frame.lumps[number]
        exact = replace(lump, low=lump.mass, high=lump.mass, at_pm=(0.0, 0.0, 0.0))
        known = (*frame.lumps[:number], exact, *frame.lumps[number + 1 :])
        wanted.append(float(worst(with_lumps(frame, known), motions, tilted, ()).margins[0]))
    assert margins_if_known(frame, motions, tilted, (0, (2, 0))) == pytest.approx(wanted)
    assert margins_if_known(frame, motions, tilted, (0, ())) == ()
    still = np.zeros((0, 3))
    assert margins_if_known(frame, still, tilted, (0, (1,))) == (inf,)


def plain(change: Callable[[Lump], Lump]) -> bool:
    frame = make.frame(make.job([make.part(at_pm=(0.0, 0.0, 0.1))], make.stands(make.SQUARE)))
    return is_plain(replace(frame, lumps=tuple(map(change, frame.lumps))))


def test_a_group_is_plain_where_all_of_it_is_there_and_above_its_saddles() -> None:
    """Saddles at 0.2 m."""
    assert plain(lambda each: replace(each, at=(0.0, 0.0, 0.3 + 1e-9)))
    assert not plain(lambda each: replace(each, at=(0.0, 0.0, 0.3 - 1e-9)))
    assert not plain(lambda each: replace(each, optional=True))
    assert not plain(lambda each: replace(each, sign=-1))
    two = make.frame(hung(1))
    assert not is_plain(two)


@pytest.mark.parametrize("degrees", [0.0, 0.6])
def test_as_many_wholes_as_can_be_combined_are_and_one_more_only_where_the_floor_is_level(
    degrees: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    job = hung(2, ordered=True)
    frame = make.frame(job)
    motions, needs = rays(frame)[:2], off_before(job, frame.lumps)
    whole = worst(frame, motions, make.floor(frame, radians(degrees)), needs)
    monkeypatch.setattr(worst_module, "MOST_SIDED", 2)
    again = worst(frame, motions, make.floor(frame, radians(degrees)), needs)
    assert again.margins == pytest.approx(whole.margins)
    monkeypatch.setattr(worst_module, "MOST_SIDED", 1)
    if degrees:
        with pytest.raises(TooManyError):
            worst(frame, motions, make.floor(frame, radians(degrees)), needs)
    else:
        assert worst(frame, motions, make.floor(frame, 0.0), needs).margins == pytest.approx(whole.margins)


def test_a_lean_takes_off_as_much_as_the_centre_has_moved() -> None:
    """By hand: 0.02 rad to the front over 0.3 m moves it by 6 mm; a part 0.1 m lower by 4 mm of its share."""
    parts = [make.part((0.1, 0.2), 300.0), make.part((0.1, 0.2, 0.4), 100.0, name="low", at_pm=(0.0, 0.0, 0.05))]
    frame = make.frame(make.job(parts, make.stands(make.SQUARE)))
    lean = Lean(np.array([[[0.0, 0.02]]]), 1.0)
    found = worst(frame, rays(frame), Tilted(0.0, lean), ())
    front = 0.4 - 0.02 * (0.75 * 0.3 + 0.25 * 0.25)
    assert found.margins[0] == pytest.approx(0.3)
    assert sorted(found.by_mode[:, 0]) == pytest.approx(sorted([0.3, front, 0.6, 0.7]))
    calm = worst(frame, rays(frame), Tilted(0.0, upright(frame)), ())
    assert calm.by_mode == pytest.approx(margins(frame, rays(frame)))


def test_a_part_that_is_off_adds_nothing_to_what_the_rest_weighs() -> None:
    """The share of 100 kg in the middle, with 50 kg at the front edge on or off."""
    parts = [make.part((0.0, 0.0)), make.part((0.5, 0.0), 50.0, name="nose")]
    stage = Stage("off", tuple("ABCD"), off=("nose",), any_order=True)
    job = make.job(parts, make.stands(make.SQUARE), stages=[stage])
    frame = make.frame(job)
    motions = rays(frame)
    found = worst(frame, motions, make.floor(frame, 0.0), ())
    assert found.margins[0] == pytest.approx(100.0 * 0.5 / 150.0)
    assert sum(lump.mass for lump in frame.lumps if lump.counts) * GRAVITY == pytest.approx(frame.weight)
    masses = worst_masses(frame, motions, make.floor(frame, 0.0), ())
    assert sorted(masses[:, 1]) == pytest.approx([0.0, 0.0, 0.0, 50.0])

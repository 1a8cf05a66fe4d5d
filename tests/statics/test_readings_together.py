"""Readings that no weights give together: by hand, by forces and by moments, and what is left open stays so."""

from collections.abc import Sequence
from dataclasses import replace

import pytest

from loadplan.limits import GRAVITY as KG
from loadplan.model.job import Job, LiftUse, Stage, StageReading
from loadplan.statics import highs
from loadplan.statics.highs import NoProgrammeError
from loadplan.statics.readings_together import Misfit, ReadOutOfBalance, ReadTogether, fit_together, misfits_together
from loadplan.statics.unsolved import UnsolvedError
from tests.statics import builders as make
from tests.statics.test_load_response import hung, two_groups

TRIANGLE = ((0.4, 0.3), (0.4, -0.3), (-0.4, 0.0))
"""A and B in front, C behind: of what weighs m at x A and B carry m (0.4 + x) / 0.8 together, C the rest."""

BLOCK = replace(make.part(mass=400.0), mass_pm=8.0, at_pm=(0.01, 0.01, 0.0))

BOX = ((0.4, 0.3), (0.4, -0.3), (-0.4, 0.3), (-0.4, -0.3))


def scale(name: str, load: float, pm: float = 2.0, lowered: float | None = None) -> StageReading:
    """What a scale reads [kg]."""
    return StageReading(name, load * KG, pm * KG, None, lowered)


def scales(loads: Sequence[float], pm: float = 2.0) -> list[StageReading]:
    """Scales under A, B, C and so on."""
    return [scale(name, load, pm) for name, load in zip("ABCD", loads, strict=False)]


def by_hand(names: str, *, turns: bool) -> list[StageReading]:
    return [StageReading(name, None, turns=turns) for name in names]


def read(job: Job, *readings: StageReading) -> Job:
    """The job with these in its last stage."""
    *before, last = job.stages
    return replace(job, stages=(*before, replace(last, readings=readings)))


def misfits(job: Job, *readings: StageReading) -> tuple[Misfit, ...]:
    """What does not go together, which is why something does not fit."""
    made = read(job, *readings)
    of_last = make.state(made), make.solved(made)[-1]
    told = misfits_together(made, *of_last)
    assert not (told and fit_together(made, *of_last))
    return told


def fit(job: Job, *readings: StageReading) -> bool:
    """Whether some weights give all of it: then nothing of it is told."""
    made = read(job, *readings)
    fits = fit_together(made, make.state(made), make.solved(made)[-1])
    assert not fits or misfits(job, *readings) == ()
    return fits


def named(misfit: Misfit) -> str:
    return "".join(each.support for each in misfit.readings)


def on_triangle(**more: object) -> Job:
    return make.job([replace(BLOCK, **more)], make.stands(TRIANGLE))  # type: ignore[arg-type]


def on_box(*parts: object, **more: object) -> Job:
    return make.job(parts or [replace(BLOCK, **more)], make.stands(BOX))  # type: ignore[arg-type]


def test_two_scales_that_are_past_what_a_lever_gives_them_do_not_fit_whatever_it_weighs() -> None:
    """By hand: 408 kg, 10 mm in front, put 408 · 0.41 / 0.8 = 209.1 kg on A and B; each alone could have 111.4 kg."""
    assert misfits(on_triangle(), scale("A", 111), scale("B", 102)) == ()
    (told,) = misfits(on_triangle(), scale("A", 109), scale("B", 109))
    assert isinstance(told, ReadOutOfBalance)
    assert named(told) == "AB"
    assert told.off / KG == pytest.approx((218 - 4 - 209.1) / 2, abs=1e-4)
    assert told.odd is None, "without either of them there is nothing that contradicts the other"


@pytest.mark.parametrize(("over", "fits"), [(-0.01, True), (0.01, False)])
@pytest.mark.parametrize("way", [1, -1])
def test_the_bound_of_a_lever_is_exact_to_either_side(over: float, way: int, *, fits: bool) -> None:
    """The same with A and B at the most, 209.1 kg, or at the least, 392 · 0.39 / 0.8 = 191.1 kg; y at its middle."""
    both = (209.1 + 4 if way > 0 else 191.1 - 4) / 2 + way * over
    assert (misfits(on_triangle(), scale("A", both), scale("B", both)) == ()) is fits


def test_a_stand_in_the_middle_leaves_the_ends_their_lever() -> None:
    """A beam on three pairs of stands: nobody knows what the middle one carries, so both ends are as heavy or as light.

    By hand: about the middle, front less rear is m x / 0.8: 408 · 0.01 / 0.8 = 5.1 kg, and 8 kg for four scales.
    """
    beam = make.job([BLOCK], make.stands([(x, y) for x in (0.8, -0.8, 0.0) for y in (0.3, -0.3)]))
    ends = [scale(name, load) for name, load in zip("ABCD", (66, 66, 60, 60), strict=True)]
    assert misfits(beam, *ends) == ()
    (told,) = misfits(beam, *(replace(each, load=(each.load or 0.0) * 1.2) for each in ends))
    assert named(told) == "ABCD"
    assert isinstance(told, ReadOutOfBalance)
    assert told.off / KG == pytest.approx((1.2 * 12 - 8 - 5.1) / 4, abs=1e-4)


def test_what_one_side_s_hands_say_is_held_against_the_moment_of_the_weight() -> None:
    """A hand turns up to 300 N, 30.6 kg: A and B in front of a box that turn cannot have half of 400 kg."""
    (told,) = misfits(on_box(), *by_hand("AB", turns=True))
    assert isinstance(told, ReadOutOfBalance)
    assert told.off / KG == pytest.approx((191.1 - 600 / KG) / 2, abs=1e-4)
    # Across the corner the others may hold it all.
    assert misfits(on_box(), *by_hand("AD", turns=True)) == ()
    # Of what does not turn the least is known: 50 N.
    assert misfits(on_box(), *by_hand("ABCD", turns=False)) == ()
    light = on_box(mass=15.0, mass_pm=0.5)
    (told,) = misfits(light, *by_hand("AB", turns=False))
    assert told.odd is None
    assert isinstance(told, ReadOutOfBalance)
    assert told.off == pytest.approx((100 - 15.5 * 0.5125 * KG) / 2, abs=1e-3)


def test_the_only_reading_without_which_the_rest_fits_is_told() -> None:
    """420 kg ± 20 kg at the middle, 100 kg under three stands and 140 kg under D.

    Without D there may be 100 kg under it, and 400 kg in all. Without A, to balance D against B and C across, there has
    to be as much again as they miss under it: more than 440 kg. Without B or C one side stays 40 kg too heavy or more.
    """
    job = on_box(mass=420.0, mass_pm=20.0)
    (told,) = misfits(job, *scales((100, 100, 100, 140)))
    assert "D" in named(told)
    assert told.odd is not None
    assert told.odd.support == "D"
    assert misfits(job, *scales((100, 100, 100))) == ()


def test_what_it_cannot_weigh_is_told_as_that_and_by_all_of_it() -> None:
    (told,) = misfits(on_box(), *scales((150, 150, 150, 150)))
    assert isinstance(told, ReadTogether)
    assert (named(told), told.load / KG, told.limit / KG) == ("ABCD", pytest.approx(600), pytest.approx(408))
    assert told.odd is None
    (told,) = misfits(on_box(), *scales((60, 60, 60, 60)))
    assert isinstance(told, ReadTogether)
    assert told.limit / KG == pytest.approx(392)
    # Of three of 110 kg and one of 150 kg the fourth may as well be what is off.
    (told,) = misfits(on_box(), *scales((100, 100, 100, 150)))
    assert isinstance(told, ReadTogether)
    assert (named(told), told.odd) == ("ABCD", scale("D", 150))


def test_what_was_read_twice_at_a_stand_counts_once() -> None:
    """Scales that come to 404 kg, and hands that find that none of them turns, which is 20 kg more."""
    assert fit(on_box(), *by_hand("ABCD", turns=False), *scales((101, 101, 101, 101)))
    (told,) = misfits(on_box(), *by_hand("ABCD", turns=False), *scales((60, 60, 60, 60)))
    assert told.readings == tuple(scales((60, 60, 60, 60)))


@pytest.mark.parametrize("order", ["ABC", "CBA", "CAB"])
def test_each_of_what_does_not_go_together_is_needed_for_that(order: str) -> None:
    """400 kg ± 200 kg: 150 kg on A, or on B, is more than 540 kg in all, and 210 kg on C is no more than 440 kg."""
    job, loads = on_triangle(mass_pm=200.0), {"A": 150, "B": 150, "C": 210}
    (told,) = misfits(job, *(scale(name, loads[name]) for name in order))
    assert isinstance(told, ReadOutOfBalance)
    assert set(named(told)) in ({"A", "C"}, {"B", "C"})
    for each in told.readings:
        assert misfits(job, *(other for other in told.readings if other is not each)) == ()
    assert told.odd is not None
    assert told.odd.support == "C"


@pytest.mark.parametrize("order", ["ABC", "CAB"])
def test_what_cannot_be_by_itself_is_told_by_itself_and_the_rest_held_against_each_other(order: str) -> None:
    """C could have 209.1 kg at the most."""
    loads = {"A": 109, "B": 109, "C": 300}
    (told,) = misfits(on_triangle(mass_pm=8.0), *(scale(name, loads[name], 1.0) for name in order))
    # What comes to more than it weighs is told as that.
    assert isinstance(told, ReadTogether)
    (told,) = misfits(on_triangle(), *(scale(name, loads[name] if name != "C" else 182, 1.0) for name in order))
    assert isinstance(told, ReadOutOfBalance)
    assert set(named(told)) == {"A", "B"}


def test_less_than_two_readings_are_none_together() -> None:
    assert misfits(on_triangle()) == ()
    assert misfits(on_triangle(), scale("C", 300)) == ()
    made = read(on_triangle(), scale("C", 300))
    assert not fit_together(made, make.state(made), make.solved(made)[-1]), "it does not fit by itself"


def on_arms(**more: object) -> Job:
    """A shell of 1200 kg ± 20 kg on four arms alone."""
    part = make.part(mass=1200.0, body="shell", mass_pm=20.0, at_pm=(0.05, 0.05, 0.0))
    lift: LiftUse = make.lift_use(make.SQUARE)
    return make.job([part], lift=lift, stages=[Stage("up", lowered=0.02, **more)])  # type: ignore[arg-type]


def test_it_weighs_the_same_at_each_height_of_the_lift() -> None:
    at_two = scale("bay", 1185, 5, 0.01), scale("bay", 1200, 5, 0.02)
    (told,) = misfits(on_arms(), *at_two)
    assert isinstance(told, ReadOutOfBalance)
    assert told.readings == at_two
    assert told.off / KG == pytest.approx(2.5, abs=1e-4)
    assert misfits(on_arms(), scale("bay", 1191, 5, 0.01), scale("bay", 1200, 5, 0.02)) == ()


def test_the_gauge_is_held_against_the_arms_that_it_shows() -> None:
    pads = [scale(f"pad {number}", 300) for number in range(1, 5)]
    assert misfits(on_arms(), scale("bay", 1207, 5), *pads) == ()
    (told,) = misfits(on_arms(), scale("bay", 1215, 5), *pads)
    assert len(told.readings) == 5


def test_what_is_read_as_the_step_has_it_is_at_the_height_that_it_has() -> None:
    """The pads of one diagonal 9 kg more than before, those of the other as much less: at another height they may."""
    pads = [scale(f"pad {number}", 300) for number in range(1, 5)]
    twice = [replace(each, load=(300 + off) * KG) for each, off in zip(pads, (9, -9, 9, -9), strict=True)]
    assert fit(on_arms(), *pads, *(replace(each, lowered=0.01) for each in twice))
    (told,) = misfits(on_arms(), *pads, *(replace(each, lowered=0.02) for each in twice))
    assert len({each.support for each in told.readings}) == 1


def test_each_height_has_its_own_sum() -> None:
    """Pads across the corner 325 kg each, then those of the other diagonal: never more than half of it at once."""
    one, other = (
        [scale(f"pad {number}", 325, 2, down) for number in of] for of, down in (((1, 3), 0.01), ((2, 4), 0.02))
    )
    assert fit(on_arms(), *one, *other)
    (told,) = misfits(on_arms(), *one, *(replace(each, lowered=0.01) for each in other))
    assert isinstance(told, ReadTogether)


def test_what_the_gauge_shows_is_summed_and_not_the_arms_that_it_has_in_it() -> None:
    """1100 kg on the gauge and 160 kg on stands are more than 1220 kg; single arms that read less change nothing."""
    pads = [scale(f"pad {number}", 225, 1.0) for number in range(1, 5)]
    (told,) = misfits(hung(), *pads, scale("bay", 1100, 5), *scales((40, 40, 40, 40), 1.0))
    assert isinstance(told, ReadTogether)
    assert [each.support for each in told.readings] == ["bay", *"ABCD"]
    assert told.limit / KG == pytest.approx(1220)


def test_a_part_that_comes_off_meanwhile_may_have_been_there_at_one_height_and_not_at_another() -> None:
    """1160 kg and a door of 40 kg that goes in any order: 1200 kg with it, 1160 kg without."""
    shell = make.part(mass=1160.0, body="shell", mass_pm=1.0)
    door = make.part(mass=40.0, body="shell", name="door", mass_pm=1.0)
    stages = [Stage("up", lowered=0.02), Stage("door off", off=("door",), any_order=True)]
    job = make.job([shell, door], lift=make.lift_use(make.SQUARE), stages=stages)
    both = scale("bay", 1200, 5, 0.01), scale("bay", 1160, 5, 0.02)
    assert fit(job, *both)
    assert fit(job, both[1], replace(both[0], load=1180 * KG, pm=0.0)), "nor is it told when it came off"
    listed = replace(job, stages=(stages[0], replace(stages[1], any_order=False)))
    assert not fit(listed, *both)


def test_a_part_taken_from_what_was_weighed_whole_lightens_it() -> None:
    """150 kg weighed whole, less a lid of 40 kg ± 10 kg at its front left: 100 to 120 kg.

    By hand: less 40 kg at (0.2, 0.1) it is 110 kg at (-0.0727, -0.0364), and a stand has m / 4 (1 ± x / 0.4 ± y / 0.3).
    """
    lid = make.part((0.2, 0.1), 40.0, name="lid", mass_pm=10.0)
    whole = {"unit": make.weighed(150.0, (0.0, 0.0, 0.4))}
    stages = [Stage("all", tuple("ABCD")), Stage("off", off=("lid",))]
    job = make.job([lid, make.part()], make.stands(BOX), stages=stages, whole=whole)
    assert fit(job, *scales((19.17, 25.83, 29.17, 35.83), 0.01))
    (told,) = misfits(job, *scales((31, 31, 31, 31), 0.5))
    assert isinstance(told, ReadTogether)
    assert told.limit / KG == pytest.approx(120)


def test_forces_between_assemblies_are_left_open_and_their_sum_is_not() -> None:
    """A unit of 300 kg ± 20 kg under a shell of 900 kg: mounts may pull as they like, it all weighs the same."""
    stands = scales((40, 40, 40, 40), 1.0)
    assert misfits(hung(), *stands) == ()
    pads = [scale(f"pad {number}", load, 1.0) for number, load in enumerate((262, 262, 262, 262), 1)]
    assert misfits(hung(), *stands, *pads) == ()
    # The shell lies in the middle and is known: front is as heavy as rear, mounts or not.
    askew = [scale(f"pad {number}", load, 1.0) for number, load in enumerate((300, 300, 224, 224), 1)]
    (told,) = misfits(hung(), *stands, *askew)
    assert isinstance(told, ReadOutOfBalance)


def test_each_group_is_held_against_its_own_readings_and_what_does_not_stand_against_none() -> None:
    far = [scale(name, load, 1.0) for name, load in {"f0": 31.5, "f1": 9.45, "f2": 22.05}.items()]
    near = scales((40.5, 31.5, 29.5, 38.5), 1.0)
    assert misfits(two_groups(), *far, *near) == ()
    (told,) = misfits(two_groups(), *far, *(replace(each, load=(each.load or 0.0) * 1.2) for each in near))
    assert named(told) == "ABCD"
    falls = make.job([replace(BLOCK, at=(0.5, 0.0, 0.5))], make.stands(TRIANGLE))
    assert misfits(falls, *scales((300, 300, 300))) == ()


def test_what_stands_inside_one_rigid_whole_says_nothing() -> None:
    """A prop between two assemblies that are bolted to each other: no equation tells what it carries."""
    parts = [BLOCK, make.part(mass=20.0, name="top", body="cradle")]
    prop = make.support("prop", (0.0, 0.0), body="cradle", on="unit")
    job = make.job(parts, [*make.stands(BOX), prop], joints=[make.bolts("bolts")])
    assert misfits(job, scale("prop", 200), *scales((105, 105, 105, 105))) == ()


def test_what_cannot_be_by_itself_is_not_told_as_what_all_of_it_comes_to() -> None:
    assert misfits(on_arms(), scale("bay", 1300, 5, 0.01), scale("bay", 1200, 5, 0.02)) == ()


def test_where_there_is_no_answer_it_is_not_told_that_they_fit(monkeypatch: pytest.MonkeyPatch) -> None:
    def none(*_: object) -> None:
        raise NoProgrammeError

    monkeypatch.setattr(highs, "least_values", none)
    with pytest.raises(UnsolvedError):
        misfits(on_triangle(), scale("A", 100), scale("B", 100))
    assert fit(on_triangle()), "where nothing was read nothing is asked"

"""A stand that is brought up to touch, held against its lowest and highest setting. Made-up jobs, by hand.

The saddles of the unit at z 200 mm are set to 350 mm: the floor is at z -150 mm. The tail of the shell at z 400 mm is
then 550 mm over it, and the pads at z 180 mm are 330 mm over it.
"""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from loadplan.checks.case import Case
from loadplan.checks.reach import reaches
from loadplan.model.job import Support
from loadplan.model.shop import EquipmentKind, Heights
from loadplan.model.verdict import Assessment, CheckName, Finding, Measure, Verdict
from tests.checks import builders
from tests.checks.small_jobs import STAND, Raw, found, judged, lifted_job, said, the


def propped(lowest: float, highest: float, stage: int, **more: object) -> Raw:
    """A prop of these heights under the tail of the shell from one of the two stages on."""
    job = lifted_job(limits={"uneven": 3})
    job["point"].append({"name": "tail", "body": "shell", "at": [-2800, 0, 400], "limit": 20000})
    prop = STAND | {"name": "prop", "rating": 1000, "heights": {"from": lowest, "to": highest}}
    job["equipment"] = [*job["equipment"], prop]
    job["support"].append({"name": "P", "use": "prop", "under": "tail", "standby": True} | more)
    job["stage"][stage]["in_place"] = [*job["stage"][stage].get("in_place", []), "P"]
    return job


def unknown(assessment: Assessment) -> bool:
    return any("brought up to touch reaches" in "".join(map(str, each)) for each in assessment.not_checked)


@pytest.mark.parametrize(
    ("lowest", "highest", "verdict"),
    [
        (900, 1500, Verdict.STOP),
        (560, 900, Verdict.STOP),
        (552, 900, Verdict.HOLDS),
        (300, 600, Verdict.HOLDS),
        (300, 540, Verdict.STOP),
    ],
)
def test_with_set_stands_under_the_same_its_height_is_known(
    lowest: float, highest: float, verdict: Verdict, tmp_path: Path
) -> None:
    """Bolted to the unit on its stands: 550 mm, give or take 3 mm that a saddle may be off and what the arms give."""
    assessment = judged(propped(lowest, highest, 0), tmp_path)
    finding = the(assessment.stages[0], "height", "P")
    assert finding.verdict is verdict
    assert finding.value == pytest.approx(0.55, abs=0.003)


def test_a_stop_says_what_is_there_and_which_kind_of_the_shop_goes_there(tmp_path: Path) -> None:
    finding = the(judged(propped(900, 1500, 0), tmp_path).stages[0], "height", "P")
    assert "P cannot stand under tail: from floor to saddle there are at most 550 mm" in said(finding)
    assert "a prop goes from 900 mm to 1500 mm. Plan a stand there." in said(finding)


def test_where_none_of_the_shop_goes_there_another_place_is_named(tmp_path: Path) -> None:
    job = propped(900, 1500, 0)
    job["equipment"] = [
        each | {"heights": {"from": 100, "to": 400}} if each["name"] == "stand" else each for each in job["equipment"]
    ]
    assert "Plan another stand there, or another place for it." in said(
        the(judged(job, tmp_path).stages[0], "height", "P")
    )


def test_what_bears_less_is_not_named_in_its_stead(tmp_path: Path) -> None:
    job = propped(900, 1500, 0)
    job["equipment"] = [
        each | {"rating": 999} if each["name"] == "stand" else each | {"rating": 1000} for each in job["equipment"]
    ]
    assert "Plan another stand there" in said(the(judged(job, tmp_path).stages[0], "height", "P"))


def test_a_shim_is_no_part_of_its_height(tmp_path: Path) -> None:
    job = propped(300, 600, 0, shim=100)
    job["shim"] = [{"height": 100, "count": 4}]
    assert the(judged(job, tmp_path).stages[0], "height", "P").value == pytest.approx(0.45, abs=0.003)


@pytest.mark.parametrize(("rise", "stops"), [(None, False), (1000, False), (500, True)])
def test_what_the_lift_alone_holds_may_stand_higher(rise: float | None, stops: bool, tmp_path: Path) -> None:  # noqa: FBT001
    """Unbolted it may go up by 670 mm, or by 170 mm to 720 mm, where a prop of 900 mm never fits."""
    job = propped(900, 1500, 1)
    job["lift"] |= {} if rise is None else {"rise": rise}
    assessment = judged(job, tmp_path)
    told = found(assessment.stages[1], "height", "P")
    assert [each.verdict for each in told] == ([Verdict.STOP] if stops else [])
    assert unknown(assessment) is not stops


def test_raised_or_not_a_prop_that_is_too_short_is_a_stop(tmp_path: Path) -> None:
    finding = the(judged(propped(300, 500, 1), tmp_path).stages[1], "height", "P")
    assert finding.verdict is Verdict.STOP
    assert "there are at least 549 mm" in said(finding)


def stepped(settings: list[int], stage: int, **more: object) -> Raw:
    """The same prop, which goes to these heights and none between."""
    job = propped(300, 900, stage, **more)
    job["equipment"] = [each | {"heights": settings} if each["name"] == "prop" else each for each in job["equipment"]]
    return job


@pytest.mark.parametrize(
    ("settings", "verdict"),
    [
        ([500, 548, 600], Verdict.HOLDS),
        ([400, 530, 580, 700], Verdict.STOP),  # both ends fit
        ([530, 551], Verdict.HOLDS),
        ([480, 560], Verdict.STOP),
    ],
)
def test_between_two_steps_nothing_touches_though_both_ends_fit(
    settings: list[int], verdict: Verdict, tmp_path: Path
) -> None:
    """The tail is 550 mm over the floor; 3 mm are given to a saddle."""
    finding = the(judged(stepped(settings, 0, standby=False), tmp_path).stages[0], "height", "P")
    assert finding.verdict is verdict
    if verdict is Verdict.STOP:
        below, above = max(each for each in settings if each < 549), min(each for each in settings if each > 551)
        assert f"a prop stops at {below} mm and {above} mm. Plan it at {below} mm with a shim" in said(finding)


@pytest.mark.parametrize(("settings", "verdict"), [([520, 600], Verdict.NOTE), ([480, 560], Verdict.STOP)])
def test_what_stands_by_may_stay_a_little_short(settings: list[int], verdict: Verdict, tmp_path: Path) -> None:
    finding = the(judged(stepped(settings, 0), tmp_path).stages[0], "height", "P")
    assert finding.verdict is verdict
    assert ("short of touching" in said(finding)) is (verdict is Verdict.NOTE)


@pytest.mark.parametrize(("settings", "stops"), [([500, 760], True), ([500, 640, 760], False)])
def test_what_the_lift_may_have_raised_has_to_find_one_step_on_the_way(
    settings: list[int],
    stops: bool,  # noqa: FBT001
    tmp_path: Path,
) -> None:
    """Unbolted the tail is between 550 mm and, by a rise of 500 mm, 720 mm over the floor."""
    job = stepped(settings, 1)
    job["lift"] |= {"rise": 500}
    assessment = judged(job, tmp_path)
    assert [each.verdict for each in found(assessment.stages[1], "height", "P")] == ([Verdict.STOP] if stops else [])
    assert unknown(assessment) is not stops


TALL = replace(builders.STAND, name="tall", heights=Heights(0.9, 1.5, ()))


@pytest.mark.parametrize(
    ("change", "offered"),
    [
        ({}, True),
        ({"heights": Heights(0.55, 0.9, ())}, True),
        ({"heights": Heights(0.551, 0.9, ())}, False),
        ({"heights": Heights(0.3, 0.55, ())}, True),
        ({"heights": Heights(0.3, 0.549, ())}, False),
        ({"heights": None}, False),
        ({"rating": TALL.rating - 1.0}, False),
        ({"rating": TALL.rating}, True),
        ({"locks": False}, False),
        ({"kind": EquipmentKind.HOIST}, False),
        ({"kind": EquipmentKind.JACK}, True),
    ],
)
def test_only_what_bears_and_locks_as_well_and_goes_there_is_offered(
    change: Mapping[str, Any],
    offered: bool,  # noqa: FBT001
) -> None:
    """The place is 550 mm over the floor."""
    other = replace(builders.STAND, **({"name": "other", "heights": Heights(0.2, 0.9, ())} | change))
    seat = replace(builders.support("A", TALL), height=None, at=(0.0, 0.0, 0.55))
    judged = builders.case(seat)
    shop = replace(judged.job.shop, equipment=(TALL, other))
    judged = replace(
        judged, job=replace(judged.job, shop=shop), statics=replace(judged.statics, floor=0.0), before=None
    )
    told = reaches(judged, seat)
    assert isinstance(told, Finding)
    assert (told.verdict, told.value) == (Verdict.STOP, pytest.approx(0.55))
    assert (told.limit, told.measure) == (0.9, Measure.LENGTH)
    says = builders.words(told.says)
    assert says.endswith("Plan a other there." if offered else "Plan another stand there, or another place for it.")


def between(
    needed: float,
    settings: tuple[float, ...] = (0.5, 0.6),
    uneven: float = 0.003,
    **more: Any,  # noqa: ANN401
) -> Finding:
    """A prop of these settings under a place that high over the floor, under a unit that nothing else may move."""
    kind = replace(builders.STAND, name="prop", heights=Heights(settings[0], settings[-1], settings))
    seat = replace(builders.support("P", kind), height=None, at=(0.0, 0.0, needed), **more)
    judged = builders.case(seat)
    job = replace(judged.job, limits=replace(judged.job.limits, uneven=uneven))
    told = reaches(replace(judged, job=job, statics=replace(judged.statics, floor=0.0)), seat)
    assert isinstance(told, Finding)
    return told


@pytest.mark.parametrize(
    ("needed", "standby", "told"),
    [
        (0.54, True, (Verdict.NOTE, 0.5)),
        (0.55, True, (Verdict.NOTE, 0.5)),
        (0.5501, True, (Verdict.STOP, 0.5)),
        (0.6, True, (Verdict.STOP, 0.66)),
        (0.54, False, (Verdict.STOP, 0.5)),
    ],
)
def test_what_stands_by_may_be_fifty_millimetres_short(
    needed: float,
    standby: bool,  # noqa: FBT001
    told: tuple[Verdict, float],
) -> None:
    found = between(needed, (0.5, 0.66), standby=standby)
    assert (found.verdict, found.limit) == told
    assert (found.check, found.subject, found.value) == (CheckName.HEIGHT, "P", needed)
    assert found.measure is Measure.LENGTH


def test_a_stand_between_two_steps_is_told_where_it_stops_and_what_else_to_plan() -> None:
    assert builders.words(between(0.54, standby=True).says) == "P stops at 0.5 m, 0.04 m short of touching."
    cannot = "P cannot be brought up to touch under {}: from floor to saddle there are 0.54 m, "
    stops = "and a prop stops at 0.5 m and 0.6 m. Plan it at 0.5 m with a shim for the other 0.04 m, "
    for more, under in (({}, "place P"), ({"point": ""}, "the unit")):
        says = builders.words(between(0.54, **more).says)
        assert says == f"{cannot.format(under)}{stops}or a stand there that turns."


def test_the_two_steps_that_are_told_are_those_on_either_side() -> None:
    says = builders.words(between(0.54, (0.4, 0.5, 0.6, 0.7)).says)
    assert " a prop stops at 0.5 m and 0.6 m. " in says


def raised(heights: Heights, *, rise: float | None = 0.45, gap: float = 0.0) -> tuple[Case, Support]:
    """A prop under a unit that hangs on a lift, 600 mm over the floor as the job has it; the pads are at 250 mm."""
    kind = replace(builders.STAND, name="prop", heights=heights)
    seat = replace(builders.support("P", kind), height=None, at=(0.0, 0.0, 0.55))
    judged = builders.lifted(seat)
    assert judged.job.lift is not None
    use = replace(judged.job.lift, lift=replace(judged.job.lift.lift, rise=rise))
    supports = tuple(replace(each, gap=gap if each.name != "P" else 0.0) for each in judged.statics.supports)
    statics = replace(judged.statics, floor=-0.05, supports=supports)
    return replace(judged, job=replace(judged.job, lift=use), statics=statics), seat


def test_what_the_lift_may_have_raised_is_told_from_where_to_where() -> None:
    """A lift that rises by 450 mm may have raised what it holds by 200 mm."""
    judged, seat = raised(Heights(0.5, 0.9, (0.5, 0.9)))
    for point, under in (("place P", "place P"), ("", "the unit")):
        told = reaches(judged, replace(seat, point=point))
        assert isinstance(told, Finding)
        assert (told.verdict, told.value, told.limit) == (Verdict.STOP, pytest.approx(0.6), 0.5)
        assert builders.words(told.says) == (
            f"P cannot be brought up to touch under {under}: from floor to saddle there are 0.6 m to 0.8 m, "
            "and a prop stops at 0.5 m and 0.9 m. Plan a stand there that turns."
        )


@pytest.mark.parametrize(
    ("needed", "settings", "says"),
    [
        (0.4, (0.5, 0.6), "at most 0.4 m, and a prop goes from 0.5 m to 0.6 m."),
        (0.7, (0.5, 0.6), "at least 0.7 m, and a prop goes from 0.5 m to 0.6 m."),
    ],
)
def test_a_stand_that_does_not_go_there_is_told_how_far_it_goes(
    needed: float, settings: tuple[float, ...], says: str
) -> None:
    for point, under in (("place P", "place P"), ("", "the unit")):
        found = between(needed, settings, point=point)
        assert (found.verdict, found.value, found.limit) == (
            *(Verdict.STOP, needed),
            *(settings[0] if needed < settings[0] else settings[-1],),
        )
        assert builders.words(found.says) == (
            f"P cannot stand under {under}: from floor to saddle there are {says} "
            "Plan another stand there, or another place for it."
        )


@pytest.mark.parametrize(
    ("needed", "verdict"),
    [
        (0.497, Verdict.HOLDS),
        (0.4969, Verdict.STOP),
        (0.503, Verdict.HOLDS),
        (0.5031, Verdict.STOP),
        (0.6, Verdict.HOLDS),
        (0.603, Verdict.HOLDS),
        (0.6031, Verdict.STOP),
    ],
)
def test_a_saddle_may_be_three_millimetres_off(needed: float, verdict: Verdict) -> None:
    found = between(needed)
    assert found.verdict is verdict
    if verdict is Verdict.HOLDS:
        assert builders.words(found.says) == f"P is brought up to touch at {needed:.4g} m."


@pytest.mark.parametrize(("needed", "step"), [(0.1 + 0.2, 0.3), (0.3, 0.1 + 0.2)])
def test_a_step_that_misses_by_rounding_touches(needed: float, step: float) -> None:
    assert needed != step
    assert between(needed, (0.2, step, 0.5), uneven=0.0).verdict is Verdict.HOLDS


@pytest.mark.parametrize(
    ("heights", "rise", "gap", "told"),
    [
        (Heights(0.9, 1.5, ()), 0.45, 0.0, (Verdict.STOP, "at most 0.8 m, and a prop goes from 0.9 m to 1.5 m")),
        # A pad that is 50 mm lower goes up by 50 mm more.
        (Heights(0.9, 1.5, ()), 0.45, 0.05, (Verdict.STOP, "at most 0.85 m, and a prop goes from 0.9 m to 1.5 m")),
        (Heights(0.3, 0.5, ()), 0.45, 0.0, (Verdict.STOP, "at least 0.6 m, and a prop goes from 0.3 m to 0.5 m")),
        (Heights(0.3, 0.5, ()), None, 0.0, (Verdict.STOP, "at least 0.6 m, and a prop goes from 0.3 m to 0.5 m")),
        # A lift that rises no further than its pads are has raised nothing.
        (Heights(0.61, 0.9, ()), 0.2, 0.0, (Verdict.STOP, "at most 0.6 m, and a prop goes from 0.61 m to 0.9 m")),
        (Heights(0.5, 0.9, ()), 0.45, 0.0, None),
        (Heights(0.9, 1.5, ()), None, 0.0, None),
    ],
)
def test_a_prop_that_fits_nowhere_on_the_way_of_the_lift_is_a_stop(
    heights: Heights, rise: float | None, gap: float, told: tuple[Verdict, str] | None
) -> None:
    found = reaches(*raised(heights, rise=rise, gap=gap))
    if told is None:
        assert builders.words(found.says) == (
            "Whether a prop that is brought up to touch reaches: not checked, the job leaves its height out."
        )
        return
    assert isinstance(found, Finding)
    verdict, says = told
    assert found.verdict is verdict
    assert says in builders.words(found.says)

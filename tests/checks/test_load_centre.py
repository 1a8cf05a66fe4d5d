"""The centre of the load on the lift: inside the pads, posts between them, and a prop where it moves."""

from dataclasses import replace
from math import nextafter
from pathlib import Path

import pytest

from loadplan.checks import lift
from loadplan.checks.case import Case
from loadplan.checks.pads import Pads, pads_of
from loadplan.model.job import Support
from loadplan.model.lowering import LiftAnswer
from loadplan.model.shop import EquipmentKind
from loadplan.model.vehicle import Place
from loadplan.model.verdict import CheckName, Measure, Verdict
from tests.checks.builders import (
    ARMS,
    STAND,
    about,
    arm,
    body_answer,
    findings,
    lifted,
    not_checked,
    support,
    with_body,
    words,
)
from tests.checks.small_jobs import STAND as STAND_TABLE
from tests.checks.small_jobs import TAIL, G, cautions, found, heavy_tail, judged, only_stage, part, said, the

# ---- made-up stages: pads at x −0.5 and −2.0, everything was on with its centre at (0, 0) --------


def carrying(cg: Place, shift: float = 0.0, *props: Support) -> Case:
    free = lifted(*props, hung=False)
    return replace(free, statics=replace(free.statics, lift=LiftAnswer(200.0, 210.0, cg, shift)))


def prop(x: float, body: str = "shell") -> Support:
    return replace(support("P", STAND, (x, 0.0)), body=body, height=None, standby=True, outline=())


@pytest.mark.parametrize(
    ("x", "end", "left", "verdict"),
    [
        (-1.8 + 1e-12, "rear", 0.2, Verdict.HOLDS),
        (-1.8 - 1e-12, "rear", 0.2, Verdict.CAUTION),
        (-0.7 - 1e-12, "front", 0.2, Verdict.HOLDS),
        (-0.7 + 1e-12, "front", 0.2, Verdict.CAUTION),
        (-1.0, "front", 0.5, Verdict.HOLDS),
        (-2.1, "rear", -0.1, Verdict.CAUTION),
    ],
)
def test_the_centre_lies_four_margins_inside_the_pads(x: float, end: str, left: float, verdict: Verdict) -> None:
    told = about(lift.check(carrying((x, 0.0, 0.6))), f"{end} pads")
    assert told.verdict is verdict
    assert (told.value, told.limit) == pytest.approx((left, 0.2))
    if left < 0:
        assert "lies 0.1 m beyond its rear pads, so the shell is heavy there" in words(told.says)


@pytest.mark.parametrize(
    ("columns", "verdict"),
    [
        (-0.5, Verdict.HOLDS),
        (-2.0, Verdict.HOLDS),
        (nextafter(-0.5, 9), Verdict.CAUTION),
        (nextafter(-2.0, -9), Verdict.CAUTION),
    ],
)
def test_the_posts_stand_between_the_pads(columns: float, verdict: Verdict) -> None:
    free = carrying((-1.25, 0.0, 0.6))
    use = free.job.lift
    assert use is not None
    moved = replace(free, job=replace(free.job, lift=replace(use, columns=columns)))
    told = about(lift.check(moved), "posts")
    assert (told.verdict, told.value) == (verdict, columns)
    assert words(told.says).startswith("The posts of bay stand" if verdict is Verdict.HOLDS else "Do not lift it like")


def test_posts_that_the_job_does_not_give_are_not_checked() -> None:
    free = carrying((-1.25, 0.0, 0.6))
    use = free.job.lift
    assert use is not None
    (told,) = not_checked(lift.check(replace(free, job=replace(free.job, lift=replace(use, columns=None)))))
    assert told == (
        "Whether the posts of bay stand between front and rear pads: not checked, "
        "the job does not say where they are (columns)."
    )


@pytest.mark.parametrize(
    ("shift", "props", "verdict"),
    [
        (0.1, (), Verdict.HOLDS),
        (nextafter(0.1, 1), (), Verdict.CAUTION),
        (0.3, (prop(-2.0),), Verdict.HOLDS),
        (0.3, (prop(nextafter(-2.0, 0)),), Verdict.CAUTION),
        (0.3, (prop(-3.5),), Verdict.HOLDS),
        (0.3, (prop(-3.5, "unit"),), Verdict.CAUTION),
        (0.3, (replace(prop(-3.5), on="unit"),), Verdict.CAUTION),
        (0.3, (replace(prop(-3.5), equipment=replace(STAND, kind=EquipmentKind.HOIST)),), Verdict.CAUTION),
        (0.3, (prop(0.5),), Verdict.CAUTION),
    ],
)
def test_a_centre_that_moved_back_asks_for_a_stand_behind_the_rear_pads(
    shift: float, props: tuple[Support, ...], verdict: Verdict
) -> None:
    told = about(lift.check(carrying((-1.25, 0.0, 0.6), shift, *props)), "heavy end")
    assert (told.verdict, told.value, told.limit) == (verdict, shift, 0.1)
    assert ("nothing stands under its rear end" in words(told.says)) is (verdict is Verdict.CAUTION)


def test_a_centre_that_moved_forward_asks_for_one_before_the_front_pads() -> None:
    ahead = (0.3, 0.0, 0.6)  # all was on with its centre at 0
    assert about(lift.check(carrying(ahead, 0.3, prop(-0.4))), "heavy end").verdict is Verdict.HOLDS
    told = about(lift.check(carrying(ahead, 0.3, prop(-3.5))), "heavy end")
    assert told.verdict is Verdict.CAUTION
    assert "has moved 0.3 m to the front since everything was on" in words(told.says)


def test_pads_are_parted_by_their_middle() -> None:
    assert pads_of(ARMS) == Pads(-0.5, -2.0)
    assert pads_of((arm("1", (0.0, 0.5)), arm("2", (-1.0, 0.0)), arm("3", (0.2, -0.5)))) == Pads(0.1, -1.0)
    assert pads_of((arm("1", (0.0, 0.5)), arm("2", (0.0, -0.5)))) is None
    assert (Pads(-0.5, -2.0).end_of(-1.2), Pads(-0.5, -2.0).end_of(-1.3)) == ("front", "rear")


def test_pads_in_one_line_across_have_no_ends() -> None:
    free = carrying((-0.5, 0.0, 0.6))
    line = replace(free, state=replace(free.state, supports=ARMS[:2]))
    assert "posts" not in [each.subject for each in findings(lift.check(line))]


# ---- whole jobs: 900 kg on pads at −500 and −2000 mm --------------------------------------------


def test_the_prop_carries_what_the_lever_gives(tmp_path: Path) -> None:
    """900 kg · (−0.5 + 1.5) / (−0.5 + 3.5) m: 300 kg, where the rear pads let go and it turns on the front ones."""
    told = only_stage(heavy_tail(-1500, TAIL), tmp_path)
    moved = the(told, "lift", "heavy end")
    assert moved.verdict is Verdict.CAUTION
    assert moved.value == pytest.approx(1.5 - (900 * 1.5 - 100 * 0.9) / 1000)
    assert said(moved).endswith(
        "Before the weight moves: set a prop to just touch under tail (on the cross member). "
        "If the vehicle moves, the prop carries up to 300 kg."
    )


def test_the_way_that_the_centre_moves_is_told(tmp_path: Path) -> None:
    for at, told, end in (
        ([-3400, 0, 600], "to the front", "front"),
        ([900, 0, 600], "to the back", "rear"),
        ([900, -3000, 600], "to the back left", "rear"),
    ):
        job = heavy_tail(-1500, TAIL)
        job["part"][1]["at"] = at
        job["part"][1]["mass"] = 200
        moved = the(only_stage(job, tmp_path), "lift", "heavy end")
        assert f"{told} since everything was on, and nothing stands under its {end} end." in said(moved)


def test_a_prop_goes_under_the_front_where_that_is_heavy(tmp_path: Path) -> None:
    """900 kg · (2.0 − 0.9) / (2.0 + 0.5) m, turning on the rear pads: 396 kg; only the shell's own points count."""
    nose, near = ({"name": name, "body": "shell", "at": [x, 0, 300]} for name, x in (("nose", 500), ("near", 0)))
    job = heavy_tail(-900, near, nose, TAIL)
    job["part"][1]["at"] = [-3400, 0, 600]
    assert "under nose. If the vehicle moves, the prop carries up to 396 kg." in said(
        the(only_stage(job, tmp_path), "lift", "heavy end")
    )
    job["body"] = [{"name": "shell"}, {"name": "other"}]
    job["part"] += [part("other", "other", 50, [0, 0, 500])]
    job["joint"] = [{"name": "bolts", "kind": "bolted", "between": ["other", "shell"], "at": [0, 0, 500]}]
    job["point"] += [{"name": "elsewhere", "body": "other", "at": [900, 0, 300]}]
    assert "under nose." in said(the(only_stage(job, tmp_path), "lift", "heavy end"))


def test_where_tolerance_alone_may_tip_it_no_figure_is_given(tmp_path: Path) -> None:
    job = heavy_tail(-1950, TAIL)
    job["part"][0]["at_pm"] = [100, 0, 0]
    told = said(the(only_stage(job, tmp_path), "lift", "rear pads"))
    # 50 mm inside, 200 mm are asked for.
    assert "set the rear pads 150 mm further back, where the maker gives lift points." in told
    assert told.endswith(" Before the weight moves: set a prop to just touch under its rear end.")


def test_with_that_prop_in_place_nothing_is_asked_for(tmp_path: Path) -> None:
    job = heavy_tail(-1500, TAIL)
    job["support"] = [{"name": "P", "use": "stand", "under": "tail", "standby": True}]
    job["stage"] = [job["stage"][0] | {"in_place": ["P"]}]
    told = only_stage(job, tmp_path)
    assert cautions(told) == set()
    assert said(the(told, "lift", "heavy end")).endswith("P stands under that end.")
    bound = next(
        each.load.range.most for each in told.statics.supports if each.name == "P" and each.load and each.load.range
    )
    assert bound == pytest.approx(300 * G, rel=1e-9)


def test_a_place_that_cannot_take_it_is_passed_over(tmp_path: Path) -> None:
    weak = TAIL | {"limit": 2900}
    near = {"name": "axle", "body": "shell", "at": [-2500, 0, 250]}
    told = said(the(only_stage(heavy_tail(-1500, weak, near), tmp_path), "lift", "heavy end"))
    assert "under axle." in told
    assert "up to 450 kg." in told  # 900 · 1.0 / 2.0
    bare = said(the(only_stage(heavy_tail(-1500, weak), tmp_path), "lift", "heavy end"))
    assert bare.endswith(" Before the weight moves: set a prop to just touch under its rear end.")


def test_a_vehicle_on_four_tall_stands_is_judged_without_a_lift(tmp_path: Path) -> None:
    places = {"FL": [-500, 700, 180], "FR": [-500, -700, 180], "RL": [-2000, 700, 180], "RR": [-2000, -700, 180]}
    tall = STAND_TABLE | {"name": "tall", "heights": {"from": 900, "to": 1900}, "base": 500, "rating": 1000}
    job = heavy_tail(-1900)
    del job["lift"]
    del job["point"]
    job["equipment"] = [tall]
    job["support"] = [
        {"name": name, "use": "tall", "body": "shell", "at": at, "height": 1600} for name, at in places.items()
    ]
    job["stage"] = [{"name": "on stands", "in_place": list(places)}, {"name": "engine out", "off": ["engine"]}]
    for each in judged(job, tmp_path).stages:
        assert found(each, "lift") == []
        assert {"balance", "margin", "rating", "push", "sway"} <= {one.check for one in each.findings}
    (before, after) = judged(job, tmp_path).stages
    assert the(before, "margin", "shell").verdict is Verdict.HOLDS
    assert the(after, "margin", "shell").value == pytest.approx(0.1, abs=0.02)  # 100 mm inside the rear stands


# ---- words and limits, by small records ----------------------------------------------------------


@pytest.mark.parametrize(
    ("x", "says"),
    [
        (-1.0, "The centre of the load on bay lies 0.5 m inside its front pads."),
        (
            -0.6,
            "The centre of the load on bay lies 0.1 m inside its front pads, so the shell is heavy there "
            "(asked for: 0.2 m). Before lifting: set the front pads 0.1 m further forward, where the maker gives lift "
            "points. Before the weight moves: set a prop to just touch under its front end.",
        ),
        (
            -2.1,
            "The centre of the load on bay lies 0.1 m beyond its rear pads, so the shell is heavy there "
            "(asked for: 0.2 m). Before lifting: set the rear pads 0.3 m further back, where the maker gives lift "
            "points. Before the weight moves: set a prop to just touch under its rear end.",
        ),
    ],
)
def test_how_far_inside_the_pads_it_lies_is_told_with_what_would_help(x: float, says: str) -> None:
    """The unit is no longer hung, and the shell has no points: a prop goes under its end."""
    found_ = next(each for each in findings(lift.check(carrying((x, 0.0, 0.6)))) if each.subject.endswith(" pads"))
    assert (found_.check, found_.measure, words(found_.says)) == (CheckName.LIFT, Measure.LENGTH, says)


def test_on_the_edge_of_its_pads_it_is_inside() -> None:
    on_edge = about(lift.check(carrying((-2.0, 0.0, 0.6))), "rear pads")
    assert "lies 0 m inside its rear pads" in words(on_edge.says)


def test_where_the_posts_stand_is_told() -> None:
    free = carrying((-1.25, 0.0, 0.6))
    told = about(lift.check(free), "posts")
    assert (told.check, told.limit, told.measure) == (CheckName.LIFT, None, Measure.LENGTH)
    assert words(told.says) == "The posts of bay stand between front and rear pads."
    use = free.job.lift
    assert use is not None
    aside = replace(free, job=replace(free.job, lift=replace(use, columns=0.0)))
    assert words(about(lift.check(aside), "posts").says) == (
        "Do not lift it like this: the posts of bay stand between front and rear pads on a vehicle that is well "
        "placed, and here they do not."
    )


@pytest.mark.parametrize(
    ("cg", "shift", "props", "says"),
    [
        ((-1.25, 0.0, 0.6), 0.1, (), " since everything was on."),
        (
            *((-1.25, 0.0, 0.6), 0.3, ()),
            " to the back since everything was on, and nothing stands under its rear end. "
            "Before the weight moves: set a prop to just touch under its rear end.",
        ),
        ((-1.25, 0.0, 0.6), 0.3, (prop(-3.5),), " since everything was on; P stands under that end."),
        ((-1.25, 0.0, 0.6), 0.1, (prop(-3.5),), " since everything was on."),
        (
            *((0.3, 0.3, 0.6), 0.3, ()),
            " to the front left since everything was on, and nothing stands under its front end. "
            "Before the weight moves: set a prop to just touch under its front end.",
        ),
        ((0.3, 0.0, 0.6), 0.3, (prop(-0.5),), " since everything was on; P stands under that end."),
        # What moves neither way is held at the front.
        ((0.0, 0.3, 0.6), 0.3, (prop(-0.5),), " since everything was on; P stands under that end."),
    ],
)
def test_how_far_the_centre_has_moved_is_told(cg: Place, shift: float, props: tuple[Support, ...], says: str) -> None:
    told = about(lift.check(carrying(cg, shift, *props)), "heavy end")
    assert (told.check, told.measure) == (CheckName.LIFT, Measure.LENGTH)
    assert words(told.says) == f"The centre of the load on bay has moved {shift:.4g} m{says}"


def test_a_stand_under_what_is_bolted_to_the_vehicle_holds_that_end() -> None:
    judged = carrying((-1.25, 0.0, 0.6), 0.3, prop(-3.5, "unit"))
    tied = with_body(judged, replace(body_answer("shell"), rigid_with=("unit",)))
    assert about(lift.check(tied), "heavy end").verdict is Verdict.HOLDS
    # Not where its part is off.
    gone = replace(prop(-3.5), part="pump")
    assert about(lift.check(carrying((-1.25, 0.0, 0.6), 0.3, gone)), "heavy end").verdict is Verdict.CAUTION

"""Sideways pushes, against printed values, hand formulas, and many directions."""

from dataclasses import replace
from math import cos, inf, pi, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadplan.model.vehicle import Place
from loadplan.statics import push_limit
from loadplan.statics.push_limit import (
    Hold,
    NoBalanceError,
    overloaded,
    stands,
    stands_each,
    weakest_push,
    weakest_pushes,
)
from loadplan.statics.sideways_resistance import FACES, Grip, Resistance
from loadplan.statics.tipping_modes import stands as standing
from tests.examples import examples
from tests.statics import builders as make
from tests.statics.test_contact_loads import RECTANGLE, UNIT

LBF, INCH = 4.4482216152605, 0.0254
FLOOR = [(x, y, 0.0) for x, y in RECTANGLE]


def rectangle(friction: float, at: Place) -> Hold:
    """A unit of 3400 N with its centre of gravity at (420, 290) mm, pushed at some place."""
    job = make.job([make.part((0.42, 0.29, 0.35), UNIT)], make.stands(FLOOR))
    return make.hold(job, at, [Grip(friction, inf)] * 4)


@pytest.mark.parametrize(
    ("friction", "at", "towards", "force", "first", "about"),
    [
        (0.5, (0.42, 0.29, 0.35), (1.0, 0.0, 0.0), 1700.00, "slides", ("A", "B", "C", "D")),
        (10.0, (0.42, 0.29, 0.35), (1.0, 0.0, 0.0), 1748.57, "tips", ("B", "C")),
        (10.0, (0.42, 0.29, 0.35), (0.0, 1.0, 0.0), 2040.00, "tips", ("C", "D")),
    ],
)
def test_a_unit_on_four_stands(
    friction: float, at: Place, towards: Place, force: float, first: str, about: tuple[str, ...]
) -> None:
    """By hand: slides at µ W = 1700 N; tips over an edge at W · (way from the edge) / (height of the push)."""
    limit = stands(rectangle(friction, at), towards)
    assert limit.force == pytest.approx(force, abs=0.006)
    assert (limit.first, limit.about) == (first, about)


def test_pushed_at_its_back_edge_it_turns_where_it_stands() -> None:
    """Derived here by a second-order cone programme, 855.48 N; 32 faces inside the round cone lose up to 0.5 %."""
    limit = stands(rectangle(0.5, (0.0, 0.29, 0.35)), (0.0, 1.0, 0.0))
    assert 855.48 * cos(pi / FACES) <= limit.force <= 855.49
    assert limit.first == "slides"


def block(height: float, friction: float) -> Hold:
    """250 lb on a base of 32 in, pushed at some height [in]."""
    half = 16 * INCH
    corners = [(x, y, 0.0) for x, y in ((half, half), (half, -half), (-half, -half), (-half, half))]
    job = make.job([make.part((0.0, 0.0, 0.5), 250 * LBF / 9.80665)], make.stands(corners))
    return make.hold(job, (0.0, 0.0, height * INCH), [Grip(friction, inf)] * 4)


def test_a_block_pushed_low_slides() -> None:
    """Mississippi State University, statics, friction, example 2: 62.5 lb; below 64 in it slides."""
    limit = stands(block(60, 0.25), (1.0, 0.0, 0.0))
    assert limit.force / LBF == pytest.approx(62.5)
    assert limit.first == "slides"
    assert stands(block(64.1, 0.25), (1.0, 0.0, 0.0)).first == "tips"


def test_a_block_pushed_high_tips() -> None:
    """Mississippi State University, statics, friction, example 3: W a / 2h = 60.6 lb (recomputed)."""
    limit = stands(block(66, 0.4), (1.0, 0.0, 0.0))
    assert limit.force / LBF == pytest.approx(250 * 32 / (2 * 66))
    assert limit.force / LBF == pytest.approx(60.6, abs=0.05)
    assert (limit.first, limit.about) == ("tips", ("A", "B"))


def test_the_weakest_push_of_a_five_twelve_thirteen_triangle() -> None:
    """By hand, m g d / h: 300 kg, 0.25 m from the edge, pushed at 0.90 m: 817.22 N."""
    corners = [(0.25, 1.0, 0.0), (0.25, -1.0, 0.0), (-2.0, -1.0, 0.0), (-2.0, 1.0, 0.0)]
    job = make.job([make.part((0.0, 0.0, 0.60), 300.0)], make.stands(corners))
    limit = weakest_push(make.hold(job, (0.0, 0.0, 0.90), [Grip(5.0, inf)] * 4))
    assert limit.force == pytest.approx(817.22, abs=0.005)
    assert limit.direction == pytest.approx(0.0, abs=1e-6)
    assert (limit.first, limit.about) == ("tips", ("A", "B"))


def test_stands_that_go_over_before_they_slide_are_named() -> None:
    """Half their base over their height is 0.1, friction 0.5: they hold 0.1 of the load."""
    hold = rectangle(0.5, (0.42, 0.29, 0.0))
    weak = replace(hold, resistance=Resistance.of(hold.frame, (Grip(0.5, 0.1),) * 4))
    limit = stands(weak, (1.0, 0.0, 0.0))
    assert (limit.first, limit.about) == ("stand", ("A", "B", "C", "D"))
    assert limit.force == pytest.approx(340)


def test_only_the_weak_stands_are_named_where_others_slide() -> None:
    """Three stands carry 1000 N each; one holds 0.1 of its load, two 0.5: 1100 N."""
    corners = [(0.0, 0.0, 0.0), (1.0, 0.5, 0.0), (1.0, -0.5, 0.0)]
    job = make.job([make.part((2 / 3, 0.0, 0.3), 3000 / 9.80665)], make.stands(corners))
    hold = make.hold(job, (2 / 3, 0.0, 0.0), [Grip(0.5, 0.1), Grip(0.5, inf), Grip(0.5, inf)])
    limit = stands(hold, (1.0, 0.0, 0.0))
    assert (limit.first, limit.about) == ("stand", ("A",))
    assert limit.force == pytest.approx(1100)


def test_hanging_from_a_hoist_alone_holds_nothing_sideways() -> None:
    """Three hoists, which stand for one that hangs level: any push moves it."""
    job = make.job([make.part((0.3, 0.2), UNIT)], make.stands(FLOOR[:3], use=make.HOIST))
    limit = weakest_push(make.hold(job, (0.3, 0.2, 0.5), [Grip(0.0, inf)] * 3))
    assert limit.force == pytest.approx(0.0, abs=1e-6)
    assert limit.first == "slides"


def test_nothing_limits_a_pull_straight_down_between_the_stands() -> None:
    hold = rectangle(0.5, (0.3, 0.25, 0.4))
    assert stands(hold, (0.0, 0.0, -1.0)) == type(stands(hold, (1.0, 0.0, 0.0)))(inf, 0.0, "holds", ())


def test_straight_up_over_the_centre_the_weight_is_the_limit() -> None:
    limit = stands(rectangle(0.5, (0.42, 0.29, 0.4)), (0.0, 0.0, 1.0))
    assert limit.force == pytest.approx(3400)


def test_a_rider_on_mounts_is_held_through_them() -> None:
    """Three mounts carry any force, so the two are pushed as one: slides at mu times both weights."""
    parts = [make.part((0.0, 0.0, 0.5), 100.0), make.part((0.0, 0.0, 0.3), 50.0, name="c", body="cradle")]
    joints = [make.mount(name, at) for name, at in zip("xyz", [(-0.2, 0.0), (0.2, 0.2), (0.2, -0.2)], strict=True)]
    job = make.job(parts, make.stands(make.SQUARE, body="cradle"), joints=joints)
    limit = stands(make.hold(job, (0.0, 0.0, 0.2), [Grip(0.2, inf)] * 4), (1.0, 0.0, 0.0))
    assert limit.force == pytest.approx(0.2 * make.newton(150.0))


def test_a_rider_on_stands_on_the_cradle_slides_off_it() -> None:
    """Its own grip holds less than the floor's under both."""
    parts = [make.part((0.0, 0.0, 0.5), 100.0), make.part((0.0, 0.0, 0.3), 50.0, name="c", body="cradle")]
    on = [make.support(f"on {place}", (x / 2, y / 2, 0.4), on="cradle") for place, (x, y) in enumerate(make.SQUARE)]
    job = make.job(parts, [*make.stands(make.SQUARE, body="cradle"), *on])
    grips = [Grip(0.5, inf)] * 4 + [Grip(0.1, inf)] * 4
    limit = stands(make.hold(job, (0.0, 0.0, 0.4), grips), (1.0, 0.0, 0.0))
    assert limit.force == pytest.approx(0.1 * make.newton(100.0))
    assert limit.about == tuple(each.name for each in on)


def random_hold(seed: int, heights: tuple[float, ...] = (0.2, 0.3)) -> Hold:
    """A group that stands on saddles of such heights, with any grips, often on a grid so that places coincide."""
    rng = np.random.default_rng(seed)
    while True:
        two = bool(rng.integers(2))
        snap = float(rng.choice([0.001, 0.25]))
        supports = [
            make.support(
                f"s{number}",
                (*(np.round(rng.uniform(-0.5, 0.5, 2) / snap) * snap), float(rng.choice(heights))),
                body=str(rng.choice(["unit", "cradle"])) if two else "unit",
            )
            for number in range(int(rng.integers(4, 8)))
        ]
        bodies = ["unit", "cradle"] if two else ["unit"]
        joints = [
            make.mount(f"m{number}", tuple(rng.uniform(-0.3, 0.3, 2)))
            for number in range(int(rng.integers(1, 4)) if two else 0)
        ]
        parts = [make.part((*rng.uniform(-0.2, 0.2, 2), 0.6), 100.0, name=body, body=body) for body in bodies]
        job = make.job(parts, supports, joints=joints)
        if standing(make.frame(job)):
            grips = [Grip(float(rng.choice([0.02, 0.15, 0.3, 0.5, 10.0])), inf) for _ in supports]
            at = (*rng.uniform(-0.5, 0.5, 2), float(rng.uniform(0.2, 1.0)))
            return make.hold(job, (float(at[0]), float(at[1]), at[2]), grips)


@examples(30)
@given(st.integers(0, 9999))
def test_no_level_push_is_weaker_than_the_weakest(seed: int) -> None:
    """Against 48 directions, each its own search; and in its own direction it is just that."""
    hold = random_hold(seed)
    limit = weakest_push(hold)
    weight = hold.frame.weight
    every = [(hold.at, (cos(angle), sin(angle), 0.0)) for angle in np.linspace(0, 2 * pi, 48, endpoint=False)]
    assert stands_each(hold, tuple(every)).min() >= limit.force - 1e-6 * weight
    own = stands(hold, (cos(limit.direction), sin(limit.direction), 0.0))
    assert own.force == pytest.approx(limit.force, abs=1e-6 * weight)


def test_the_weakest_push_agrees_with_seven_hundred_and_twenty_directions() -> None:
    for seed in range(2):
        hold = random_hold(seed)
        every = tuple((hold.at, (cos(angle), sin(angle), 0.0)) for angle in np.arange(720) * radians(0.5))
        scanned = stands_each(hold, every).min()
        assert scanned * cos(radians(0.25)) - 1e-3 * hold.frame.weight <= weakest_push(hold).force <= scanned + 1e-3


@examples(10)
@given(st.integers(0, 9999))
def test_pushes_tried_together_are_those_tried_one_by_one(seed: int) -> None:
    hold, rng = random_hold(seed), np.random.default_rng(seed)
    pushes = []
    for _ in range(5):
        at, towards = rng.uniform(-0.5, 0.5, 3), rng.normal(size=3)
        towards /= np.linalg.norm(towards)
        pushes.append((tuple(map(float, at)), tuple(map(float, towards))))
    alone = [stands(replace(hold, at=at), towards).force for at, towards in pushes]
    assert stands_each(hold, tuple(pushes)).tolist() == pytest.approx(alone, rel=1e-6, abs=1e-6)


def test_pushes_that_nothing_holds_sideways_are_tried_one_by_one() -> None:
    job = make.job([make.part((0.3, 0.2), UNIT)], make.stands(FLOOR[:3], use=make.HOIST))
    hold = make.hold(job, (0.3, 0.2, 0.5), [Grip(0.0, inf)] * 3)
    pushes = (((0.3, 0.2, 0.5), (1.0, 0.0, 0.0)), ((0.4, 0.2, 0.5), (0.0, 0.0, 1.0)))
    assert stands_each(hold, pushes).tolist() == pytest.approx([
        0.0,
        stands(make.hold(job, *pushes[1][:1], hold.grips), pushes[1][1]).force,
    ])


def test_less_grip_never_holds_more() -> None:
    for seed in range(8):
        hold = random_hold(seed)
        less = tuple(Grip(0.7 * each.friction, each.footing) for each in hold.grips)
        weaker = weakest_push(replace(hold, resistance=Resistance.of(hold.frame, less)))
        assert weaker.force <= weakest_push(hold).force + 1e-6 * hold.frame.weight


def test_places_pushed_together_are_those_pushed_one_by_one() -> None:
    for seed in range(8):
        hold = random_hold(seed)
        holds = (hold, replace(hold, at=(0.1, -0.2, 1.1)), replace(hold, body=len(hold.frame.wholes) - 1))
        together = weakest_pushes(holds)
        for one, found in zip(holds, together, strict=True):
            alone = weakest_push(one)
            assert (found.first, found.about) == (alone.first, alone.about)
            assert found.force == pytest.approx(alone.force, rel=1e-6, abs=1e-6)


def test_what_friction_does_not_even_hold_slides_on_every_stand_with_no_push(monkeypatch: pytest.MonkeyPatch) -> None:
    hold = make.hold(make.job([make.part()], make.stands(make.SQUARE)), (0.0, 0.0, 0.5), (Grip(0.5, inf),) * 4)

    def unheld(*_: object) -> None:
        raise NoBalanceError

    monkeypatch.setattr(push_limit, "_begun", unheld)
    limit = stands(hold, (1.0, 0.0, 0.0))
    assert (limit.first, limit.about) == ("slides", ("A", "B", "C", "D"))
    assert limit.force == pytest.approx(0.0)


@pytest.mark.parametrize(("limit", "too_much"), [(None, False), (1000.0, False), (340.0, False), (300.0, True)])
def test_ties_that_cannot_even_bear_the_weight_are_overloaded(limit: float | None, too_much: bool) -> None:  # noqa: FBT001
    """A unit of 100 kg in three mounts that share it alike: 327 N each."""
    places = ((0.2, 0.0), (-0.1, 0.1732), (-0.1, -0.1732))
    mounts = [replace(make.mount(str(number), at), limit=limit) for number, at in enumerate(places)]
    parts = [make.part((0.0, 0.0)), make.part((0.0, 0.0), 50.0, name="frame", body="cradle")]
    job = make.job(parts, make.stands(make.SQUARE, body="cradle"), joints=mounts)
    assert overloaded(make.hold(job, (0.0, 0.0, 0.5), [Grip(0.5, inf)] * 4)) is too_much

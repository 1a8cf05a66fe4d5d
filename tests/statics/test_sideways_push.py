"""The least push on each rigid whole, and what its own leaning adds to it."""

from dataclasses import replace
from math import inf, pi, sin

import pytest

from loadplan.model.answer import GroupAnswer
from loadplan.model.disturbance import PushAnswer
from loadplan.model.vehicle import Joint, JointKind
from loadplan.statics import sideways_push
from loadplan.statics.push_limit import Limit
from loadplan.statics.sideways_push import stood, weakest
from loadplan.statics.sideways_resistance import Grip
from tests.statics import builders as make

STIFF = replace(make.STAND, stiffness=1e10)
WEIGHT = make.newton(100.0)
HIGH = (("unit", (0.0, 0.0, 1.2)),)
"""Pushed 1 m over the saddles; the weight lies 0.3 m over them."""


def unit(stiffness: float, grip: float) -> GroupAnswer:
    """100 kg on stands at the corners of a square of 1 m."""
    stands = make.stands(make.SQUARE, use=replace(make.STAND, stiffness=stiffness))
    return make.group(make.job([make.part()], stands), grips=(Grip(grip, inf),) * 4, pushed=HIGH).answer


def test_a_block_tips_at_weight_times_half_its_base_over_the_height() -> None:
    """F = W b / 2 h, static equilibrium about the edge: OpenStax University Physics 1, 12.2."""
    (push,) = unit(1e12, 5.0).pushes
    assert (push.first, push.body) == ("tips", "unit")
    assert push.force == pytest.approx(WEIGHT * 0.5 / 1.0, rel=1e-6)
    # Any of the four sides, and a hair on either side of it.
    assert sin(2 * push.direction) == pytest.approx(0.0, abs=1e-6)


def test_where_nothing_limits_a_push_it_holds_without_end(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sideways_push, "weakest", lambda holds, *_: (None,) * len(holds))
    assert unit(1e12, 5.0).pushes == (PushAnswer(inf, 0.0, "unit", HIGH[0][1], "holds", (), inf, 0.0),)


def test_what_its_ties_cannot_bear_as_it_leans_stands_no_push_at_all(monkeypatch: pytest.MonkeyPatch) -> None:
    job = make.job([make.part()], make.stands(make.SQUARE))
    grips = (Grip(0.5, inf),) * 4
    stance = make.group(job, grips=grips).stance
    assert stance is not None
    hold = make.hold(job, HIGH[0][1], grips)
    assert stood(hold, stance, (0.0, 1.0, 0.0)).force > 0.1 * WEIGHT
    monkeypatch.setattr(sideways_push, "overloaded", lambda _: True)
    assert stood(hold, stance, (0.0, 1.0, 0.0)) == Limit(0.0, pytest.approx(pi / 2), "tips", ())


def test_a_block_slides_at_friction_times_its_weight() -> None:
    """F = µ W where µ < b / 2 h: the same; the cone of 32 faces lies inside by half a percent."""
    (push,) = unit(1e12, 0.3).pushes
    assert push.first == "slides"
    assert 0.3 * WEIGHT * 0.995 <= push.force <= 0.3 * WEIGHT * (1 + 1e-9)


def test_what_stands_on_springs_leans_into_the_push() -> None:
    """By hand, b = 0.5, h = 0.3, stands k: F · 1 m = W (b − h θ), θ = W / 4 k b.

    At the limit the back pair carries nothing, so the front pair is pressed in by W / 2 k, over 2 b.
    """
    stiffness = 2e4
    (push,) = unit(stiffness, 5.0).pushes
    tilt = WEIGHT / (4 * stiffness * 0.5)
    assert tilt > 0.02
    assert push.force == pytest.approx(WEIGHT * (0.5 - 0.3 * tilt), rel=1e-6)


def test_what_slides_is_pushed_no_harder_for_its_lean() -> None:
    (stiff,), (soft,) = unit(1e12, 0.3).pushes, unit(2e4, 0.3).pushes
    assert soft.force == pytest.approx(stiff.force, rel=1e-6)


def test_where_a_stand_comes_off_on_the_way_the_limit_is_followed() -> None:
    """A fifth stand in the middle, low by 1 mm, takes load as the back pair comes off: by hand with three in touch.

    On rigid stands it would tip at W b. Here the push is sought force by force; what it finds balances at that force
    and no longer a little above it.
    """
    use = replace(make.STAND, stiffness=2e4)
    places = [(0.5, 0.5), (0.5, -0.5), (-0.2, 0.4), (-0.2, -0.4), (-0.5, 0.0)]
    made = make.job([make.part()], make.stands(places, use=use))
    (push,) = make.group(made, grips=(Grip(5.0, inf),) * 5, pushed=HIGH).answer.pushes
    (rigid,) = make.group(
        make.job([make.part()], make.stands(places, use=replace(use, stiffness=1e12))),
        grips=(Grip(5.0, inf),) * 5,
        pushed=HIGH,
    ).answer.pushes
    assert 0.8 * rigid.force < push.force < 0.999 * rigid.force


@pytest.mark.parametrize("margin", [0.5, 0.05, 0.0005])
def test_what_is_followed_ends_where_it_does_by_hand_however_little_that_is(margin: float) -> None:
    """It goes where the second pair comes off, all of W on the two in front, leaning by W / 2k over 0.2 m between them.

    F 1.0 m = W margin - W 0.3 m lean, with the margin as far from the front pair as the weight is.
    """
    use = replace(make.STAND, stiffness=1e5 / margin)
    places = [(x, y) for x in (0.5, 0.3, -0.7) for y in (1.0, -1.0)]
    made = make.job([make.part((0.5 - margin, 0.0))], make.stands(places, use=use))
    (push,) = make.group(made, grips=(Grip(5.0, inf),) * 6, pushed=(("unit", (0.5 - margin, 0.0, 1.2)),)).answer.pushes
    lean = WEIGHT / (2 * use.stiffness) / 0.2
    assert push.force == pytest.approx(WEIGHT * (margin - 0.3 * lean), rel=1e-3)


def test_linked_wholes_lose_their_sway() -> None:
    """Two wholes on mounts: what rigid statics would stand, upright or leaning, times 1 − sway; each is pushed."""
    parts = [make.part((0.0, 0.0), 100.0, name="u"), make.part((0.0, 0.0), 50.0, name="c", body="cradle")]
    mounts = [make.mount(f"m{number}", at) for number, at in enumerate(((0.3, 0.3), (0.3, -0.3), (-0.3, 0.0)))]
    made = make.job(
        parts, make.stands(make.SQUARE, body="cradle", use=replace(make.STAND, stiffness=5e4)), joints=mounts
    )
    found = make.group(made, grips=(Grip(0.2, inf),) * 4).answer
    assert found.sway is not None
    assert found.sway > 0.005
    assert sorted(each.body for each in found.pushes) == ["cradle", "unit"]
    forces = [each.force for each in found.pushes]
    assert forces == sorted(forces)
    for force in forces:
        assert force == pytest.approx(0.2 * make.newton(150.0) * (1 - found.sway), rel=6e-3)


def test_with_oil_on_the_saddles_it_is_told_how_little_is_left() -> None:
    grips = (Grip(0.3, inf, said=False),) * 4
    made = make.job([make.part()], make.stands(make.SQUARE))
    (push,) = make.group(made, grips=grips, asked=1e3).answer.pushes
    assert push.oiled == pytest.approx(0.05 * WEIGHT, rel=6e-3)
    (enough,) = make.group(made, grips=grips, asked=10.0).answer.pushes
    assert enough.oiled == inf
    (said,) = make.group(made, grips=(Grip(0.15, inf),) * 4).answer.pushes
    assert said.oiled == said.force


def hung_on(joint: Joint) -> GroupAnswer:
    """A unit of 100 kg on three stands at (±0.5, ±0.5) and no friction, tied to a cradle that grips without limit."""
    parts = [make.part((0.0, 0.0), 100.0, name="u"), make.part((0.0, 0.0), 500.0, name="c", body="cradle")]
    own = [make.support(f"u{number}", at, use=STIFF) for number, at in enumerate(make.SQUARE)]
    cradle = make.stands([(3 * x, 3 * y) for x, y in make.SQUARE], body="cradle", use=STIFF)
    made = make.job(parts, [*own, *cradle], joints=[joint])
    grips = tuple(Grip(0.0 if each.body == "unit" else 50.0, inf) for each in (*own, *cradle))
    return make.group(made, grips=grips, pushed=(("unit", (0.0, 0.0, 0.4)), ("cradle", (0.0, 0.0, 0.4)))).answer


def of_unit(found: GroupAnswer) -> PushAnswer:
    return next(each for each in found.pushes if each.body == "unit")


def test_a_mount_that_bears_all_of_a_push_bounds_it_by_its_limit() -> None:
    """Pushed at the mount's height and place: the mount takes it all, as far as its limit goes."""
    at_the_push = replace(make.mount("m", (0.0, 0.0)), stiffness=1e3)
    free, bounded = of_unit(hung_on(at_the_push)), of_unit(hung_on(replace(at_the_push, limit=80.0)))
    assert bounded.force < free.force
    assert 0.7 * 80.0 <= bounded.force <= 80.0 * (1 + 1e-6)


def test_a_link_holds_along_its_line_and_not_across() -> None:
    """A level link along x: across it nothing holds a unit without friction."""
    link = replace(make.mount("l", (0.0, 0.0)), kind=JointKind.LINK, to=(0.4, 0.0, 0.4))
    push = of_unit(hung_on(link))
    assert push.force == pytest.approx(0.0, abs=1e-6)
    assert abs(sin(push.direction)) == pytest.approx(1.0, abs=1e-6)


def test_a_push_that_nothing_limits_leaves_the_others_to_be_told(monkeypatch: pytest.MonkeyPatch) -> None:
    other = Limit(10.0, 0.0, "tips", ("A", "B"))
    monkeypatch.setattr(sideways_push, "weakest", lambda *_: (None, other))
    stands = make.stands(make.SQUARE)
    pushed = (*HIGH, ("unit", (0.0, 0.0, 0.5)))
    told = make.group(make.job([make.part()], stands), grips=(Grip(0.5, inf),) * 4, pushed=pushed).answer.pushes
    assert [(each.force, each.first, each.at) for each in told] == [
        (10.0, "tips", (0.0, 0.0, 0.5)),
        (inf, "holds", HIGH[0][1]),
    ]


@pytest.mark.parametrize(("sway", "broken"), [(1.0, False), (1.5, False), (0.0, True)])
def test_what_goes_over_by_itself_stands_no_push_at_all(
    sway: float,
    broken: bool,  # noqa: FBT001
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    job = make.job([make.part()], make.stands(make.SQUARE))
    grips = (Grip(0.5, inf),) * 4
    stance = make.group(job, grips=grips).stance
    assert stance is not None
    stance = replace(stance, sway=sway, yielding=None)
    hold = make.hold(job, HIGH[0][1], grips)
    monkeypatch.setattr(sideways_push, "overloaded", lambda _: broken)
    assert weakest((hold, hold), stance, inf) == (Limit(0.0, 0.0, "tips", ()),) * 2


@pytest.mark.parametrize(("sway", "force"), [(0.0, inf), (0.5, inf), (1.0, 0.0), (1.5, 0.0)])
def test_pressed_straight_down_between_its_stands_it_holds_unless_it_goes_over_by_itself(
    sway: float, force: float
) -> None:
    job = make.job([make.part()], make.stands(make.SQUARE))
    grips = (Grip(0.5, inf),) * 4
    stance = make.group(job, grips=grips).stance
    assert stance is not None
    hold = make.hold(job, HIGH[0][1], grips)
    assert stood(hold, replace(stance, sway=sway, yielding=None), (0.0, 0.0, -1.0)).force == force

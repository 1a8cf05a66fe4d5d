"""What each mode turns about, and which bodies move in it."""

import pytest

from loadplan.statics.mode_axes import told
from loadplan.statics.tipping_modes import rays
from tests.statics import builders as make


def test_modes_are_told_nearest_first_by_what_they_turn_about() -> None:
    """Centre 0.1 m from the edge between A and B, 0.9 from the opposite one, 0.5 from the others."""
    frame = make.frame(make.job([make.part((0.4, 0.0), 100.0)], make.stands(make.SQUARE)))
    modes = told(frame, rays(frame))
    assert modes[0].about == ("A", "B")
    assert modes[-1].about == ("C", "D")
    assert [dict(mode.margins)["unit"] for mode in modes] == pytest.approx([0.1, 0.5, 0.5, 0.9])
    assert modes[0].work == pytest.approx(make.newton(100.0) * 0.1)
    motion = dict(modes[0].motions)["unit"]
    assert [motion.up_at(*at) for at in make.SQUARE] == pytest.approx([0.0, 0.0, 1.0, 1.0], abs=1e-9)


def test_a_rider_turns_about_its_stand_and_the_mount_that_stays_put() -> None:
    """Alone it cannot turn about both stands, since the link would lift the cradle."""
    parts = [make.part((0.1, 0.2), name="u"), make.part((0.0, 0.0), name="c", body="cradle")]
    supports = [*make.stands(make.SQUARE, body="cradle"), make.support("E", (0.2, 0.4)), make.support("F", (0.3, -0.4))]
    frame = make.frame(make.job(parts, supports, joints=[make.mount("link", (-0.2, 0.0))]))
    modes = told(frame, rays(frame))
    alone = {mode.about for mode in modes if mode.bodies == ("unit",)}
    assert alone == {("E", "link"), ("F", "link")}
    assert {mode.bodies for mode in modes if set(mode.about) >= {"E", "F"}} == {("unit", "cradle")}


def test_of_linked_bodies_the_least_margin_of_any_counts_for_the_order() -> None:
    frame = make.frame(make.rider((0.2, 0.3), (0.25, -0.35)))
    least = [min(margin for _, margin in mode.margins) for mode in told(frame, rays(frame))]
    assert least == sorted(least)
    assert len({round(each, 6) for each in least}) > 3


def test_mounts_of_bodies_that_stay_where_they_are_are_not_named() -> None:
    """Two riders, each on a link and two stands of its own: what turns about one link leaves the other alone."""
    parts = [make.part(name=name, body=name) for name in ("shell", "left", "right")]
    supports = list(make.stands([(2 * x, 2 * y) for x, y in make.SQUARE], body="shell"))
    joints = []
    for body, y in (("left", 0.5), ("right", -0.5)):
        supports += [make.support(f"{body} {n}", (0.3, y + shift), body=body) for n, shift in enumerate((0.2, -0.2))]
        joints.append(make.mount(f"{body} link", (-0.3, y), (body, "shell")))
    parts = [
        make.part((0.0, {"left": 0.5, "right": -0.5}.get(each.body, 0.0)), name=each.name, body=each.body)
        for each in parts
    ]
    frame = make.frame(make.job(parts, supports, joints=joints))
    alone = [mode for mode in told(frame, rays(frame)) if mode.bodies in {("left",), ("right",)}]
    assert len(alone) == 4
    for mode in alone:
        (body,) = mode.bodies
        assert f"{body} link" in mode.about
        assert all(name.startswith(body) for name in mode.about)

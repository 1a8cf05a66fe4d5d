"""What each mode turns about, and which bodies move in it."""

import pytest

from loadplan.statics.about import told
from loadplan.statics.modes import rays
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

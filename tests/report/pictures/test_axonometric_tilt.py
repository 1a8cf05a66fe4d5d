"""A unit tilted about its edge: it and the edge stay as they are, and the centre of gravity comes to stand over it."""

from itertools import combinations
from math import atan2, degrees, dist, pi, radians

import pytest

from loadplan.assess import assess
from loadplan.files import read_job, shipped_folder
from loadplan.model.answer import Mode
from loadplan.report.pictures.axonometric_scene import SpaceScene, unit_space
from loadplan.report.pictures.axonometric_stands import SolidKind
from loadplan.report.pictures.axonometric_tilt import azimuth_along, body_moves, tilted

BODY = "battery pack"


@pytest.fixture(scope="module")
def standing() -> tuple[SpaceScene, list[Mode]]:
    whole = assess(read_job(shipped_folder("demo") / "battery-pack-stands.toml"))
    stage = whole.stages[1]
    modes = [mode for mode in stage.statics.group_of(BODY).modes if mode.tip_angle is not None]
    return unit_space(whole, stage), modes


def test_over_every_edge_the_centre_of_gravity_goes_up_and_comes_to_stand_over_it(
    standing: tuple[SpaceScene, list[Mode]],
) -> None:
    """By hand: turned by atan(margin / height over the saddles) it is over the edge; its lean may take a little off."""
    scene, modes = standing
    assert len(modes) == 4
    for mode in modes:
        (centre,) = scene.centres
        (after,) = tilted(scene, mode).centres
        motion = dict(mode.motions)[BODY]
        off = motion.up_at(*after.at[:2]) / (motion.rx**2 + motion.ry**2) ** 0.5
        assert off == pytest.approx(0.0, abs=0.003)
        assert motion.up_at(*centre.at[:2]) > 0
        assert after.at[2] > centre.at[2] + 0.1


def test_the_body_is_as_long_as_it_was_and_stays_on_the_stands_that_it_turns_about(
    standing: tuple[SpaceScene, list[Mode]],
) -> None:
    scene, modes = standing
    for mode in modes:
        before = [each.solid for each in scene.solids if each.kind is SolidKind.BODY]
        after = [each.solid for each in tilted(scene, mode).solids if each.kind is SolidKind.BODY]
        for one, other in combinations(range(len(before[0].corners)), 2):
            was = dist(before[0].corners[one], before[0].corners[other])
            assert dist(after[0].corners[one], after[0].corners[other]) == pytest.approx(was)
        move = body_moves(scene, mode)[BODY]
        kept = [each.at for each in scene.loads if each.support.name in mode.about]
        assert len(kept) == 2
        assert all(move(at) == pytest.approx(at, abs=1e-9) for at in kept)


def test_the_stands_stay_and_their_arrows_are_gone(standing: tuple[SpaceScene, list[Mode]]) -> None:
    scene, modes = standing
    after = tilted(scene, modes[0])
    stay = [each for each in scene.solids if each.kind is not SolidKind.BODY]
    assert [each for each in after.solids if each.kind is not SolidKind.BODY] == stay
    assert all(each.tip == each.tail for each in after.loads)


def test_a_tilt_is_seen_nearly_along_its_edge(standing: tuple[SpaceScene, list[Mode]]) -> None:
    for mode in standing[1]:
        motion = dict(mode.motions)[BODY]
        azimuth = azimuth_along(mode, radians(30), radians(25))
        off = degrees((azimuth - atan2(motion.ry, motion.rx) + pi / 2) % pi - pi / 2)
        assert abs(off) == pytest.approx(25)

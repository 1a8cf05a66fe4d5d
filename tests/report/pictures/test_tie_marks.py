"""Hoses, harnesses and fasteners to see to first: marked and named in every view of a step, and told in its key."""

import shutil
from math import radians
from pathlib import Path

import pytest

from loadplan.assess import assess
from loadplan.files import read_job, shipped_folder
from loadplan.model.verdict import Assessment, StageAssessment
from loadplan.report.drawing.view import XY
from loadplan.report.pictures import picture_key, tie_marks
from loadplan.report.pictures.elevation_shapes import ViewSide
from loadplan.report.pictures.live_plan import LivePage, live_of
from loadplan.report.pictures.live_side_view import SideView, Turned
from loadplan.report.pictures.picture_key import ELEVATION_KEY, KEY, SPACE_KEY, key_of
from loadplan.report.pictures.plan_content import unit_scene
from loadplan.report.pictures.render import (
    elevation_picture,
    live_picture,
    plan_picture,
    side_view_picture,
    space_picture,
)
from loadplan.report.words.vocabulary import reader_of
from loadplan.units import System

VEHICLE = "van-longitudinal-diesel-rwd.toml"
STRAP = '\n[[tie]]\nname = "earth strap"\nbody = "powertrain"\nat = [-150, 260, 500]\nwhat = "off"\n'
METRIC = System.METRIC


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Assessment:
    """The demo's front unit, with an earth strap that has to be off before its mounts are."""
    folder = tmp_path_factory.mktemp("strap")
    demo = shipped_folder("demo")
    for name in ("front-unit.toml", "shop.toml"):
        shutil.copyfile(demo / name, folder / name)
    text = (Path(shipped_folder("vehicles")) / VEHICLE).read_text("utf-8")
    (folder / VEHICLE).write_text(text + STRAP, "utf-8")
    return assess(read_job(folder / "front-unit.toml"))


@pytest.fixture
def marks(monkeypatch: pytest.MonkeyPatch) -> list[XY]:
    """Hear where the sign is drawn; that of a key, too."""
    heard: list[XY] = []
    monkeypatch.setattr(tie_marks, "tie_sign", lambda _pen, at: heard.append(at))
    return heard


def views(told: Assessment, step: int) -> dict[str, str]:
    """Return every view of a step as SVG."""
    stage, reader = told.stages[step], reader_of(told.job, METRIC)
    size = 760.0, 560.0
    beside = {
        f"live {number}": side_view_picture(SideView(told, stage, looked, around=False), size, reader)
        for number, looked in enumerate((*ViewSide, Turned(radians(30))))
    }
    drawn = {
        "plan": plan_picture(told, step, "svg", METRIC),
        "side": elevation_picture(told, (step, ViewSide.SIDE), "svg", METRIC),
        "front": elevation_picture(told, (step, ViewSide.FRONT), "svg", METRIC),
        "space": space_picture(told, (step, radians(30)), "svg", METRIC),
        "live plan": live_picture(live_of(told, stage, LivePage(size, everything=False), METRIC)),
        **beside,
    }
    return {name: content.decode() for name, content in drawn.items()}


def keys(stage: StageAssessment, told: Assessment) -> list[bool]:
    scene = unit_scene(told, stage)
    return ["tie" in dict(key_of(signs, scene)) for signs in (KEY, ELEVATION_KEY, SPACE_KEY)]


def test_it_is_marked_and_named_in_every_view_until_it_has_to_be_off(told: Assessment, marks: list[XY]) -> None:
    before = views(told, 0)
    assert [name for name, drawn in before.items() if "earth strap off" not in drawn] == []
    assert len(marks) == len(before)
    after = views(told, 2)
    assert [name for name, drawn in after.items() if "earth strap" in drawn] == []
    assert len(marks) == len(before)


def test_a_key_tells_the_sign_where_it_is_drawn_and_only_there(told: Assessment) -> None:
    assert all(keys(told.stages[0], told))
    assert not any(keys(told.stages[2], told))


def test_on_a_phone_the_mark_is_there_without_its_words(told: Assessment, marks: list[XY]) -> None:
    live = live_of(told, told.stages[0], LivePage((390.0, 420.0), everything=False), METRIC)
    assert "earth strap" not in live_picture(live).decode()
    assert len(marks) == 1


def test_the_sign_of_the_key_is_the_one_that_is_drawn() -> None:
    assert picture_key.SIGNS["tie"] is tie_marks.tie_sign

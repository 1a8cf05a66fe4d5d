"""Writing changed stands and steps back: only what differs, whatever stands around it."""

from dataclasses import replace
from pathlib import Path

import pytest

from loadplan.files import read_job, shipped_folder
from loadplan.files.write_changed_stands import with_changed_stands
from loadplan.model.job import Job, SetAnew, Stack, Stage

DEMO = shipped_folder("demo")


@pytest.fixture
def source(tmp_path: Path) -> Path:
    """The front unit of the demo, with its shop, and a comment before a step."""
    for name in ("front-unit.toml", "shop.toml"):
        (tmp_path / name).write_bytes((DEMO / name).read_bytes())
    job = tmp_path / "front-unit.toml"
    text = job.read_text("utf-8")
    at = text.index("[[stage]]", text.index("Set down on the stands"))
    job.write_text(f"{text[:at]}# the lift goes up here\n{text[at:]}", "utf-8")
    return job


def _written(source: Path, before: Job, after: Job) -> str:
    content = with_changed_stands(source, source, before, after).decode("utf-8")
    read = read_job(source, text=content)
    assert replace(read, assumed=()) == replace(after, assumed=())
    return content


def test_a_job_that_did_not_change_is_written_as_it_was(source: Path) -> None:
    job = read_job(source)
    assert _written(source, job, job) == source.read_text("utf-8")


def test_height_shim_place_equipment_and_tag_are_written_where_they_differ(source: Path) -> None:
    job = read_job(source)
    pin = next(each for each in job.shop.equipment if each.name.startswith("pin"))
    point = next(each for each in job.vehicle.points if each.name == "cradle middle left")
    first, second, third, *rest = job.supports
    changed = (
        replace(first, height=0.35, shim=Stack(0.006, "steel", crib=False)),
        replace(second, equipment=pin, tag="G3", height=0.32),
        replace(third, shim=None).under(point, job.vehicle),
        *rest,
    )
    content = _written(source, job, replace(job, supports=changed))
    assert "# the lift goes up here" in content


def test_one_more_stand_is_written_behind_the_others_with_all_that_is_said_of_it(source: Path) -> None:
    job = read_job(source)
    screw = next(each for each in job.shop.equipment if each.name.startswith("screw"))
    free = replace(job.supports[0], name="G", equipment=screw, tag="N2", point="", limit=None, say="", height=None)
    free = replace(free, at=(0.1, 0.2, 0.25), standby=True)
    first, *rest = job.stages
    stages = (replace(first, in_place=(*first.in_place, "G")), *rest)
    _written(source, job, replace(job, supports=(*job.supports, free), stages=stages))


def test_steps_are_put_in_where_they_belong_and_comments_stay_with_what_they_lead_to(source: Path) -> None:
    job = read_job(source)
    up, down = (Stage(name, set_anew=(SetAnew("A", to),)) for name, to in (("up", 0.331), ("and back", 0.33)))
    after = replace(job, stages=(job.stages[0], up, down, *job.stages[1:]))
    lines = _written(source, job, after).splitlines()
    assert lines.index("# the lift goes up here") > lines.index('name = "and back"')
    assert lines[lines.index("# the lift goes up here") + 1] == "[[stage]]"


def test_a_name_that_is_no_bare_key_is_quoted(source: Path) -> None:
    job = read_job(source)
    third = replace(job.stages[2], set_anew=(SetAnew("tail prop", 1.5), SetAnew("A", 0.33)))
    after = replace(job, stages=(*job.stages[:2], third, *job.stages[3:]))
    content = with_changed_stands(source, source, job, after).decode("utf-8")
    assert 'set = { "tail prop" = 1500, A = 330 }' in content

"""Stands of a job file changed one at a time: the file means that, and nothing else in it has changed."""

from pathlib import Path

import pytest

from loadplan.errors import InputError
from loadplan.files import read_job
from loadplan.files.edit_stands import (
    Free,
    NewStand,
    Under,
    added,
    duplicated,
    equipped,
    moved,
    removed,
    set_to,
    ticked,
)
from loadplan.files.job_file import JobFile, open_job
from loadplan.files.toml_edit import Added, Change, Dropped, Edit, edited_text
from loadplan.model.job import Job

DEMO = Path(__file__).parents[2] / "demo"
PATH = DEMO / "front-unit.toml"
TEXT = PATH.read_text("utf-8")


@pytest.fixture
def file() -> JobFile:
    return open_job(PATH)


def _lines(edits: list[Edit], text: str = TEXT) -> tuple[list[str], list[str]]:
    """Return the lines that went and those that came."""
    before, after = text.splitlines(), edited_text(text, edits, PATH).splitlines()
    return [line for line in before if line not in after], [line for line in after if line not in before]


def _job(edits: list[Edit], path: Path = PATH) -> Job:
    return read_job(path, text=edited_text(path.read_text("utf-8"), edits, path))


def test_a_stand_goes_off_its_point_and_back(file: JobFile) -> None:
    edits = moved(file, 0, Free("cradle", (0.331, 0.2, 0.205)))
    assert _lines(edits) == (['under  = "cradle front left"'], ['body = "cradle"', "at = [331, 200, 205]"])
    assert _job(edits).supports[0].at == (0.331, 0.2, 0.205)
    text = edited_text(TEXT, edits, PATH)
    back = edited_text(text, moved(open_job(PATH, text), 0, Under("cradle front left")), PATH)
    assert read_job(PATH, text=back).supports[0] == read_job(PATH).supports[0]


def test_a_place_is_written_in_the_files_units() -> None:
    path = DEMO / "us-units.toml"
    edits = moved(open_job(path), 0, Free(read_job(path).supports[0].body, (0.254, -0.127, 0.2032)))
    assert "at = [10, -5, 8]" in edited_text(path.read_text("utf-8"), edits, path)
    assert _job(edits, path).supports[0].at == pytest.approx((0.254, -0.127, 0.2032), abs=1e-12)


def test_equipment_and_height(file: JobFile) -> None:
    assert _lines(equipped(0, "screw stand 2 t"))[0] == ['tag    = "S1"']
    job = _job([*equipped(0, "screw stand 2 t"), *set_to(file, 0, 0.371)])
    assert (job.supports[0].equipment.name, job.supports[0].tag, job.supports[0].height) == (
        "screw stand 2 t",
        "",
        0.371,
    )
    assert _job(set_to(file, 0, None)).supports[0].height is None


def test_a_stand_that_is_taken_out_leaves_every_list(file: JobFile) -> None:
    edits = removed(file, 5)
    job = _job(edits)
    assert "F" not in {each.name for each in job.supports}
    assert all("F" not in (*stage.in_place, *stage.cleared) for stage in job.stages)
    assert len(job.stages) == len(read_job(PATH).stages)


def test_a_list_that_is_empty_goes_with_its_key(file: JobFile) -> None:
    text = edited_text(TEXT, removed(file, 7), PATH)
    assert 'in_place = ["tail prop"]' not in text
    assert "in_place = []" not in text


def test_a_copy_comes_and_goes_with_its_model(file: JobFile) -> None:
    job = _job(duplicated(file, 6, NewStand("T", "screw stand 2 t", Under("shell tail"), 0.5)))
    for stage in job.stages:
        assert ("tail stand" in stage.in_place) == ("T" in stage.in_place)
        assert ("tail stand" in stage.cleared) == ("T" in stage.cleared)
    assert job.supports[-1].height == 0.5


def test_a_new_stand_stands_from_its_stage_on(file: JobFile) -> None:
    job = _job(added(file, NewStand("G", "ratchet stand 3 t", Free("cradle", (0.3, 0.0, 0.2)), None), 2))
    assert job.supports[-1].name == "G"
    assert [number for number, stage in enumerate(job.stages) if "G" in stage.in_place] == [2]


def test_a_part_ticked_off_early_does_not_come_off_again_later(file: JobFile) -> None:
    job = _job(ticked(file, "belt drive and crankshaft pulley", 1, off=True))
    assert [number for number, stage in enumerate(job.stages) if "belt drive and crankshaft pulley" in stage.off] == [1]
    assert [number for number, stage in enumerate(job.stages) if "belt drive and crankshaft pulley" in stage.on] == [5]


def test_a_part_ticked_on_where_it_comes_off_comes_off_a_step_later(file: JobFile) -> None:
    edits = ticked(file, "front cover with oil pump", 3, off=False)
    job = _job(edits)
    assert [number for number, stage in enumerate(job.stages) if "front cover with oil pump" in stage.off] == [4]


def test_a_part_ticked_on_where_it_was_off_does_not_go_on_again_later(file: JobFile) -> None:
    job = _job(ticked(file, "front cover with oil pump", 4, off=False))
    assert [number for number, stage in enumerate(job.stages) if "front cover with oil pump" in stage.on] == [4]


def test_ticking_off_and_on_in_two_stages_that_follow_cancels() -> None:
    late = TEXT.replace('on       = ["front cover with oil pump", ', "on       = [")
    text = late.replace("unattended = true\n", 'unattended = true\non = ["front cover with oil pump"]\n')
    edits = ticked(open_job(PATH, text), "front cover with oil pump", 3, off=False)
    job = read_job(PATH, text=edited_text(text, edits, PATH))
    assert all("front cover with oil pump" not in (*stage.off, *stage.on) for stage in job.stages)


def test_a_key_goes_behind_a_last_value_that_is_true() -> None:
    text = 'schema = "x"\n\n[[support]]\nname = "A"\nstandby = true\n\n# of what follows\n[[stage]]\nname = "s"\n'
    wanted = text.replace("standby = true\n", "standby = true\nheight = 350\n")
    assert edited_text(text, [Change("support", 0, "height", "350")], PATH) == wanted


def test_a_dropped_table_leaves_the_comment_of_the_next() -> None:
    text = '[[support]]\nname = "A"  # the first\n\n# by the wall\n[[support]]\nname = "B"\n\n[[stage]]\nname = "s"\n'
    assert edited_text(text, [Dropped("support", 0)], PATH) == (
        '# by the wall\n[[support]]\nname = "B"\n\n[[stage]]\nname = "s"\n'
    )


def test_an_added_table_comes_behind_the_last_of_its_kind() -> None:
    text = '[[support]]\nname = "A"\n[[stage]]\nname = "s"\n'
    assert edited_text(text, [Added("support", (("name", '"B"'),))], PATH) == (
        '[[support]]\nname = "A"\n\n[[support]]\nname = "B"\n\n[[stage]]\nname = "s"\n'
    )
    bare = 'title = "x"'
    assert edited_text(bare, [Added("support", (("name", '"B"'),))], PATH) == 'title = "x"\n\n[[support]]\nname = "B"\n'


def test_what_cannot_be_changed_alone_is_refused() -> None:
    text = 'support = [{ name = "A" }]\n'
    with pytest.raises(InputError, match="by hand"):
        edited_text(text, [Dropped("support", 0)], PATH)
    with pytest.raises(InputError, match="by hand"):
        edited_text('[[support]]\nname = "A"\n', [Dropped("support", 3)], PATH)

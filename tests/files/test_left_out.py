"""What a job says of bodies that it leaves out is neither asked for nor held against it."""

from pathlib import Path

from tests.files.builders import faults, read, small

ALONE = small(bodies=["shell"], support=None, stage=[{"name": "up"}])


def test_parts_of_a_body_left_out_come_off_in_any_order(tmp_path: Path) -> None:
    """The block comes off only after the head, were they there."""
    job = read(tmp_path, ALONE | {"stage": [{"name": "up", "off": ["block"]}]})
    assert any("without effect" in each and '"block"' in each for each in job.assumed)
    here = small(stage=[{"name": "down", "in_place": ["A"], "off": ["block"]}])
    assert [each.message for each in faults(tmp_path, here)] == ['names "block", which comes off only after "head"']


def test_not_even_parts_of_a_body_in_use_have_to_be_off_before(tmp_path: Path) -> None:
    parts = [each | {"after": ["trim"]} if each["name"] == "head" else each for each in ALONE["part"]]
    trim = {"name": "trim", "body": "shell", "mass": 5, "at": [0, 0, 900]}
    job = ALONE | {"part": [*parts, trim], "stage": [{"name": "up", "off": ["head"]}]}
    assert faults(tmp_path, job) == ()
    (fault,) = faults(tmp_path, job | {"bodies": ["shell", "unit"]})
    assert fault.message == 'names "head", which comes off only after "trim"'


def test_a_body_left_out_needs_no_weight(tmp_path: Path) -> None:
    bare = ALONE | {"body": [*ALONE["body"], {"name": "pack"}]}
    assert faults(tmp_path, bare) == ()
    (fault,) = faults(tmp_path, bare | {"bodies": ["shell", "pack"]})
    assert fault.table == 'body 3 "pack"'
    assert fault.message.startswith("has no weight")

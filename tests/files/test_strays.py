"""Files in a folder that look like jobs and are none: told, not passed over."""

from pathlib import Path

import pytest

from loadplan.files import shipped_folder
from loadplan.files.find_jobs import find_jobs, find_others, strays

TEXT = (shipped_folder("demo") / "us-units.toml").read_text("utf-8")


@pytest.mark.parametrize(
    ("name", "right"), [("job", "job.toml"), ("job.txt", "job.toml"), ("job.toml.txt", "job.toml")]
)
def test_a_job_without_its_ending_is_told(tmp_path: Path, name: str, right: str) -> None:
    (tmp_path / "in").mkdir()
    (tmp_path / "in" / name).write_text(TEXT, "utf-8")
    (found,) = strays([tmp_path])
    assert found.file.endswith(name)
    assert f"rename it {right}" in found.message


@pytest.mark.parametrize("name", ["job.toml", "job.toml.before", ".hidden", "job.toml.part"])
def test_what_is_a_job_or_was_kept_on_purpose_is_not(tmp_path: Path, name: str) -> None:
    (tmp_path / name).write_text(TEXT, "utf-8")
    (tmp_path / "notes.txt").write_text("stands by tag", "utf-8")
    assert strays([tmp_path]) == ()


def test_a_job_that_lost_its_schema_is_read_so_that_it_is_told(tmp_path: Path) -> None:
    job, other = tmp_path / "job.toml", tmp_path / "vehicle.toml"
    job.write_text("\n".join(line for line in TEXT.splitlines() if not line.startswith("schema")), "utf-8")
    other.write_text('schema = "loadplan-vehicle-1"\n[[stage]]\n', "utf-8")
    assert find_jobs([tmp_path]) == (job,)


@pytest.mark.parametrize("schema", ["loadplan-jbo-1", "loadplan-job-7", "job"])
def test_a_file_with_a_jobs_tables_and_another_schema_is_told(schema: str, tmp_path: Path) -> None:
    (tmp_path / "next.toml").write_text(f'schema = "{schema}"\n[[stage]]\nname = "Set down"\n')
    (found,) = strays([tmp_path])
    assert found.file == str(tmp_path / "next.toml")
    assert '"loadplan-job-1" would be right' in found.message


@pytest.mark.parametrize(
    "text",
    [
        'schema = "loadplan-shop-1"\n[[equipment]]\n',
        'schema = "loadplan-job-1"\n[[stage]]\n',
        'schema = "loadplan-shop-1"\n[[stage]]\n',
        'schema = "another program"\n[[point]]\n',
        '[[stage]]\nname = "Set down"\n',
    ],
)
def test_what_is_a_job_or_another_kind_of_file_is_none_of_these(text: str, tmp_path: Path) -> None:
    (tmp_path / "next.toml").write_text(text)
    assert strays([tmp_path]) == ()


def test_what_the_program_keeps_beside_a_job_is_no_other_file(tmp_path: Path) -> None:
    job = 'schema = "loadplan-job-1"\n'
    (tmp_path / "in").mkdir()
    for name in ("a.toml", "in/a.toml", "b.toml"):
        (tmp_path / name).write_text(job, "utf-8")
    kept = ["a-record.toml", "a-record.count", "a-photo-20261120-080000.jpg", "in/a-photo-20261120-080000-2.jpg"]
    others = ["a-photo-later.jpg", "c-photo-20261120-080000.jpg", "c-record.count", "c-record.toml", "in/b-record.toml"]
    for name in (*kept, *others):
        (tmp_path / name).write_text("x", "utf-8")
    assert [str(each.relative_to(tmp_path)) for each in find_others(tmp_path)] == others


def test_what_by_its_name_is_a_record_is_told_at_its_job_and_is_none_itself(tmp_path: Path) -> None:
    job = 'schema = "loadplan-job-1"\n'
    for name in ("a.toml", "b.toml", "c.toml", "c-record.toml", "night-record.toml"):
        (tmp_path / name).write_text(job, "utf-8")
    (tmp_path / "shop.toml").write_text('schema = "loadplan-shop-1"\n', "utf-8")
    (tmp_path / "shop-record.toml").write_text(job, "utf-8")
    for name, leads_to in (("a", "/dev/null"), ("b", "nowhere"), ("gone", "nowhere")):
        (tmp_path / f"{name}-record.toml").symlink_to(leads_to)
    (tmp_path / "d.toml").symlink_to("nowhere")
    found = [each.name for each in find_jobs([tmp_path])]
    assert found == ["a.toml", "b.toml", "c.toml", "d.toml", "night-record.toml", "shop-record.toml"], (
        "a job that has such a name, and is the record of none, is judged"
    )
